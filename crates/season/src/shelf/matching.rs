//! The best assignment of trees to places where swapping costs nothing, and how it changes when one repot is barred.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::assign::Shelf;

/// No tree, no repot.
pub(super) const NONE: usize = usize::MAX;

/// Who may have which place: pots first, then one training place per tree. Costs are points taken from the best there is.
pub(super) struct Graph {
    start: Vec<usize>,
    pub(super) column: Vec<usize>,
    cost: Vec<i64>,
    points: Vec<i64>,
    tree: Vec<usize>,
    columns: usize,
}

impl Graph {
    pub(super) fn of(shelf: &Shelf) -> Graph {
        let trees = shelf.trees.len();
        let mut arcs: Vec<(usize, usize, i64)> =
            shelf.choices.iter().map(|choice| (choice.tree, choice.pot, choice.points)).collect();
        let training =
            |(at, tree): (usize, &super::assign::Tree)| Some((at, shelf.pots + at, tree.training?));
        arcs.extend(shelf.trees.iter().enumerate().filter_map(training));
        arcs.sort_unstable();
        let best = arcs.iter().map(|arc| arc.2).max().unwrap_or(0);
        let start = (0..=trees).map(|tree| arcs.partition_point(|arc| arc.0 < tree)).collect();
        Graph {
            start,
            column: arcs.iter().map(|arc| arc.1).collect(),
            cost: arcs.iter().map(|arc| best - arc.2).collect(),
            points: arcs.iter().map(|arc| arc.2).collect(),
            tree: arcs.iter().map(|arc| arc.0).collect(),
            columns: shelf.pots + trees,
        }
    }

    pub(super) fn trees(&self) -> usize {
        self.start.len() - 1
    }

    fn arcs(&self, tree: usize) -> std::ops::Range<usize> {
        self.start[tree]..self.start[tree + 1]
    }
}

/// An assignment with the prices that prove it best: no repot costs less than the prices of its tree and its place together,
/// and an empty place has the price 0, which is the highest.
#[derive(Clone)]
pub(super) struct Matching {
    /// The repot of each tree.
    pub(super) arc: Vec<usize>,
    inside: Vec<usize>,
    of_tree: Vec<i64>,
    of_place: Vec<i64>,
}

/// How a place was reached.
#[derive(Clone, Copy)]
enum By {
    /// By this repot.
    Arc(usize),
    /// Emptied instead of this empty place.
    Emptying(usize),
}

const FAR: i64 = i64::MAX / 4;

/// What a search for a path needs, kept between searches.
pub(super) struct Paths {
    far: Vec<i64>,
    by: Vec<By>,
    done: Vec<bool>,
    heap: BinaryHeap<Reverse<(i64, usize)>>,
    barred: Vec<bool>,
    shut: Vec<bool>,
}

impl Paths {
    pub(super) fn new(graph: &Graph) -> Paths {
        Paths {
            far: vec![FAR; graph.columns],
            by: vec![By::Emptying(NONE); graph.columns],
            done: vec![false; graph.columns],
            heap: BinaryHeap::new(),
            barred: vec![false; graph.column.len()],
            shut: vec![false; graph.columns],
        }
    }

    fn clear(&mut self) {
        self.far.fill(FAR);
        self.done.fill(false);
        self.heap.clear();
    }

    fn offer(&mut self, place: usize, far: i64, by: By) {
        if far < self.far[place] && !self.done[place] && !self.shut[place] {
            (self.far[place], self.by[place]) = (far, by);
            self.heap.push(Reverse((far, place)));
        }
    }

    /// The nearest place not yet seen.
    fn next(&mut self) -> Option<(i64, usize)> {
        while let Some(Reverse((far, place))) = self.heap.pop() {
            if !self.done[place] {
                self.done[place] = true;
                return Some((far, place));
            }
        }
        None
    }
}

impl Matching {
    /// The best assignment; none when some tree is left without a place.
    pub(super) fn best(graph: &Graph, paths: &mut Paths) -> Option<Matching> {
        let trees = graph.trees();
        let mut own = Matching {
            arc: vec![NONE; trees],
            inside: vec![NONE; graph.columns],
            of_tree: vec![0; trees],
            of_place: vec![0; graph.columns],
        };
        for tree in 0..trees {
            let cheapest = graph.arcs(tree).min_by_key(|&arc| graph.cost[arc])?;
            own.of_tree[tree] = graph.cost[cheapest];
            let same = graph.arcs(tree).filter(|&arc| graph.cost[arc] == graph.cost[cheapest]);
            if let Some(arc) = same.into_iter().find(|&arc| own.inside[graph.column[arc]] == NONE) {
                own.arc[tree] = arc;
                own.inside[graph.column[arc]] = tree;
            }
        }
        let waiting: Vec<usize> = (0..trees).filter(|&tree| own.arc[tree] == NONE).collect();
        waiting.into_iter().all(|tree| own.place(graph, paths, tree, None)).then_some(own)
    }

    /// The same without the last of `barred`, which is in it; `fixed` trees stay. None when a tree is left without a place.
    pub(super) fn without(
        &self,
        graph: &Graph,
        paths: &mut Paths,
        barred: &[usize],
        fixed: &[bool],
    ) -> Option<Matching> {
        let gone = *barred.last()?;
        let mut own = self.clone();
        let (tree, left) = (graph.tree[gone], graph.column[gone]);
        own.arc[tree] = NONE;
        own.inside[left] = NONE;
        let fixed: Vec<usize> = (0..fixed.len()).filter(|&tree| fixed[tree]).collect();
        let places: Vec<usize> = fixed.iter().map(|&tree| graph.column[own.arc[tree]]).collect();
        barred.iter().for_each(|&arc| paths.barred[arc] = true);
        places.iter().for_each(|&place| paths.shut[place] = true);
        let placed = own.place(graph, paths, tree, Some(left));
        barred.iter().for_each(|&arc| paths.barred[arc] = false);
        places.iter().for_each(|&place| paths.shut[place] = false);
        placed.then_some(own)
    }

    /// Points of all trees.
    pub(super) fn points(&self, graph: &Graph) -> i64 {
        self.arc.iter().map(|&arc| graph.points[arc]).sum()
    }

    /// Gives a tree without a place one, along the cheapest path of moves. The path ends at any empty place, or at `left`, the
    /// place that was just left and still bears its old price.
    fn place(&mut self, graph: &Graph, paths: &mut Paths, tree: usize, left: Option<usize>) -> bool {
        paths.clear();
        self.look(graph, paths, tree, 0);
        let mut emptied = None;
        let (end, whole) = loop {
            let Some((far, place)) = paths.next() else { return false };
            if left == Some(place) || (left.is_none() && self.inside[place] == NONE) {
                break (place, far);
            }
            let inside = self.inside[place];
            if inside != NONE {
                self.look(graph, paths, inside, far);
            } else if emptied.is_none() {
                emptied = Some(far);
                for other in 0..self.of_place.len() {
                    paths.offer(other, far - self.of_place[other], By::Emptying(place));
                }
            }
        };
        self.reprice(paths, tree, whole, emptied);
        self.walk_back(graph, paths, tree, end);
        true
    }

    fn look(&self, graph: &Graph, paths: &mut Paths, tree: usize, far: i64) {
        for arc in graph.arcs(tree) {
            if !paths.barred[arc] {
                let place = graph.column[arc];
                let step = graph.cost[arc] - self.of_tree[tree] - self.of_place[place];
                paths.offer(place, far + step, By::Arc(arc));
            }
        }
    }

    fn reprice(&mut self, paths: &Paths, tree: usize, whole: i64, emptied: Option<i64>) {
        self.of_tree[tree] += whole;
        for (place, &far) in paths.far.iter().enumerate() {
            if paths.done[place] && far < whole {
                self.of_place[place] -= whole - far;
                let inside = self.inside[place];
                if inside != NONE {
                    self.of_tree[inside] += whole - far;
                }
            }
        }
        if let Some(far) = emptied {
            // Empty places went down by this; all prices are shifted so that they stand at 0 again.
            let shift = whole - far;
            self.of_place.iter_mut().for_each(|price| *price += shift);
            self.of_tree.iter_mut().for_each(|price| *price -= shift);
        }
    }

    fn walk_back(&mut self, graph: &Graph, paths: &Paths, tree: usize, end: usize) {
        let mut place = end;
        loop {
            match paths.by[place] {
                By::Arc(arc) => {
                    let moved = graph.tree[arc];
                    let from = self.arc[moved];
                    self.arc[moved] = arc;
                    self.inside[place] = moved;
                    if moved == tree {
                        return;
                    }
                    place = graph.column[from];
                }
                By::Emptying(empty) => {
                    self.inside[place] = NONE;
                    place = empty;
                }
            }
        }
    }
}
