//! What decides a tree's lines in frost, out of the whole: the one place where pages get them.

use collection::tree::NameConfidence;
use dormancy::frost::{Candidates, Facts, RootAge, stage_to_protect};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    stage::Stage,
    winter::Winter,
};
use season::repot::{aftercare::in_frost, root_cuts::root_cuts};

use crate::{
    limbs::grows,
    verdicts,
    whole::{TreeWhole, Whole},
};

/// What decides a tree's lines on a day of this season, today, before or after.
///
/// The stage is the tenderer of the stage seen and the furthest that one chance in ten has its buds reach by that day; leaves count
/// as [`season::autumn::InLeaf::in_frost`] takes them. Every root cut on record counts by its age on that day.
pub fn facts(whole: &Whole, tree: &TreeWhole, day: Date) -> Facts {
    let facts = Facts {
        taxon: tree.tree.taxon,
        candidates: candidates(tree),
        stage: stage(whole, tree, day),
        roots: RootAge::Old,
    };
    let hemisphere = grows::hemisphere(whole);
    cuts(tree, day)
        .into_iter()
        .fold(facts, |facts, (cut, share)| in_frost(facts, cut, share, day, hemisphere))
}

/// The line of a tree's leaves once they are out, whatever they do today; none where none is known.
pub fn young_leaves(whole: &Whole, tree: &TreeWhole) -> Option<Celsius> {
    let facts = Facts { stage: Some(Stage::Unfolded), ..facts(whole, tree, whole.today) };
    facts.above().map(|limit| limit.line.value)
}

fn candidates(tree: &TreeWhole) -> Candidates {
    let named = Candidates::of(tree.tree.candidates.iter().copied());
    match (tree.tree.name_confidence, named) {
        (NameConfidence::Sure, _) => Candidates::None,
        (NameConfidence::Guess, Candidates::None) => Candidates::Kind,
        (_, named) => named,
    }
}

fn stage(whole: &Whole, tree: &TreeWhole, day: Date) -> Option<Stage> {
    let kind = tree.tree.taxon.kind;
    if !kind.rests() {
        return None;
    }
    let winter = Winter::holding(whole.today, grows::hemisphere(whole));
    let number = winter.day_number(day);
    let seen = verdicts::bud_facts(whole, tree).seen.filter(|seen| seen.day <= day).map(|seen| seen.stage);
    // Last night's leaves and buds were today's; those of longer ago go by what was reached then.
    if (whole.today - day).get_days() > 1 {
        return Some(reached(tree, number).max(seen).unwrap_or(Stage::Dormant));
    }
    let told = tree.told.as_ref().ok().map(|told| {
        let ahead = reached(tree, number).filter(|_| day > whole.today);
        stage_to_protect(&told.in_frost(winter.day_number(whole.today)), seen.max(ahead))
    });
    let by_date = || {
        let mut buds = [0.0; 9];
        buds[Stage::Dormant.rank()] = 1.0;
        stage_to_protect(&tree.in_leaf.in_frost(buds, number), seen)
    };
    Some(told.unwrap_or_else(by_date))
}

/// The furthest stage that one chance in ten has its buds reach by a day number; none while it has no forecast.
fn reached(tree: &TreeWhole, number: i32) -> Option<Stage> {
    let told = tree.told.as_ref().ok()?;
    let by = told.forecast.stages.iter().filter(|(_, spread)| spread.is_some_and(|it| it.early <= number));
    by.map(|(stage, _)| *stage).max()
}

/// Every root cut by a day, with the most of them that it may have taken; roots shaken bare count as cut.
fn cuts(tree: &TreeWhole, day: Date) -> Vec<(Date, Share)> {
    let cuts = root_cuts(&tree.standing.repots, tree.works.iter().map(|(_, work)| work));
    let cuts = cuts.into_iter().filter(|it| it.day <= day);
    cuts.map(|it| (it.day, if it.bare { Share(1.0) } else { it.roots.most })).collect()
}
