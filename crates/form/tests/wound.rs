//! Years until a wound closes, and the tables of layers, rooting and timing.
//!
//! `wire.json` (wounds), by the reference set's own script; tables equal to the reference set's and the trade list's.

mod vector;

use form::{
    layer::{LAYERS, ROOTINGS},
    thickness::Likely,
    timing::TIMINGS,
    wound::{CLOSED_PER_GROWTH, Closes, closing},
};
use measure::{quantity::Millimetre, sourced::Standing};
use vector::{Tally, json, nine, number, rows, table};

#[test]
fn years_until_wounds_close() {
    let mut tally = Tally::default();
    for row in rows(&json("form/wire.json")["wound"]) {
        let g = number(row, "stem_diameter_growth_mm_per_yr");
        let growth = Likely { low: 0.5 * g, middle: g, high: 2.0 * g }.map(Millimetre);
        let ours = closing(Millimetre(number(row, "wound_width_mm")), growth).unwrap();
        let stored = number(row, "years");
        tally.agrees(ours.years.middle.unwrap().0, stored, nine(stored));
        assert_eq!(CLOSED_PER_GROWTH.value, number(row, "occlusion_per_diameter"));
        // Twice or half the growth is half or twice the time; four years is where decay comes.
        let expected = if 2.0 * stored <= 4.0 {
            Closes::BeforeDecay
        } else if 0.5 * stored <= 4.0 {
            Closes::Perhaps
        } else {
            Closes::AfterDecay
        };
        assert_eq!(ours.closes, expected);
    }
    let still = Likely { low: 0.0, middle: 0.0, high: 0.0 }.map(Millimetre);
    let never = closing(Millimetre(20.0), still).unwrap();
    assert_eq!((never.years.low, never.closes, never.wide), (None, Closes::AfterDecay, true));
    tally.tell("wounds");
}

/// Words of the reference set, without what it notes to whoever reads it beside its models.
fn for_readers(words: &str) -> String {
    [
        (" (see thickening model)", ""),
        ("when contact is reached (bite model)", "when the bark touches it"),
        ("Loetti & Bellocq, verified abstract", "Loetti and Bellocq, by their abstract"),
    ]
    .iter()
    .fold(words.to_string(), |words, (note, told)| words.replace(note, told))
}

#[test]
fn tables_are_those_of_the_reference_set() {
    let stored = table("trade/air_layers.csv");
    let stored: Vec<_> = stored.iter().filter(|row| !row["group"].starts_with("rule of")).collect();
    assert_eq!(stored.len(), LAYERS.len());
    for (row, ours) in stored.iter().zip(LAYERS) {
        assert_eq!(
            (ours.group, ours.start, ours.note),
            (&*row["group"], &*row["start_north"], &*row["success_note"])
        );
        assert_eq!(ours.ring, row["ring_width_x_diameter"].parse::<f64>().unwrap());
        assert_eq!(ours.warm_weeks, row["min_warm_weeks"].parse::<u16>().ok());
        let ready = ours.ready.map(|[low, high]| format!("{low}-{high}"));
        let told = &row["ready_weeks"];
        assert_eq!(
            ready.as_deref().is_some_and(|ready| told.starts_with(ready)),
            ours.ready.is_some(),
            "{told}"
        );
        assert_eq!(ours.ready.is_none(), told.contains("fails"));
    }
    let stored = table("form/propagation.csv");
    assert_eq!(stored.len(), ROOTINGS.len());
    for (row, ours) in stored.iter().zip(ROOTINGS) {
        let fields =
            ["species", "method", "season", "treatment", "time_to_root", "success"].map(|name| &*row[name]);
        assert_eq!([ours.species, ours.method, ours.season, ours.treatment, ours.time, ours.success], fields);
        let verified = row["status"].starts_with("verified");
        assert_eq!(verified, matches!(ours.standing, Standing::Published(_)), "{}", row["status"]);
    }
    let stored = table("form/timing.csv");
    assert_eq!(stored.len(), TIMINGS.len());
    for (row, ours) in stored.iter().zip(TIMINGS) {
        let fields = ["operation", "window", "what_it_does", "caution"].map(|name| for_readers(&row[name]));
        assert_eq!([ours.work, ours.window, ours.does, ours.caution], fields);
        assert!(row["status"].starts_with("common practice"));
    }
    println!("{} layers, {} rootings, {} timings equal", LAYERS.len(), ROOTINGS.len(), TIMINGS.len());
}
