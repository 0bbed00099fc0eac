//! A year walked through: every page on the 15th of each month for three years, north and half the world south, with looks and without any.
//! No two pages disagree on a tree, none is lost, nothing is advised out of season, and no date moves by itself.

mod demo;
mod walk;

use std::sync::OnceLock;

use demo::{
    demo_with,
    south::{SOUTHWARD, southern},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use store::store::Store;
use view::{
    repots::case::window,
    whole::{Whole, whole},
};
use walk::{Claim, checks, claims};

/// Last day of the demo's weather.
const END: Date = Date::constant(2026, 11, 24);

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

/// The 15th of each month of the demo's three years.
fn days() -> impl Iterator<Item = Date> {
    let years = [2024, 2025, 2026].into_iter();
    let all = years.flat_map(|year| (1..=12).map(move |month| date(year, month, 15)));
    all.filter(|day| *day <= END)
}

/// Sheets of what the grower saw, judged and did: a collection set up yesterday has none of them.
const SEEN_AND_DONE: [&str; 12] = [
    "looks.csv",
    "work.csv",
    "repots.csv",
    "vigour.csv",
    "tolls.csv",
    "meant.csv",
    "reservations.csv",
    "likings.csv",
    "water.csv",
    "pot_looks.csv",
    "shifts.ics",
    "statures.csv",
];

/// The collection with nothing but places, trees, moves, pots and weather.
fn without_looks(name: &str, text: String) -> String {
    if SEEN_AND_DONE.contains(&name) { String::new() } else { text }
}

/// A check sees what every page of a day says.
type Check = fn(&Whole, &[Claim]) -> Vec<String>;

/// What the walk holds every day against.
const CHECKS: [Check; 4] = [checks::disagreements, checks::lost, checks::out_of_season, checks::leaves];

/// What each check found, on four collections; walked once for all of them.
fn found() -> &'static [Vec<String>; 4] {
    static FOUND: OnceLock<[Vec<String>; 4]> = OnceLock::new();
    FOUND.get_or_init(|| {
        let same = |_: &str, text: String| text;
        let collections: [(&str, Store, i64); 4] = [
            ("north", demo_with(same), 0),
            ("south", demo_with(southern), SOUTHWARD),
            ("north without looks", demo_with(without_looks), 0),
            (
                "south without looks",
                demo_with(|name, text| southern(name, without_looks(name, text))),
                SOUTHWARD,
            ),
        ];
        let mut found: [Vec<String>; 4] = Default::default();
        for (name, store, shift) in &collections {
            for day in days() {
                let whole = on(store, day + shift.days());
                let claims = claims(&whole);
                for (check, found) in CHECKS.iter().zip(&mut found) {
                    found.extend(check(&whole, &claims).into_iter().map(|it| format!("{name}: {it}")));
                }
            }
        }
        found
    })
}

fn holds(found: &[String]) {
    assert!(found.is_empty(), "{} found:\n{}", found.len(), found.join("\n"));
}

#[test]
fn no_two_pages_disagree_on_a_tree() {
    holds(&found()[0]);
}

#[test]
fn no_tree_is_lost_and_none_is_asked_for_twice() {
    holds(&found()[1]);
}

#[test]
fn nothing_is_advised_out_of_season() {
    holds(&found()[2]);
}

#[test]
fn leaves_are_one_thing_for_frost_water_and_work() {
    holds(&found()[3]);
}

/// The day a line of a weather sheet is of; none for its header.
fn day_of(line: &str) -> Option<Date> {
    let part = |range: std::ops::Range<usize>| line.get(range)?.parse::<i16>().ok();
    // "10.11.2024 00:24" is one logger's own way to put a day.
    let dotted = || Date::new(part(6..10)?, part(3..5)? as i8, part(0..2)? as i8).ok();
    line.get(..10)?.parse().ok().or_else(dotted)
}

/// A sheet of the weather, cut off after a day; nothing where nothing is left.
fn known_to(name: &str, text: String, last: Date) -> String {
    if name != "station.csv" && !name.starts_with("logger") {
        return text;
    }
    let is_known = |line: &&str| day_of(line).is_none_or(|day| day <= last);
    let lines: Vec<&str> = text.lines().filter(is_known).collect();
    if lines.iter().any(|line| day_of(line).is_some()) { lines.join("\n") } else { String::new() }
}

/// Fewer days than this are no news.
const NEWS: i32 = 5;

/// From month to month the days of a tree's window move only where a look, a move, work or weather explains it: with the weather
/// since then hidden, they stay where they were.
fn steady(change: fn(&str, String) -> String, shift: i64) -> Vec<String> {
    let days: Vec<Date> = days().map(|day| day + shift.days()).collect();
    let mut found = Vec::new();
    for pair in days.windows(2) {
        let [before, after] = [pair[0], pair[1]];
        let store = demo_with(|name, text| known_to(name, change(name, text), before));
        let [was, is] = [before, after].map(|day| on(&store, day));
        for (old, new) in was.trees.iter().zip(&is.trees) {
            let has_news = new.moves.iter().any(|(day, _)| *day > before)
                || new.looks.iter().any(|(_, it)| it.day > before)
                || new.works.iter().any(|(_, it)| it.day > before);
            let [Some((opened, closed)), Some((opens, closes))] =
                [(&was, old), (&is, new)].map(|(whole, tree)| window(whole, tree))
            else {
                continue;
            };
            // The next winter's window is another one.
            if has_news || (opens - opened).get_days() > 200 {
                continue;
            }
            for (what, then, now) in [("opens", opened, opens), ("closes", closed, closes)] {
                let moved = (now - then).get_days();
                if moved.abs() >= NEWS {
                    found.push(format!("{before} to {after} {}: {what} {then}, then {now}", new.tree.key));
                }
            }
        }
    }
    found
}

#[test]
fn no_date_moves_by_itself() {
    let mut found = steady(|_, text| text, 0);
    found.extend(steady(southern, SOUTHWARD).into_iter().map(|it| format!("south: {it}")));
    assert!(found.is_empty(), "{} found:\n{}", found.len(), found.join("\n"));
}
