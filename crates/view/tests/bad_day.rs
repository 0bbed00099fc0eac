//! Thirty warm hours in a logged cold room: the shelter that was learned stays, full buds move by days and not by weeks.

mod demo;

use collection::incident::Cause;
use demo::{
    demo_with,
    south::{SOUTHWARD, southern},
};
use jiff::{
    ToSpan,
    civil::{Date, DateTime, date},
};
use measure::stage::Stage;
use season::air::Basis;
use store::store::Store;
use view::{
    incidents::{self, Incident},
    whole::{Whole, whole},
};

/// From 13 February 06:00 to 14 February 12:00 by the logger's clock.
const WARM: [DateTime; 2] = [date(2026, 2, 13).at(6, 0, 0, 0), date(2026, 2, 14).at(12, 0, 0, 0)];

/// Air of the room in those hours, °F: 18 °C.
const FAHRENHEIT: f64 = 64.4;

/// The day named, or half a year on at 37 degrees south.
fn today(is_south: bool) -> Date {
    date(2026, 2, 27) + if is_south { SOUTHWARD.days() } else { 0.days() }
}

/// The file of the room with thirty hours of 18 °C.
fn warm(text: &str) -> String {
    let line = |line: &str| {
        let shown = line.split(',').next().unwrap();
        match shown.replace(' ', "T").parse::<DateTime>() {
            Ok(at) if WARM[0] <= at && at < WARM[1] => format!("{shown},{FAHRENHEIT}\n"),
            _ => format!("{line}\n"),
        }
    };
    text.lines().map(line).collect()
}

/// Whether a line is of an hour that the southern clock skips in spring.
fn is_skipped(line: &str) -> bool {
    ["2024-10-06 02:", "2025-10-05 02:"].iter().any(|hour| line.starts_with(hour))
}

fn room(is_south: bool, is_warmed: bool) -> Store {
    demo_with(|name, text| {
        let is_room = name == "logger_cold_room.csv";
        let text = if is_room && is_warmed { warm(&text) } else { text };
        match is_south {
            // Loggers of other places do not go half the world round: sun falls on them.
            true if is_room => {
                let text = southern("cold_room.csv", text);
                text.lines().filter(|line| !is_skipped(line)).map(|line| format!("{line}\n")).collect()
            }
            true => southern(name, text),
            false => text,
        }
    })
}

fn on(store: &Store, is_south: bool) -> Whole {
    whole(&store.reader().unwrap(), today(is_south)).unwrap()
}

fn rank(whole: &Whole) -> usize {
    whole.places.iter().position(|it| it.place.key == "cold-room").unwrap()
}

#[test]
fn thirty_warm_hours_leave_the_learned_shelter_and_move_full_buds_by_days() {
    for south in [false, true] {
        let [plain, warmed] = [false, true].map(|it| on(&room(south, it), south));
        let air = |whole: &Whole| whole.places[rank(whole)].air.clone().unwrap();
        let (before, after) = (air(&plain), air(&warmed));
        assert!(matches!((&before.basis, &after.basis), (Basis::Fitted(_), Basis::Fitted(_))), "{south}");
        let apart = (before.model.value.lag.0 - after.model.value.lag.0).abs();
        assert!(apart < 0.5, "{south}: {:?} and {:?}", before.model.value, after.model.value);
        // The demo's own mild days of January stand beside them.
        let warm = after.odd.last().unwrap();
        assert_eq!(after.odd.len(), before.odd.len() + 1, "{south}: {:?}", after.odd);
        assert!(warm.hours == 30 && warm.is_warm(), "{south}: {:?}", after.odd);
        let full = |whole: &Whole, key: &str| {
            let told = whole.tree(key).unwrap().told.as_ref().ok()?;
            Some(told.forecast.of(Stage::Full)?.middle)
        };
        let there: Vec<&str> =
            plain.places[rank(&plain)].trees.iter().map(|&it| plain.trees[it].tree.key.as_str()).collect();
        let moved: Vec<(&str, i32)> =
            there.iter().filter_map(|key| Some((*key, full(&warmed, key)? - full(&plain, key)?))).collect();
        let mut sooner: Vec<i32> = moved.iter().map(|(_, days)| -days).collect();
        sooner.sort_unstable();
        // Thirty hours of warmth, and no more: some twenty degree-days, two or three days of March.
        assert!((1..=4).contains(&sooner[sooner.len() / 2]), "{south}: {moved:?}");
        assert!(sooner[0] >= 1 && sooner[sooner.len() - 1] <= 12, "{south}: {moved:?}");
    }
}

#[test]
fn the_bad_day_lists_the_trees_and_what_it_cost_each() {
    for south in [false, true] {
        let warmed = on(&room(south, true), south);
        let told = incidents::of_place(&warmed, rank(&warmed));
        let it = told.iter().find(|it| it.cause == Cause::Warm).unwrap();
        let days = [date(2026, 2, 13), date(2026, 2, 14)];
        assert_eq!(it.days, days.map(|day| day + (today(south) - today(false))), "{south}: {}", it.words);
        let stood = |tree: &&view::whole::TreeWhole| {
            tree.moves
                .iter()
                .rev()
                .find(|(day, _)| *day <= it.days[0])
                .is_some_and(|(_, place)| *place == rank(&warmed))
        };
        assert_eq!(it.trees.len(), warmed.trees.iter().filter(stood).count(), "{south}");
        assert!(it.trees.iter().all(|tree| (0.8..=1.4).contains(&tree.cold)), "{south}: {:?}", it.trees);
        let days: Vec<i32> = it.trees.iter().map(|tree| tree.later.map_or(0, i32::abs)).collect();
        // The plum that was judged weak comes first, then those that it moved most.
        assert!(
            days[1..].is_sorted_by(|a, b| a >= b) && days.iter().all(|it| *it <= 12),
            "{south}: {days:?}"
        );
        assert_eq!(it.trees[0].key, "second-plum", "{south}");
        let asked = incidents::recent(&warmed);
        assert!(
            asked.iter().any(|it| it.place[0] == "cold-room" && it.incident.cause == Cause::Warm),
            "{south}"
        );
        let plain = on(&room(south, false), south);
        let without = incidents::of_place(&plain, rank(&warmed));
        let odd = |all: &[Incident]| all.iter().filter(|it| it.cause == Cause::Warm).count();
        assert_eq!(odd(without) + 1, odd(told), "{south}");
    }
}
