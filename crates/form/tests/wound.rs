//! Years until a wound closes, and the tables of layers, rooting and timing.
//!
//! `wire.json` (wounds), by the reference set's own script; tables equal to the reference set's and the trade list's.

mod vector;

use form::{
    layer::{LAYERS, ROOTINGS, Rooting},
    thickness::Likely,
    timing::{Group, Job, TIMINGS, Timing, When, rows_for},
    wound::{CLOSED_PER_GROWTH, Closes, closing},
};
use measure::{
    quantity::Millimetre,
    sourced::Standing,
    taxon::{TAXA, Taxon},
};
use vector::{Tally, counted, json, nine, not_ours, number, rows, table};

#[test]
fn years_until_wounds_close() {
    let mut tally = Tally::default();
    let Some(file) = json("form/wire.json") else { return };
    for row in rows(&file["wound"]) {
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
    tally.tell("form/wire.json: wounds", 4);
}

/// Rows that the set has not.
const OWN: usize = 11;

/// Words of the reference set, without what it notes to whoever reads it beside its models.
fn for_readers(words: &str) -> String {
    [
        (" (see thickening model)", ""),
        ("when contact is reached (bite model)", "when the bark touches it"),
        ("Loetti & Bellocq, verified abstract", "Loetti and Bellocq, by their abstract"),
        ("show as a hard caution", ""),
    ]
    .iter()
    .fold(words.to_string(), |words, (note, told)| words.replace(note, told))
}

#[test]
fn tables_are_those_of_the_reference_set() {
    let mut seen = [0; 3];
    let layers = table("trade/air_layers.csv").unwrap_or_default();
    for row in layers.iter().filter(|row| !row["group"].starts_with("rule of")) {
        let Some(ours) = LAYERS.iter().find(|ours| ours.group == row["group"]) else {
            not_ours(&row["group"]);
            continue;
        };
        seen[0] += 1;
        assert_eq!((ours.start, ours.note), (&*row["start_north"], &*row["success_note"]));
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
    for row in &table("form/propagation.csv").unwrap_or_default() {
        let [species, method, season, treatment] =
            ["species", "method", "season", "treatment"].map(|name| &*row[name]);
        let same = |ours: &&Rooting| {
            [ours.species, ours.method, ours.season, ours.treatment] == [species, method, season, treatment]
        };
        let Some(ours) = ROOTINGS.iter().find(same) else {
            not_ours(&format!("{species}, {method}, {season}"));
            continue;
        };
        seen[1] += 1;
        assert_eq!([ours.time, ours.success], ["time_to_root", "success"].map(|name| &*row[name]));
        let verified = row["status"].starts_with("verified");
        assert_eq!(verified, matches!(ours.standing, Standing::Published(_)), "{}", row["status"]);
    }
    for row in &table("form/timing.csv").unwrap_or_default() {
        let [work, window, does, caution] =
            ["operation", "window", "what_it_does", "caution"].map(|name| for_readers(&row[name]));
        let says = |ours: &&Timing| match ours.when {
            When::Seen(words) | When::Verdict(words) => ours.work == work && words == window,
        };
        let Some(ours) = TIMINGS.iter().find(says) else {
            not_ours(&work);
            continue;
        };
        seen[2] += 1;
        assert_eq!([ours.does, ours.caution], [does, caution]);
        assert!(row["status"].starts_with("common practice"));
    }
    // A file that another folder lacks has been named.
    for (at, (name, own)) in [
        ("trade/air_layers.csv", LAYERS.len()),
        ("form/propagation.csv", ROOTINGS.len()),
        ("form/timing.csv", TIMINGS.len() - OWN),
    ]
    .into_iter()
    .enumerate()
    {
        if table(name).is_some() {
            counted(name, seen[at], own);
        }
    }
}

#[test]
fn no_kind_is_told_two_things_of_one_work_and_none_is_told_nothing() {
    for taxon in TAXA {
        let rows: Vec<&Timing> = rows_for(taxon).collect();
        let own = rows.iter().filter(|row| !matches!(row.group, Group::All | Group::Deciduous)).count();
        assert!(own > 0, "{} has no row of its own kind", taxon.key);
        // Structural cuts are told once, and once more for those that bleed.
        let hard = rows.iter().filter(|row| row.job == Job::HardPrune).count();
        let bleeds = rows.iter().any(|row| row.group == Group::Bleeder);
        assert!(
            hard <= 1 + usize::from(bleeds) + usize::from(taxon.genus() == "Quercus"),
            "{} {hard}",
            taxon.key
        );
        // What is done by the verdict's days tells none of its own.
        for row in rows {
            if let When::Seen(words) = row.when {
                let months =
                    ["January", "March", "April", "May ", "June", "July", "August", "September", "October"];
                assert!(!months.iter().any(|month| words.contains(month)), "{words}");
            }
            assert!(![row.does, row.caution].iter().any(|it| it.contains("show as")), "{row:?}");
        }
    }
    let prunus = Taxon::of("prunus-incisa").unwrap();
    let cuts: Vec<Group> =
        rows_for(prunus).filter(|row| row.job == Job::HardPrune).map(|row| row.group).collect();
    assert_eq!(cuts, [Group::Prunus]);
}
