//! The care after a repot beside the reference set's timetable.
//!
//! `trade/repot_aftercare.csv`: no authority, its rows are common practice and estimates. The check only holds our days to what the
//! set says; the words are our own.

mod vector;

use jiff::{ToSpan, civil::date};
use measure::{quantity::Share, sourced::Standing};
use season::repot::aftercare::{ROWS, no_feed_until, shade_until, timetable};
use vector::table;

#[test]
fn the_days_are_those_of_the_set() {
    let rows = table("trade/repot_aftercare.csv");
    assert_eq!(rows.len(), ROWS.len());
    let day = date(2027, 3, 10);
    for ((row, ours), step) in rows.iter().zip(&ROWS).zip(timetable(day, Share(0.3), day)) {
        let days = ["day_from", "day_to"].map(|name| row[name].parse::<u16>().unwrap());
        assert_eq!(days, ours.days, "{row:?}");
        assert_eq!([step.from, step.to], days.map(|it| day + i64::from(it).days()));
        assert_eq!(ours.unless.is_some(), row["stop_if"] != "-", "{row:?}");
        assert_eq!(row["source"].ends_with('E'), matches!(ours.standing, Standing::Estimate(_)), "{row:?}");
    }
}

#[test]
fn feed_and_the_full_place_begin_on_the_days_of_the_set() {
    let rows = table("trade/repot_aftercare.csv");
    let day = date(2027, 3, 10);
    let said = |words: &str| {
        let row = rows.iter().find(|row| row["do"].contains(words)).unwrap_or_else(|| panic!("no {words}"));
        ["day_from", "day_to"].map(|name| day + row[name].parse::<i64>().unwrap().days())
    };
    assert_eq!(no_feed_until(day), said("first half-strength feed"));
    assert_eq!(shade_until(day), said("full place"));
}
