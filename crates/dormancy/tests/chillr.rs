//! Cold against chillR 0.77 and the independent scripts of the reference set that agree with it.
//!
//! Tolerance is half the last digit stored; counts are equal.

use std::{env, fs, path::PathBuf};

use dormancy::{
    chill::{ChillModel, hour_units, sum},
    dynamic::DynamicState,
};
use measure::quantity::{Celsius, Fahrenheit};
use serde_json::Value;

fn text(name: &str) -> String {
    let own = || PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors"));
    let file = env::var_os("BUDSWELL_VECTORS").map_or_else(own, PathBuf::from).join("dormancy").join(name);
    fs::read_to_string(&file).unwrap_or_else(|why| panic!("{}: {why}", file.display()))
}

fn json(name: &str) -> Value {
    serde_json::from_str(&text(name)).unwrap()
}

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64, tolerance: f64) {
    assert!((ours - expected).abs() <= tolerance, "{what}: ours {ours}, expected {expected}");
}

/// Rows of a CSV as numbers; cells that are no numbers are not-a-number and fail any comparison.
fn rows(name: &str) -> Vec<Vec<f64>> {
    let text = text(name);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows = reader
        .records()
        .map(|row| row.unwrap().iter().map(|cell| cell.parse().unwrap_or(f64::NAN)).collect());
    rows.collect()
}

#[test]
fn one_hour_at_fifty_two_temperatures() {
    let models = [
        ChillModel::HoursC,
        ChillModel::HoursF,
        ChillModel::Utah,
        ChillModel::UtahF,
        ChillModel::UtahPositive,
        ChillModel::NorthCarolina,
    ];
    let rows = rows("chill_point_values.csv");
    assert!(!rows.is_empty());
    for row in &rows {
        for (model, expected) in models.into_iter().zip(&row[1..]) {
            let ours = hour_units(model, Celsius(row[0])).unwrap();
            assert!(ours == *expected, "{model:?} at {} °C: ours {ours}, expected {expected}", row[0]);
        }
    }
}

#[test]
fn the_closed_form_series_at_its_checkpoints() {
    use std::f64::consts::TAU;
    let series: Vec<f64> = (0..3600)
        .map(|hour| {
            let h = f64::from(hour);
            5.0 + 7.0 * (TAU * (h / 24.0 - 15.0 / 24.0)).cos() * (0.6 + 0.4 * (TAU * h / 216.0).sin())
                + 4.5 * (TAU * h / 744.0 + 0.7).sin()
                + 2.0 * (TAU * h / 127.2).sin()
        })
        .collect();
    let expected = json("chill_series_expected.json");
    let checkpoints = expected["checkpoints"].as_object().unwrap();
    assert!(!checkpoints.is_empty());
    for (hours, sums) in checkpoints {
        let part = &series[..hours.parse::<usize>().unwrap()];
        let of = |key: &str| sums[key].as_f64().unwrap();
        agrees("chilling hours", sum(ChillModel::HoursC, part), of("chill_hours_0_7p2C"), 0.0);
        agrees("chilling hours, °F", sum(ChillModel::HoursF, part), of("chill_hours_32_45F"), 0.0);
        agrees("Utah", sum(ChillModel::Utah, part), of("utah_C"), 0.0);
        agrees("Utah, °F", sum(ChillModel::UtahF, part), of("utah_F"), 0.0);
        agrees("positive Utah", sum(ChillModel::UtahPositive, part), of("utah_positive_only"), 0.0);
        agrees("North Carolina", sum(ChillModel::NorthCarolina, part), of("north_carolina_step"), 0.0);
        agrees("portions", sum(ChillModel::Dynamic, part), of("dynamic_portions"), 5e-10);
    }
}

#[test]
fn portions_at_constant_temperatures() {
    let rows = rows("dynamic_constant_temp.csv");
    assert!(!rows.is_empty());
    for row in &rows {
        for (hours, expected) in [24, 48, 168, 500, 960, 1000, 2000].into_iter().zip(&row[5..]) {
            agrees("portions", sum(ChillModel::Dynamic, &vec![row[0]; hours]), *expected, 5e-11 + 1e-10);
        }
    }
}

#[test]
fn the_state_hour_by_hour_through_a_warm_spell() {
    let mut state = DynamicState::default();
    let mut total = 0.0;
    let rows = rows("dynamic_trace.csv");
    assert!(!rows.is_empty());
    for row in &rows {
        let portion = state.step(Celsius(row[1]));
        total += portion;
        agrees("state", state.half_made(), row[2], 5e-13 + 1e-12);
        agrees("portion", portion, row[3], 5e-13 + 1e-12);
        agrees("sum", total, row[4], 5e-13 + 1e-12);
    }
}

#[test]
fn a_real_quarter_of_hours_in_fahrenheit() {
    let hours: Vec<f64> = text("data/seattle_hourly_normals_f_jan_mar.csv")
        .lines()
        .skip(1)
        .map(|line| Fahrenheit(line.trim().parse().unwrap()).celsius().0)
        .collect();
    let expected = json("seattle_hourly_expected.json");
    let of = |key: &str| expected[key].as_f64().unwrap();
    assert_eq!(hours.len(), 2160);
    agrees("chilling hours", sum(ChillModel::HoursC, &hours), of("chill_hours_0_7p2C"), 0.0);
    agrees("chilling hours, °F", sum(ChillModel::HoursF, &hours), of("chill_hours_32_45F"), 0.0);
    agrees("Utah", sum(ChillModel::Utah, &hours), of("utah_C"), 0.0);
    agrees("Utah, °F", sum(ChillModel::UtahF, &hours), of("utah_F_table"), 0.0);
    agrees("portions", sum(ChillModel::Dynamic, &hours), of("dynamic_portions"), 5e-11);
}
