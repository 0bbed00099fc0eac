//! What decides a tree's lines in frost, out of the whole: the one place where pages get them.

use collection::tree::NameConfidence;
use dormancy::frost::{Candidates, Facts, RootAge, stage_to_protect};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    stage::Stage,
    winter::Winter,
};
use season::{
    autumn::{self, InLeaf},
    repot::{aftercare::in_frost, root_cuts::root_cuts},
};

use crate::{
    limbs::grows,
    verdicts,
    whole::{TreeWhole, Whole},
};

/// What decides a tree's lines on a day of this season, today, before or after.
///
/// The stage is the tenderer of the stage seen and the furthest that one chance in ten has its buds reach by that day; leaves count
/// as [`season::autumn::InLeaf::in_frost`] takes them. Every root cut on record counts by its age on that day. Of a day that has passed only
/// what was seen by then counts, and what the weather since has shown of it.
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
    // Last night's leaves and buds were today's; those of longer ago go by what was reached then.
    if (whole.today - day).get_days() > 1 {
        return Some(stage_of_then(tree, winter, day));
    }
    let seen = verdicts::bud_facts(whole, tree).seen.filter(|seen| seen.day <= day).map(|seen| seen.stage);
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

/// The stage of a day that has passed.
fn stage_of_then(tree: &TreeWhole, winter: Winter, day: Date) -> Stage {
    let number = winter.day_number(day);
    let looks = tree.looks.iter().rev().map(|(_, look)| look).filter(|look| look.day <= day);
    let seen = looks.clone().find(|look| verdicts::is_of_spring(winter, look.day, look.stage));
    let (leaves, told) = (tree.leaf_looks.iter().map(|(_, it)| it), tree.told.as_ref().ok());
    let evidence = autumn::evidence(winter, leaves, looks, number);
    let leaf = told.map_or_else(
        || InLeaf::by_date(tree.tree.taxon, number, &evidence),
        |told| InLeaf { today: leaves_on(&told.leaf, number), ..told.leaf },
    );
    let mut buds = [0.0; 9];
    buds[reached(tree, number).unwrap_or(Stage::Dormant).rank()] = 1.0;
    stage_to_protect(&leaf.in_frost(buds, number), seen.map(|look| look.stage))
}

/// Chance of each state of the leaves on an earlier day of the same winter: of a change between its ends, both.
fn leaves_on(leaf: &InLeaf, number: i32) -> [f64; 4] {
    if leaf.keeps.is_some() || leaf.is_evergreen {
        return leaf.today;
    }
    let passed = leaf.turns.map(|spread| match spread {
        Some(it) if it.late <= number => 1.0,
        Some(it) if it.early <= number => 0.5,
        _ => 0.0,
    });
    [1.0 - passed[0], (passed[0] - passed[1]).max(0.0), (passed[1] - passed[2]).max(0.0), passed[2]]
}

/// Every root cut by a day, with the most of them that it may have taken; roots shaken bare count as cut.
fn cuts(tree: &TreeWhole, day: Date) -> Vec<(Date, Share)> {
    let cuts = root_cuts(&tree.standing.repots, tree.works.iter().map(|(_, work)| work));
    let cuts = cuts.into_iter().filter(|it| it.day <= day);
    cuts.map(|it| (it.day, if it.bare { Share(1.0) } else { it.roots.most })).collect()
}
