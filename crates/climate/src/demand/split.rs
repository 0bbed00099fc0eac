//! How a day's demand falls on its hours, so that a shift can be planned within it.

use measure::{
    quantity::{Hours, Millimetre, Share},
    range::OutOfRange,
};

use super::DemandPlace;

/// What part of the day's demand falls in each clock hour; the parts sum to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourShares(pub [f64; 24]);

impl HourShares {
    /// From the day's own hourly demand; hours of dew count as none.
    ///
    /// ```text
    /// w[h] = max(ET0[h], 0) / Σ max(ET0, 0)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | w | returned | part of the day's demand | 1 |
    /// | ET0 | `hours` | demand by the hour | mm |
    ///
    /// **Holds** for any day; a day without demand is spread evenly. **Error** none of its own.
    /// **Source** a definition. **Checked** `tests/demand.rs`.
    ///
    /// ```
    /// use climate::demand::split::HourShares;
    /// use measure::quantity::{Hours, Millimetre};
    ///
    /// let mut hours = [Millimetre(0.0); 24];
    /// (hours[12], hours[13], hours[3]) = (Millimetre(0.3), Millimetre(0.1), Millimetre(-0.01));
    /// let shares = HourShares::of_demand(&hours);
    /// assert_eq!(format!("{:.2}", shares.between(Hours(12.5), Hours(18.0)).0), "0.62");
    /// ```
    pub fn of_demand(hours: &[Millimetre; 24]) -> HourShares {
        HourShares::of(hours.map(|hour| hour.0.max(0.0)))
    }

    /// From the sun above the air, where only the day's demand is known; the night gets none.
    ///
    /// **Holds** outside polar night, where it is spread evenly. **Error** real afternoons take more than mornings, and
    /// nights 2 to 8 %. **Source** our own rule. **Checked** `tests/demand.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the day is not 1 to 366.
    pub fn of_sun(place: &DemandPlace, day_of_year: u16) -> Result<HourShares, OutOfRange> {
        let (sun, clock) = (place.sun(day_of_year)?, place.site().clock);
        let hours: [f64; 24] = std::array::from_fn(|hour| sun.hour(&clock, Hours(hour as f64 + 0.5)).0);
        Ok(HourShares::of(hours))
    }

    fn of(hours: [f64; 24]) -> HourShares {
        let sum: f64 = hours.iter().sum();
        HourShares(if sum > 0.0 { hours.map(|hour| hour / sum) } else { [1.0 / 24.0; 24] })
    }

    /// Part of the day's demand between two clock times of one day.
    pub fn between(&self, from: Hours, to: Hours) -> Share {
        let part = |hour: usize| {
            let start = hour as f64;
            (to.0.min(start + 1.0) - from.0.max(start)).max(0.0) * self.0[hour]
        };
        Share((0..24).map(part).sum())
    }
}
