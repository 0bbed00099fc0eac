//! Who may have which place, tree by tree, in the order of the places.

use super::assign::{Choice, Shelf};

/// No tree, no repot.
pub(super) const NONE: usize = usize::MAX;

/// A repot that is allowed: into which place, and its points taken from the best there are.
#[derive(Clone, Copy)]
struct Arc {
    column: u32,
    cost: u32,
}

/// Who may have which place: pots first, then one training place per tree. Costs are points taken from the best there is.
pub(super) struct Graph {
    start: Vec<usize>,
    arcs: Vec<Arc>,
    best: i64,
    columns: usize,
}

impl Graph {
    /// Of a shelf that was checked: the points of a choice span at most 2·10⁹, so that a cost fits 32 bits.
    pub(super) fn of(shelf: &Shelf) -> Graph {
        let training = shelf.trees.iter().filter_map(|tree| tree.training);
        let best = shelf.choices.iter().map(|choice| choice.points).chain(training).max().unwrap_or(0);
        let mut sorted = Vec::new();
        let mut choices = shelf.choices.as_slice();
        if !shelf.in_order() {
            sorted.extend_from_slice(choices);
            sorted.sort_unstable_by_key(|choice| (choice.tree, choice.pot));
            choices = &sorted;
        }
        let arc = |column: usize, points: i64| Arc { column: column as u32, cost: (best - points) as u32 };
        let mut start = Vec::with_capacity(shelf.trees.len() + 1);
        let mut arcs = Vec::with_capacity(choices.len() + shelf.trees.len());
        for (at, tree) in shelf.trees.iter().enumerate() {
            start.push(arcs.len());
            let own = choices.iter().take_while(|choice| choice.tree == at);
            arcs.extend(own.map(|&Choice { pot, points, .. }| arc(pot, points)));
            choices = &choices[arcs.len() - start[at]..];
            arcs.extend(tree.training.map(|points| arc(shelf.pots + at, points)));
        }
        start.push(arcs.len());
        Graph { start, arcs, best, columns: shelf.pots + shelf.trees.len() }
    }

    pub(super) fn trees(&self) -> usize {
        self.start.len() - 1
    }

    /// Pots and training places.
    pub(super) fn columns(&self) -> usize {
        self.columns
    }

    /// The place into which a repot goes.
    pub(super) fn column(&self, arc: usize) -> usize {
        self.arcs[arc].column as usize
    }

    pub(super) fn cost(&self, arc: usize) -> i64 {
        i64::from(self.arcs[arc].cost)
    }

    pub(super) fn points(&self, arc: usize) -> i64 {
        self.best - self.cost(arc)
    }

    /// The tree of a repot.
    pub(super) fn tree(&self, arc: usize) -> usize {
        self.start.partition_point(|&start| start <= arc) - 1
    }

    /// The repots of a tree: each with its place and its cost.
    pub(super) fn of_tree(&self, tree: usize) -> impl Iterator<Item = (usize, usize, i64)> + '_ {
        let start = self.start[tree];
        let own = &self.arcs[start..self.start[tree + 1]];
        own.iter().enumerate().map(move |(at, arc)| (start + at, arc.column as usize, i64::from(arc.cost)))
    }
}
