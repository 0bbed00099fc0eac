//! Salt in water by what it conducts, and the scales on which meters tell it.

use measure::{
    quantity::{DecisiemensPerMetre, PartsPerMillion},
    range::{OutOfRange, within},
};

/// The scale on which a meter that says "ppm" was made; they cannot be told apart by the reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeterScale {
    /// 500 ppm to the dS/m.
    Of500,
    /// 640 ppm to the dS/m, as laboratories reckon dissolved salts.
    Of640,
    /// 700 ppm to the dS/m.
    Of700,
}

impl MeterScale {
    /// Every scale.
    pub const ALL: [MeterScale; 3] = [MeterScale::Of500, MeterScale::Of640, MeterScale::Of700];

    /// What one dS/m reads.
    pub fn at_one(self) -> PartsPerMillion {
        PartsPerMillion(match self {
            MeterScale::Of500 => 500.0,
            MeterScale::Of640 => 640.0,
            MeterScale::Of700 => 700.0,
        })
    }

    /// What a meter of this scale shows.
    ///
    /// ```text
    /// ppm = s · EC
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | ppm | returned | the reading | ppm of the scale |
    /// | s | `self` | 500, 640 or 700 | ppm per dS/m |
    /// | EC | `conducts` | conductivity | dS/m |
    ///
    /// **Holds** for meters that correct to 25 °C. **Error** none of the scale; the ppm are not weighed salt.
    /// **Source** custom of meters, as the reference set gives it. **Checked** `tests/feed.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{DecisiemensPerMetre, PartsPerMillion};
    /// use water::feed::MeterScale;
    ///
    /// assert_eq!(MeterScale::Of700.reads(DecisiemensPerMetre(1.2)), PartsPerMillion(840.0));
    /// ```
    pub fn reads(self, conducts: DecisiemensPerMetre) -> PartsPerMillion {
        PartsPerMillion(self.at_one().0 * conducts.0)
    }

    /// What the water conducts where a meter of this scale shows `reading`.
    ///
    /// ```text
    /// EC = ppm / s
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | EC | returned | conductivity | dS/m |
    /// | ppm | `reading` | the reading | ppm of the scale |
    /// | s | `self` | 500, 640 or 700 | ppm per dS/m |
    ///
    /// **Holds**, **Error**, **Source** as [`MeterScale::reads`]. **Checked** `tests/feed.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{DecisiemensPerMetre, PartsPerMillion};
    /// use water::feed::MeterScale;
    ///
    /// assert_eq!(MeterScale::Of500.conducts(PartsPerMillion(600.0)), DecisiemensPerMetre(1.2));
    /// ```
    pub fn conducts(self, reading: PartsPerMillion) -> DecisiemensPerMetre {
        DecisiemensPerMetre(reading.0 / self.at_one().0)
    }
}

fn conductivity(quantity: &'static str, given: DecisiemensPerMetre) -> Result<f64, OutOfRange> {
    within(quantity, given.0, 0.0, 50.0)
}

/// What a feed should conduct: the water's own salt and the fertiliser's, from the table on the bag.
///
/// ```text
/// EC = ECw + ppm · EC100 / 100
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | EC | returned | conductivity of the feed | dS/m |
/// | ECw | `water` | of the water alone | dS/m |
/// | EC100 | `bag` | what 100 ppm N of this fertiliser adds, from the bag | dS/m |
/// | ppm | `nitrogen` | nitrogen in the feed | mg/L |
///
/// **Holds** for feeds as thin as are poured, where salts add up. **Error** not stated by the source; reading far from
/// this sum tells of a wrong mix or a worn injector. **Source** growers' practice, bag table of an extension page.
/// **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a conductivity is not from 0 to 50 dS/m, or ppm not from 0 to 100,000 (guards of this house).
///
/// # Example
///
/// ```
/// use measure::quantity::{DecisiemensPerMetre, PartsPerMillion};
///
/// let feed = water::feed::with_feed(DecisiemensPerMetre(0.3), DecisiemensPerMetre(0.74), PartsPerMillion(100.0))?;
/// assert_eq!(format!("{:.2}", feed.0), "1.04");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn with_feed(
    water: DecisiemensPerMetre,
    bag: DecisiemensPerMetre,
    nitrogen: PartsPerMillion,
) -> Result<DecisiemensPerMetre, OutOfRange> {
    let water = conductivity("EC of the water, dS/m", water)?;
    let bag = conductivity("EC at 100 ppm N, dS/m", bag)?;
    let nitrogen = within("parts per million of nitrogen", nitrogen.0, 0.0, 100_000.0)?;
    Ok(DecisiemensPerMetre(water + bag * nitrogen / 100.0))
}

/// Salt that a pot gave to what was poured through, without the salt that came with the water.
///
/// ```text
/// EC = ECout − ECw
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | EC | returned | salt of the pot; below zero where the pot kept some | dS/m |
/// | ECout | `caught` | of what ran out | dS/m |
/// | ECw | `water` | of the water poured | dS/m |
///
/// **Holds** for the pour-through test: watered to capacity, 30 to 120 minutes of waiting, about 50 ml caught.
/// **Error** not stated by the source. **Source** extension pages on pour-through testing, as the reference set cites
/// them. **Checked** `tests/feed.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a conductivity is not from 0 to 50 dS/m (guard of this house).
///
/// # Example
///
/// ```
/// use measure::quantity::DecisiemensPerMetre;
///
/// let net = water::feed::net_of_water(DecisiemensPerMetre(1.25), DecisiemensPerMetre(0.5))?;
/// assert_eq!(net, DecisiemensPerMetre(0.75));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn net_of_water(
    caught: DecisiemensPerMetre,
    water: DecisiemensPerMetre,
) -> Result<DecisiemensPerMetre, OutOfRange> {
    let caught = conductivity("EC reading, dS/m", caught)?;
    Ok(DecisiemensPerMetre(caught - conductivity("EC of the water, dS/m", water)?))
}
