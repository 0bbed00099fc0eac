//! Feed and spray arithmetic on the figures of a label: how much product and water, never which dose.

mod caution;
mod salt;
mod spray;

pub use caution::{Caution, FEEDING, SALTS, SPRAYING};
pub use salt::{MeterScale, net_of_water, with_feed};
pub use spray::{Label, Measured, Mixed, mixed, weighed};

use measure::{
    quantity::{GramsPerLitre, KilogramPerLitre, MillilitresPerLitre, OneTo, PartsPerMillion, Percent},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// Share of phosphorus in P2O5 by weight.
pub const PHOSPHORUS: Sourced<f64> =
    Sourced { value: 0.4364, standing: Standing::Unverified("weight of 2 P in P2O5") };

/// Share of potassium in K2O by weight.
pub const POTASSIUM: Sourced<f64> =
    Sourced { value: 0.8301, standing: Standing::Unverified("weight of 2 K in K2O") };

/// How far the strength of a feed is to be trusted; the bulletin prints 13.5 oz where the sum is 13.35.
pub const STRENGTH: Standing =
    Standing::Published("the rule of extension bulletins, on the label's per cent");

fn element(percent: Percent) -> Result<f64, OutOfRange> {
    within("per cent of the element by weight", percent.0, 0.01, 100.0)
}

fn wish(wanted: PartsPerMillion) -> Result<f64, OutOfRange> {
    within("parts per million wanted", wanted.0, 0.01, 100_000.0)
}

/// Grams of a fertiliser in a litre of feed, so that the feed holds the ppm of one element that the grower asks for.
///
/// ```text
/// g/L = ppm / (10 · %)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | g/L | returned | fertiliser in a litre of feed | g/L |
/// | ppm | `wanted` | element wanted in the feed | mg/L |
/// | % | `held` | element in the fertiliser by weight, from the label | % |
///
/// **Holds** for dry fertilisers wholly dissolved, 0.01 to 100,000 ppm (guard of this house).
/// **Error** none beyond the label's rounded per cent: half a per cent in 20 is 1 in 40.
/// **Source** extension bulletins on injector feeding, as the reference set cites them.
/// **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when either figure leaves its span.
///
/// # Example
///
/// ```
/// use measure::quantity::{PartsPerMillion, Percent};
///
/// let strength = water::feed::grams_per_litre(PartsPerMillion(200.0), Percent(15.0))?;
/// assert_eq!(format!("{:.3}", strength.0), "1.333");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn grams_per_litre(wanted: PartsPerMillion, held: Percent) -> Result<GramsPerLitre, OutOfRange> {
    Ok(GramsPerLitre(wish(wanted)? / (10.0 * element(held)?)))
}

/// Millilitres of a liquid fertiliser in a litre of feed for the ppm that the grower asks for.
///
/// ```text
/// ml/L = ppm / (10 · % · ρ)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ml/L | returned | fertiliser in a litre of feed | ml/L |
/// | ppm | `wanted` | element wanted in the feed | mg/L |
/// | % | `held` | element by weight, from the label | % |
/// | ρ | `density` | density of the liquid, from the label | kg/L |
///
/// **Holds** where the label's per cent is by weight, densities 0.5 to 3 kg/L (guard of this house).
/// **Error** none beyond the label's rounding. **Source** rule of the reference set.
/// **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure leaves its span.
///
/// # Example
///
/// ```
/// use measure::quantity::{KilogramPerLitre, PartsPerMillion, Percent};
///
/// let liquid = water::feed::millilitres_per_litre(PartsPerMillion(100.0), Percent(7.0), KilogramPerLitre(1.15))?;
/// assert_eq!(format!("{:.3}", liquid.0), "1.242");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn millilitres_per_litre(
    wanted: PartsPerMillion,
    held: Percent,
    density: KilogramPerLitre,
) -> Result<MillilitresPerLitre, OutOfRange> {
    let density = within("density of the liquid, kg/l", density.0, 0.5, 3.0)?;
    Ok(MillilitresPerLitre(wish(wanted)? / (10.0 * element(held)? * density)))
}

/// How strong the stock must be that an injector or a can thins to a feed.
///
/// ```text
/// stock = feed · N
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | stock | returned | fertiliser in a litre of stock | g/L |
/// | feed | `feed` | fertiliser in a litre of feed | g/L |
/// | N | `thinned` | one part of stock in N parts of feed | 1 |
///
/// **Holds** for 1 to 10,000; what of it dissolves, the bag says. Whether a maker means 1 in N or 1 to N differs by one
/// part in N. **Error** none. **Source** rule of the reference set. **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the ratio leaves its span.
///
/// # Example
///
/// ```
/// use measure::quantity::{GramsPerLitre, OneTo};
///
/// assert_eq!(water::feed::stock(GramsPerLitre(0.75), OneTo(200.0))?, GramsPerLitre(150.0));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn stock(feed: GramsPerLitre, thinned: OneTo) -> Result<GramsPerLitre, OutOfRange> {
    Ok(GramsPerLitre(feed.0 * within("stock thinned one to", thinned.0, 1.0, 10_000.0)?))
}

/// Parts per million of an element that a feed of this strength brings.
///
/// ```text
/// ppm = 10 · g/L · %
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ppm | returned | element in the feed | mg/L |
/// | g/L | `feed` | fertiliser in a litre of feed | g/L |
/// | % | `held` | element in the fertiliser by weight | % |
///
/// **Holds** as [`grams_per_litre`], which it turns round. **Error** none. **Source** as there.
/// **Checked** `tests/feed.rs`.
///
/// # Example
///
/// ```
/// use measure::quantity::{GramsPerLitre, Percent};
///
/// let potassium = water::feed::potassium(Percent(20.0));
/// assert_eq!(format!("{:.2}", water::feed::brings(GramsPerLitre(1.0), potassium).0), "166.02");
/// ```
pub fn brings(feed: GramsPerLitre, held: Percent) -> PartsPerMillion {
    PartsPerMillion(10.0 * feed.0 * held.0)
}

/// Phosphorus in a fertiliser whose label tells P2O5.
///
/// ```text
/// P = 0.4364 · P2O5
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | P | returned | phosphorus by weight | % |
/// | P2O5 | `phosphate` | as the label prints it | % |
///
/// **Holds** for every label that prints the oxide; some print the element. **Error** under 1 in 5,000, of the factor.
/// **Source** [`PHOSPHORUS`]. **Checked** `tests/feed.rs`.
///
/// # Example
///
/// ```
/// let phosphorus = water::feed::phosphorus(measure::quantity::Percent(10.0));
/// assert_eq!(format!("{:.3}", phosphorus.0), "4.364");
/// ```
pub fn phosphorus(phosphate: Percent) -> Percent {
    Percent(PHOSPHORUS.value * phosphate.0)
}

/// Potassium in a fertiliser whose label tells K2O.
///
/// ```text
/// K = 0.8301 · K2O
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | K | returned | potassium by weight | % |
/// | K2O | `potash` | as the label prints it | % |
///
/// **Holds** for every label that prints the oxide; some print the element. **Error** under 1 in 5,000, of the factor.
/// **Source** [`POTASSIUM`]. **Checked** `tests/feed.rs`.
///
/// # Example
///
/// ```
/// let potassium = water::feed::potassium(measure::quantity::Percent(20.0));
/// assert_eq!(format!("{:.3}", potassium.0), "16.602");
/// ```
pub fn potassium(potash: Percent) -> Percent {
    Percent(POTASSIUM.value * potash.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_mixed_brings_what_was_wanted() {
        let feed = grams_per_litre(PartsPerMillion(130.0), Percent(7.0)).unwrap();
        assert!((brings(feed, Percent(7.0)).0 - 130.0).abs() < 1e-9);
    }

    #[test]
    fn a_label_without_the_element_is_refused() {
        let refused = grams_per_litre(PartsPerMillion(100.0), Percent(0.0)).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "per cent of the element by weight is 0, but must be from 0.01 to 100"
        );
        assert!(grams_per_litre(PartsPerMillion(f64::NAN), Percent(5.0)).is_err());
    }
}
