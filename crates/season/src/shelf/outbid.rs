//! A first assignment: each tree takes the place that is best for it and raises its price, so that few are left to place.

use super::{
    graph::{Graph, NONE},
    matching::Matching,
};

/// Bids for each tree after which those still without a place are left to the search for paths: a war of small bids may last
/// as long as points are large.
const BIDS_PER_TREE: usize = 8;

/// The two best places of a tree at the prices of the day.
struct Bid {
    arc: usize,
    cost: i64,
    /// The second best: its repot, and what it costs more; none when there is only one place.
    second: Option<(usize, i64)>,
}

/// Prices to begin with: 0, as befits a place that may stay empty. Where there are no more places than trees, each will be taken, and
/// begins at what it costs the tree that it costs least (the column reduction of the same authors).
fn first_prices(graph: &Graph) -> Vec<i64> {
    const FAR: i64 = i64::MAX;
    let mut least = vec![FAR; graph.columns()];
    for (_, place, cost) in (0..graph.trees()).flat_map(|tree| graph.of_tree(tree)) {
        least[place] = least[place].min(cost);
    }
    let none_to_spare = least.iter().filter(|&&cost| cost != FAR).count() <= graph.trees();
    least.into_iter().map(|cost| if none_to_spare && cost != FAR { cost } else { 0 }).collect()
}

impl Matching {
    /// Trees placed by outbidding each other (the augmenting row reduction of Jonker and Volgenant 1987): each tree takes the
    /// place that costs it least, and makes it dearer by as much as its second best costs more; who stood there bids again.
    /// Some are left over, mostly where two places cost the same. None when a tree may have no place at all.
    ///
    /// Only places that are taken are made dearer, so that all that must hold of prices holds.
    pub(super) fn outbidding(graph: &Graph) -> Option<Matching> {
        let trees = graph.trees();
        let mut own = Matching {
            arc: vec![NONE; trees],
            inside: vec![NONE; graph.columns()],
            of_tree: vec![0; trees],
            of_place: first_prices(graph),
        };
        let mut bids = BIDS_PER_TREE * trees;
        let mut waiting: Vec<usize> = (0..trees).rev().collect();
        for _ in 0..2 {
            let mut left_over = Vec::new();
            while let Some(tree) = waiting.pop() {
                let bid = own.bid_of(graph, tree)?;
                if bids == 0 {
                    left_over.push(tree);
                    continue;
                }
                bids -= 1;
                own.take(graph, tree, &bid, (&mut waiting, &mut left_over));
            }
            left_over.reverse();
            waiting = left_over;
        }
        for tree in 0..trees {
            let bid = own.bid_of(graph, tree)?;
            own.of_tree[tree] = bid.cost;
        }
        Some(own)
    }

    /// All prices shifted so that none lies above 0, as they must stand for the search of paths through an emptied place.
    pub(super) fn with_prices_to_zero(mut self) -> Matching {
        let shift = self.of_place.iter().copied().max().unwrap_or(0).max(0);
        for (price, &inside) in self.of_place.iter_mut().zip(&self.inside) {
            *price -= if inside == NONE { 0 } else { shift };
        }
        self.of_tree.iter_mut().for_each(|price| *price += shift);
        self
    }

    /// Puts the tree into its best place; whoever stood there bids at once if that place became dearer, else in the next round.
    fn take(
        &mut self,
        graph: &Graph,
        tree: usize,
        bid: &Bid,
        (waiting, left_over): (&mut Vec<usize>, &mut Vec<usize>),
    ) {
        let Bid { mut arc, second, .. } = *bid;
        let mut dearer = 0;
        match second {
            Some((_, more)) if more > 0 => dearer = more,
            Some((other, _)) if self.inside[graph.column(arc)] != NONE => arc = other,
            _ => {}
        }
        let place = graph.column(arc);
        let before = std::mem::replace(&mut self.inside[place], tree);
        self.of_place[place] -= dearer;
        self.arc[tree] = arc;
        if before != NONE {
            self.arc[before] = NONE;
            if dearer > 0 { waiting.push(before) } else { left_over.push(before) }
        }
    }

    fn bid_of(&self, graph: &Graph, tree: usize) -> Option<Bid> {
        const FAR: i64 = i64::MAX;
        let ((mut arc, mut least), (mut other, mut next)) = ((NONE, FAR), (NONE, FAR));
        for (at, place, cost) in graph.of_tree(tree) {
            let cost = cost - self.of_place[place];
            if cost < next {
                if cost < least {
                    (other, next) = (arc, least);
                    (arc, least) = (at, cost);
                } else {
                    (other, next) = (at, cost);
                }
            }
        }
        let second = (other != NONE).then(|| (other, next - least));
        (arc != NONE).then_some(Bid { arc, cost: least, second })
    }
}
