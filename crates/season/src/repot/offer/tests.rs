//! Small collections built from records: the plan beside every plan there is, the bench that carries it out, and the grower's word.

use collection::{
    money::Money,
    potting::{Mix, Pot},
    repot::Meant,
    reserve::{Reservation, Said},
    standing::{Grown, Stature},
    tree::Tree,
    ware::{Ware, Whereabouts},
};
use jiff::civil::{Date, date};
use measure::{quantity::Share, winter::Hemisphere};
use pot::fit::{Ruling, frame::Shape, rule::RuleId};
use proptest::prelude::*;

use super::{
    Ask, NotAsked, NotOffered, Offered, Unkept,
    choose::{Note, bought, candidates, second},
    free::{FreeWhy, comes_free},
    offer,
};
use crate::{
    repot::{
        frame::frame,
        record::{
            Record, StandsIn,
            tests::{TODAY, mix, stature, tray, tree},
        },
        sitter::Missing,
        year::{Goes, Why},
    },
    shelf::{
        assign::{Place, Shelf},
        steps::{carry_out, rings},
    },
};

/// A grower with a few trees and pots.
pub(crate) struct Grower {
    pub(crate) trees: Vec<Tree>,
    pub(crate) statures: Vec<[Stature; 1]>,
    pub(crate) meants: Vec<Meant>,
    pub(crate) grown: Vec<Grown>,
    pub(crate) pots: Vec<(Pot, Ware)>,
    pub(crate) mix: Mix,
    /// The pot in which each tree stands.
    pub(crate) stands: Vec<Option<usize>>,
}

const SINCE: Date = date(2025, 3, 10);

impl Grower {
    /// Maples of these heights in cm, each standing in the oval of its own number; ovals of these lengths.
    pub(crate) fn new(heights: &[f64], lengths: &[f64]) -> Grower {
        let keys: Vec<String> = (0..heights.len()).map(|at| format!("maple-{at}")).collect();
        let meant = |key: &String| Meant {
            tree: key.clone(),
            season: 2027,
            repot: true,
            cut: Some(Share(0.4)),
            mix: None,
            show: true,
            why: String::new(),
        };
        let size = |length: &f64| [*length, 0.75 * length, 2.0 + 0.17 * length];
        Grower {
            trees: keys.iter().map(|key| tree(key, "acer-palmatum")).collect(),
            statures: keys
                .iter()
                .zip(heights)
                .map(|(key, height)| [stature(key, *height, 0.12 * height)])
                .collect(),
            meants: keys.iter().map(meant).collect(),
            grown: vec![Grown::default(); heights.len()],
            pots: lengths.iter().enumerate().map(|(at, it)| tray(&format!("oval-{at}"), size(it))).collect(),
            mix: mix(),
            stands: (0..heights.len()).map(|at| (at < lengths.len()).then_some(at)).collect(),
        }
    }

    pub(crate) fn records(&self) -> Vec<Record<'_>> {
        (0..self.trees.len())
            .map(|at| Record {
                grown: Some(&self.grown[at]),
                statures: &self.statures[at],
                meant: Some(&self.meants[at]),
                stands_in: self.stands[at].map(|pot| StandsIn {
                    pot: &self.pots[pot].0,
                    ware: &self.pots[pot].1,
                    mix: &self.mix,
                    since: SINCE,
                }),
                ..Record::of(&self.trees[at])
            })
            .collect()
    }

    pub(crate) fn shelf(&self) -> Vec<(&Pot, &Ware)> {
        self.pots.iter().map(|(pot, ware)| (pot, ware)).collect()
    }

    fn offered(&self, said: &[Reservation]) -> Offered {
        offer(&self.records(), &self.shelf(), said, &ask()).unwrap()
    }
}

pub(crate) fn ask() -> Ask {
    Ask { today: TODAY, hemisphere: Hemisphere::North, ruling: Ruling::default() }
}

pub(crate) fn word(said: Said, tree: usize, pot: usize) -> Reservation {
    Reservation {
        pot: format!("oval-{pot}"),
        tree: format!("maple-{tree}"),
        season: 2027,
        said,
        why: String::new(),
        made: date(2027, 1, 5),
    }
}

/// The best value over every plan there is.
fn by_hand(shelf: &Shelf, into: &mut Vec<Place>, taken: &mut Vec<bool>, points: i64) -> Option<i64> {
    let tree = into.len();
    if tree == shelf.trees.len() {
        let rings = rings(shelf, into).len();
        return (rings <= shelf.boxes).then(|| points - shelf.ring_price * rings as i64);
    }
    let mut best = None;
    if let Some(training) = shelf.trees[tree].training {
        into.push(Place::Training);
        best = best.max(by_hand(shelf, into, taken, points + training));
        into.pop();
    }
    for choice in shelf.choices.iter().filter(|choice| choice.tree == tree) {
        if !std::mem::replace(&mut taken[choice.pot], true) {
            into.push(Place::Pot(choice.pot));
            best = best.max(by_hand(shelf, into, taken, points + choice.points));
            into.pop();
            taken[choice.pot] = false;
        }
    }
    best
}

fn words() -> impl Strategy<Value = Vec<(u8, usize, usize)>> {
    prop::collection::vec((0..4_u8, 0..5_usize, 0..7_usize), 0..4)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    #[test]
    fn a_small_collection_has_the_best_of_all_plans_and_the_bench_carries_it_out(
        heights in prop::collection::vec(14.0..70.0_f64, 5),
        lengths in prop::collection::vec(12.0..50.0_f64, 7),
        growing_on in prop::collection::vec(any::<bool>(), 5),
        said in words(),
    ) {
        let mut grower = Grower::new(&heights, &lengths);
        for (meant, growing_on) in grower.meants.iter_mut().zip(growing_on) {
            meant.show = !growing_on;
        }
        let said: Vec<Reservation> =
            said.into_iter().map(|(kind, tree, pot)| word(Said::ALL[usize::from(kind)], tree, pot)).collect();
        let told = grower.offered(&said);
        prop_assert_eq!((told.trees.len(), told.pots.len()), (5, 7));
        let plan = told.plan().unwrap();
        let best = by_hand(&told.shelf, &mut Vec::new(), &mut vec![false; 7], 0);
        prop_assert_eq!((Some(plan.value), plan.proven()), (best, true));
        let done = carry_out(&told.shelf, &plan.steps).unwrap();
        prop_assert_eq!((done.value, &done.into), (plan.value, &plan.into));
        for (tree, place) in plan.into.iter().enumerate() {
            if let Place::Pot(pot) = *place {
                let held = told.held(tree, pot);
                prop_assert!(held.fit.refusals.is_empty());
                prop_assert!(held.waived.is_empty() || told.shelf.trees[tree].stands_in == Some(pot));
            }
        }
        let turns = comes_free(&told, &plan, &[Some((date(2027, 3, 1), date(2027, 4, 1))); 5]);
        prop_assert!(turns.trees.iter().all(|turn| turn.potted == Some(date(2027, 3, 1)) && !turn.is_late));
    }

    #[test]
    fn what_the_limits_skip_is_what_the_rules_refuse(
        heights in prop::collection::vec(14.0..70.0_f64, 4),
        lengths in prop::collection::vec(12.0..50.0_f64, 6),
    ) {
        let told = Grower::new(&heights, &lengths).offered(&[]);
        for tree in 0..4 {
            for pot in 0..6 {
                prop_assert_eq!(told.points(tree, pot), told.held(tree, pot).fit.points());
            }
        }
    }
}

#[test]
fn a_tree_that_stays_keeps_its_pot_off_the_list_and_an_unmeasured_one_is_named() {
    let mut grower = Grower::new(&[30.0, 30.0, 30.0], &[24.0, 25.0, 26.0, 27.0]);
    grower.meants[0].repot = false;
    let (records, mut pots) = (grower.records(), grower.pots.clone());
    pots[3].1.whereabouts = Whereabouts::Broken;
    let mut records = records;
    records[1].statures = &[];
    let shelf: Vec<(&Pot, &Ware)> = pots.iter().map(|(pot, ware)| (pot, ware)).collect();
    let told = offer(&records, &shelf, &[], &ask()).unwrap();
    assert_eq!((told.trees.len(), &told.pots[..]), (1, &[2][..]));
    assert!(matches!(told.not_asked[0], (0, NotAsked::Stays(_))));
    assert_eq!(told.not_asked[1], (1, NotAsked::Missing(vec![Missing::Height, Missing::Trunk])));
    assert_eq!(
        told.not_offered,
        [(0, NotOffered::Taken(0)), (1, NotOffered::Taken(1)), (3, NotOffered::Away(Whereabouts::Broken))]
    );
}

#[test]
fn a_tree_in_leaf_is_listed_apart_unless_it_is_only_slipped() {
    let mut grower = Grower::new(&[30.0, 30.0], &[24.0, 27.0, 27.5]);
    grower.meants[1].cut = Some(Share(0.0));
    let mut records = grower.records();
    records.iter_mut().for_each(|record| record.missed = true);
    let told = offer(&records, &grower.shelf(), &[], &ask()).unwrap();
    assert_eq!(told.not_asked, [(0, NotAsked::TooLate(Goes::No(vec![Why::Missed])))]);
    assert_eq!(told.trees.iter().map(|it| it.record).collect::<Vec<_>>(), [1]);
    assert_eq!(told.trees[0].cut.planned, Share(0.0));
}

#[test]
fn a_pot_with_two_trees_in_it_is_named_and_the_rest_is_planned() {
    let mut grower = Grower::new(&[36.0, 36.0, 36.0], &[27.0, 28.0, 28.5]);
    grower.stands[1] = Some(0);
    let told = grower.offered(&[word(Said::Never, 0, 0)]);
    assert_eq!(told.not_offered, [(0, NotOffered::Shared(vec![0, 1]))]);
    assert!(told.unkept.is_empty() && told.plan().unwrap().proven());
    grower.meants[1].repot = false;
    assert_eq!(grower.offered(&[]).not_offered, [(0, NotOffered::Taken(1))]);
}

#[test]
fn a_tree_that_is_grown_on_goes_into_training_and_a_shown_one_does_not() {
    let mut grower = Grower::new(&[36.0], &[27.0, 28.0]);
    let place = |grower: &Grower| grower.offered(&[]).plan().unwrap().into[0];
    assert!(matches!(place(&grower), Place::Pot(_)));
    grower.meants[0].show = false;
    assert_eq!(place(&grower), Place::Training);
    let told = grower.offered(&[]);
    assert!(told.box_assumed && told.shelf.boxes == 1);
    assert_eq!(told.training_short(&told.plan().unwrap()), 1, "there is no training pot at all");
    grower.pots[1].1 = Ware { training: true, count: 3, ..grower.pots[1].1.clone() };
    let told = grower.offered(&[]);
    assert_eq!((told.shelf.boxes, told.training_short(&told.plan().unwrap())), (3, 0));
}

#[test]
fn a_promise_holds_and_what_cannot_be_kept_is_said() {
    let grower = Grower::new(&[30.0, 32.0], &[25.0, 26.0, 27.0, 12.0]);
    let told = grower.offered(&[word(Said::Promised, 0, 2), word(Said::Never, 1, 1)]);
    let plan = told.plan().unwrap();
    assert!(plan.into[0] == Place::Pot(2) && plan.into[1] != Place::Pot(1), "{plan:?}");
    assert!(told.unkept.is_empty());
    let told = grower.offered(&[word(Said::Promised, 0, 3), word(Said::KeptFor, 1, 9)]);
    assert!(matches!(&told.unkept[0], (0, Unkept::Refused(why)) if !why.is_empty()));
    assert_eq!(told.unkept[1], (1, Unkept::NoSuch));
    assert!(told.shelf.choices.iter().all(|choice| choice.pot != 3), "it is kept for nobody else");
    let twice = grower.offered(&[word(Said::Promised, 0, 2), word(Said::KeptFor, 1, 2)]);
    assert_eq!(twice.unkept, [(1, Unkept::Twice)]);
    assert_eq!(twice.plan().unwrap().into[0], Place::Pot(2));
    for first in [Said::Promised, Said::KeptFor, Said::Never] {
        let second = if first == Said::Never { Said::Promised } else { Said::Never };
        let against = grower.offered(&[word(first, 0, 2), word(second, 0, 2)]);
        assert_eq!((against.words.len(), &against.unkept[..]), (1, &[(1, Unkept::Twice)][..]), "{first:?}");
        assert!(against.plan().unwrap().proven());
    }
    let mut last_year = word(Said::Promised, 0, 2);
    last_year.season = 2026;
    assert!(grower.offered(&[last_year]).words.is_empty());
}

#[test]
fn a_pot_kept_for_a_tree_that_stays_waits_for_it() {
    let mut grower = Grower::new(&[30.0, 30.0], &[25.0, 26.0, 27.0]);
    grower.meants[0].repot = false;
    let told = grower.offered(&[word(Said::KeptFor, 0, 2)]);
    assert_eq!(told.unkept, [(0, Unkept::NotAsked)]);
    let kept = told.pots.iter().position(|pot| *pot == 2).unwrap();
    assert!(told.shelf.choices.iter().all(|choice| choice.pot != kept));
}

#[test]
fn a_pot_comes_free_when_its_tree_has_its_turn() {
    let mut grower = Grower::new(&[30.0, 30.0], &[24.0, 26.0, 28.0]);
    grower.pots[2].1.shape = Shape::Oval;
    let told = grower.offered(&[word(Said::Promised, 0, 1), word(Said::Promised, 1, 2)]);
    let plan = told.plan().unwrap();
    let late = (date(2027, 4, 10), date(2027, 4, 20));
    let early = (date(2027, 3, 1), date(2027, 3, 20));
    let turns = comes_free(&told, &plan, &[Some(early), Some(late)]);
    assert_eq!(turns.trees[0].potted, Some(late.0), "it waits for the pot of the other");
    assert!(turns.trees[0].is_late && !turns.trees[1].is_late);
    assert_eq!(turns.pots[1].when, Some(late.0));
    assert_eq!(turns.pots[1].why, FreeWhy::Lifted { tree: 1 });
    assert_eq!((turns.pots[2].when, turns.pots[2].why), (None, FreeWhy::Empty));
    let blind = comes_free(&told, &plan, &[Some(early), None]);
    assert_eq!((blind.pots[1].why, blind.trees[0].potted), (FreeWhy::NoWindow { tree: 1 }, None));
}

#[test]
fn in_a_ring_the_first_waits_in_a_box() {
    let grower = Grower::new(&[36.0, 36.0], &[27.0, 27.2]);
    let told = grower.offered(&[word(Said::Promised, 0, 1), word(Said::Promised, 1, 0)]);
    let plan = told.plan().unwrap();
    assert_eq!(plan.rings, 1);
    let windows = [Some((date(2027, 3, 1), date(2027, 4, 1))), Some((date(2027, 3, 8), date(2027, 4, 1)))];
    let turns = comes_free(&told, &plan, &windows);
    assert_eq!(
        (turns.trees[0].lifted, turns.trees[0].potted),
        (Some(date(2027, 3, 1)), Some(date(2027, 3, 8)))
    );
    assert_eq!(turns.trees[1].potted, Some(date(2027, 3, 8)));
}

#[test]
fn the_second_choice_keeps_its_reason_and_the_growers_own_goes_first() {
    let mut grower = Grower::new(&[36.0], &[27.0, 27.5, 28.0]);
    grower.pots[1].1.features = 3;
    let told = grower.offered(&[]);
    let told_second = second(&told, 0, 0).unwrap();
    assert_eq!((told_second.pot, told_second.is_named), (2, false));
    let named = grower.offered(&[word(Said::Second, 0, 1)]);
    let second = second(&named, 0, 0).unwrap();
    assert_eq!((second.pot, second.is_named, second.reason), (1, true, Some(RuleId::OneFeature)));
}

#[test]
fn three_best_are_told_and_every_other_pot_with_its_reason() {
    let mut grower = Grower::new(&[36.0], &[27.0, 27.5, 28.0, 28.5, 12.0, 26.0]);
    grower.pots[5].1.training = true;
    let records = grower.records();
    let said = [Reservation { tree: "maple-9".into(), ..word(Said::KeptFor, 0, 3) }];
    let told = candidates(&records[0], Share(0.4), &grower.shelf(), &said, &ask()).unwrap();
    assert_eq!((told.best.len(), told.more), (3, 0));
    assert!(told.best.is_sorted_by_key(|it| std::cmp::Reverse(it.points)));
    assert!(matches!(&told.refused[..], [(4, why)] if !why.is_empty()));
    assert_eq!((&told.spoken_for[..], &told.notes[..]), (&[(3, 0)][..], &[][..]));
    grower.meants[0].show = false;
    let records = grower.records();
    let told = candidates(&records[0], Share(0.4), &grower.shelf(), &[], &ask()).unwrap();
    assert_eq!(told.notes, [Note::GrowOn]);
}

#[test]
fn for_a_tree_for_sale_the_best_pot_that_is_not_too_dear_is_told() {
    let mut grower = Grower::new(&[36.0], &[27.0, 27.2]);
    grower.stands[0] = Some(1);
    grower.grown[0].asked = Money::from_words("500 CHF");
    for (pot, worth) in [(0, "230 CHF"), (1, "150 CHF")] {
        grower.pots[pot].1.worth = Money::from_words(worth).map(|worth| (worth, TODAY));
    }
    // The dear one is the better frame but for its price.
    grower.pots[1].1.features = 3;
    let records = grower.records();
    let told = candidates(&records[0], Share(0.4), &grower.shelf(), &[], &ask()).unwrap();
    assert_eq!((told.best[0].pot, told.plainer.as_ref().map(|it| it.pot)), (0, Some(1)));
    grower.pots[0].1.worth = Money::from_words("100 CHF").map(|worth| (worth, TODAY));
    let records = grower.records();
    let told = candidates(&records[0], Share(0.4), &grower.shelf(), &[], &ask()).unwrap();
    assert_eq!((told.best[0].pot, told.plainer), (0, None));
}

#[test]
fn a_pot_bought_never_makes_the_shelf_worse() {
    let grower = Grower::new(&[30.0, 40.0], &[24.0, 25.0]);
    let told = grower.offered(&[]);
    let (pot, ware) = tray("new", [31.0, 23.0, 6.5]);
    let bought = bought(&told, &frame(&pot, &ware).unwrap()).unwrap();
    assert!(bought.gain() >= 0 && bought.before.value == told.plan().unwrap().value);
}
