//! Records that are asked about before they are saved, and those that wait on Today, on a small collection north and south.

mod made;

use jiff::{
    ToSpan,
    civil::{Date, date},
};
use made::{SIDES, Side, on, store};
use store::store::Store;
use view::moved_before::{Changed, changed, counted_on, of_sheet};

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
        assert!(late.words.contains("chill portions"), "{}", late.words);
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

/// A line of a log: hours from the first morning, deed, weight, and whether the grower said that it is right.
type Weighing = (i64, &'static str, &'static str, bool);

/// The believed use in full leaf after a log in July: how many lines taught it, and how far apart the ends of it are.
fn taught(side: Side, log: &[Weighing]) -> (usize, f64) {
    let mut store = stocked(side, &[]);
    let first = side.day(date(2025, 7, 8));
    let zone = if side == Side::North { "Europe/Zurich" } else { "Pacific/Auckland" };
    let morning = first.at(7, 0, 0, 0).in_tz(zone).unwrap().timestamp().as_second();
    for &(hour, deed, weight, sure) in log {
        let line = intake::round::RoundLine { tree: "elm", deed, weight, sure, ..Default::default() };
        intake::round::walk(&mut store, &[line], morning + hour * 3600, "me").unwrap();
    }
    let whole = on(&store, first + 4.days());
    let part = view::dry_down::tree_part(&whole, whole.tree("elm").unwrap(), morning + 72 * 3600).unwrap();
    let (_, use_, seen) = part.learned.iter().find(|(class, ..)| class == "leaves full").unwrap();
    let ends: Vec<f64> = use_.split([' ', '(', ')']).filter_map(|word| word.parse().ok()).collect();
    (seen.split(' ').next().unwrap().parse().unwrap_or(0), ends[2] / ends[1])
}

#[test]
fn a_weight_that_was_said_to_be_right_counts_at_once_with_a_wider_error_at_first() {
    for side in SIDES {
        let start = [(0, "weighed-full", "5000 g", false), (12, "weighed", "4900 g", false)];
        let of = |sure: bool| {
            let more = [
                (24, "weighed", "2500 g", sure),
                (36, "weighed", "2400 g", false),
                (48, "weighed", "2300 g", false),
            ];
            taught(side, &[&start[..], &more].concat())
        };
        let [on_word, without] = [true, false].map(of);
        let same = [
            (24, "weighed-full", "5000 g", false),
            (36, "weighed", "4900 g", false),
            (48, "weighed", "4800 g", false),
        ];
        let nothing_odd = taught(side, &[&start[..], &same].concat());
        // What lies between the two pots is never taken for water.
        assert_eq!([on_word.0, without.0, nothing_odd.0], [3, 2, 3], "{side:?}");
        assert!(
            nothing_odd.1 < on_word.1 && on_word.1 < without.1,
            "{side:?}: {nothing_odd:?} {on_word:?} {without:?}"
        );
    }
}

/// A sheet of moves asks for each winter and tree that it changes, by all its rows together; history that is only being entered does not.
#[test]
fn a_sheet_of_past_moves_says_what_it_changes_of_each_winter() {
    for side in SIDES {
        let store = stocked(side, &[]);
        let now = on(&store, side.day(TODAY));
        let row = |tree: &str, place: &str, day: Date| collection::event::Move {
            tree: tree.into(),
            place: place.into(),
            day: side.day(day),
        };
        let asked = |moves: &[collection::event::Move]| -> Vec<Changed> {
            let told: Result<_, std::convert::Infallible> =
                of_sheet(&now, moves, |day| Ok(Box::new(on(&store, day))));
            told.unwrap()
        };
        let there_and_back = [
            row("elm", "sill", date(2025, 11, 1)),
            row("elm", "bench", date(2025, 11, 2)),
            row("maple", "sill", date(2024, 12, 1)),
            row("maple", "bench", date(2025, 6, 1)),
            row("plum", "bench", date(2026, 1, 10)),
        ];
        let told = asked(&there_and_back);
        let keys: Vec<&str> = told.iter().map(|it| it.tree.0.as_str()).collect();
        assert_eq!(keys[0], "maple", "{side:?}: the winter before comes first: {told:?}");
        assert!(!keys.contains(&"plum") && told[0].cold[1] < told[0].cold[0] - 20.0, "{side:?}: {told:?}");
        let elm: Vec<&Changed> = told.iter().filter(|it| it.tree.0 == "elm").collect();
        assert!(
            elm.iter().all(|it| (it.cold[0] - it.cold[1]).abs() < 2.0),
            "{side:?}: a day indoors: {told:?}"
        );
        let stays = [row("elm", "sill", date(2025, 11, 1))];
        let told = asked(&stays);
        let one = changed(&now, now.tree("elm").unwrap(), "sill", stays[0].day, now.today).unwrap();
        assert_eq!(told, [one], "{side:?}: one row as the form asks it");
        assert!(asked(&[row("elm", "sill", TODAY)]).is_empty(), "{side:?}: today is no past day");
    }
}
