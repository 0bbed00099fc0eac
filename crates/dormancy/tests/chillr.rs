//! Cold against chillR 0.77 and the independent scripts of the reference set that agree with it.
//!
//! Tolerance is half the last digit stored; counts are equal.

mod vector;

use climate::hours::{Extremes, from_extremes};
use dormancy::{
    chill::{ChillModel, hour_units, sum},
    dynamic::DynamicState,
};
use jiff::civil::Date;
use measure::quantity::{Celsius, Degrees, Fahrenheit};
use vector::{cell, counted, fields, json, rows, text, words};

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64, tolerance: f64) {
    assert!((ours - expected).abs() <= tolerance, "{what}: ours {ours}, expected {expected}");
}

/// Rows of a CSV as numbers; cells that are no numbers are not-a-number and fail any comparison.
fn table(name: &str) -> Option<(Vec<String>, Vec<Vec<f64>>)> {
    let text = text(name)?;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let rows = reader
        .records()
        .map(|row| row.unwrap().iter().map(|cell| cell.parse().unwrap_or(f64::NAN)).collect());
    Some((heads, rows.collect()))
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
    let Some((_, rows)) = table("dormancy/chill_point_values.csv") else { return };
    for row in &rows {
        for (model, expected) in models.into_iter().zip(&row[1..]) {
            let ours = hour_units(model, Celsius(row[0])).unwrap();
            assert!(ours == *expected, "{model:?} at {} °C: ours {ours}, expected {expected}", row[0]);
        }
    }
    counted("dormancy/chill_point_values.csv: temperatures", rows.len(), 52);
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
    let Some(expected) = json("dormancy/chill_series_expected.json") else { return };
    for (ours, stored) in series.iter().zip(rows(&expected["first_values"])) {
        agrees("the series itself", *ours, stored.as_str().unwrap().parse().unwrap(), 1e-12);
    }
    let checkpoints = fields(&expected["checkpoints"]);
    for (hours, sums) in &checkpoints {
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
    counted("dormancy/chill_series_expected.json: checkpoints", checkpoints.len(), 6);
}

#[test]
fn portions_at_constant_temperatures() {
    let Some((heads, rows)) = table("dormancy/dynamic_constant_temp.csv") else { return };
    // “cum_960h(40 d)”
    let hours = |head: &str| head.strip_prefix("cum_")?.split_once('h')?.0.parse::<usize>().ok();
    let mut count = 0;
    for row in &rows {
        for (hours, expected) in heads.iter().zip(row).filter_map(|(head, cell)| Some((hours(head)?, *cell)))
        {
            agrees("portions", sum(ChillModel::Dynamic, &vec![row[0]; hours]), expected, 5e-11 + 1e-10);
            count += 1;
        }
    }
    counted("dormancy/dynamic_constant_temp.csv: sums", count, 24 * 7);
}

#[test]
fn the_state_hour_by_hour_through_a_warm_spell() {
    let mut state = DynamicState::default();
    let mut total = 0.0;
    let Some((_, rows)) = table("dormancy/dynamic_trace.csv") else { return };
    for row in &rows {
        let portion = state.step(Celsius(row[1]));
        total += portion;
        agrees("state", state.half_made(), row[2], 5e-13 + 1e-12);
        agrees("portion", portion, row[3], 5e-13 + 1e-12);
        agrees("sum", total, row[4], 5e-13 + 1e-12);
    }
    counted("dormancy/dynamic_trace.csv: hours", rows.len(), 76);
}

#[test]
fn a_real_quarter_of_hours_in_fahrenheit() {
    let Some(expected) = json("dormancy/seattle_hourly_expected.json") else { return };
    let Some(file) = text(&format!("dormancy/{}", words(&expected, "file"))) else { return };
    let hours: Vec<f64> =
        file.lines().skip(1).map(|line| Fahrenheit(line.trim().parse().unwrap()).celsius().0).collect();
    counted("dormancy/seattle_hourly_expected.json: hours", hours.len(), 2160);
    let of = |key: &str| expected[key].as_f64().unwrap();
    assert_eq!(hours.len() as f64, of("hours"));
    agrees("chilling hours", sum(ChillModel::HoursC, &hours), of("chill_hours_0_7p2C"), 0.0);
    agrees("chilling hours, °F", sum(ChillModel::HoursF, &hours), of("chill_hours_32_45F"), 0.0);
    agrees("Utah", sum(ChillModel::Utah, &hours), of("utah_C"), 0.0);
    agrees("Utah, °F", sum(ChillModel::UtahF, &hours), of("utah_F_table"), 0.0);
    agrees("portions", sum(ChillModel::Dynamic, &hours), of("dynamic_portions"), 5e-11);
}

/// Independent scripts of the reference set: a winter of daily extremes, on the consistent curve. The file says which days and where in
/// words: “…, 2012-11-01..2013-03-31 (151 days), latitude 47.45, …”.
#[test]
fn a_winter_of_daily_extremes() {
    let Some(expected) = json("dormancy/hourly_from_daily_sums.json") else { return };
    let Some(daily) = vector::table("dormancy/data/seattle_daily_2012_2014.csv") else { return };
    let series: Vec<&str> = words(&expected, "series").split([' ', ',']).collect();
    let span = series.iter().find_map(|word| word.split_once("..")).expect("the file says which days");
    let [first, last] = [span.0, span.1].map(|day| day.parse::<Date>().unwrap());
    let at = series.iter().position(|word| *word == "latitude").expect("the file says where");
    let extremes: Vec<Extremes> = daily
        .iter()
        .filter(|row| (first..=last).contains(&row["date"].parse().unwrap()))
        .map(|row| Extremes { low: Celsius(cell(row, "temp_min")), high: Celsius(cell(row, "temp_max")) })
        .collect();
    let hours = from_extremes(Degrees(series[at + 1].parse().unwrap()), first, &extremes).unwrap();
    let sums = &expected["sums"]["consistent_variant"];
    let of = |key: &str| sums[key].as_f64().unwrap();
    agrees("chilling hours", sum(ChillModel::HoursC, &hours), of("chill_hours_0_7p2C"), 0.0);
    agrees("Utah", sum(ChillModel::Utah, &hours), of("utah_C"), 0.0);
    agrees("portions", sum(ChillModel::Dynamic, &hours), of("dynamic_portions"), 5e-8);
    counted("dormancy/hourly_from_daily_sums.json: days", extremes.len(), 151);
}
