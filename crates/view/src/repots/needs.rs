//! What the season's repots use up, worked out once, and what those that were done took out of the shed.

use collection::{
    potting::{Mix, Pot},
    repot::Repot,
    stock::{Blend, Stock},
    ware::Ware,
};
use jiff::civil::Date;
use measure::quantity::{Litre, Millimetre};
use pot::table::{Between, Component};
use season::{
    repot::{
        frame::is_at_hand,
        goods::{
            Goods, Into, Job, by_grains, needs,
            order::{Line, sum},
        },
        record::{Record, StandsIn},
    },
    shelf::assign::Place,
};

use super::case::{self, record};
use crate::{
    pots::shared,
    whole::{TreeWhole, Whole},
};

/// The grower's own mix that is meant for a tree, with what it is made of.
pub(super) fn own_mix<'a>(whole: &'a Whole, tree: &TreeWhole) -> Option<(&'a Mix, Option<&'a Blend>)> {
    let season = case::season(whole);
    let key = tree.standing.meant.iter().find(|it| it.season == season)?.mix.as_ref()?;
    let mix = whole.mixes.iter().find(|mix| &mix.key == key)?;
    Some((mix, whole.shelf.blends.iter().find(|it| &it.mix == key)))
}

/// What a tree goes into by the plan, else its own pot again; a training pot where that is broken or gone.
pub(super) fn into<'a>(whole: &'a Whole, tree: &TreeWhole) -> Into<'a> {
    let told = shared::shared(whole).told.as_ref().ok();
    let by_plan = told.and_then(|told| {
        let at = shared::asked(told, whole, &tree.tree.key)?;
        let (plan, _) = told.plan.as_ref().ok()?;
        Some(match plan.into[at] {
            Place::Training => Into::Training(training(whole, tree)),
            Place::Pot(pot) => {
                let rank = told.offered.pots[pot];
                Into::Pot(&whole.pots[rank], &whole.shelf.wares[rank])
            }
        })
    });
    let whole_still = |(pot, _): &(usize, usize)| is_at_hand(&whole.shelf.wares[*pot], true);
    by_plan.unwrap_or_else(|| match crate::water::stands_in(tree).filter(whole_still) {
        Some((pot, _)) => Into::Pot(&whole.pots[pot], &whole.shelf.wares[pot]),
        None => Into::Training(training(whole, tree)),
    })
}

/// The training pot for a tree with its record.
pub(super) fn training<'a>(whole: &'a Whole, tree: &TreeWhole) -> Option<(&'a Pot, &'a Ware)> {
    shared::training_for(whole, tree).map(|rank| (&whole.pots[rank], &whole.shelf.wares[rank]))
}

/// The likely day of a tree's repot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Likely {
    /// The day, never before today.
    pub day: Date,
    /// A window or the plan tells it.
    pub is_known: bool,
}

/// The likely day of a tree's repot: by the plan, else the first of its window. A tree without a window is put at the end of the season: on
/// the last good day that is known of any tree, else today.
pub(super) fn likely(whole: &Whole, tree: &TreeWhole) -> Likely {
    let planned = shared::of_tree(whole, &tree.tree.key).and_then(|it| it.potted);
    let told = planned.or_else(|| case::window(whole, tree).map(|(opens, _)| opens));
    let last = || whole.trees.iter().filter_map(|it| case::window(whole, it)).map(|it| it.1).max();
    let day = told.or_else(last).map_or(whole.today, |day| day.max(whole.today));
    Likely { day, is_known: told.is_some() }
}

pub(super) fn goods(
    whole: &Whole,
    tree: &TreeWhole,
    record: &Record<'_>,
    cut: measure::quantity::Share,
    at: usize,
) -> Result<Goods, String> {
    let job = Job {
        record,
        tree: at,
        cut,
        into: into(whole, tree),
        mix: own_mix(whole, tree),
        day: likely(whole, tree).day,
    };
    needs(&job).map_err(|why| why.to_string())
}

/// The season's goods, worked out once: of each tree that goes, and the order list.
#[derive(Clone, Debug)]
pub(crate) struct Season {
    /// Of each tree, by its rank, what it uses up, or why nothing can be told.
    pub(super) jobs: Vec<(usize, Result<Goods, String>)>,
    /// The order list.
    pub(super) lines: Vec<Line>,
    /// Each component between its sieves, out of the bag.
    pub(super) by_grains: Vec<(Component, Between<Millimetre>, Litre)>,
}

/// The season's goods, worked out when first asked for.
pub(super) fn season(whole: &Whole) -> &Season {
    whole.shelf.goods.get_or_init(|| {
        let jobs = jobs(whole);
        let needs: Vec<_> = jobs
            .iter()
            .filter_map(|(_, it)| it.as_ref().ok())
            .flat_map(|it| it.needs.iter().copied())
            .collect();
        let stock: Vec<Stock> = whole
            .shelf
            .stock
            .iter()
            .map(|it| Stock { left: (it.left - used(whole, it)).max(0.0), ..*it })
            .collect();
        let all: Vec<(usize, Goods)> =
            jobs.iter().filter_map(|(at, it)| Some((*at, it.as_ref().ok()?.clone()))).collect();
        Season { by_grains: by_grains(&all), lines: sum(&needs, &stock, whole.today), jobs }
    })
}

/// What repots have used up of an item since it was counted, reckoned from their logs.
pub(super) fn used(whole: &Whole, stock: &Stock) -> f64 {
    let since = |tree: &TreeWhole| {
        let logs = tree.standing.repots.iter().filter(|it| it.day > stock.day);
        let goods = logs.filter_map(|log| logged(whole, tree, log));
        let own =
            goods.flat_map(|it| it.needs).filter(|need| need.item == stock.item).map(|need| need.amount);
        own.sum::<f64>()
    };
    whole.trees.iter().map(since).sum()
}

/// What a repot that was done used up; none where its pots are not known.
pub(super) fn logged(whole: &Whole, tree: &TreeWhole, log: &Repot) -> Option<Goods> {
    let pot = whole.pots.iter().position(|pot| pot.key == log.pot)?;
    let mix = whole.mixes.iter().find(|mix| mix.key == log.mix)?;
    let before = tree.potted.iter().rev().find(|(day, ..)| *day < log.day);
    let before = before.map(|&(since, pot, mix)| StandsIn {
        pot: &whole.pots[pot],
        ware: &whole.shelf.wares[pot],
        mix: &whole.mixes[mix],
        since,
    });
    let record = Record { stands_in: before, ..record(whole, tree, false) };
    let blend = whole.shelf.blends.iter().find(|it| it.mix == mix.key);
    let job = Job {
        record: &record,
        tree: 0,
        cut: log.cut,
        into: Into::Pot(&whole.pots[pot], &whole.shelf.wares[pot]),
        mix: Some((mix, blend)),
        day: log.day,
    };
    needs(&job).ok()
}

/// The trees that go, with their needs.
pub(super) fn jobs(whole: &Whole) -> Vec<(usize, Result<Goods, String>)> {
    let thirsty = case::is_left_alone(whole);
    let mut jobs = Vec::new();
    for (at, tree) in whole.trees.iter().enumerate() {
        let Ok(case) = case::case(whole, tree, thirsty) else { continue };
        if !case.goes.is_yes() {
            continue;
        }
        let record = record(whole, tree, thirsty);
        jobs.push((at, goods(whole, tree, &record, case.cut.planned, at)));
    }
    jobs
}
