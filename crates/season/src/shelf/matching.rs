//! The best assignment of trees to places where swapping costs nothing, and how it changes when one repot is barred.

use std::{cmp::Reverse, collections::BinaryHeap};

use super::graph::{Graph, NONE};

/// An assignment with the prices that prove it best: no repot costs less than the prices of its tree and its place together,
/// and an empty place has the price 0, which is the highest.
#[derive(Clone)]
pub(super) struct Matching {
    /// The repot of each tree.
    pub(super) arc: Vec<usize>,
    pub(super) inside: Vec<usize>,
    pub(super) of_tree: Vec<i64>,
    pub(super) of_place: Vec<i64>,
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

/// Farther down than any place lies, so that a place that is shut is never reached more cheaply.
const SHUT: i64 = i64::MIN;

/// How far a place lies along the paths found so far, beside its price.
#[derive(Clone, Copy)]
struct Near {
    far: i64,
    price: i64,
}

/// What a search for a path needs, kept between searches.
pub(super) struct Paths {
    near: Vec<Near>,
    by: Vec<By>,
    done: Vec<bool>,
    heap: BinaryHeap<Reverse<(i64, usize)>>,
    /// The nearest end reached so far, and how far it is: no path as long is of use.
    end: usize,
    limit: i64,
    /// Repots that may not be used; few.
    barred: Vec<usize>,
    shut: Vec<usize>,
}

impl Paths {
    pub(super) fn new(graph: &Graph) -> Paths {
        Paths {
            near: vec![Near { far: FAR, price: 0 }; graph.columns()],
            by: vec![By::Emptying(NONE); graph.columns()],
            done: vec![false; graph.columns()],
            heap: BinaryHeap::new(),
            end: NONE,
            limit: FAR,
            barred: Vec::new(),
            shut: Vec::new(),
        }
    }

    fn clear(&mut self, prices: &[i64]) {
        for (near, &price) in self.near.iter_mut().zip(prices) {
            *near = Near { far: FAR, price };
        }
        self.done.fill(false);
        self.heap.clear();
        self.limit = FAR;
        for &place in &self.shut {
            self.near[place].far = SHUT;
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
        let mut own = Matching::outbidding(graph)?;
        let waiting: Vec<usize> = (0..graph.trees()).filter(|&tree| own.arc[tree] == NONE).collect();
        waiting.into_iter().all(|tree| own.place(graph, paths, tree, None)).then(|| own.with_prices_to_zero())
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
        let (tree, left) = (graph.tree(gone), graph.column(gone));
        own.arc[tree] = NONE;
        own.inside[left] = NONE;
        let fixed = (0..fixed.len()).filter(|&tree| fixed[tree]);
        paths.shut.extend(fixed.map(|tree| graph.column(own.arc[tree])));
        paths.barred.extend_from_slice(barred);
        let placed = own.place(graph, paths, tree, Some(left));
        paths.shut.clear();
        paths.barred.clear();
        placed.then_some(own)
    }

    /// Points of all trees.
    pub(super) fn points(&self, graph: &Graph) -> i64 {
        self.arc.iter().map(|&arc| graph.points(arc)).sum()
    }

    /// Gives a tree without a place one, along the cheapest path of moves. The path ends at any empty place, or at `left`, the
    /// place that was just left and still bears its old price.
    fn place(&mut self, graph: &Graph, paths: &mut Paths, tree: usize, left: Option<usize>) -> bool {
        paths.clear(&self.of_place);
        self.look(graph, paths, (tree, 0), left);
        let mut emptied = None;
        let (end, whole) = loop {
            let Some((far, place)) = paths.next() else { return false };
            if far >= paths.limit {
                break (paths.end, paths.limit);
            }
            let inside = self.inside[place];
            if inside != NONE {
                self.look(graph, paths, (inside, far), left);
            } else if emptied.is_none() {
                emptied = Some(far);
                for other in 0..self.of_place.len() {
                    let step = far - self.of_place[other];
                    self.offer(paths, other, (step, By::Emptying(place)), left);
                }
            }
        };
        self.reprice(paths, tree, whole, emptied);
        self.walk_back(graph, paths, tree, end);
        true
    }

    /// Whether a path may end here.
    fn ends(&self, place: usize, left: Option<usize>) -> bool {
        left.map_or(self.inside[place] == NONE, |left| left == place)
    }

    #[inline]
    fn offer(&self, paths: &mut Paths, place: usize, (far, by): (i64, By), left: Option<usize>) {
        if far < paths.limit && far < paths.near[place].far {
            (paths.near[place].far, paths.by[place]) = (far, by);
            paths.heap.push(Reverse((far, place)));
            if self.ends(place, left) {
                (paths.limit, paths.end) = (far, place);
            }
        }
    }

    /// Offers all repots of a tree that stands so far down the path.
    fn look(&self, graph: &Graph, paths: &mut Paths, (tree, far): (usize, i64), left: Option<usize>) {
        let so_far = far - self.of_tree[tree];
        for (arc, place, cost) in graph.of_tree(tree) {
            let near = paths.near[place];
            let far = so_far + cost - near.price;
            if far < near.far && far < paths.limit && !paths.barred.contains(&arc) {
                self.offer(paths, place, (far, By::Arc(arc)), left);
            }
        }
    }

    fn reprice(&mut self, paths: &Paths, tree: usize, whole: i64, emptied: Option<i64>) {
        self.of_tree[tree] += whole;
        for (place, far) in paths.near.iter().map(|near| near.far).enumerate() {
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
                    let moved = graph.tree(arc);
                    let from = self.arc[moved];
                    self.arc[moved] = arc;
                    self.inside[place] = moved;
                    if moved == tree {
                        return;
                    }
                    place = graph.column(from);
                }
                By::Emptying(empty) => {
                    self.inside[place] = NONE;
                    place = empty;
                }
            }
        }
    }
}
