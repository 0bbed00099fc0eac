//! One judgement of the night for *Today* and *Tonight*, and one line of frost per tree for the place's page, what-if and the night (A23):
//! on small collections made for it, on both halves of the Earth, with a forecast and without one.

mod small;

use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::quantity::Celsius;
use small::{Half, Small, Tree};
use view::{
    frost::young_leaves,
    places, today,
    tonight::{afternoon, brief, tonight},
    trial::{Try, trials},
};

const PLACES: &str = "Bench,open-bench,,,,\nFrame,cold-frame,,,,20\n";

fn trees() -> Vec<Tree> {
    let named = |name: &str, taxon| Tree { name: name.into(), taxon, ..Tree::default() };
    vec![
        Tree { stage: Some(11), ..named("Maple", "acer-palmatum") },
        Tree { stage: Some(0), ..named("Larch", "larix-decidua") },
        Tree { cut: Some(date(2026, 3, 20)), stage: Some(3), ..named("Elm", "ulmus-parvifolia") },
    ]
}

const DAY: Date = date(2026, 4, 3);

#[test]
fn today_says_of_the_coming_nights_what_tonight_says() {
    for half in Half::BOTH {
        let day = half.day(DAY);
        for (nights, presses) in [(vec![(-5.0, 8.0); 6], true), (vec![(6.0, 15.0); 6], false)] {
            let mut small = Small::new(half, PLACES, &trees(), day);
            small.foretell(day, &nights);
            let whole = small.whole(day);
            let page = tonight(&whole, afternoon(&whole)).unwrap();
            let line = brief(&whole, afternoon(&whole)).unwrap();
            assert_eq!(line.answer, page.answer, "{half:?}");
            assert_eq!(
                [line.carry, line.protect, line.watch],
                [page.movers.len(), page.protect.len(), page.watch.len()]
            );
            assert_eq!(
                (line.presses(), line.is_usual, line.evening),
                (presses, false, day),
                "{half:?} {line:?}"
            );
            assert_eq!(line.by, "15:00");
        }
    }
}

/// A mild night before a frost: the coming night asks nothing, and the line names the day that does.
#[test]
fn a_frost_further_ahead_stands_in_the_line() {
    for half in Half::BOTH {
        let day = half.day(DAY);
        let mut small = Small::new(half, PLACES, &trees(), day);
        small.foretell(day, &[(7.0, 15.0), (7.0, 15.0), (7.0, 15.0), (7.0, 14.0), (-6.0, 6.0), (-6.0, 6.0)]);
        let whole = small.whole(day);
        let line = brief(&whole, afternoon(&whole)).unwrap();
        assert!(!line.presses(), "{half:?} {line:?}");
        let (evening, trees) = line.next.unwrap();
        assert!((1..=3).contains(&(evening - day).get_days()) && trees >= 1, "{half:?} {line:?}");
    }
}

#[test]
fn without_a_forecast_the_line_says_so() {
    for half in Half::BOTH {
        // The station's record ends in November 2026: in the summer after it only the usual night is known.
        let day = half.day(date(2027, 7, 1));
        let whole = Small::new(half, PLACES, &trees()[1..2], day).whole(day);
        let line = brief(&whole, afternoon(&whole)).unwrap();
        assert!(line.is_usual && !line.presses() && line.next.is_none(), "{half:?} {line:?}");
    }
}

/// What-if holds frost after waking against the line of the tree's own young leaves, the same for a sure name as *Tonight* does.
#[test]
fn what_if_goes_by_the_trees_own_young_leaves() {
    for half in Half::BOTH {
        let day = half.day(date(2026, 2, 20));
        let mut all = trees();
        // May be a fig as well: the tenderer of the two sets the line.
        all.push(Tree {
            name: "Doubtful".into(),
            confidence: "guess",
            candidates: "ficus-microcarpa",
            ..Tree::default()
        });
        all.iter_mut().for_each(|it| it.stage = None);
        let whole = Small::new(half, PLACES, &all, day).whole(day);
        let keys: Vec<&str> = whole.trees.iter().map(|it| it.tree.key.as_str()).collect();
        let told = trials(&whole, &keys, Try { place: "frame", day }).unwrap().told;
        let care = |key: &str| told.iter().find(|(it, ..)| it == key).unwrap().2.frost_care.unwrap();
        let line = |key: &str| young_leaves(&whole, whole.tree(key).unwrap()).unwrap();
        assert_eq!(
            line("maple"),
            Celsius(-2.0),
            "{half:?}: open leaves by their stage, not the taxon's figure"
        );
        assert!(line("doubtful") > Celsius(0.0), "{half:?} {:?}", line("doubtful"));
        assert!(care("doubtful") > care("maple"), "{half:?} {} {}", care("doubtful"), care("maple"));
    }
}

/// A place's page names the trees whose own root line its coldest ball passed: cut roots, not the larch beside them.
#[test]
fn a_place_is_held_to_the_root_line_of_each_tree_in_it() {
    for half in Half::BOTH {
        let day = half.day(date(2026, 1, 6));
        let mut all = trees();
        all.iter_mut().for_each(|it| it.stage = None);
        all[2].cut = Some(date(2025, 12, 1));
        let whole = Small::new(half, PLACES, &all, day).whole(day);
        let words = places::place(&whole, "bench").unwrap().card.roots;
        assert!(words.contains("Elm") && !words.contains("Larch"), "{half:?} {words}");
        let alone = Small::new(half, PLACES, &all[1..2], day).whole(day);
        let words = places::place(&alone, "bench").unwrap().card.roots;
        assert!(words.contains("above the planned root line of every tree here"), "{half:?} {words}");
        let frame = places::place(&whole, "frame").unwrap();
        assert!(frame.card.roots.contains("no tree stands here"), "{half:?} {}", frame.card.roots);
        assert!(!frame.levels.iter().any(|level| level.is_alarm));
    }
}

/// Last night's frost is told of the trees whose own line it passed where they stood, and not after a mild night.
#[test]
fn last_night_is_told_by_each_trees_own_line() {
    for half in Half::BOTH {
        let lines = |day: Date| {
            let mut all = trees();
            all.iter_mut().for_each(|it| it.stage = None);
            all[2].cut = Some(date(2025, 12, 20));
            let small = Small::new(half, PLACES, &all, half.day(day));
            today::today(&small.whole(half.day(day))).frost
        };
        let mild = lines(date(2026, 6, 20));
        assert!(mild.is_empty(), "{half:?} {mild:?}");
        let nights = (1..=9).map(|ahead| lines(date(2025, 12, 28) + ahead.days()));
        let cold: Vec<String> = nights.flatten().collect();
        assert!(cold.iter().any(|line| line.contains("Elm")), "{half:?} {cold:?}");
        assert!(!cold.iter().any(|line| line.contains("Larch")), "{half:?} {cold:?}");
    }
}
