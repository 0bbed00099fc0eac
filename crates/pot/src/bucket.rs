//! The bucket test: five weighings that tell what a mix holds, here and at other depths.

use measure::{
    quantity::{Gram, KilogramPerLitre, PerCentimetre, Share},
    range::within,
    sourced::Standing,
};

use crate::{
    caveat::{Caveat, Estimate},
    column::Column,
    error::Error,
    granule::{Cut, PENDULAR},
    retention::{Curve, Retention},
};

/// A mix weighed in a vessel with a hole that can be closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bucket {
    /// The fill: height above the hole and volume. A straight-sided vessel tells most.
    pub fill: Column,
    /// The empty vessel; nothing if the balance was set to zero with it.
    pub vessel: Gram,
    /// Vessel and dry mix.
    pub dry: Gram,
    /// Flooded from below until all gaps are full.
    pub saturated: Gram,
    /// Drained until no drop falls.
    pub drained: Gram,
}

/// The most water that grains which were not soaked are taken to hold inside, share of the mix's volume. Our guess.
const INSIDE_GUESS: f64 = 0.20;

/// Some of the grains, weighed dry, and again after five minutes under water and a good shake.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Soaked {
    /// Dry grains.
    pub dry: Gram,
    /// The same grains, soaked and shaken.
    pub wet: Gram,
}

/// What the weighings say without any model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighed {
    /// Weight of a litre, dry.
    pub density: KilogramPerLitre,
    /// All pores that fill, share.
    pub porosity: Share,
    /// Water held after draining at this depth, share.
    pub capacity: Share,
    /// Air after draining at this depth, share.
    pub air: Share,
}

impl Bucket {
    /// Density, pores, water and air of the mix at the depth of the vessel.
    ///
    /// ```text
    /// BD = dry/V,   TP = (saturated − dry)/V,   CC = (drained − dry)/V,   AS = TP − CC
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | BD, TP, CC, AS | `density`, `porosity`, `capacity`, `air` | returned | kg/L, 1, 1, 1 |
    /// | dry, saturated, drained | fields, less `vessel` where it counts | weighings | g |
    /// | V | `fill` | volume of the fill | mL |
    ///
    /// **Holds** for a fill that did not settle between the weighings. **Error** of a kitchen balance on two litres under 0.01;
    /// air shut in while flooding makes TP too small. **Source** the quantities of the porometer of horticulture (page read in
    /// the reference set). **Checked** `tests/bucket.rs`.
    ///
    /// # Errors
    ///
    /// [`Error::WrongWayRound`] when weighings cannot follow each other so, [`Error::OutOfRange`] when the fill weighs or
    /// takes up what no mix does.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, Gram, SquareCentimetre};
    /// use pot::{bucket::Bucket, column::Column};
    ///
    /// let bucket = Bucket {
    ///     fill: Column::straight(Centimetre(12.0), SquareCentimetre(2000.0 / 12.0))?,
    ///     vessel: Gram(0.0),
    ///     dry: Gram(1240.0),
    ///     saturated: Gram(2440.0),
    ///     drained: Gram(1790.0),
    /// };
    /// let weighed = bucket.weighed()?;
    /// assert_eq!(format!("{:.3} water, {:.3} air", weighed.capacity.0, weighed.air.0), "0.275 water, 0.325 air");
    /// assert!(Bucket { drained: Gram(2500.0), ..bucket }.weighed().is_err());
    /// # Ok::<(), pot::error::Error>(())
    /// ```
    pub fn weighed(&self) -> Result<Weighed, Error> {
        in_order(("the empty vessel", self.vessel), ("the dry fill", self.dry))?;
        in_order(("the dry fill", self.dry), ("the drained fill", self.drained))?;
        in_order(("the drained fill", self.drained), ("the flooded fill", self.saturated))?;
        within("weight of the empty vessel, g", self.vessel.0, 0.0, 1e6)?;
        let volume = self.fill.volume().0 * 1000.0;
        let density =
            within("dry density of the mix, kg/L", (self.dry.0 - self.vessel.0) / volume, 0.01, 3.0)?;
        let porosity = (self.saturated.0 - self.dry.0) / volume;
        let porosity = within("pores of the flooded mix, share of its volume", porosity, 0.02, 0.99)?;
        let capacity = (self.drained.0 - self.dry.0) / volume;
        Ok(Weighed {
            density: KilogramPerLitre(density),
            porosity: Share(porosity),
            capacity: Share(capacity),
            air: Share(porosity - capacity),
        })
    }

    /// The mix's retention: the draw of its gaps such that it holds at this depth what was weighed.
    ///
    /// ```text
    /// θ_in = BD·(wet − dry)/dry,   θ_s = TP − θ_in,   θ_r = 0.03,   n = 4 or 3,   α: CC(fill, α) = CC weighed
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | BD, TP, CC | [`Bucket::weighed`] | density, pores, capacity | kg/L, 1, 1 |
    /// | wet, dry | `soaked` | grains after and before soaking | g |
    /// | α, n, θ | [`Curve`] | of the curve returned; n by `cut` | cm⁻¹, 1, 1 |
    ///
    /// **Holds** for the mix as it is, before it settles or breaks down. **Error** none at the depth weighed; at others that of n
    /// and θ_r, which are taken over: weigh at the depth of your pots. **Source** our recipe, from the reference set.
    /// **Checked** `tests/bucket.rs`.
    ///
    /// # Errors
    ///
    /// As [`Bucket::weighed`]; [`Error::NoCurve`] when no draw of the gaps leads to the drained weight.
    pub fn retention(&self, soaked: Soaked, cut: Cut) -> Result<Estimate<Retention>, Error> {
        self.retention_holding(self.inside(soaked)?, cut)
    }

    /// Water inside the grains, share of the mix's volume, by the weight of soaked grains.
    ///
    /// The equation is θ_in of [`Bucket::retention`].
    ///
    /// # Errors
    ///
    /// As [`Bucket::weighed`], or when the grains weighed less after soaking.
    pub fn inside(&self, soaked: Soaked) -> Result<Share, Error> {
        Ok(Share(self.weighed()?.density.0 * soaked.taken_up()?))
    }

    /// The mix's retention where the grains were not soaked: what is inside them is guessed at 0.20 of the volume, or half of
    /// what the drained mix holds where that is less.
    ///
    /// # Errors
    ///
    /// As [`Bucket::retention`].
    pub fn retention_unsoaked(&self, cut: Cut) -> Result<Estimate<Retention>, Error> {
        let guess = Share(INSIDE_GUESS.min(self.weighed()?.capacity.0 / 2.0));
        let told = self.retention_holding(guess, cut)?;
        Ok(Estimate { caveats: &[Caveat::OneDepth, Caveat::GrainsNotSoaked], ..told })
    }

    /// The mix's retention where the water inside its grains is known as a share of the mix's volume.
    ///
    /// The equations are those of [`Bucket::retention`], with θ_in as given.
    ///
    /// # Errors
    ///
    /// As [`Bucket::retention`].
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Centimetre, Gram, Share, SquareCentimetre};
    /// use pot::{bucket::Bucket, column::Column, granule::Cut};
    ///
    /// let fill = Column::straight(Centimetre(12.0), SquareCentimetre(2000.0 / 12.0))?;
    /// let [vessel, dry, saturated, drained] = [0.0, 1240.0, 2440.0, 1790.0].map(Gram);
    /// let mix = Bucket { fill, vessel, dry, saturated, drained }.retention_holding(Share(0.18), Cut::Narrow)?;
    /// let tray = Column::straight(Centimetre(4.0), SquareCentimetre(600.0))?;
    /// assert_eq!(format!("{:.3}", mix.value.capacity(&tray).capacity.0), "0.395");
    /// # Ok::<(), pot::error::Error>(())
    /// ```
    pub fn retention_holding(&self, inside: Share, cut: Cut) -> Result<Estimate<Retention>, Error> {
        let weighed = self.weighed()?;
        within("water inside the grains, share", inside.0, 0.0, 0.95)?;
        let low = inside.0 + PENDULAR.0;
        let Share(capacity) = weighed.capacity;
        let none = Error::NoCurve { capacity, low, high: weighed.porosity.0 };
        if capacity <= low || capacity >= weighed.porosity.0 {
            return Err(none);
        }
        let curve = |log_alpha: f64| Curve {
            inside,
            residual: PENDULAR,
            between: Share(weighed.porosity.0 - inside.0),
            alpha: PerCentimetre(log_alpha.exp()),
            n: cut.sharpness(),
            m: None,
        };
        let excess = |log_alpha: f64| -> Result<f64, Error> {
            Ok(Retention::new(curve(log_alpha))?.capacity(&self.fill).capacity.0 - capacity)
        };
        let value = Retention::new(curve(falling_root(excess)?.ok_or(none)?))?;
        Ok(Estimate { value, standing: Standing::Measured, caveats: &[Caveat::OneDepth] })
    }
}

impl Soaked {
    /// Grams of water that a gram of dry grains takes up.
    fn taken_up(self) -> Result<f64, Error> {
        in_order(("the dry grains", self.dry), ("the soaked grains", self.wet))?;
        let dry = within("weight of the dry grains, g", self.dry.0, 1.0, 1e6)?;
        Ok((self.wet.0 - dry) / dry)
    }
}

/// Where a falling function of ln α meets zero, α from 0.0002 to 50 per cm; none if it does not.
fn falling_root(of: impl Fn(f64) -> Result<f64, Error>) -> Result<Option<f64>, Error> {
    let (mut low, mut high) = (2e-4_f64.ln(), 50_f64.ln());
    if of(low)? < 0.0 || of(high)? > 0.0 {
        return Ok(None);
    }
    while high - low > 1e-10 {
        let middle = f64::midpoint(low, high);
        if of(middle)? > 0.0 { low = middle } else { high = middle }
    }
    Ok(Some(f64::midpoint(low, high)))
}

fn in_order(light: (&'static str, Gram), heavy: (&'static str, Gram)) -> Result<(), Error> {
    let ((lighter, Gram(lighter_grams)), (heavier, Gram(heavier_grams))) = (light, heavy);
    // Written so that a weight that is no number is refused as well.
    if lighter_grams <= heavier_grams {
        Ok(())
    } else {
        Err(Error::WrongWayRound { lighter, lighter_grams, heavier, heavier_grams })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::quantity::{Centimetre, SquareCentimetre};

    fn bucket() -> Bucket {
        let fill = Column::straight(Centimetre(12.0), SquareCentimetre(2000.0 / 12.0)).unwrap();
        let [vessel, dry, saturated, drained] = [150.0, 1390.0, 2590.0, 1940.0].map(Gram);
        Bucket { fill, vessel, dry, saturated, drained }
    }

    #[test]
    fn weighings_the_wrong_way_round_are_named() {
        let error = Bucket { drained: Gram(2600.0), ..bucket() }.weighed().unwrap_err();
        assert_eq!(
            error.to_string(),
            "the drained fill weighs 2600 g and the flooded fill weighs 2590 g; the second must be the heavier"
        );
        assert!(Bucket { drained: Gram(1300.0), ..bucket() }.weighed().is_err());
        assert!(Bucket { dry: Gram(f64::NAN), ..bucket() }.weighed().is_err());
        assert!(Bucket { saturated: Gram(3500.0), ..bucket() }.weighed().is_err());
    }

    #[test]
    fn a_mix_that_drained_to_its_grains_has_no_curve() {
        let soaked = Soaked { dry: Gram(100.0), wet: Gram(129.0) };
        let dry = Bucket { drained: Gram(1750.0), ..bucket() }.retention(soaked, Cut::Narrow);
        assert!(matches!(dry, Err(Error::NoCurve { .. })), "{dry:?}");
        let flooded = Bucket { drained: Gram(2590.0), ..bucket() }.retention(soaked, Cut::Narrow);
        assert!(matches!(flooded, Err(Error::NoCurve { .. })), "{flooded:?}");
        let wet = Bucket { drained: Gram(2000.0), ..bucket() };
        assert!(matches!(
            wet.retention(Soaked { dry: Gram(100.0), wet: Gram(99.0) }, Cut::Wide),
            Err(Error::WrongWayRound { .. })
        ));
    }

    #[test]
    fn the_curve_holds_at_this_depth_what_was_weighed() {
        let soaked = Soaked { dry: Gram(100.0), wet: Gram(120.0) };
        for cut in [Cut::Narrow, Cut::Wide] {
            let told = bucket().retention(soaked, cut).unwrap().value.capacity(&bucket().fill);
            assert!((told.capacity.0 - 0.275).abs() < 1e-9, "{told:?}");
        }
    }
}
