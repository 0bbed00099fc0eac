//! What sieved granules will hold, told from their size until a bucket test tells better.

use measure::{
    quantity::{Centimetre, KilogramPerLitre, Millimetre, PerCentimetre, Share},
    range::{OutOfRange, within},
    sourced::Standing,
};

use crate::{
    caveat::{Caveat, Estimate},
    retention::{Curve, Retention},
};

/// How evenly the grains were sieved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cut {
    /// Between two sieves of neighbouring size: the gaps empty sharply.
    Narrow,
    /// Over a wide span of sizes.
    Wide,
}

impl Cut {
    /// Narrow where the wider sieve is at most twice the finer. Our estimate.
    pub fn between([fine, wide]: [Millimetre; 2]) -> Cut {
        if wide.0 <= 2.0 * fine.0 { Cut::Narrow } else { Cut::Wide }
    }

    /// How sharply such grains empty, n of [`Curve`]: 4 when narrow, 3 when wide. Our estimate.
    pub fn sharpness(self) -> f64 {
        match self {
            Cut::Narrow => 4.0,
            Cut::Wide => 3.0,
        }
    }
}

/// Grains of one material, or of a mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Granules {
    /// Size of the grains, from sieve to sieve the middle.
    pub grain: Millimetre,
    /// Water inside the grains after soaking, share of the mix's volume.
    pub inside: Share,
    /// Gaps between the grains, share of the mix's volume: 0.40 to 0.48 as grains lie.
    pub between: Share,
    /// Roundness: 1 for balls, 0.7 to 0.8 for grains.
    pub shape: f64,
    /// How evenly they were sieved.
    pub cut: Cut,
    /// Weight of a litre, dry.
    pub density: KilogramPerLitre,
}

/// Water that hangs between grains for good, share of the mix's volume. Our estimate.
pub const PENDULAR: Share = Share(0.03);

/// Surface tension of water at 20 °C, N/m.
const TENSION: f64 = 0.0728;
/// Density of water at 20 °C, kg/m³.
const WATER: f64 = 998.2;
/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;

/// How high the gaps between grains draw water.
///
/// ```text
/// h_d = 6·(γ/(ρ·g))·(1 − ε)/(ε·φ·d)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | h_d | returned | height drawn | cm |
/// | γ/(ρ·g) | | of water at 20 °C, 7.437 mm² | mm² |
/// | ε | `between` | gaps, share of the volume | 1 |
/// | φ | `shape` | roundness of the grains | 1 |
/// | d | `grain` | size of the grains | mm |
///
/// **Holds** for grains that wet, of one size. **Error** not known; see [`Granules::retention`].
/// **Source** capillary rise over the hydraulic radius, physics of the reference set. **Checked** `tests/granule.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not that of grains.
///
/// # Example
///
/// ```
/// use measure::quantity::{Millimetre, Share};
/// use pot::granule::capillary_rise;
///
/// assert_eq!(format!("{:.2} cm", capillary_rise(Millimetre(3.0), Share(0.45), 0.75)?.0), "2.42 cm");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn capillary_rise(grain: Millimetre, between: Share, shape: f64) -> Result<Centimetre, OutOfRange> {
    const DRAW: f64 = TENSION / (WATER * GRAVITY) * 1e6;
    let d = within("size of the grains, mm", grain.0, 0.05, 60.0)?;
    let gaps = within("gaps between the grains, share", between.0, 0.05, 0.9)?;
    let round = within("roundness of the grains", shape, 0.1, 1.0)?;
    Ok(Centimetre(6.0 * DRAW * (1.0 - gaps) / (gaps * round * d) / 10.0))
}

impl Granules {
    /// The retention of these grains, told from their size.
    ///
    /// ```text
    /// α = 1/h_d,   n = 4 (narrow cut) or 3 (wide),   θ_r = 0.03
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | h_d | [`capillary_rise`] | height drawn by the gaps | cm |
    /// | α, n, θ_r | [`Curve`] | of the curve returned | cm⁻¹, 1, 1 |
    ///
    /// What is inside the grains stays there: pots are not tall enough to draw it out.
    ///
    /// **Holds** for sieved grains without dust, well wetted.
    /// **Error** can overstate the water between the grains up to twice (grit .17 to .25 told, .13 measured by a plant society).
    /// **Source** our estimate, from the reference set. **Checked** `tests/granule.rs` (our arithmetic, not the soil).
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of grains.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, KilogramPerLitre, Millimetre, Share, SquareCentimetre};
    /// use pot::{column::Column, granule::{Cut, Granules}};
    ///
    /// let akadama = Granules {
    ///     grain: Millimetre(3.0),
    ///     inside: Share(0.2),
    ///     between: Share(0.45),
    ///     shape: 0.75,
    ///     cut: Cut::Narrow,
    ///     density: KilogramPerLitre(0.68),
    /// };
    /// let told = akadama.retention()?;
    /// let tray = Column::straight(Centimetre(5.0), SquareCentimetre(600.0))?;
    /// assert_eq!(format!("{:.2}", told.value.capacity(&tray).capacity.0), "0.47");
    /// assert!(told.standing.words().starts_with("our estimate"));
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn retention(&self) -> Result<Estimate<Retention>, OutOfRange> {
        let value = Retention::new(Curve {
            inside: self.inside,
            residual: PENDULAR,
            between: self.between,
            alpha: PerCentimetre(1.0 / capillary_rise(self.grain, self.between, self.shape)?.0),
            n: self.cut.sharpness(),
            m: None,
        })?;
        let standing = Standing::Estimate("capillary rise between grains of this size");
        Ok(Estimate { value, standing, caveats: &[Caveat::GrainsAlone] })
    }
}

/// How much of a mix is of one material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The material.
    pub granules: Granules,
    /// Parts by volume.
    pub parts: f64,
}

/// Materials put together by volume, as grains of one kind.
///
/// ```text
/// ρ = Σ s·ρ_i,   θ_in = Σ s·θ_in,i,   ε = Σ s·ε_i,   φ = Σ s·φ_i,   1/d = Σ s·(1/d_i)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | s | `parts` over their sum | share by volume | 1 |
/// | ρ, θ_in, ε, φ, d | fields of [`Granules`] | dry density, water inside, gaps, roundness, size | kg/L, 1, 1, 1, mm |
///
/// Sizes go by the surface they bring, as the draw of the gaps does. The cut is wide when a part's is, or when the largest
/// grain is more than twice the smallest.
///
/// **Holds** for grains of about one size; of different sizes, the small ones fill the gaps of the large ones: less volume,
/// less air, more weight than told. **Error** not known but for the density, which mixes linearly.
/// **Source** density: Gabriel et al. 2009, HortScience 44:874 (read in the reference set), where capacity and air space did
/// not mix so; the rest is our estimate. **Checked** nothing yet.
///
/// # Errors
///
/// [`OutOfRange`] when there is nothing to mix or a part is not a positive number.
///
/// # Example
///
/// ```
/// use measure::quantity::{KilogramPerLitre, Millimetre, Share};
/// use pot::granule::{Cut, Granules, Part, mixed};
///
/// # let (shape, between, cut) = (0.75, Share(0.45), Cut::Narrow);
/// # let grain = Millimetre(4.5);
/// let akadama = Granules { grain, inside: Share(0.24), between, shape, cut, density: KilogramPerLitre(0.68) };
/// let lava = Granules { inside: Share(0.08), density: KilogramPerLitre(0.85), ..akadama };
/// let mix = mixed(&[Part { granules: akadama, parts: 3.0 }, Part { granules: lava, parts: 1.0 }])?;
/// assert_eq!(format!("{:.4} kg/L", mix.value.density.0), "0.7225 kg/L");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn mixed(parts: &[Part]) -> Result<Estimate<Granules>, OutOfRange> {
    let mut whole = 0.0;
    for part in parts {
        whole += within("parts by volume", part.parts, 1e-6, 1e6)?;
        within("size of the grains, mm", part.granules.grain.0, 0.05, 60.0)?;
    }
    within("parts by volume, together", whole, 1e-6, 1e9)?;
    let sum = |of: fn(&Granules) -> f64| {
        parts.iter().map(|part| part.parts / whole * of(&part.granules)).sum::<f64>()
    };
    let largest = parts.iter().map(|part| part.granules.grain.0).fold(0.0, f64::max);
    let smallest = parts.iter().map(|part| part.granules.grain.0).fold(f64::INFINITY, f64::min);
    let is_narrow = largest <= 2.0 * smallest && parts.iter().all(|part| part.granules.cut == Cut::Narrow);
    let value = Granules {
        grain: Millimetre(1.0 / sum(|granules| 1.0 / granules.grain.0)),
        inside: Share(sum(|granules| granules.inside.0)),
        between: Share(sum(|granules| granules.between.0)),
        shape: sum(|granules| granules.shape),
        cut: if is_narrow { Cut::Narrow } else { Cut::Wide },
        density: KilogramPerLitre(sum(|granules| granules.density.0)),
    };
    Ok(Estimate {
        value,
        standing: Standing::Estimate("its materials by volume, sizes by the surface they bring"),
        caveats: &[Caveat::MixedByVolume],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grains(size: f64, cut: Cut) -> Part {
        let [inside, between] = [0.2, 0.45].map(Share);
        let (grain, density) = (Millimetre(size), KilogramPerLitre(size / 10.0));
        Part { granules: Granules { grain, inside, between, shape: 0.75, cut, density }, parts: 1.0 }
    }

    #[test]
    fn a_mix_of_one_material_is_that_material() {
        let part = grains(4.0, Cut::Narrow);
        let twice = mixed(&[part, Part { parts: 3.0, ..part }]).unwrap();
        assert!((twice.value.grain.0 - 4.0).abs() < 1e-12 && twice.value.cut == Cut::Narrow);
        assert!((twice.value.density.0 - 0.4).abs() < 1e-12);
    }

    #[test]
    fn the_small_grains_of_a_mix_set_its_draw() {
        let mix = mixed(&[grains(2.0, Cut::Narrow), grains(6.0, Cut::Narrow)]).unwrap().value;
        assert!((mix.grain.0 - 3.0).abs() < 1e-12 && mix.cut == Cut::Wide, "{mix:?}");
        let near = mixed(&[grains(3.0, Cut::Narrow), grains(6.0, Cut::Narrow)]).unwrap().value;
        assert_eq!(near.cut, Cut::Narrow);
    }

    #[test]
    fn nothing_and_less_than_nothing_do_not_mix() {
        assert!(mixed(&[]).is_err());
        assert!(mixed(&[Part { parts: -1.0, ..grains(3.0, Cut::Wide) }]).is_err());
    }
}
