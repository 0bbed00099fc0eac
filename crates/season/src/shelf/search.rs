//! Each ring of swaps paid for or broken, best first, until nothing can beat the best plan.

use std::{cmp::Ordering, collections::BinaryHeap};

use super::{
    assign::Shelf,
    graph::Graph,
    matching::{Matching, Paths},
};

/// What the search found.
pub(super) struct Found {
    pub(super) columns: Vec<usize>,
    pub(super) value: i64,
    pub(super) bound: i64,
    pub(super) free_swaps: i64,
    pub(super) looked_at: usize,
}

/// A part-plan: some repots barred, some trees fixed, some rings paid for.
struct Part {
    best: Matching,
    barred: Vec<usize>,
    fixed: Vec<bool>,
    paid: usize,
    /// No plan within this part has more.
    bound: i64,
    depth: usize,
}

impl Part {
    fn rank(&self) -> (i64, usize) {
        (self.bound, self.depth)
    }
}

impl PartialEq for Part {
    fn eq(&self, other: &Part) -> bool {
        self.rank() == other.rank()
    }
}

impl Eq for Part {}

impl PartialOrd for Part {
    fn partial_cmp(&self, other: &Part) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Part {
    fn cmp(&self, other: &Part) -> Ordering {
        self.rank().cmp(&other.rank())
    }
}

struct Search<'a> {
    graph: &'a Graph,
    shelf: &'a Shelf,
    occupants: Vec<Option<usize>>,
    paths: Paths,
    /// The best whole plan.
    held: Option<(i64, Matching)>,
    looked_at: usize,
}

/// The best plan; none when there is none.
pub(super) fn search(graph: &Graph, shelf: &Shelf, patience: usize) -> Option<Found> {
    let mut paths = Paths::new(graph);
    let best = Matching::best(graph, &mut paths)?;
    let free_swaps = best.points(graph);
    let occupants = shelf.occupants();
    let mut own = Search { graph, shelf, occupants, paths, held: None, looked_at: 0 };
    let bound = own.run(best, patience);
    let (value, best) = own.held?;
    let columns = best.arc.iter().map(|&arc| graph.column(arc)).collect();
    let bound = bound.map_or(value, |bound| bound.max(value));
    Some(Found { columns, value, bound, free_swaps, looked_at: own.looked_at })
}

impl Search<'_> {
    /// Looks until nothing can be better; the bound that still stands when patience ran out.
    fn run(&mut self, best: Matching, patience: usize) -> Option<i64> {
        let (bound, fixed) = (best.points(self.graph), vec![false; self.graph.trees()]);
        let whole = Part { best, barred: Vec::new(), fixed, paid: 0, bound, depth: 0 };
        let mut waiting = BinaryHeap::new();
        self.dive(&whole);
        waiting.push(whole);
        while let Some(part) = waiting.pop() {
            if !self.beats(part.bound) {
                return None;
            }
            if self.looked_at >= patience {
                return Some(part.bound);
            }
            waiting.extend(self.parts_of(&part));
        }
        None
    }

    /// Whether so many points are more than the best plan held.
    fn beats(&self, bound: i64) -> bool {
        self.held.as_ref().is_none_or(|(held, _)| bound > *held)
    }

    /// Goes straight down, each time by the best part, so that a whole plan is held early.
    fn dive(&mut self, whole: &Part) {
        let mut parts = self.parts_of(whole);
        while let Some(next) = parts.into_iter().max() {
            parts = self.parts_of(&next);
        }
    }

    /// Takes the part's own best as a whole plan if it is one, and parts it at its shortest ring that is not paid for: broken at
    /// each of its repots in turn, those before it fixed; or paid for, all of them fixed.
    fn parts_of(&mut self, part: &Part) -> Vec<Part> {
        self.looked_at += 1;
        let mut rings = self.rings_in(&part.best);
        rings.retain(|ring| ring.iter().any(|&tree| !part.fixed[tree]));
        let value = part.bound - self.shelf.ring_price * rings.len() as i64;
        if part.paid + rings.len() <= self.shelf.boxes && self.beats(value) {
            self.held = Some((value, part.best.clone()));
        }
        if !self.beats(part.bound) {
            return Vec::new();
        }
        let Some(ring) = rings.into_iter().min_by_key(Vec::len) else { return Vec::new() };
        let mut fixed = part.fixed.clone();
        let mut parts = Vec::new();
        for tree in ring {
            if !fixed[tree] {
                let mut barred = part.barred.clone();
                barred.push(part.best.arc[tree]);
                parts.extend(self.part(part, barred, &fixed));
                fixed[tree] = true;
            }
        }
        if part.paid < self.shelf.boxes {
            let (best, barred) = (part.best.clone(), part.barred.clone());
            let bound = part.bound - self.shelf.ring_price;
            parts.push(Part { best, barred, fixed, paid: part.paid + 1, bound, depth: part.depth + 1 });
        }
        parts.retain(|part| self.beats(part.bound));
        parts
    }

    fn part(&mut self, of: &Part, barred: Vec<usize>, fixed: &[bool]) -> Option<Part> {
        let best = of.best.without(self.graph, &mut self.paths, &barred, fixed)?;
        let bound = best.points(self.graph) - self.shelf.ring_price * of.paid as i64;
        Some(Part { best, barred, fixed: fixed.to_vec(), paid: of.paid, bound, depth: of.depth + 1 })
    }

    fn rings_in(&self, plan: &Matching) -> Vec<Vec<usize>> {
        // The tree that must leave before this one can be potted.
        rings_of(self.graph.trees(), |tree| {
            let column = self.graph.column(plan.arc[tree]);
            self.occupants.get(column).copied().flatten().filter(|&other| other != tree)
        })
    }
}

/// The rings among trees of which each waits for at most one other.
pub(super) fn rings_of(trees: usize, next: impl Fn(usize) -> Option<usize>) -> Vec<Vec<usize>> {
    let mut seen = vec![0; trees];
    let mut rings = Vec::new();
    for first in 0..trees {
        let mut at = Some(first);
        while let Some(tree) = at.filter(|&tree| seen[tree] == 0) {
            seen[tree] = first + 1;
            at = next(tree);
        }
        if let Some(tree) = at.filter(|&tree| seen[tree] == first + 1) {
            let mut ring = vec![tree];
            let mut on = next(tree);
            while let Some(other) = on.filter(|&other| other != tree) {
                ring.push(other);
                on = next(other);
            }
            rings.push(ring);
        }
    }
    rings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::assign::{Choice, Tree};

    /// A shelf of chance: most trees stand in pots and few pots are free, so that rings abound.
    fn shelf(seed: u64, trees: usize, pots: usize) -> Shelf {
        let mut state = seed;
        let mut dice = move |sides: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % sides
        };
        let mut choices = Vec::new();
        for tree in 0..trees {
            for pot in 0..pots {
                if dice(10) < 6 {
                    choices.push(Choice { tree, pot, points: dice(60) as i64 });
                }
            }
        }
        let standing = (0..trees).map(|at| Tree { stands_in: (at < pots).then_some(at), training: Some(0) });
        let (ring_price, boxes) = (dice(40) as i64, dice(4) as usize);
        Shelf { trees: standing.collect(), pots, choices, ring_price, boxes }
    }

    #[test]
    fn the_bound_never_lies_below_the_best_plan_however_soon_patience_ends() {
        let mut cut_short = 0;
        for seed in 0..100 {
            let shelf = shelf(seed, 12, 12);
            let graph = Graph::of(&shelf);
            let best = search(&graph, &shelf, 1_000_000).expect("a plan").value;
            for patience in [1, 3, 6, 60] {
                let soon = search(&graph, &shelf, patience).expect("a plan");
                assert!(
                    soon.value <= best && best <= soon.bound,
                    "{seed}: {} {best} {}",
                    soon.value,
                    soon.bound
                );
                cut_short += usize::from(soon.value < soon.bound);
            }
        }
        assert!(cut_short > 20, "patience ended only {cut_short} times");
    }
}
