//! What was measured, by the hour or by the day, before anything is computed from it.

use jiff::civil::Date;

mod element;

pub use element::{Element, WeatherDay, WeatherHour, WeatherOrigin};

/// One day of a station: its low and high and its rain, each where it was recorded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StationDay {
    /// Civil date at the station.
    pub date: Date,
    /// Lowest air temperature, °C.
    pub low: Option<f64>,
    /// Highest air temperature, °C.
    pub high: Option<f64>,
    /// Rain and melted snow, mm.
    pub rain: Option<f64>,
}

impl StationDay {
    /// A day with a low and a high, °C, and no rain recorded.
    pub fn of_extremes(date: Date, low: f64, high: f64) -> StationDay {
        StationDay { date, low: Some(low), high: Some(high), rain: None }
    }

    /// The low and the high, °C, where both were recorded.
    ///
    /// ```
    /// use climate::record::StationDay;
    /// use jiff::civil::date;
    ///
    /// let day = StationDay::of_extremes(date(2026, 1, 1), -4.0, 3.0);
    /// assert_eq!(day.extremes(), Some((-4.0, 3.0)));
    /// assert_eq!(StationDay { low: None, ..day }.extremes(), None);
    /// ```
    pub fn extremes(&self) -> Option<(f64, f64)> {
        self.low.zip(self.high)
    }
}

/// One hour of a station, a logger or a forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourMean {
    /// Start of the hour, seconds since 1970 in UTC.
    pub at: i64,
    /// Mean air temperature, °C.
    pub temperature: f64,
    /// True where the hour was filled from its neighbours.
    pub filled: bool,
}

/// The most hours in a row that are filled.
const FILLED: i64 = 3;

/// Hours with their means, in order, into a series: up to three in a row without a mean are filled by a straight
/// line between their neighbours and marked, longer gaps stay open.
///
/// # Example
///
/// ```
/// let hours = climate::record::bridged([(0, 1.0), (7200, 2.0)]);
/// assert_eq!((hours.len(), hours[1].temperature, hours[1].filled), (3, 1.5, true));
/// ```
pub fn bridged(means: impl IntoIterator<Item = (i64, f64)>) -> Vec<HourMean> {
    let means = means.into_iter();
    let mut hours: Vec<HourMean> = Vec::with_capacity(means.size_hint().0);
    for (at, mean) in means {
        if let Some(&HourMean { at: last, temperature: from, .. }) = hours.last() {
            let steps = (at - last) / 3600;
            if steps - 1 <= FILLED {
                hours.extend((1..steps).map(|step| {
                    let share = step as f64 / steps as f64;
                    let temperature = from + share * (mean - from);
                    HourMean { at: last + step * 3600, temperature, filled: true }
                }));
            }
        }
        hours.push(HourMean { at, temperature: mean, filled: false });
    }
    hours
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_hours_without_a_mean_stay_open() {
        assert_eq!(bridged([(0, 1.0), (4 * 3600, 1.0)]).len(), 5);
        assert_eq!(bridged([(0, 1.0), (5 * 3600, 1.0)]).len(), 2);
    }
}
