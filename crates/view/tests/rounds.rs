//! Decisions A12 and A13 and the stories U03 and U14 on the demo, and what two hands and a wrong scale do to a log.

mod demo;

use collection::drink::{Deed, Drink, Worth};
use demo::demo;
use jiff::{
    civil::{Date, Time, date},
    tz::TimeZone,
};
use season::watering::{log::UNLEARNED, plan::Verdict};
use store::store::{Act, Store};
use view::{
    round::{RoundPage, round},
    tree::tree,
    water::moment,
    whole::{Whole, whole},
};

const MORNING: Time = Time::constant(6, 30, 0, 0);

fn at(day: Date, time: Time) -> i64 {
    moment(day.to_datetime(time), &TimeZone::get("Europe/Zurich").unwrap())
}

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

fn walked(store: &Store, day: Date, time: Time) -> RoundPage {
    round(&on(store, day), at(day, time)).unwrap()
}

fn row<'a>(page: &'a RoundPage, key: &str) -> &'a view::round::RoundRow {
    page.places.iter().flat_map(|place| &place.rows).find(|row| row.key == key).unwrap()
}

/// A12 and U14: in the heat before a long shift the list names pots that will not last, each with the cheapest help, and leaves the rest alone.
#[test]
fn before_a_long_shift_in_the_heat_only_pots_that_dry_are_named_each_with_its_remedy() {
    let store = demo();
    // 16 July 2026 is a Thursday of the heat week with a shift from 07:00 to 20:30.
    let page = walked(&store, date(2026, 7, 16), MORNING);
    assert!(page.next.contains("Long shift") && page.next.contains("20:30"), "{}", page.next);
    let rows: Vec<_> = page.places.iter().flat_map(|place| &place.rows).collect();
    let short: Vec<_> = rows.iter().filter(|row| row.will_not_last).collect();
    assert!(
        short.iter().all(|row| row.remedy.as_ref().is_some_and(|remedy| remedy.contains('%')))
            && !short.is_empty(),
        "{}",
        page.short
    );
    assert!(short.len() < rows.len() / 2, "{} of {} will not last", short.len(), rows.len());
    let mild = walked(&store, date(2026, 6, 9), MORNING);
    assert!(mild.counts[2] > 8, "{:?}", mild.counts);
    assert!(mild.counts[0] < page.counts[0], "{:?} in June, {:?} in the heat", mild.counts, page.counts);
}

/// U03 and A13: in February nothing is watered unseen; old checks are due, and small pots come first.
#[test]
fn in_dormant_february_pots_are_lifted_and_not_watered_by_routine() {
    let store = demo();
    let page = walked(&store, date(2026, 2, 10), MORNING);
    assert!(page.counts[0] <= 3, "{:?}", page.counts);
    assert!(page.counts[1] > 5 && page.counts[2] > 10, "{:?}", page.counts);
    assert!(page.places.iter().any(|place| place.samples.len() == 3), "no sample pots are named");
    for place in &page.places {
        let silent = place.rows.iter().filter(|row| row.why.starts_with("nothing written down for"));
        assert!(silent.clone().all(|row| row.verdict == Verdict::Check));
    }
}

#[test]
fn a_pot_that_nobody_wrote_down_is_checked_and_says_what_is_wanting() {
    let mut store = demo();
    let added = b"name,taxon\nNewcomer,acer-palmatum\n";
    intake::import::import(
        &mut store,
        &intake::import::Kind::Trees,
        "t.csv",
        added,
        &intake::import::Options::default(),
    )
    .unwrap();
    let moved = b"tree,place,day\nNewcomer,Long bench,2026-05-01\n";
    intake::import::import(
        &mut store,
        &intake::import::Kind::Moves,
        "m.csv",
        moved,
        &intake::import::Options::default(),
    )
    .unwrap();
    let page = walked(&store, date(2026, 7, 14), MORNING);
    let row = row(&page, "newcomer");
    assert_eq!((row.verdict, row.left), (Verdict::Check, None));
    assert!(row.caveats.iter().any(|line| line.contains("no pot is written down")), "{:?}", row.caveats);
}

fn drink(tree: &str, at: i64, deed: Deed, hand: &str) -> Drink {
    Drink { tree: tree.into(), at, deed, remark: None, hand: hand.into(), sure: false }
}

fn write(store: &mut Store, drinks: &[Drink]) {
    let act = Act::Round(drinks.len());
    store
        .transact(&act, |change| drinks.iter().try_for_each(|drink| change.add_drink(drink).map(drop)))
        .unwrap();
}

#[test]
fn two_telephones_on_one_round_are_both_kept_and_shown_as_one_watering() {
    let mut store = demo();
    let day = date(2026, 7, 14);
    let before = walked(&store, day, MORNING);
    assert_eq!(row(&before, "broom-maple").verdict, Verdict::Water);
    let now = at(day, MORNING);
    let lines = ["left", "right"].map(|hand| drink("broom-maple", now - 60, Deed::Watered, hand));
    write(&mut store, &lines);
    let after = walked(&store, day, MORNING);
    let (words, ids) = row(&after, "broom-maple").done.clone().unwrap();
    assert!(words.contains("by two hands; it counts once") && ids.len() == 2, "{words} {ids:?}");
    assert_eq!(row(&after, "broom-maple").left, Some(100));
    assert_eq!(after.counts[0] + 1, before.counts[0]);
}

#[test]
fn a_pot_heavier_than_full_is_asked_about_and_not_swallowed() {
    let mut store = demo();
    let day = date(2026, 7, 14);
    let now = at(day, MORNING);
    let kilos = |grams| measure::quantity::Gram(grams);
    let full = drink("stone-elm", now - 7200, Deed::WeighedFull(kilos(5200.0)), "me");
    let pounds = drink("stone-elm", now - 600, Deed::Weighed(kilos(11_464.0)), "me");
    write(&mut store, &[full, pounds]);
    let page = walked(&store, day, MORNING);
    let asked = row(&page, "stone-elm");
    assert!(asked.caveats.iter().any(|line| line.contains("kg for lb")), "{:?}", asked.caveats);
    assert_eq!(asked.left.map(|left| left > 90), Some(true));
}

/// The demo's hidden truth is about half of the rule; what was learned must have moved there, and nearer with more lines.
#[test]
fn a_summer_of_remarks_teaches_a_tree_s_own_use() {
    let store = demo();
    let whole = on(&store, date(2026, 9, 1));
    let water = whole.water().unwrap();
    let now = at(date(2026, 9, 1), MORNING);
    let (mut logs, mut seen, mut spread) = (0.0, 0, 0.0);
    for it in whole.trees.iter().filter(|it| it.tree.taxon.kind.is_bare_in_winter()) {
        let forecast = it.told.as_ref().ok().map(|told| &told.forecast);
        let own = view::water::tree_water(&whole, water, it, forecast, now).unwrap();
        let belief = own.story(&water.thirst).unwrap().of(water::leaf::LeafClass::Full);
        if belief.seen >= 3 {
            logs += belief.mean;
            spread += belief.spread;
            seen += 1;
        }
    }
    let (mean, spread) = (logs / f64::from(seen), spread / f64::from(seen));
    assert!(seen > 20, "{seen}");
    assert!((mean.exp() - 0.5).abs() < 0.1, "learned {:.2} times the rule", mean.exp());
    assert!(spread < 0.4 * UNLEARNED, "{spread}");
}

#[test]
fn worth_sets_the_chance_from_which_watering_pays() {
    let order = Worth::ALL.map(|worth| 1.0 / worth.loss_over_cost());
    assert!(order[0] > order[1] && order[1] > order[2]);
    let store = demo();
    let day = date(2026, 7, 14);
    let part = tree(&on(&store, day), "stone-elm", None, at(day, MORNING)).unwrap().water.unwrap();
    let curve = part.curve.unwrap();
    assert!(curve.table.len() > 10 && !part.log.is_empty());
}
