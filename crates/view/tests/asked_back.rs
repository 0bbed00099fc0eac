//! Records that are asked about before they are saved, and those that wait on Today, on a small collection north and south.

mod made;

use jiff::{
    ToSpan,
    civil::{Date, date},
};
use made::{SIDES, Side, on, store};
use store::store::Store;
use view::moved_before::{Changed, changed, counted_on};

const PLACES: &str = "name,shelter\nBench,open-bench\nSill,warm-sill\n";
const TREES: &str = "name,taxon\nElm,zelkova-serrata\nMaple,acer-palmatum\nPlum,prunus-mume\n";
const YEARS: [Date; 2] = [date(2022, 9, 1), date(2026, 3, 27)];

/// The day named: 28 March 2026, or half a year on.
const TODAY: Date = date(2026, 3, 28);

fn stocked(side: Side, more: &[(&str, &str, &str)]) -> Store {
    let since = side.day(date(2023, 4, 1));
    let moves = format!("tree,place,day\nElm,Bench,{since}\nMaple,Bench,{since}\nPlum,Bench,{since}\n");
    let sheets = [("places", "", PLACES), ("trees", "", TREES), ("moves", "", moves.as_str())];
    store(side, YEARS, &[&sheets, more].concat())
}

/// What a move to the warm sill on a day of the north, or half a year on, changes.
fn moved(store: &Store, side: Side, day: Date) -> Option<Changed> {
    let (day, today) = (side.day(day), side.day(TODAY));
    let now = on(store, today);
    let then = on(store, counted_on(&now, day));
    changed(&then, then.tree("elm").unwrap(), "sill", day, today)
}

#[test]
fn a_move_dated_into_the_winter_says_how_many_days_of_cold_it_takes() {
    for side in SIDES {
        let store = stocked(side, &[]);
        let whole_winter = moved(&store, side, date(2025, 11, 1)).unwrap();
        let late = moved(&store, side, date(2026, 2, 1)).unwrap();
        let [stays, goes] = whole_winter.cold;
        assert!(stays > 60.0 && goes < 0.4 * stays, "{side:?}: {whole_winter:?}");
        assert!(late.cold[0] == stays && goes < late.cold[1] && late.cold[1] < stays, "{side:?}: {late:?}");
        assert!(late.words.contains("days of cold"), "{}", late.words);
    }
}

#[test]
fn a_winter_before_is_counted_by_itself_and_a_move_that_changes_nothing_is_not_asked_about() {
    for side in SIDES {
        let store = stocked(side, &[]);
        let before = moved(&store, side, date(2024, 12, 1)).unwrap();
        assert!(before.cold[1] < before.cold[0] - 20.0, "{side:?}: {before:?}");
        let now = on(&store, side.day(TODAY));
        let same = changed(&now, now.tree("elm").unwrap(), "bench", side.day(date(2026, 1, 10)), now.today);
        assert_eq!(same, None, "{side:?}");
    }
}

#[test]
fn a_tree_whose_history_is_only_being_entered_is_not_asked_about() {
    let sheets = [("places", "", PLACES), ("trees", "", TREES)];
    let store = store(Side::North, YEARS, &sheets);
    assert_eq!(moved(&store, Side::North, date(2025, 11, 1)), None);
}

/// A38: cuts of which nobody said that they were covered, from the second week on; wishes past their day.
#[test]
fn a38_deep_cuts_left_open_and_wishes_past_their_day_wait_on_today() {
    for side in SIDES {
        let today = side.day(TODAY);
        let ago = |days: i32| today - days.days();
        let limbs = "tree,number,bearer,name,clock,since\nElm,0,,trunk,,2020-01-01\nElm,1,0,first,3,2020-01-01\n\
            Plum,0,,trunk,,2020-01-01\n";
        let wounds = format!(
            "tree,limb,day,wide,sealed,closed,note\nElm,0,{},14,no,,a\nElm,0,{},14,no,,b\nElm,0,{},14,yes,,c\n\
            Elm,0,{},14,no,{},d\nElm,0,{},9,no,,e\nPlum,0,{},6,no,,f\nElm,0,{},30,no,,g\n",
            ago(14),
            ago(13),
            ago(40),
            ago(90),
            ago(10),
            ago(30),
            ago(30),
            ago(800)
        );
        let wishes = format!(
            "tree,limb,season,wish,by,made\nElm,1,{year},shorten,{},{made}\nElm,0,{year},keep-short,{},{made}\n",
            ago(1),
            today + 1.day(),
            year = today.year(),
            made = ago(60)
        );
        let sheets =
            [("limbs", "", limbs), ("wounds", "", wounds.as_str()), ("intentions", "", wishes.as_str())];
        let store = stocked(side, &sheets);
        let page = view::today::today(&on(&store, today)).limbs;
        let open: Vec<(&str, bool)> =
            page.cuts.iter().map(|it| (it.tree.as_str(), it.words.contains("14 days"))).collect();
        assert_eq!(open, [("elm", true), ("plum", false)], "{side:?}: {:?}", page.cuts);
        let overdue: Vec<&str> = page.overdue.iter().map(|it| it.again[1].1.as_str()).collect();
        assert_eq!(overdue, ["shorten"], "{side:?}: {:?}", page.overdue);
        assert_eq!(page.overdue[0].again[4], ("by", (today + 28.days()).to_string()));
    }
}
