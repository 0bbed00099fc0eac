//! One verdict for every job: what the repot pages may not say beside it on the demo's 28 March, and on small collections on both halves
//! of the Earth the jobs that trees are not to have (A19, A20, U12, U20).

mod demo;
mod halves;

use demo::{demo_with, demo_with_limbs};
use halves::{Half, of};
use intake::{
    asked::Asked,
    record::{FormError, WorkForm, work},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use pot::repot::insult::Strength;
use state::{
    reason::Reason,
    verdict::{Answer, Verdict},
    work::Work,
};
use store::store::Store;
use view::{
    repots::{
        bench::bench,
        case::{Aim, aim},
        repots,
    },
    today::today,
    verdicts::{self, Tag, against, feed, may, on as verdict_on, roots},
    waking::waking,
    whole::{Whole, whole},
};

const DAY: Date = date(2026, 3, 28);

fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}

/// No page says of a tree what the verdict on root work forbids.
#[test]
fn no_page_of_the_demo_speaks_against_the_verdict_on_root_work() {
    let repotted = |name: &str, text: String| match name {
        "work.csv" => text + "Stone elm,2026-03-20,repot,0.3,\n",
        _ => text,
    };
    let whole = on(&demo_with_limbs(repotted), DAY);
    let page = repots(&whole);
    let (rows, ready) = (waking(&whole).rows, today(&whole).ready);
    let (mut barred, mut done) = (0, 0);
    for tree in &whole.trees {
        let (key, verdict) = (&tree.tree.key, verdict_on(&whole, tree, Work::Repot));
        let bench = bench(&whole, tree);
        let has = |what: &str| bench.cut.iter().any(|(name, _)| *name == what);
        let is_open = !verdict.answer.is_against();
        assert_eq!(has("Aim for today"), is_open, "{key}: {verdict:?} {:?}", bench.cut);
        assert_eq!(bench.planned.is_empty(), aim(&whole, tree) == Aim::None, "{key}");
        assert!(is_open || !has("The most today"), "{key}");
        if verdict.answer == Answer::NotThisSeason {
            assert!(!bench.goes && !page.go.iter().any(|row| &row.key == key), "{key} goes: {verdict:?}");
            assert_eq!(aim(&whole, tree), Aim::None, "{key}");
        }
        if let Some(row) = rows.iter().find(|row| &row.key == key) {
            let chosen = row.why.contains("choose the day");
            assert!(!chosen || (bench.goes && roots(&whole, tree) == Tag::GetReady), "{key}: {}", row.why);
        }
        if verdict.reasons.iter().any(|it| matches!(it, Reason::Done { .. })) {
            done += 1;
            assert!(!ready.iter().any(|row| &row.key == key), "{key} was repotted and is told to get ready");
        }
        let left = verdict.budget.map_or(1.0, |it| it.left);
        let is_later = |it: &Reason| matches!(it, Reason::OverBudget { .. });
        if verdict.reasons.iter().any(is_later) {
            barred += 1;
            assert!(!bench.goes && left < 0.6, "{key} has {left} points left and goes");
        }
    }
    assert!(barred > 0 && done > 0, "the demo has none of these: {barred} {done}");
    for row in page.go.iter().filter(|row| row.pot.contains("only after the window")) {
        assert!(row.advice != "repot" && row.pot.contains("another pot"), "{}: {}", row.key, row.pot);
    }
}

/// The year's points on the stress log of one that was cut hard: nothing asks for it this season, whoever asks.
#[test]
fn a_tree_with_no_points_left_stays_though_the_grower_meant_it_to_go() {
    let bent = |name: &str, text: String| match name {
        "tolls.csv" => text + "River birch,2025-11-20,heavy-bend,3,\n",
        _ => text,
    };
    let whole = on(&demo_with(bent), DAY);
    let birch = whole.tree("river-birch").unwrap();
    let verdict = verdict_on(&whole, birch, Work::Repot);
    let free = verdict.budget.unwrap().free.unwrap();
    assert!(verdict.reasons.iter().any(|it| matches!(it, Reason::OverBudget { .. })), "{verdict:?}");
    assert!(free > date(2026, 9, 1), "{free}");
    assert!(!bench(&whole, birch).goes && !repots(&whole).go.iter().any(|row| row.key == "river-birch"));
}

const TREES: &str = "name,taxon,confidence,since,worth,note\nTrident,acer-buergerianum,sure,,,\nMaple,acer-palmatum,sure,,,\n\
                     Zelkova,zelkova-serrata,sure,,,\nWeak maple,acer-palmatum,sure,,,\nOld thorn,crataegus-monogyna,guess,,,\n";
const MOVES: &str = "tree,place,day\nTrident,Bench,2025-03-01\nMaple,Bench,2025-03-01\nZelkova,Bench,2025-03-01\n\
                     Weak maple,Bench,2025-03-01\nOld thorn,Bench,2026-03-10\n";
const VIGOUR: &str = "tree,day,strength,why\nTrident,2026-05-20,strong,long shoots\nMaple,2026-05-20,normal,even\n\
                      Zelkova,2026-05-20,normal,even\nWeak maple,2026-05-20,weak,few shoots\nOld thorn,2026-03-12,weak,mud\n";
const LOOKS: &str = "tree,day,stage,sureness,note\nTrident,2026-05-10,15,sure,\nMaple,2026-05-10,15,sure,\nZelkova,2026-05-10,15,sure,\n\
                     Weak maple,2026-05-10,15,sure,\n";
const WORK: &str = "tree,day,kind,roots,note\nMaple,2026-03-25,repot,0.4,\n";

fn collection(half: Half) -> Store {
    half.store(&[("trees", TREES), ("moves", MOVES), ("vigour", VIGOUR), ("looks", LOOKS), ("work", WORK)])
}

fn told(whole: &Whole, tree: &str, work: Work) -> Verdict {
    verdict_on(whole, of(whole, tree), work).clone()
}

/// U12, 8 June: which may be stripped, with points used and left for each, and why the others not.
#[test]
fn u12_which_may_be_defoliated_on_8_june_with_points_used_and_left() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), date(2026, 6, 8));
        let trident = told(&whole, "trident", Work::Defoliate);
        assert!(matches!(trident.answer, Answer::Yes | Answer::Caution), "{half:?} {trident:?}");
        let zelkova = told(&whole, "zelkova", Work::Defoliate);
        assert!(matches!(zelkova.answer, Answer::Yes | Answer::Caution), "{half:?} {zelkova:?}");
        let maple = told(&whole, "maple", Work::Defoliate);
        let cut = maple.reasons.iter().find_map(|it| match it {
            Reason::RootsCut { day, until, .. } => Some((*day, *until)),
            _ => None,
        });
        let (day, until) = cut.unwrap_or_else(|| panic!("{half:?} {maple:?}"));
        assert_eq!(day, half.day(date(2026, 3, 25)), "{half:?}");
        assert!(maple.answer.is_against() && until > whole.today.saturating_add(60.days()), "{half:?}");
        let weak = told(&whole, "weak-maple", Work::Defoliate);
        assert_eq!(weak.because(), Reason::NotStrongEnough(Strength::Weak), "{half:?} {weak:?}");
        assert_eq!(weak.answer, Answer::NotThisSeason, "{half:?}");
        // Points used and left for each: a 40 % cut costs 0.6.
        let [fresh, spent] = [&trident, &maple].map(|it| it.budget.unwrap());
        assert!(
            fresh.spent.abs() < 1e-9 && fresh.left > 0.8 && fresh.free == Some(whole.today),
            "{half:?} {fresh:?}"
        );
        assert!((spent.spent - 0.6).abs() < 1e-9 && spent.left < 0.21, "{half:?} {spent:?}");
        // Enough of the season is left for a second set of leaves.
        for verdict in [&trident, &zelkova] {
            assert!(!verdict.reasons.iter().any(|it| matches!(it, Reason::ShortSeason { .. })), "{half:?}");
        }
    }
}

/// A19 and A20: defoliation of a tree cut back to 60 % of its roots eleven weeks before, or of a weak one, is saved only with a reason,
/// which stays; what is spent, what is left and when enough is free again are told.
#[test]
fn a19_a20_forbidden_leaves_and_a_second_insult_need_a_reason_and_tell_the_points() {
    for half in Half::BOTH {
        let mut store = collection(half);
        let whole = half.on(&store, date(2026, 6, 8));
        for key in ["maple", "weak-maple"] {
            let why = against(&whole, of(&whole, key), Work::Defoliate).expect("it is asked about");
            let day = whole.today.to_string();
            let form = |despite| WorkForm {
                tree: key,
                day: &day,
                kind: "defoliate",
                asked: Asked { against: Some(&why), despite },
                ..WorkForm::default()
            };
            let works = store.reader().unwrap().works().unwrap().len();
            assert!(matches!(work(&mut store, form(""), whole.today), Err(FormError::Asked { .. })), "{key}");
            assert_eq!(store.reader().unwrap().works().unwrap().len(), works, "{key} was saved unasked");
            work(&mut store, form("mildew on every leaf"), whole.today).unwrap();
            let kept = store.reader().unwrap().works().unwrap();
            assert!(kept.last().unwrap().1.note.ends_with("though asked: mildew on every leaf"), "{key}");
        }
        // Pruned hard in the year of its repot: a major too much, and free again when the cut is a year old.
        let hard = told(&whole, "maple", Work::HardPrune);
        let budget = hard.budget.unwrap();
        let again = half.day(date(2026, 3, 25)).saturating_add(366.days());
        assert!((budget.free.unwrap() - again).get_days().abs() <= 1, "{half:?} {budget:?}");
        let asked = against(&whole, of(&whole, "maple"), Work::HardPrune).unwrap();
        assert!(asked.contains("0.60 spent in twelve months"), "{half:?}: {asked}");
        assert!(against(&whole, of(&whole, "trident"), Work::Defoliate).is_none(), "{half:?}");
    }
}

/// U20: a weak tree of unsure name in mud: no job but light feed, and a pot it is slipped into; its name's tenderest kin guards it.
#[test]
fn u20_a_weak_newcomer_gets_no_cut_this_season() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), DAY);
        for job in [Work::Repot, Work::HardPrune, Work::Trim, Work::Wire, Work::Layer, Work::Defoliate] {
            let verdict = told(&whole, "old-thorn", job);
            assert_eq!(verdict.answer, Answer::NotThisSeason, "{half:?} {verdict:?}");
            assert!(
                verdict.reasons.contains(&Reason::NotStrongEnough(Strength::Weak)),
                "{half:?} {verdict:?}"
            );
        }
        let summer = half.on(&collection(half), date(2026, 6, 8));
        let fed = told(&summer, "old-thorn", Work::Feed);
        assert_eq!(fed.answer, Answer::Caution, "{half:?} {fed:?}");
        assert!(fed.reasons.contains(&Reason::LightFeedOnly), "{half:?} {fed:?}");
        let listed = feed(&summer);
        let row = listed.iter().find(|it| it.trees.iter().any(|(key, _)| key == "old-thorn")).unwrap();
        assert!(row.words.starts_with("with care"), "{half:?} {}", row.words);
    }
}

/// The lines that the branch pages, the bench card and the round show are the tree's own.
#[test]
fn the_lines_of_other_pages_are_those_of_the_trees_page() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), date(2026, 6, 8));
        for tree in &whole.trees {
            let own = verdicts::lines(verdicts::of(&whole, tree), whole.today, whole.units());
            let shown = may(&whole, tree, &[Work::HardPrune, Work::Trim, Work::Wire, Work::Layer]);
            assert_eq!(shown.len(), 4);
            assert!(shown.iter().all(|line| own.contains(line)), "{half:?} {}", tree.tree.key);
        }
    }
}
