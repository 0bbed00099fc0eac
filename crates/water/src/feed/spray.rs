//! Product and water for today's spray, from the figure on the label in the grower's hand.

use measure::{
    quantity::{Gram, GramsPerLitre, Litre, MillilitresPerLitre, OneTo},
    range::{OutOfRange, within},
};

/// A liquid product's figure as its label prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Label {
    /// So many millilitres for each litre.
    PerLitre(MillilitresPerLitre),
    /// One part in so many parts in all, "1:200" read so.
    OneIn(OneTo),
    /// One part to so many parts of water, "1+200".
    OneToWater(OneTo),
}

/// Which volume the grower has named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measured {
    /// The finished spray.
    Finished,
    /// The water before the product goes in.
    Water,
}

/// What goes into the sprayer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixed {
    /// Product.
    pub product: Litre,
    /// Water.
    pub water: Litre,
    /// Both together.
    pub total: Litre,
}

fn volume_of(volume: Litre) -> Result<f64, OutOfRange> {
    within("volume, l", volume.0, 0.001, 100_000.0)
}

/// Liquid product and water for a volume, from the label's figure.
///
/// ```text
/// per litre r:   p = V·r/1000
/// one in N:      p = V/N         of the finished spray,   V/(N − 1) of the water
/// one to N:      p = V/(N + 1)   of the finished spray,   V/N       of the water
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | p | `product` returned | product | L |
/// | V | `volume` | finished spray or water, as `measured` says | L |
/// | r, N | `label` | the figure on the label | ml/L, 1 |
///
/// **Holds** for volumes from 1 ml to 100,000 L, up to 500 ml per litre, one in 2 to one in 100,000 (guards of this house).
/// It knows no product and no dose. **Error** none; volumes are taken to add up.
/// **Source** arithmetic on the label. **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure leaves its span.
///
/// # Example
///
/// ```
/// use measure::quantity::{Litre, OneTo};
/// use water::feed::{Label, Measured, mixed};
///
/// let spray = mixed(Label::OneToWater(OneTo(200.0)), Litre(2.0), Measured::Finished)?;
/// assert_eq!(format!("{:.6}", spray.product.0 * 1000.0), "9.950249");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn mixed(label: Label, volume: Litre, measured: Measured) -> Result<Mixed, OutOfRange> {
    let volume = volume_of(volume)?;
    let parts = |OneTo(parts)| within("one part in or to", parts, 2.0, 100_000.0);
    let product = match (label, measured) {
        (Label::PerLitre(rate), _) => {
            volume * within("label figure, ml per litre", rate.0, 1e-6, 500.0)? / 1000.0
        }
        (Label::OneIn(all), Measured::Finished) => volume / parts(all)?,
        (Label::OneIn(all), Measured::Water) => volume / (parts(all)? - 1.0),
        (Label::OneToWater(water), Measured::Finished) => volume / (parts(water)? + 1.0),
        (Label::OneToWater(water), Measured::Water) => volume / parts(water)?,
    };
    let water = match measured {
        Measured::Finished => volume - product,
        Measured::Water => volume,
    };
    Ok(Mixed { product: Litre(product), water: Litre(water), total: Litre(water + product) })
}

/// Dry product for a volume, from the strength.
///
/// ```text
/// g = V · r
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | g | returned | product | g |
/// | V | `volume` | litres to make | L |
/// | r | `strength` | grams in a litre | g/L |
///
/// **Holds** for volumes from 1 ml to 100,000 L, up to 5,000 g per litre (guards of this house). **Error** none.
/// **Source** arithmetic on the label. **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure leaves its span.
///
/// # Example
///
/// ```
/// use measure::quantity::{Gram, GramsPerLitre, Litre};
///
/// assert_eq!(water::feed::weighed(GramsPerLitre(1.25), Litre(9.0))?, Gram(11.25));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn weighed(strength: GramsPerLitre, volume: Litre) -> Result<Gram, OutOfRange> {
    Ok(Gram(volume_of(volume)? * within("grams per litre", strength.0, 1e-6, 5_000.0)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_readings_of_a_ratio_agree_where_they_must() {
        let one_in = mixed(Label::OneIn(OneTo(201.0)), Litre(3.0), Measured::Water).unwrap();
        let one_to = mixed(Label::OneToWater(OneTo(200.0)), Litre(3.0), Measured::Water).unwrap();
        assert_eq!(one_in, one_to);
    }

    #[test]
    fn what_goes_in_is_what_comes_out() {
        for measured in [Measured::Finished, Measured::Water] {
            let spray = mixed(Label::PerLitre(MillilitresPerLitre(2.5)), Litre(1.5), measured).unwrap();
            assert!((spray.total.0 - spray.water.0 - spray.product.0).abs() < 1e-12);
        }
    }
}
