//! The use after a root cut against the rules as they stand printed in the reference set.
//!
//! `trade/watering_notes.csv` W8, `trade/insult_ledger.csv` weeks of recovery, `trade/repot_aftercare.csv` days of the full place and
//! of the first feed: estimates and common practice, so this checks that we say what they say, and not that trees do.

mod vector;

use measure::quantity::{Days, Share};
use vector::{Tally, counted, table};
use water::after_cut::{FALL, LIGHT, NO_FEED, RECOVERY, RootCut, SHOOTS, use_left};

/// The figures of a text, in order.
fn figures(text: &str) -> Vec<f64> {
    text.split(|letter: char| !(letter.is_ascii_digit() || letter == '.'))
        .filter_map(|part| part.trim_matches('.').parse().ok())
        .collect()
}

/// The field of the row that has `is` in the column `key`, if the folder has it.
fn field(name: &str, key: &str, is: &str, wanted: &str) -> Option<String> {
    table(name)?.iter().find(|row| row[key] == is).map(|row| row[wanted].clone())
}

#[test]
fn use_falls_by_the_printed_share_of_the_roots_until_shoots_extend() {
    let Some(rule) = field("trade/watering_notes.csv", "id", "W8", "text") else { return };
    assert!(rule.contains("x root fraction cut until new shoots extend"), "{rule}");
    let [fall] = figures(&rule)[..] else { panic!("{rule}") };
    let mut tally = Tally::default();
    tally.agrees(FALL.value[1], fall, 0.0);
    for percent in (5..=80).step_by(5) {
        let share = f64::from(percent) / 100.0;
        for day in [0.0, 7.0, 14.0, SHOOTS.value[0]] {
            let left = use_left(RootCut::noted(Share(share)).unwrap(), Days(day)).unwrap();
            tally.agrees(left.middle.0, 1.0 - fall * share, 1e-12);
        }
    }
    tally.tell("trade/watering_notes.csv: use after a cut", 65);
}

#[test]
fn it_draws_as_before_after_the_printed_weeks() {
    let weeks = |job| Some(figures(&field("trade/insult_ledger.csv", "job", job, "recovery_weeks_normal")?));
    if let Some(spans) = field("trade/insult_ledger.csv", "job", "repot_light", "points_formula") {
        assert_eq!(figures(&spans).last(), Some(&LIGHT), "{spans}");
    }
    let mut tally = Tally::default();
    for (rank, (job, share)) in [("repot_light", 0.15), ("repot_full", 0.55)].into_iter().enumerate() {
        let Some(weeks) = weeks(job) else { continue };
        let [first, last] = weeks[..] else { panic!("{job}") };
        tally.agrees(RECOVERY.value[rank][0], first, 0.0);
        tally.agrees(RECOVERY.value[rank][1], last, 0.0);
        let left = |week: f64| use_left(RootCut::noted(Share(share)).unwrap(), Days(7.0 * week)).unwrap();
        tally.agrees(left(first).high.0, 1.0, 1e-12);
        tally.agrees(left(f64::midpoint(first, last)).middle.0, 1.0, 1e-12);
        tally.agrees(left(last).low.0, 1.0, 1e-12);
        assert!(left(first - 0.1).high.0 < 1.0 && left(last - 0.1).low.0 < 1.0);
    }
    if table("trade/insult_ledger.csv").is_some() {
        tally.tell("trade/insult_ledger.csv: weeks of recovery", 10);
    }
}

#[test]
fn the_days_of_the_full_place_and_of_the_first_feed_are_the_printed_ones() {
    let Some(rows) = table("trade/repot_aftercare.csv") else { return };
    let mut seen = 0;
    for (of, ours) in [("full place", SHOOTS.value), ("first half-strength feed", NO_FEED.value)] {
        let Some(row) = rows.iter().find(|row| row["do"].contains(of)) else { continue };
        assert_eq!(["day_from", "day_to"].map(|column| row[column].parse::<f64>().unwrap()), ours);
        seen += 1;
    }
    counted("trade/repot_aftercare.csv: days", seen, 2);
}
