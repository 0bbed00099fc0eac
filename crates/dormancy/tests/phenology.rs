//! Waking models against phenor 1.4, chillR 0.77 formulas and independent scripts, on 12 springs of Vaccinium.
//!
//! Temperatures: Harvard Forest as carried in pyPhenology 0.7.1. Days are equal, not near. The set's column
//! `thermal_time_pyphenology` is left out: that library adds the whole temperature of a day above the threshold
//! instead of what exceeds it, a fault the reference set documents and this room does not copy.

mod reference;
mod vector;

use reference::{model, vaccinium};
use vector::{counted, fields, json, words};

/// The documented fault of a reference library, kept out of the comparison.
const FAULT: &str = "thermal_time_pyphenology";

#[test]
fn ten_parameter_sets_in_twelve_springs() {
    let Some(expected) = json("dormancy/phenology_models_expected.json") else { return };
    let Some(springs) = vaccinium(words(&expected, "data")) else { return };
    let mut checked = 0;
    for (name, set) in fields(&expected["params"]).into_iter().filter(|(name, _)| *name != FAULT) {
        let model = model(name, set);
        for (year, days) in fields(&expected["expected_doy"]) {
            let Some(expected) = days.get(name) else { continue };
            let expected = expected.as_i64().map(|day| day as i32);
            let ours = model.day_reached(&springs[&year.parse().unwrap()].season());
            assert_eq!(ours, expected, "{name} in {year}");
            checked += 1;
        }
    }
    counted("dormancy/phenology_models_expected.json: days", checked, 120);
}
