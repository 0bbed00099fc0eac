//! What was wrong on 28 March, built again on small collections on both halves of the Earth: a tree just repotted that is told to get
//! ready, a weak tree in leaf with an aim for its roots, a tree with no points left that goes, leaves of a cut tree taken without a word.

mod halves;

use halves::{Half, of};
use jiff::civil::{Date, date};
use state::{reason::Reason, verdict::Answer, work::Work};
use store::store::Store;
use view::{
    repots::{
        bench::bench,
        case::{Aim, aim},
        repots,
    },
    today::today,
    verdicts::{Tag, against, on},
    waking::waking,
};

const DAY: Date = date(2026, 3, 28);

const TREES: &str = "name,taxon,confidence,since,worth,note\nDone elm,ulmus-minor,sure,,,\nWeak maple,acer-palmatum,sure,,,\n\
                     Spent birch,betula-pendula,sure,,,\nCut maple,acer-palmatum,sure,,,\n";
const MOVES: &str = "tree,place,day\nDone elm,Bench,2025-03-01\nWeak maple,Bench,2025-03-01\nSpent birch,Bench,2025-03-01\n\
                     Cut maple,Bench,2025-03-01\n";
const LOOKS: &str = "tree,day,stage,sureness,note\nDone elm,2026-03-26,03,sure,\nWeak maple,2026-03-26,11,sure,\n\
                     Spent birch,2026-03-26,03,sure,\nCut maple,2026-03-26,03,sure,\n";
const WORK: &str =
    "tree,day,kind,roots,note\nDone elm,2026-03-20,repot,0.3,\nCut maple,2026-01-25,repot,0.55,\n";
const VIGOUR: &str =
    "tree,day,strength,why\nWeak maple,2026-03-01,weak,few shoots\nSpent birch,2026-03-01,normal,even\n";
const TOLLS: &str = "tree,day,what,amount,note\nSpent birch,2025-06-20,hard-prune,0.33,\nSpent birch,2025-11-20,heavy-bend,3,\n";

fn collection(half: Half) -> Store {
    half.store(&[
        ("trees", TREES),
        ("moves", MOVES),
        ("looks", LOOKS),
        ("work", WORK),
        ("vigour", VIGOUR),
        ("tolls", TOLLS),
    ])
}

/// A tree repotted eight days ago is done: no list asks for it, and no page tells it to get ready.
#[test]
fn a_tree_just_repotted_is_told_to_get_ready_by_no_page() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), DAY);
        let verdict = on(&whole, of(&whole, "done-elm"), Work::Repot);
        assert_eq!(verdict.answer, Answer::NotThisSeason, "{half:?} {verdict:?}");
        assert!(
            verdict.reasons.contains(&Reason::Done { day: half.day(date(2026, 3, 20)) }),
            "{half:?} {verdict:?}"
        );
        let page = today(&whole);
        for rows in [&page.repot, &page.ready, &page.look_first, &page.wait] {
            assert!(!rows.iter().any(|row| row.key == "done-elm"), "{half:?}");
        }
        let row = waking(&whole).rows.into_iter().find(|row| row.key == "done-elm").unwrap();
        assert_eq!(row.advice, Tag::NotThisYear.words(), "{half:?}");
        assert!(page.care.iter().any(|(key, ..)| key == "done-elm"), "{half:?}: it is under care");
    }
}

/// A weak tree in leaf gets no aim for its roots on any page.
#[test]
fn a_weak_tree_in_leaf_has_no_aim_for_its_roots() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), DAY);
        let tree = of(&whole, "weak-maple");
        assert!(on(&whole, tree, Work::Repot).answer.is_against(), "{half:?}");
        assert_eq!(aim(&whole, tree), Aim::None, "{half:?}");
        let page = bench(&whole, tree);
        assert!(
            page.planned.is_empty() && !page.cut.iter().any(|(what, _)| *what == "Aim for today"),
            "{half:?}"
        );
        assert!(!page.goes, "{half:?}");
    }
}

/// A tree with no points left stays, and defoliation nine weeks after a root cut of 55 % is asked about with the cut as the reason.
#[test]
fn no_points_left_is_no_season_and_leaves_of_a_cut_tree_are_asked_about() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), DAY);
        let birch = of(&whole, "spent-birch");
        let verdict = on(&whole, birch, Work::Repot);
        assert!(
            verdict
                .reasons
                .iter()
                .any(|it| matches!(it, Reason::OverBudget { .. } | Reason::MajorSpent { .. })),
            "{half:?} {verdict:?}"
        );
        assert!(
            !bench(&whole, birch).goes && !repots(&whole).go.iter().any(|row| row.key == "spent-birch"),
            "{half:?}"
        );
        let summer = half.on(&collection(half), date(2026, 6, 1));
        let cut = of(&summer, "cut-maple");
        assert!(against(&summer, cut, Work::Defoliate).is_some(), "{half:?}");
        let reasons = &on(&summer, cut, Work::Defoliate).reasons;
        assert!(
            reasons.iter().any(|it| matches!(it, Reason::RootsCut { share, .. } if share.0 == 0.55)),
            "{half:?} {reasons:?}"
        );
    }
}
