//! The steps of a plan in the order of their days.

use jiff::civil::Date;

use super::{Offered, free::Turns};
use crate::shelf::{
    assign::Plan,
    steps::{Step, in_order_from},
};

/// The steps of the plan in the order of their days, with the day on each; those without a day come last.
///
/// In a ring the tree that the turns have waiting in a box is lifted first. No step stands before one that it waits for: a tree is
/// never potted sooner than its pot is left, so that the days never go back along a chain, and steps of one day keep the order of
/// the chain. The days are those of the turns: the earliest, also where that has passed.
pub fn calendar(offered: &Offered, plan: &Plan, turns: &Turns) -> Vec<(Step, Option<Date>)> {
    let waits = |ring: &[usize]| ring.iter().position(|&tree| turns.trees[tree].waits_in_box).unwrap_or(0);
    let day = |step: Step| match step {
        Step::Park { tree } => turns.trees[tree].lifted,
        Step::Pot { tree, .. } => turns.trees[tree].potted,
    };
    let steps = in_order_from(&offered.shelf, &plan.into, waits);
    let mut dated: Vec<(Step, Option<Date>)> = steps.into_iter().map(|step| (step, day(step))).collect();
    dated.sort_by_key(|(_, day)| (day.is_none(), *day));
    dated
}

#[cfg(test)]
mod tests {
    use collection::reserve::Said;
    use jiff::{ToSpan, civil::date};
    use proptest::prelude::*;

    use super::{
        super::{
            free::comes_free,
            offer,
            tests::{Grower, ask, word},
        },
        *,
    };
    use crate::{
        repot::record::Record,
        shelf::{assign::Place, steps::carry_out},
    };

    type Window = Option<(Date, Date)>;

    fn offered(grower: &Grower, windows: &[Window], promised: &[(usize, usize)]) -> Offered {
        let records: Vec<Record<'_>> = grower
            .records()
            .into_iter()
            .zip(windows)
            .map(|(record, window)| Record { window: *window, ..record })
            .collect();
        let said: Vec<_> = promised.iter().map(|&(tree, pot)| word(Said::Promised, tree, pot)).collect();
        offer(&records, &grower.shelf(), &said, &ask()).unwrap()
    }

    #[test]
    fn the_one_whose_window_opens_first_waits_in_the_box_and_is_not_late() {
        let grower = Grower::new(&[36.0, 36.0], &[27.0, 27.2]);
        let (june, march) = ((date(2027, 6, 1), date(2027, 6, 14)), (date(2027, 3, 8), date(2027, 3, 20)));
        let windows = [Some(june), Some(march)];
        let told = offered(&grower, &windows, &[(0, 1), (1, 0)]);
        let plan = told.plan().unwrap();
        assert_eq!(plan.rings, 1, "{:?}", told.unkept);
        let turns = comes_free(&told, &plan, &windows);
        let early = turns.trees[1];
        assert!(
            early.waits_in_box && !early.is_late && !turns.trees[0].waits_in_box && !turns.trees[0].is_late
        );
        assert_eq!((early.lifted, early.potted), (Some(march.0), Some(june.0)));
        let into = |tree: usize| Step::Pot { tree, into: plan.into[tree] };
        assert_eq!(
            calendar(&told, &plan, &turns),
            [(Step::Park { tree: 1 }, Some(march.0)), (into(0), Some(june.0)), (into(1), Some(june.0))]
        );
    }

    #[test]
    fn a_step_without_a_day_comes_last() {
        let grower = Grower::new(&[30.0, 30.0, 36.0], &[24.0, 26.0, 30.0, 28.0]);
        let windows =
            [None, Some((date(2027, 4, 1), date(2027, 4, 9))), Some((date(2027, 3, 1), date(2027, 3, 9)))];
        let told = offered(&grower, &windows, &[]);
        let plan = told.plan().unwrap();
        let days: Vec<Option<Date>> =
            calendar(&told, &plan, &comes_free(&told, &plan, &windows)).iter().map(|it| it.1).collect();
        assert_eq!(days.last(), Some(&None));
        assert!(days.iter().flatten().is_sorted() && days.iter().flatten().count() > 0);
    }

    fn windows() -> impl Strategy<Value = Vec<Window>> {
        let one = prop::option::weighted(0.85, (0..120_i64, 3..30_i64));
        let day = |(opens, long): (i64, i64)| {
            let opens = date(2027, 2, 1) + opens.days();
            (opens, opens + long.days())
        };
        prop::collection::vec(one.prop_map(move |it| it.map(day)), 5)
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(192) })]

        #[test]
        fn the_bench_carries_out_the_calendar_and_its_days_never_go_back(
            heights in prop::collection::vec(28.0..40.0_f64, 5),
            lengths in prop::collection::vec(22.0..32.0_f64, 6),
            windows in windows(),
            turn in 0..5_usize,
        ) {
            let grower = Grower::new(&heights, &lengths);
            // Some pairs and rings are promised each other's pots, where they may have them.
            let ring: Vec<(usize, usize)> = (0..turn).map(|tree| (tree, (tree + 1) % turn)).collect();
            let told = offered(&grower, &windows, &ring);
            let plan = told.plan().unwrap();
            let turns = comes_free(&told, &plan, &windows);
            let told_steps = calendar(&told, &plan, &turns);
            let steps: Vec<Step> = told_steps.iter().map(|it| it.0).collect();
            let done = carry_out(&told.shelf, &steps).unwrap();
            prop_assert_eq!((done.value, &done.into), (plan.value, &plan.into));
            let dated: Vec<Date> = told_steps.iter().filter_map(|it| it.1).collect();
            prop_assert!(dated.is_sorted());
            prop_assert!(told_steps[dated.len()..].iter().all(|it| it.1.is_none()));
            for (tree, turn) in turns.trees.iter().enumerate() {
                prop_assert!(!(turn.is_late && turn.waits_in_box));
                if let (Some(lifted), Some((opens, closes))) = (turn.lifted, windows[tree]) {
                    prop_assert!(lifted >= opens && (turn.is_late || lifted <= closes));
                }
                // No tree is potted before the one that stands in its pot is lifted.
                if let Place::Pot(pot) = plan.into[tree]
                    && let Some(other) = told.shelf.trees.iter().position(|it| it.stands_in == Some(pot))
                    && let (Some(potted), Some(lifted)) = (turn.potted, turns.trees[other].lifted)
                {
                    prop_assert!(lifted <= potted);
                }
            }
        }
    }
}
