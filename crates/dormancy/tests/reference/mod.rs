//! Files of the reference set, opened for the checks that share them.
#![allow(dead_code)]

use std::collections::BTreeMap;

use dormancy::{
    fit::TreeYear,
    model::{ColdCurve, Model, Season, WarmCurve},
};
use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};
use serde_json::Value;

use super::vector::{number, text};

/// Rows of a CSV under its heading.
pub fn rows(name: &str) -> Option<Vec<Vec<String>>> {
    let text = text(&format!("dormancy/{name}"))?;
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
    Some(reader.records().map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect())
}

/// A day of a parameter set.
pub fn day(set: &Value, key: &str) -> i32 {
    number(set, key) as i32
}

fn cold(set: &Value) -> ColdCurve {
    ColdCurve { square: number(set, "a"), slope: number(set, "bc"), middle: number(set, "cc") }
}

fn warm(set: &Value) -> WarmCurve {
    WarmCurve { slope: number(set, "bf"), middle: number(set, "c_f") }
}

/// A parameter set under the name the set gives its model.
pub fn model(name: &str, set: &Value) -> Model {
    let of = |key: &str| number(set, key);
    match name {
        "thermal_time" | "thermal_time_b0" => {
            Model::ThermalTime { start: day(set, "t1"), base: of("Tb"), need: of("F") }
        }
        "m1" => Model::M1 { start: day(set, "t1"), base: of("Tb"), power: of("k"), need: of("F") },
        "uniforc" => Model::Uniforc {
            start: day(set, "t1"),
            warm: WarmCurve { slope: of("b"), middle: of("c") },
            need: of("F"),
        },
        "unichill" => Model::Unichill {
            start: day(set, "t0"),
            cold: cold(set),
            cold_need: of("C"),
            warm: warm(set),
            need: of("F"),
        },
        "unified" => Model::Unified {
            start: day(set, "t0"),
            cold: cold(set),
            cold_need: of("C"),
            warm: warm(set),
            scale: of("w"),
            decay: of("k"),
            last_cold_day: day(set, "tc"),
        },
        "alternating" | "alternating_jan1" => Model::Alternating {
            cold_start: day(set, "tchill"),
            cold_below: of("Tch"),
            start: day(set, "tforce"),
            base: of("Tb"),
            least: of("a"),
            scale: of("b"),
            decay: of("c"),
        },
        "sequential_days" => Model::Sequential {
            start: day(set, "t0"),
            cold_below: of("Tch"),
            cold_days: of("C") as u32,
            base: of("Tb"),
            need: of("F"),
        },
        "parallel" => Model::Parallel {
            cold_start: day(set, "t0c"),
            cold_low: of("tmin"),
            cold_best: of("topt"),
            cold_high: of("tmax"),
            cold_need: of("C"),
            least: of("Kmin"),
            start: day(set, "t0f"),
            base: of("Tb"),
            need: of("F"),
        },
        other => panic!("a model this check does not know: {other}"),
    }
}

/// Daily mean, low and high, °C.
pub type Day = [f64; 3];

/// The days of a Korean station; a day that is absent alone is filled from its neighbours.
///
/// The files lack 31 December of 1997, 2001, 2005, 2009, 2013 and 2017 (not 29 February, as their note says).
pub fn station_days(station: &str) -> Option<BTreeMap<Date, Day>> {
    let mut days: BTreeMap<Date, Day> = BTreeMap::new();
    for row in rows(&format!("data/kma_{}_daily.csv", station.to_lowercase()))? {
        let cell = |at: usize| row[at].parse::<f64>().map_or(f64::NAN, |tenths| tenths / 10.0);
        days.insert(Date::strptime("%Y%m%d", &row[0]).unwrap(), [cell(1), cell(2), cell(3)]);
    }
    let known: Vec<Date> = days.keys().copied().collect();
    for pair in known.windows(2) {
        let absent = pair[0].tomorrow().unwrap();
        if absent < pair[1] && absent.tomorrow().unwrap() == pair[1] {
            let (before, after) = (days[&pair[0]], days[&pair[1]]);
            days.insert(absent, std::array::from_fn(|at| f64::midpoint(before[at], after[at])));
        }
    }
    Some(days)
}

/// Daily means of the whole winters of a Korean station, from 1 November (day −60) to day 150.
pub fn winters(station: &str) -> Option<Winters> {
    let days = station_days(station)?;
    let years = days.keys().next().unwrap().year()..=days.keys().next_back().unwrap().year();
    let mean = |year: i16| -> Option<Vec<f64>> {
        let winter = Winter { spring_year: year, hemisphere: Hemisphere::North };
        (-60..=150).map(|day| days.get(&winter.date(day)).map(|day| day[0])).collect()
    };
    Some(years.filter_map(|year| Some((year, mean(year)?))).collect())
}

/// Daily means of a station's winters by the year of their spring.
pub type Winters = BTreeMap<i16, Vec<f64>>;

/// One spring of Vaccinium at Harvard Forest, from day −65.
#[derive(Default)]
pub struct Spring {
    pub mean: Vec<f64>,
    pub day_length: Vec<f64>,
}

impl Spring {
    pub fn season(&self) -> Season<'_> {
        Season { first_day: -65, mean: &self.mean, day_length: Some(&self.day_length) }
    }
}

/// The springs of Vaccinium at Harvard Forest by year.
pub fn vaccinium(file: &str) -> Option<BTreeMap<i32, Spring>> {
    let mut springs: BTreeMap<i32, Spring> = BTreeMap::new();
    for row in rows(file)? {
        let spring = springs.entry(row[0].parse().unwrap()).or_default();
        assert_eq!(row[1], (spring.mean.len() as i32 - 65).to_string());
        spring.mean.push(row[2].parse().unwrap());
        spring.day_length.push(row[3].parse().unwrap());
    }
    Some(springs)
}

/// Dated springs of Vaccinium for a phase (371 bud burst, 501 flowers), every third year apart.
pub fn vaccinium_years<'a>(
    springs: &'a BTreeMap<i32, Spring>,
    phase: &str,
) -> Option<(Vec<TreeYear<'a>>, Vec<TreeYear<'a>>)> {
    let (mut train, mut held) = (Vec::new(), Vec::new());
    for row in rows("data/vaccinium_harvard_obs.csv")?.into_iter().filter(|row| row[2] == phase) {
        let year: i32 = row[0].parse().unwrap();
        let spring = TreeYear { season: springs[&year].season(), observed: row[1].parse().unwrap() };
        if year % 3 == 0 { held.push(spring) } else { train.push(spring) }
    }
    Some((train, held))
}

/// Looks at Korean trees, one a row: station, year, species, day of bud burst, day of first flower.
pub const LOOKS: &str = "data/kma_observations.csv";

/// The different entries of a column, in the order of the file.
pub fn different(rows: &[Vec<String>], column: usize) -> Vec<String> {
    let mut seen: Vec<String> = Vec::new();
    for row in rows {
        if !seen.contains(&row[column]) {
            seen.push(row[column].clone());
        }
    }
    seen
}

/// Winters of every station that has looks, as numbered in [`Korean::tree`].
pub fn korean_winters() -> Option<Vec<(String, Winters)>> {
    different(&rows(LOOKS)?, 0)
        .into_iter()
        .map(|station| Some((station.clone(), winters(&station)?)))
        .collect()
}

/// Dated springs of a Korean series.
#[derive(Default)]
pub struct Korean<'a> {
    pub years: Vec<TreeYear<'a>>,
    /// Number of the station.
    pub tree: Vec<usize>,
}

/// Springs of a species (column 3 bud burst, 4 first flower); every fourth year apart.
pub fn korean_years<'a>(
    winters: &'a [(String, Winters)],
    looks: &[Vec<String>],
    species: &str,
    column: usize,
) -> (Korean<'a>, Korean<'a>) {
    let (mut train, mut held) = (Korean::default(), Korean::default());
    for row in looks.iter().filter(|row| row[2] == species) {
        let Ok(observed) = row[column].parse() else { continue };
        let year: i16 = row[1].parse().unwrap();
        let tree = winters.iter().position(|(name, _)| *name == row[0]).unwrap();
        let Some(mean) = winters[tree].1.get(&year) else { continue };
        let season = Season { first_day: -60, mean, day_length: None };
        let part = if year % 4 == 0 { &mut held } else { &mut train };
        part.years.push(TreeYear { season, observed });
        part.tree.push(tree);
    }
    (train, held)
}
