//! Readings at any pace to means by the hour, with short gaps filled and marked.

use std::collections::BTreeMap;

use climate::record::{HourMean, bridged};

use super::Reading;

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
pub fn hourly(readings: &[Reading]) -> Vec<HourMean> {
    let mut sums: BTreeMap<i64, (f64, u32)> = BTreeMap::new();
    for reading in readings {
        let (sum, count) = sums.entry(reading.at.div_euclid(3600) * 3600).or_default();
        *sum += reading.temperature;
        *count += 1;
    }
    bridged(sums.into_iter().map(|(at, (sum, count))| (at, sum / f64::from(count))))
}

/// Means of the humidity of each UTC hour that has any, %.
pub fn humidity(readings: &[Reading]) -> Vec<(i64, f64)> {
    let mut sums: BTreeMap<i64, (f64, u32)> = BTreeMap::new();
    for (at, humidity) in readings.iter().filter_map(|reading| Some((reading.at, reading.humidity?))) {
        let (sum, count) = sums.entry(at.div_euclid(3600) * 3600).or_default();
        *sum += humidity;
        *count += 1;
    }
    sums.into_iter().map(|(at, (sum, count))| (at, sum / f64::from(count))).collect()
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
