//! Windows on invented years: order, looks, past springs, hemispheres.

use collection::event::Sureness;

use super::*;
use climate::record::StationDay;
use jiff::{ToSpan, civil::date};
use measure::{quantity::Degrees, shelter::Shelter};

use crate::{
    air::{Air, Spot, outside},
    ground::{NoGround, Roof, ground},
};

/// Thirteen invented years of a cool temperate place, each a little different.
fn air(latitude: f64) -> Air {
    let first = date(2012, 1, 1);
    let south = if latitude < 0.0 { 182.6 } else { 0.0 };
    let days: Vec<StationDay> = (0..365 * 13)
        .map(|at| {
            let day = f64::from(at);
            let season = -((day - 18.0 - south) * std::f64::consts::TAU / 365.25).cos();
            let mean = 9.0 + 9.5 * season + 2.5 * (day / 9.0).sin() + 1.5 * (day / 401.0).sin();
            StationDay::of_extremes(first + at.days(), mean - 4.0, mean + 4.0)
        })
        .collect();
    let spot = Spot { latitude: Degrees(latitude), longitude: Degrees(8.0) };
    outside(spot, &days, &[], &[], first, &[]).unwrap().unwrap()
}

fn standing(latitude: f64, today: Date) -> Result<Ground, NoGround> {
    let roof = Roof { shelter: Shelter::OpenBench, lamp: None, known: true };
    ground(Degrees(latitude), &[(&air(latitude), roof)], today)
}

fn opens(ground: &Ground, key: &str, looks: &[Look]) -> i32 {
    let facts = TreeFacts {
        taxon: Taxon::of(key).unwrap(),
        moves: vec![(date(2012, 1, 1), 0)],
        looks: looks.iter().collect(),
        leaf_looks: vec![],
        works: vec![],
        taught: None,
        recorded: true,
        drank: None,
    };
    let told = Outlook::new(ground).tell(&facts).unwrap();
    told.forecast.window().expect("a window").opens.middle
}

fn seen(day: Date, stage: Stage) -> Look {
    Look { tree: "old-maple".into(), day, stage, sureness: Sureness::Sure, note: String::new() }
}

#[test]
fn quince_opens_before_maple_and_maple_before_beech() {
    let ground = standing(47.4, date(2024, 2, 1)).unwrap();
    let days: Vec<i32> = ["chaenomeles-speciosa", "acer-palmatum", "fagus-sylvatica"]
        .iter()
        .map(|key| opens(&ground, key, &[]))
        .collect();
    assert!(days[0] < days[1] && days[1] < days[2], "{days:?}");
    assert!(days[0] > 0 && days[2] < 150, "{days:?}");
}

#[test]
fn buds_seen_further_on_open_the_window_sooner() {
    let today = date(2024, 4, 8);
    let ground = standing(47.4, today).unwrap();
    let [hard, swelling, full] = [Stage::Dormant, Stage::Swelling, Stage::Full]
        .map(|stage| opens(&ground, "acer-palmatum", &[seen(today, stage)]));
    assert!(full < swelling && swelling < hard, "{full} {swelling} {hard}");
    assert!(full <= ground.today, "full buds seen today, yet the window opens on day {full}");
}

#[test]
fn a_tree_that_was_late_in_past_springs_is_expected_late() {
    let ground = standing(47.4, date(2024, 2, 1)).unwrap();
    let usual = opens(&ground, "acer-palmatum", &[]);
    let looks: Vec<Look> =
        [2021, 2022, 2023].map(|year| seen(date(year, 5, 12), Stage::Full)).into_iter().collect();
    assert!(opens(&ground, "acer-palmatum", &looks) > usual + 3);
}

#[test]
fn the_southern_winter_gives_the_same_season_half_a_year_on() {
    let north = opens(&standing(47.4, date(2024, 2, 1)).unwrap(), "acer-palmatum", &[]);
    let south = opens(&standing(-47.4, date(2024, 8, 1)).unwrap(), "acer-palmatum", &[]);
    assert!((north - south).abs() <= 14, "north {north}, south {south}");
}

#[test]
fn thin_records_and_tropicals_are_told_apart_from_answers() {
    assert!(matches!(standing(47.4, date(2030, 1, 1)), Err(NoGround::TodayOutside { .. })));
    assert_eq!(standing(47.4, date(2012, 2, 1)), Err(NoGround::NoPastYear));
    let ground = standing(47.4, date(2024, 2, 1)).unwrap();
    let facts = TreeFacts {
        taxon: Taxon::of("ficus-rubiginosa").unwrap(),
        moves: vec![],
        looks: vec![],
        leaf_looks: vec![],
        works: vec![],
        taught: None,
        recorded: true,
        drank: None,
    };
    assert!(Outlook::new(&ground).tell(&facts).is_err());
}

#[test]
fn stays_begin_with_where_the_tree_stood_when_the_winter_came() {
    let winter = Winter::holding(date(2024, 2, 1), measure::winter::Hemisphere::North);
    let moves =
        [(date(2022, 5, 1), 3), (date(2023, 6, 1), 1), (date(2023, 11, 20), 2), (date(2024, 3, 1), 1)];
    let places: Vec<(i32, usize)> =
        stays(winter, &moves).iter().map(|stay| (stay.from, stay.place)).collect();
    assert_eq!(places, [(-121, 1), (-41, 2), (61, 1)]);
}
