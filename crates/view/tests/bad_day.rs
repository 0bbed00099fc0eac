//! Thirty warm hours in a logged cold room: the shelter that was learned stays, full buds move by days and not by weeks.

mod demo;

use collection::incident::Cause;
use demo::demo_with;
use jiff::civil::{Date, DateTime, date};
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

const TODAY: Date = date(2026, 2, 27);

fn room(is_warmed: bool) -> Store {
    demo_with(|name, text| match name {
        "logger_cold_room.csv" if is_warmed => text
            .lines()
            .map(|line| {
                let at = line.split(',').next().and_then(|at| at.replace(' ', "T").parse::<DateTime>().ok());
                match at {
                    Some(at) if WARM[0] <= at && at < WARM[1] => {
                        format!("{},{FAHRENHEIT}\n", line.split(',').next().unwrap())
                    }
                    _ => format!("{line}\n"),
                }
            })
            .collect(),
        _ => text,
    })
}

fn on(store: &Store) -> Whole {
    whole(&store.reader().unwrap(), TODAY).unwrap()
}

fn rank(whole: &Whole) -> usize {
    whole.places.iter().position(|it| it.place.key == "cold-room").unwrap()
}

#[test]
fn thirty_warm_hours_leave_the_learned_shelter_and_move_full_buds_by_days() {
    let [plain, warmed] = [false, true].map(|it| on(&room(it)));
    let air = |whole: &Whole| whole.places[rank(whole)].air.clone().unwrap();
    let (before, after) = (air(&plain), air(&warmed));
    assert!(matches!((&before.basis, &after.basis), (Basis::Fitted(_), Basis::Fitted(_))));
    let apart = (before.model.value.lag.0 - after.model.value.lag.0).abs();
    assert!(apart < 0.5, "{:?} and {:?}", before.model.value, after.model.value);
    // The demo's own mild days of January stand beside them.
    let warm = after.odd.last().unwrap();
    assert_eq!(after.odd.len(), before.odd.len() + 1, "{:?}", after.odd);
    assert!(warm.hours == 30 && warm.is_warm(), "{:?}", after.odd);
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
    println!("{moved:?}");
    // About six: thirty hours of forcing, and no more.
    assert!((4..=8).contains(&sooner[sooner.len() / 2]), "{moved:?}");
    assert!(sooner[0] >= 1 && sooner[sooner.len() - 1] <= 12, "{moved:?}");
}

#[test]
fn the_bad_day_lists_the_trees_and_what_it_cost_each() {
    let warmed = on(&room(true));
    let told = incidents::of_place(&warmed, rank(&warmed));
    let it = told.iter().find(|it| it.cause == Cause::Warm).unwrap();
    assert_eq!(it.days, [date(2026, 2, 13), date(2026, 2, 14)], "{}", it.words);
    let standing = warmed.places[rank(&warmed)].trees.len();
    assert_eq!(it.trees.len(), standing);
    assert!(it.trees.iter().all(|tree| (0.8..=1.4).contains(&tree.cold)), "{:?}", it.trees);
    let days: Vec<i32> = it.trees.iter().map(|tree| tree.later.map_or(0, i32::abs)).collect();
    // The plum that was judged weak comes first, then those that it moved most.
    assert!(days[1..].is_sorted_by(|a, b| a >= b) && days.iter().all(|it| *it <= 12), "{days:?}");
    assert_eq!(it.trees[0].key, "second-plum");
    let today: Vec<String> = incidents::recent(&warmed).into_iter().map(|it| it.place[0].clone()).collect();
    assert_eq!(today, ["cold-room"]);
    let plain = on(&room(false));
    let without = incidents::of_place(&plain, rank(&warmed));
    let odd = |all: &[Incident]| all.iter().filter(|it| it.cause == Cause::Warm).count();
    assert_eq!(odd(without) + 1, odd(told));
    let mut own = without.iter().filter(|it| it.cause == Cause::Warm);
    assert!(own.all(|it| it.days[1] < date(2026, 2, 1)), "{without:?}");
}
