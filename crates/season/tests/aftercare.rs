//! The care after a repot beside the reference set's timetable.
//!
//! `trade/repot_aftercare.csv`: no authority, its rows are common practice and estimates. The check only holds our days to what the
//! set says; the words are our own.

mod vector;

use jiff::{ToSpan, civil::date};
use measure::{quantity::Share, sourced::Standing};
use season::repot::aftercare::{ROWS, no_feed_until, shade_until, timetable};
use vector::{counted, not_ours, table};

#[test]
fn the_days_are_those_of_the_set() {
    let Some(rows) = table("trade/repot_aftercare.csv") else { return };
    let day = date(2027, 3, 10);
    let steps = timetable(day, Share(0.3), day);
    let mut seen = 0;
    for row in &rows {
        let days = ["day_from", "day_to"].map(|name| row[name].parse::<u16>().unwrap());
        let Some((ours, step)) = ROWS.iter().zip(&steps).find(|(ours, _)| ours.days == days) else {
            not_ours(&format!("days {days:?}"));
            continue;
        };
        seen += 1;
        assert_eq!([step.from, step.to], days.map(|it| day + i64::from(it).days()));
        assert_eq!(ours.unless.is_some(), row["stop_if"] != "-", "{row:?}");
        assert_eq!(row["source"].ends_with('E'), matches!(ours.standing, Standing::Estimate(_)), "{row:?}");
    }
    counted("trade/repot_aftercare.csv: days", seen, ROWS.len());
}

#[test]
fn feed_and_the_full_place_begin_on_the_days_of_the_set() {
    let Some(rows) = table("trade/repot_aftercare.csv") else { return };
    let day = date(2027, 3, 10);
    let mut seen = 0;
    for (words, ours) in [("first half-strength feed", no_feed_until(day)), ("full place", shade_until(day))]
    {
        let Some(row) = rows.iter().find(|row| row["do"].contains(words)) else { continue };
        assert_eq!(ours, ["day_from", "day_to"].map(|name| day + row[name].parse::<i64>().unwrap().days()));
        seen += 1;
    }
    counted("trade/repot_aftercare.csv: feed and full place", seen, 2);
}
