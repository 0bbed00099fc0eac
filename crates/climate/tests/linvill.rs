//! Hours from daily extremes, Seattle, November 2012.
//!
//! `hourly_from_daily_expected.csv`: daily records of the NOAA (public domain) as carried in vega_datasets 0.9.0,
//! hours by the reference set's own script of Linvill 1990. Tolerance is half the last digit stored.

mod vector;

use std::collections::BTreeMap;

use climate::hours::{Extremes, from_extremes};
use jiff::civil::Date;
use measure::quantity::{Celsius, Degrees};
use vector::{counted, text};

#[test]
fn the_consistent_curve() {
    let Some(file) = text("dormancy/hourly_from_daily_expected.csv") else { return };
    let mut reader = csv::Reader::from_reader(file.as_bytes());
    let mut days: BTreeMap<Date, (Extremes, Vec<f64>)> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        let extremes = Extremes { low: Celsius(number(3)), high: Celsius(number(4)) };
        days.entry(row[0].parse().unwrap()).or_insert((extremes, Vec::new())).1.push(number(5));
    }
    let first = *days.keys().next().expect("the file has rows");
    let extremes: Vec<Extremes> = days.values().map(|(extremes, _)| *extremes).collect();
    let ours = from_extremes(Degrees(47.45), first, &extremes).unwrap();
    // The stored series goes on after the file ends: the evening of its last day needs a low the file lacks.
    let known = ours.len() - 24;
    let expected: Vec<f64> = days.values().flat_map(|(_, hours)| hours.iter().copied()).collect();
    let mut largest = 0.0_f64;
    for (at, (ours, expected)) in ours.iter().zip(&expected).take(known).enumerate() {
        let gap = (ours - expected).abs();
        largest = largest.max(gap);
        assert!(gap <= 5e-10 + 1e-12, "hour {at}: ours {ours}, expected {expected}");
    }
    println!("{known} hours, largest gap {largest:e}");
    counted("dormancy/hourly_from_daily_expected.csv: hours", known, 168);
}
