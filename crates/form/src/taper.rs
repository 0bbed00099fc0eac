//! How a trunk or a branch thins upward, where it does not, and how high it may stand free.

use measure::{
    quantity::{KilogramPerLitre, Megapascal, Metre, Millimetre},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::{error::Error, order::slope, skeleton::Skeleton};

/// A thickness read at a height along the line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// How far up the line.
    pub along: Millimetre,
    /// How thick it is there.
    pub thickness: Millimetre,
}

/// The thicknesses of one line from base to tip.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    readings: Vec<Reading>,
}

/// How a line thins as a power of what is left of its height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Power {
    /// 0.5 bulges, 1 is a cone, 1.5 flares at the base.
    pub power: f64,
    /// Thickness of the fitted line at its base.
    pub base: Millimetre,
}

/// So much thicker may a line read going up before it is called reverse taper: the noise of reading.
pub const NOISE: Sourced<f64> = Sourced {
    value: 1.03,
    standing: Standing::Estimate("3 % for the noise of reading a calliper or a photo"),
};

/// The cross-section that leaves a crowded node over the one that carries it.
pub const CROWDED: Sourced<f64> = Sourced {
    value: 1.3,
    standing: Standing::Estimate(
        "three or more shoots on one node make a knuckle, common practice; limit ours",
    ),
};

impl Profile {
    /// A profile from its readings, base first.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] when a thickness or a height is none, or the heights do not rise; [`Error::Count`] below two readings.
    pub fn new(readings: Vec<Reading>) -> Result<Profile, Error> {
        if readings.len() < 2 {
            return Err(Error::Count { quantity: "readings of a profile", got: readings.len(), wanted: 2 });
        }
        let mut below = -1e-12;
        for reading in &readings {
            within("height of a reading, mm, above the one before", reading.along.0, below + 1e-12, 1e6)?;
            within("thickness, mm", reading.thickness.0, 1e-6, 1e5)?;
            below = reading.along.0;
        }
        Ok(Profile { readings })
    }

    /// The profile of a line of a tree: its foot and the ends of its segments.
    ///
    /// # Errors
    ///
    /// [`Error::Empty`] when the tree has no such axis.
    pub fn of(tree: &Skeleton, axis: u32) -> Result<Profile, Error> {
        let axis = tree.axis(axis).ok_or(Error::Empty)?;
        let first = &tree.segments()[axis.segments[0]];
        let mut readings = vec![Reading { along: Millimetre(0.0), thickness: first.base }];
        let mut along = 0.0;
        for at in axis.segments {
            let segment = &tree.segments()[at];
            along += segment.length.0;
            readings.push(Reading { along: Millimetre(along), thickness: segment.tip });
        }
        Profile::new(readings)
    }

    /// The readings, base first.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// How much it thins from the lowest to the highest reading, mm for every mm.
    pub fn mean_taper(&self) -> f64 {
        let (base, top) = self.ends();
        (base.thickness.0 - top.thickness.0) / (top.along.0 - base.along.0)
    }

    /// The height of the highest reading over the thickness of the lowest.
    pub fn height_to_base(&self) -> f64 {
        let (base, top) = self.ends();
        (top.along.0 - base.along.0) / base.thickness.0
    }

    /// The readings that are thicker than the one below them by more than [`NOISE`].
    pub fn reverse(&self) -> Vec<usize> {
        let thicker =
            |at: &usize| self.readings[*at].thickness.0 > NOISE.value * self.readings[*at - 1].thickness.0;
        (1..self.readings.len()).filter(thicker).collect()
    }

    /// The power law of least squares through the logarithms.
    ///
    /// ```text
    /// d(z) = D0·((H − z)/H)^p
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | z, d | `along`, `thickness` | height and thickness of a reading | mm |
    /// | H | `height` | height of the tip | mm |
    /// | p, D0 | `power`, `base` returned | power, thickness at the base | 1, mm |
    ///
    /// **Holds** for two readings or more below the tip. **Error** none of its own. **Source** the usual form of stem profiles,
    /// least squares of ln d on ln((H − z)/H). **Checked** `tests/allometry.rs`.
    ///
    /// # Errors
    ///
    /// [`Error::Count`] when fewer than two readings lie below the tip.
    pub fn power(&self, height: Millimetre) -> Result<Power, Error> {
        let below = self.readings.iter().filter(|reading| reading.along.0 < height.0);
        let logs: Vec<(f64, f64)> = below
            .map(|reading| (((height.0 - reading.along.0) / height.0).ln(), reading.thickness.0.ln()))
            .collect();
        if logs.len() < 2 {
            return Err(Error::Count { quantity: "readings below the tip", got: logs.len(), wanted: 2 });
        }
        let power = slope(&logs);
        let n = logs.len() as f64;
        let (x, y) = logs.iter().fold((0.0, 0.0), |sum, log| (sum.0 + log.0 / n, sum.1 + log.1 / n));
        Ok(Power { power, base: Millimetre((y - power * x).exp()) })
    }

    fn ends(&self) -> (Reading, Reading) {
        (self.readings[0], self.readings[self.readings.len() - 1])
    }
}

/// How crowded a node is: the cross-sections that leave it over the one below.
///
/// ```
/// use form::taper::crowding;
/// use measure::quantity::Millimetre;
///
/// assert_eq!(crowding(Millimetre(10.0), &[6.0, 8.0].map(Millimetre)), 1.0);
/// ```
pub fn crowding(below: Millimetre, above: &[Millimetre]) -> f64 {
    above.iter().map(|one| (one.0 / below.0).powi(2)).sum()
}

/// How high a cylinder of wood may stand before it bows under its own weight.
///
/// ```text
/// H³ = j·E·D²/(16·ρ·g),   j = (9/4)·(1.8663508588738948)²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | E | `modulus` | modulus of the green wood | MPa |
/// | ρ | `density` | weight of the fresh wood | kg/l |
/// | D | `thickness` | thickness at the base | mm |
/// | g | 9.80665 | gravity | m/s² |
/// | H | returned | greatest height | m |
///
/// **Holds** for an even cylinder, fixed at its foot, without wind. **Error** none known for living wood.
/// **Source** Greenhill 1881, the zero of the Bessel function of order −1/3 as computed in the reference set.
/// **Checked** `tests/allometry.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not above 0.
pub fn greatest_height(
    modulus: Megapascal,
    density: KilogramPerLitre,
    thickness: Millimetre,
) -> Result<Metre, OutOfRange> {
    const FIRST_ZERO: f64 = 1.866_350_858_873_894_8;
    const GRAVITY: f64 = 9.806_65;
    let e = within("modulus of wood, MPa", modulus.0, 1e-3, 1e6)? * 1e6;
    let rho = within("density of wood, kg/l", density.0, 1e-3, 10.0)? * 1000.0;
    let d = within("thickness, mm", thickness.0, 1e-3, 1e5)? / 1000.0;
    let j = 2.25 * FIRST_ZERO * FIRST_ZERO;
    Ok(Metre((j * e * d * d / (16.0 * rho * GRAVITY)).cbrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_profile_that_does_not_rise_is_refused() {
        let at = |along, thickness| Reading { along: Millimetre(along), thickness: Millimetre(thickness) };
        assert!(Profile::new(vec![at(0.0, 10.0), at(0.0, 9.0)]).is_err());
        assert!(Profile::new(vec![at(0.0, 10.0)]).is_err());
        assert!(Profile::new(vec![at(0.0, 10.0), at(5.0, f64::NAN)]).is_err());
    }
}
