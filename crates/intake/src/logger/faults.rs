//! Values that a sensor or its maker's software writes when there is no temperature.

use super::header::Scale;
use crate::weather::note::Why;

/// Marks for no value, in any scale.
const NO_VALUE: [f64; 5] = [-9999.0, 9999.0, -999.0, 999.0, 999.9];

/// −40 is the same on both scales; it is believed only beside a neighbour at most this warm, °C.
const COLD_NEIGHBOUR: f64 = -25.0;

/// The reason to leave out a value that stands for a fault, if it does.
pub(crate) fn sentinel(value: f64, scale: Option<Scale>) -> Option<Why> {
    let (unplugged, power_on) = match scale {
        Some(Scale::Fahrenheit) => (-196.6, 185.0),
        _ => (-127.0, 85.0),
    };
    if NO_VALUE.contains(&value) {
        Some(Why::NoValueMark)
    } else if value == unplugged || value == -127.0 {
        Some(Why::Unplugged)
    } else if value == power_on {
        Some(Why::PowerOn)
    } else {
        None
    }
}

/// Which of these temperatures, °C in the order of time, are a −40 among warmer readings.
pub(crate) fn lone_minus_40(celsius: &[f64]) -> Vec<bool> {
    let fault = |value: f64| (value + 40.0).abs() < 1e-9;
    let mut lone: Vec<bool> = celsius.iter().map(|&value| fault(value)).collect();
    let mut spare = |places: &mut dyn Iterator<Item = usize>| {
        let mut neighbour = f64::INFINITY;
        for at in places {
            if !fault(celsius[at]) {
                neighbour = celsius[at];
            } else if neighbour <= COLD_NEIGHBOUR {
                lone[at] = false;
            }
        }
    };
    spare(&mut (0..celsius.len()));
    spare(&mut (0..celsius.len()).rev());
    lone
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_true_arctic_minus_40_is_kept() {
        assert_eq!(lone_minus_40(&[-38.0, -40.0, -39.5]), [false; 3]);
        assert_eq!(lone_minus_40(&[2.0, -40.0, 2.5]), [false, true, false]);
    }

    #[test]
    fn a_warm_day_in_fahrenheit_is_no_fault() {
        assert_eq!(sentinel(85.0, Some(Scale::Fahrenheit)), None);
        assert_eq!(sentinel(85.0, Some(Scale::Celsius)), Some(Why::PowerOn));
    }
}
