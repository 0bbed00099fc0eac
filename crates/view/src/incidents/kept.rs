//! Bad days as the grower kept them: on the page of the place, and on that of each tree that stood there.

use collection::incident::{Incident as Record, Part, Said};

use super::{LOOKS, cost_words, look, said};
use crate::{whole::Whole, words};

/// A bad day that was kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Its number.
    pub id: i64,
    /// The place: in addresses, and its name.
    pub place: [String; 2],
    /// What happened, in words.
    pub words: String,
    /// The hours are left out, as the logger alone was wrong.
    pub is_left_out: bool,
    /// Which of the sensors was wrong; empty where all of the place were.
    pub sensor: String,
    /// The day it was kept on.
    pub day: String,
    /// Key, name and what it cost each tree, those to look at first before others.
    pub trees: Vec<[String; 3]>,
    /// What to look at, for the first of them.
    pub look: &'static str,
}

/// The words for a part.
pub(super) fn part_words(part: Part) -> &'static str {
    match part {
        Part::Buds => "its buds",
        Part::FlowerBuds => "its flower buds",
        Part::Leaves => "open leaves",
        Part::Evergreen => "its leaves",
        Part::NewGrowth => "soft new growth",
        Part::Roots => "its roots",
        Part::CutRoots => "cut roots",
        Part::WokenRoots => "woken roots",
    }
}

fn kept(whole: &Whole, id: i64, it: &Record) -> Kept {
    let name = |key: &str| whole.tree(key).map_or_else(|| key.to_string(), |tree| tree.tree.name.clone());
    let place = whole.places.iter().find(|own| own.place.key == it.place);
    let place = [it.place.clone(), place.map_or_else(|| it.place.clone(), |own| own.place.name.clone())];
    let read = [it.lowest, it.highest];
    let is_warm = it.cause == collection::incident::Cause::Warm;
    Kept {
        id,
        place,
        words: said(whole, it.cause, it.hours as usize, it.span, (&read, it.expected)),
        is_left_out: it.said == Said::Logger,
        sensor: it.sensor.clone().unwrap_or_default(),
        day: words::day(it.day, whole.today),
        trees: it
            .trees
            .iter()
            .map(|cost| [cost.tree.clone(), name(&cost.tree), cost_words(whole, cost)])
            .collect(),
        look: it.trees.first().map_or("", |cost| LOOKS[look(cost.under, is_warm)]),
    }
}

/// The bad days that were kept of a place, the last first.
pub fn of(whole: &Whole, place: &str) -> Vec<Kept> {
    let own = whole.kept.iter().rev().filter(|(_, it)| it.place == place);
    own.map(|(id, it)| kept(whole, *id, it)).collect()
}

/// The bad days that were kept of the places a tree stood in, the last first: the place, what happened, and what it cost.
pub fn of_tree(whole: &Whole, tree: &str) -> Vec<Kept> {
    let touches = |it: &&(i64, Record)| it.1.trees.iter().any(|cost| cost.tree == tree);
    let mut all: Vec<Kept> =
        whole.kept.iter().rev().filter(touches).map(|(id, it)| kept(whole, *id, it)).collect();
    for it in &mut all {
        it.trees.retain(|[key, ..]| key == tree);
    }
    all
}
