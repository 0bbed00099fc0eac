//! Drinking again, on the demo: what the log says of waking beside the bud looks that the filter never sees.

mod demo;

use demo::{demo, demo_with};
use jiff::civil::{Date, date};
use measure::stage::Stage;
use season::watering::drinking::{Drinking, LOOK, USING};
use store::store::Store;
use view::whole::{Whole, whole};

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

/// What each tree's drinking says, with the first day on which anyone saw its buds move, and the last on which they were hard.
fn told(whole: &Whole, spring: &Whole) -> Vec<(String, Drinking, Option<Date>)> {
    let moved = |key: &str| {
        let tree = spring.trees.iter().find(|tree| tree.tree.key == key).unwrap();
        let of_spring = tree.looks.iter().filter(|(_, look)| look.day >= date(2026, 1, 1));
        of_spring.map(|(_, look)| look).find(|look| look.stage > Stage::Dormant).map(|look| look.day)
    };
    let drank = whole.trees.iter().filter_map(|tree| Some((tree.tree.key.clone(), tree.drank?)));
    drank.map(|(key, drank)| (key.clone(), drank, moved(&key))).collect()
}

#[test]
fn a_tree_is_said_to_use_water_after_its_buds_moved_and_seldom_before() {
    let store = demo();
    let spring = on(&store, date(2026, 5, 31));
    let (mut early, mut said, mut looks) = (0, 0, 0);
    let mut day = date(2026, 1, 20);
    let mut done = std::collections::BTreeSet::new();
    while day <= date(2026, 5, 10) {
        for (key, drank, moved) in told(&on(&store, day), &spring) {
            looks += usize::from(drank.alone.0 >= LOOK);
            if drank.alone.0 < USING || !done.insert(key.clone()) {
                continue;
            }
            said += 1;
            // A look bounds the day only from above; three weeks is the longest between two.
            early += usize::from(moved.is_none_or(|moved| day < moved - jiff::Span::new().days(21)));
        }
        day += jiff::Span::new().days(10);
    }
    assert!(looks >= said, "{looks} times a look was asked for, {said} trees were told");
    assert!(said >= 4, "{said} trees were told to use water");
    assert!(early * 5 <= said, "{early} of {said} were told before their buds moved");
}

#[test]
fn drinking_moves_a_forecast_without_looks_and_a_look_stands_instead() {
    let blind = demo_with(|name, text| match name {
        "looks.csv" => {
            text.lines().filter(|line| !line.contains(",2026-")).map(|line| format!("{line}\n")).collect()
        }
        _ => text,
    });
    let silent = demo_with(|name, text| match name {
        "looks.csv" => {
            text.lines().filter(|line| !line.contains(",2026-")).map(|line| format!("{line}\n")).collect()
        }
        "water.csv" => String::new(),
        _ => text,
    });
    let (mut moved, mut day) = (0, date(2026, 2, 20));
    while day <= date(2026, 5, 6) {
        let (with, without) = (on(&blind, day), on(&silent, day));
        for (heard, unheard) in with.trees.iter().zip(&without.trees) {
            let (Ok(heard), Ok(unheard)) = (&heard.told, &unheard.told) else { continue };
            if heard.by_drinking {
                let of = |told: &season::window::Told| told.forecast.of(Stage::Breaking);
                moved += usize::from(of(heard) != of(unheard));
            } else {
                assert_eq!(heard.forecast.pace, unheard.forecast.pace);
            }
        }
        day += jiff::Span::new().days(15);
    }
    assert!(moved > 0, "no forecast was moved by drinking");
    let seen = on(&demo(), date(2026, 5, 6));
    for tree in seen.trees.iter().filter(|tree| tree.told.as_ref().is_ok_and(|told| told.by_drinking)) {
        let began = tree.drank.unwrap().since.unwrap().1;
        let winter = seen.ground.as_ref().unwrap().winter;
        assert!(tree.looks.iter().all(|(_, look)| winter.day_number(look.day) < began), "{}", tree.tree.key);
    }
}

#[test]
fn once_leaves_were_seen_nobody_is_told_to_look_at_buds() {
    let spring = on(&demo(), date(2026, 4, 28));
    let (mut silent, mut told) = (0, 0);
    for tree in &spring.trees {
        let words = view::round::drinking_words(&spring, tree);
        let of_spring = tree.looks.iter().filter(|(_, look)| look.day >= date(2025, 9, 2));
        if of_spring.map(|(_, look)| look.stage).max() >= Some(Stage::Breaking) {
            assert_eq!(words, None, "{}", tree.tree.key);
            silent += usize::from(tree.drank.is_some_and(|drank| drank.awake.0 >= USING));
        } else {
            told += usize::from(words.is_some());
        }
    }
    assert!(silent >= 2 && told >= 1, "{silent} silent, {told} told");
}
