//! A bad day as a record: what was read, which trees stood there, what it cost each, whom to look at first; kept, or answered by "the logger
//! alone was wrong"; on a small collection north and south.

mod made;

use collection::incident::{Cause, Part, Said};
use intake::incident::{AnswerForm, answer, undo};
use jiff::civil::{Date, DateTime, date};
use made::{
    SIDES, Side,
    logged::{CELLAR, file, hang},
    on, store,
};
use measure::{quantity::Celsius, stage::Stage};
use store::store::Store;
use view::{
    incidents::{self, Incident},
    whole::Whole,
};

const PLACES: &str = "name,shelter\nCellar,cold-room\nYard,open-bench\n";
const TREES: &str = "name,taxon\nMaple,acer-palmatum\nElm,zelkova-serrata\nFig,ficus-microcarpa\nPine,pinus-sylvestris\n\
    Olive,olea-europaea\n";
const YEARS: [Date; 2] = [date(2022, 9, 1), date(2026, 3, 27)];

/// The day named: 28 February 2026, or half a year on.
const TODAY: Date = date(2026, 2, 28);

/// Thirty hours.
const BAD: [DateTime; 2] = [date(2026, 2, 13).at(6, 0, 0, 0), date(2026, 2, 14).at(12, 0, 0, 0)];

fn stocked(side: Side, change: impl Fn(DateTime, f64) -> f64) -> Store {
    let since = side.day(date(2023, 4, 1));
    let moves = format!(
        "tree,place,day\nMaple,Cellar,{since}\nElm,Cellar,{since}\nFig,Cellar,{since}\nPine,Yard,{since}\nOlive,Yard,{since}\n"
    );
    let weak = format!("tree,day,strength,why\nElm,{},weak,short shoots\n", side.day(date(2025, 6, 1)));
    let sheets =
        [("places", "", PLACES), ("trees", "", TREES), ("moves", "", moves.as_str()), ("vigour", "", &weak)];
    let mut store = store(side, YEARS, &sheets);
    let text = file(&store, side, CELLAR, [date(2025, 11, 1), date(2026, 2, 27)], change);
    hang(&mut store, "cellar", "", &text);
    store
}

fn bad(by: f64) -> impl Fn(DateTime, f64) -> f64 {
    move |at, read| if BAD[0] <= at && at < BAD[1] { read + by } else { read }
}

fn rank(whole: &Whole, key: &str) -> usize {
    whole.places.iter().position(|it| it.place.key == key).unwrap()
}

fn of<'a>(whole: &'a Whole, place: &str) -> &'a [Incident] {
    incidents::of_place(whole, rank(whole, place))
}

fn names(it: &Incident) -> Vec<&str> {
    it.trees.iter().map(|tree| tree.key.as_str()).collect()
}

fn full(whole: &Whole, key: &str) -> i32 {
    let told = whole.tree(key).unwrap().told.as_ref().unwrap();
    told.forecast.of(Stage::Full).unwrap().middle
}

/// Answers the only odd stretch of the cellar.
fn say(store: &mut Store, whole: &Whole, said: &str) {
    let [since, until] = of(whole, "cellar").iter().find(|it| it.expected.is_some()).unwrap().span;
    let found = incidents::record(whole, "cellar", [since, until]);
    let [since, until] = [since, until].map(|it| it.to_string());
    let form = AnswerForm { place: "cellar", since: &since, until: &until, said, sensor: "" };
    assert!(answer(store, form, found, &[String::new()]).unwrap());
}

#[test]
fn thirty_warm_hours_cost_a_day_of_cold_and_a_few_days_of_waking() {
    for side in SIDES {
        let today = side.day(TODAY);
        let whole = on(&stocked(side, bad(15.0)), today);
        let odd: Vec<&Incident> = of(&whole, "cellar").iter().filter(|it| it.expected.is_some()).collect();
        let [it] = odd[..] else { panic!("{side:?}: {odd:?}") };
        assert_eq!((it.cause, it.hours), (Cause::Warm, 30), "{side:?}");
        assert_eq!(it.span[1] - it.span[0], 30 * 3600);
        assert_eq!(it.days, [date(2026, 2, 13), date(2026, 2, 14)].map(|day| side.day(day)), "{side:?}");
        assert!(it.read[1].0 - it.expected.unwrap().0 > 14.0, "{side:?}: {it:?}");
        let cost: Vec<_> = it.trees.iter().filter(|tree| tree.key != "fig").collect();
        assert_eq!(cost.len(), 2, "{side:?}");
        for tree in cost {
            assert!((1.0..=1.3).contains(&tree.cold), "{side:?}: {tree:?}");
            assert!((-12..=-1).contains(&tree.later.unwrap()), "{side:?}: {tree:?}");
        }
    }
}

#[test]
fn a_bad_day_is_kept_shown_on_place_and_tree_and_undone() {
    for side in SIDES {
        let today = side.day(TODAY);
        let mut store = stocked(side, bad(15.0));
        let before = on(&store, today);
        let asked = of(&before, "cellar").len();
        assert_eq!(incidents::recent(&before)[0].place[0], "cellar", "{side:?}");
        say(&mut store, &before, "happened");
        let after = on(&store, today);
        assert_eq!(of(&after, "cellar").len(), asked - 1, "{side:?}: asked no more");
        assert_eq!(full(&after, "maple"), full(&before, "maple"), "{side:?}: the trees felt it");
        let (id, kept) = &after.kept[0];
        assert_eq!((kept.cause, kept.said, kept.hours, kept.day), (Cause::Warm, Said::Happened, 30, today));
        let (row, shown) = (&kept.trees, incidents::kept_of(&after, "cellar"));
        assert!(row.len() == 3 && row.iter().any(|it| it.tree == "maple" && (1.0..=1.3).contains(&it.cold)));
        assert_eq!((shown.len(), shown[0].trees.len(), shown[0].is_left_out), (1, 3, false));
        let page = |key: &str| view::tree::tree(&after, key, None, 0).unwrap().bad_days.len();
        assert_eq!([page("maple"), page("elm"), page("pine")], [1, 1, 0], "{side:?}");
        undo(&mut store, "cellar", *id).unwrap();
        assert!(
            undo(&mut store, "cellar", *id).is_err() && store.reader().unwrap().faults().unwrap().is_empty()
        );
        let again = on(&store, today);
        assert_eq!((of(&again, "cellar").len(), again.kept.len()), (asked, 0), "{side:?}");
    }
}

#[test]
fn where_the_logger_alone_was_wrong_the_trees_never_felt_it() {
    for side in SIDES {
        let today = side.day(TODAY);
        let plain = on(&stocked(side, |_, read| read), today);
        let mut store = stocked(side, bad(15.0));
        let warmed = on(&store, today);
        assert!(full(&warmed, "maple") < full(&plain, "maple"), "{side:?}");
        say(&mut store, &warmed, "logger");
        let left_out = on(&store, today);
        let air = |whole: &Whole| whole.places[rank(whole, "cellar")].air.clone().unwrap();
        assert_eq!(air(&plain).logged - air(&left_out).logged, 30, "{side:?}");
        assert!(air(&left_out).odd.is_empty(), "{side:?}: {:?}", air(&left_out).odd);
        assert_eq!(full(&left_out, "maple"), full(&plain, "maple"), "{side:?}");
        let shown = incidents::kept_of(&left_out, "cellar");
        assert!(shown[0].is_left_out && shown[0].trees.is_empty(), "{side:?}: {shown:?}");
        undo(&mut store, "cellar", shown[0].id).unwrap();
        assert_eq!(full(&on(&store, today), "maple"), full(&warmed, "maple"), "{side:?}");
    }
}

#[test]
fn one_that_goes_on_is_asked_about_again_and_takes_the_place_of_the_first() {
    for side in SIDES {
        let early = date(2026, 2, 14).at(0, 0, 0, 0);
        let mut store =
            stocked(side, move |at, read| if at < early { bad(15.0)(at, read) } else { f64::NAN });
        let first = on(&store, side.day(date(2026, 2, 14)));
        say(&mut store, &first, "happened");
        let text = file(&store, side, CELLAR, [date(2026, 2, 14), date(2026, 2, 27)], bad(15.0));
        hang(&mut store, "cellar", "", &text);
        let whole = on(&store, side.day(TODAY));
        let it = of(&whole, "cellar").iter().find(|it| it.cause == Cause::Warm).unwrap();
        assert!(it.goes_on && it.hours == 30 && whole.kept[0].1.hours == 18, "{side:?}: {it:?}");
        say(&mut store, &whole, "happened");
        let kept = on(&store, side.day(TODAY)).kept;
        assert_eq!((kept.len(), kept[0].1.hours), (1, 30), "{side:?}");
    }
}

/// A32: a heater that failed. Those below a line come first, the weak of them before the others.
#[test]
fn a32_a_failed_heater_lists_the_trees_below_their_lines_first() {
    for side in SIDES {
        let whole = on(&stocked(side, bad(-18.0)), side.day(TODAY));
        let it = of(&whole, "cellar").iter().find(|it| it.cause == Cause::Cold).unwrap();
        let under: Vec<Option<Part>> = it.trees.iter().map(|tree| tree.under.map(|it| it.part)).collect();
        assert_eq!((names(it).len(), names(it)[0]), (3, "elm"), "{side:?}: {it:?}");
        assert!(under[0].is_some_and(Part::is_root), "{side:?}: {:?}", it.trees[0]);
        let fig = it.trees.iter().find(|tree| tree.key == "fig").unwrap().under.unwrap();
        assert!(fig.reached.0 < -8.0 && fig.line.0 > 0.0, "{side:?}: {fig:?}");
        let depth = |it: &view::incidents::Touched| it.under.map(|it| it.depth());
        assert!(it.trees[1..].is_sorted_by(|a, b| depth(a) >= depth(b)), "{side:?}: {:?}", it.trees);
        assert!(it.trees.iter().all(|tree| !tree.look.is_empty()));
    }
}

/// A32: a night as the weather made it lists the trees that it was too cold for, and no others.
#[test]
fn a32_a_frost_lists_each_tree_below_its_line_and_no_other() {
    for side in SIDES {
        let whole = on(&stocked(side, |_, read| read), side.day(TODAY));
        let cold: Vec<&Incident> = of(&whole, "yard").iter().filter(|it| it.cause == Cause::Frost).collect();
        assert!(!cold.is_empty(), "{side:?}");
        assert!(cold.iter().all(|it| names(it) == ["olive"] && it.expected.is_none()), "{side:?}: {cold:?}");
        for it in &cold {
            let under = it.trees[0].under.unwrap();
            assert!(under.depth() > 0.0 && it.read[0].0 <= under.reached.0, "{side:?}: {it:?}");
            assert_eq!((it.trees[0].cold, it.trees[0].later), (0.0, None));
        }
        let fig: Vec<&Incident> = of(&whole, "cellar").iter().filter(|it| names(it) == ["fig"]).collect();
        assert!(!fig.is_empty() && fig.iter().all(|it| it.read[0] < Celsius(10.0)), "{side:?}: {fig:?}");
    }
}

#[test]
fn a_stretch_that_no_page_shows_and_answers_nobody_knows_are_refused() {
    let mut store = stocked(Side::North, bad(15.0));
    let whole = on(&store, TODAY);
    let found = || incidents::record(&whole, "cellar", of(&whole, "cellar")[0].span);
    let form = AnswerForm { place: "cellar", since: "1", until: "2", said: "happened", sensor: "" };
    let one = [String::new()];
    assert!(answer(&mut store, form, None, &one).is_err());
    assert!(answer(&mut store, AnswerForm { said: "maybe", ..form }, found(), &one).is_err());
    assert!(answer(&mut store, AnswerForm { since: "soon", ..form }, found(), &one).is_err());
    assert!(
        answer(&mut store, AnswerForm { said: "logger", sensor: "door", ..form }, found(), &one).is_err()
    );
    assert!(answer(&mut store, AnswerForm { sensor: "door", ..form }, found(), &["door".into()]).is_err());
    assert!(store.reader().unwrap().incidents().unwrap().is_empty());
}
