//! Readings at any pace to means by the hour, with short gaps filled and marked.

use std::collections::BTreeMap;

use super::Reading;

/// The most hours in a row that are filled.
const FILLED: i64 = 3;

/// One hour's mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoggedHour {
    /// Start of the hour, unix seconds, UTC.
    pub at: i64,
    /// Mean air temperature, °C.
    pub temperature: f64,
    /// No reading fell in this hour; it lies on the straight line between its neighbours.
    pub filled: bool,
}

/// Means of the readings of each UTC hour; up to three hours in a row without one are filled by a straight
/// line and marked, longer gaps stay open.
///
/// # Example
///
/// ```
/// use intake::logger::{hourly, Reading};
///
/// let reading = |at, temperature| Reading { at, temperature, humidity: None };
/// let hours = hourly(&[reading(0, 1.0), reading(1800, 2.0), reading(7200, 4.5)]);
/// assert_eq!((hours[0].temperature, hours[1].temperature), (1.5, 3.0));
/// assert!(hours[1].filled && !hours[2].filled);
/// ```
pub fn hourly(readings: &[Reading]) -> Vec<LoggedHour> {
    let mut sums: BTreeMap<i64, (f64, u32)> = BTreeMap::new();
    for reading in readings {
        let (sum, count) = sums.entry(reading.at.div_euclid(3600)).or_default();
        *sum += reading.temperature;
        *count += 1;
    }
    let mut hours: Vec<LoggedHour> = Vec::with_capacity(sums.len());
    let mut before: Option<(i64, f64)> = None;
    for (hour, (sum, count)) in sums {
        let mean = sum / f64::from(count);
        if let Some((last, from)) = before
            && hour - last - 1 <= FILLED
        {
            hours.extend((last + 1..hour).map(|open| {
                let share = (open - last) as f64 / (hour - last) as f64;
                LoggedHour { at: open * 3600, temperature: from + share * (mean - from), filled: true }
            }));
        }
        hours.push(LoggedHour { at: hour * 3600, temperature: mean, filled: false });
        before = Some((hour, mean));
    }
    hours
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn four_hours_without_a_reading_stay_open() {
        let reading = |hour: i64| Reading { at: hour * 3600, temperature: 1.0, humidity: None };
        assert_eq!(hourly(&[reading(0), reading(4)]).len(), 5);
        assert_eq!(hourly(&[reading(0), reading(5)]).len(), 2);
    }
}
