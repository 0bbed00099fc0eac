//! A year walked through: every page on the 15th of each month for three years, north and half the world south, with looks and without any.
//! No two pages disagree on a tree, none is lost, nothing is advised out of season, and no date moves by itself.

mod demo;
mod walk;

use std::sync::OnceLock;

use demo::{
    demo_with, demo_with_limbs,
    south::{SOUTHWARD, southern},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::winter::Winter;
use state::verdict::Answer;
use store::store::Store;
use view::{
    repots::case::{hemisphere, window},
    verdicts,
    whole::{TreeWhole, Whole, whole},
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
const CHECKS: [Check; 5] =
    [checks::disagreements, checks::lost, checks::out_of_season, checks::leaves, checks::waits];

/// What each check found.
type Found = [Vec<String>; CHECKS.len()];

/// A collection walked through its three years; every day of it is moved by `shift` days.
fn walked(name: &str, store: &Store, shift: i64) -> Found {
    let mut found = Found::default();
    for day in days() {
        let whole = on(store, day + shift.days());
        let claims = claims(&whole);
        for (check, found) in CHECKS.iter().zip(&mut found) {
            found.extend(check(&whole, &claims).into_iter().map(|it| format!("{name}: {it}")));
        }
    }
    found
}

/// What each check found on four collections; walked once for all of them, two at a time.
fn found() -> &'static Found {
    static FOUND: OnceLock<Found> = OnceLock::new();
    FOUND.get_or_init(|| {
        let same = |_: &str, text: String| text;
        let bare = |name: &str, text: String| southern(name, without_looks(name, text));
        let (north, south) = std::thread::scope(|scope| {
            let south = scope.spawn(|| {
                let seen = walked("south", &demo_with_limbs(southern), SOUTHWARD);
                [seen, walked("south without looks", &demo_with(bare), SOUTHWARD)]
            });
            let seen = walked("north", &demo_with_limbs(same), 0);
            let north = [seen, walked("north without looks", &demo_with(without_looks), 0)];
            (north, south.join().unwrap())
        });
        let mut found = Found::default();
        for walk in north.into_iter().chain(south) {
            walk.into_iter().zip(&mut found).for_each(|(more, found)| found.extend(more));
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

#[test]
fn pots_and_wires_wait_for_the_same_on_all_pages() {
    holds(&found()[4]);
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

/// Fewer days than this are what looks at its kin since then may teach, and at any other tree.
const TAUGHT_BY_KIN: i32 = 24;
const TAUGHT: i32 = 11;

/// The winter that a day belongs to.
fn season(whole: &Whole) -> Winter {
    Winter::holding(whole.today, hemisphere(whole))
}

/// The dates that pages tell of a tree: its window, its leaves, its pot, and until when each kind of work must wait.
fn dates(whole: &Whole, tree: &TreeWhole) -> Vec<(String, Date)> {
    let mut dates = Vec::new();
    if let Some((opens, closes)) = window(whole, tree) {
        dates.extend([("opens".into(), opens), ("closes".into(), closes)]);
    }
    let winter = season(whole);
    for (what, at) in ["colours", "falls", "bare"].into_iter().zip(tree.in_leaf.turns) {
        dates.extend(at.map(|at| (what.to_string(), winter.date(at.middle))));
    }
    for verdict in verdicts::of(whole, tree) {
        if let Answer::NotNow { until: Some(until) } = verdict.answer {
            dates.push((format!("{} waits", verdict.work.key()), until));
        }
    }
    dates
}

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
                || new.leaf_looks.iter().any(|(_, it)| it.day > before)
                || new.works.iter().any(|(_, it)| it.day > before)
                || new.standing.repots.iter().any(|it| it.day > before)
                || new.standing.tolls.iter().any(|(_, it)| it.day > before)
                || new.standing.vigours.iter().any(|it| it.day > before);
            // A look at another tree teaches: of its kind by weeks in the first spring of a place, of others by days.
            let looked = |it: &&TreeWhole| it.looks.iter().any(|(_, look)| look.day > before);
            let news = match is.trees.iter().filter(looked).collect::<Vec<_>>() {
                others if others.iter().any(|it| it.tree.taxon.genus() == new.tree.taxon.genus()) => {
                    TAUGHT_BY_KIN
                }
                others if !others.is_empty() => TAUGHT,
                _ => NEWS,
            };
            let dates = [(&was, old), (&is, new)].map(|(whole, tree)| dates(whole, tree));
            for (what, then) in &dates[0] {
                let now = dates[1].iter().find(|(it, _)| it == what);
                let moved = now.map(|(_, now)| (*now - *then).get_days());
                // A new season has a forecast of its own; before it the months stand in.
                let is_anew = what == "repot waits" && season(&was) != season(&is);
                // A date that has come gives way to the next season's.
                let is_ahead = *then > after || !what.ends_with("waits");
                if !has_news
                    && !is_anew
                    && is_ahead
                    && moved.is_some_and(|it| (news..200).contains(&it.abs()))
                {
                    found.push(format!("{before} to {after} {}: {what} {then}, then {now:?}", new.tree.key));
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
