//! When each pot comes free, by the order of the repots and the window of each tree.

use jiff::civil::Date;

use super::Offered;
use crate::shelf::{
    assign::{Place, Plan},
    steps::{Step, in_order_from},
};

/// Why a pot is free from then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FreeWhy {
    /// No tree stands in it.
    Empty,
    /// Its tree is lifted then.
    Lifted {
        /// Which tree, as in the shelf.
        tree: usize,
    },
    /// Its tree keeps it.
    Kept {
        /// Which tree, as in the shelf.
        tree: usize,
    },
    /// Its tree is lifted, but nobody knows when.
    NoWindow {
        /// Which tree has no window, as in the shelf.
        tree: usize,
    },
}

/// When a pot comes free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Free {
    /// Which pot, as in the shelf.
    pub pot: usize,
    /// From when on; none where it is kept, where nobody knows, and where it is free already.
    pub when: Option<Date>,
    /// Why.
    pub why: FreeWhy,
}

/// The days of a tree: when it is lifted, and when it is potted at the earliest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Turn {
    /// Which tree, as in the shelf.
    pub tree: usize,
    /// Lifted; before it is potted where it waits in a box.
    pub lifted: Option<Date>,
    /// Potted: not before its window begins, nor before its pot is free; none where a window is not known.
    pub potted: Option<Date>,
    /// Its pot comes free only after its window has ended. A tree that waits in a box is not late: its roots were cut as it was lifted.
    pub is_late: bool,
    /// It waits in a box from the day it is lifted to the day it is potted.
    pub waits_in_box: bool,
}

/// When each tree has its turn and each pot comes free.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turns {
    /// Tree by tree, as in the shelf.
    pub trees: Vec<Turn>,
    /// Pot by pot, as in the shelf.
    pub pots: Vec<Free>,
}

/// When each pot comes free, as the steps of the plan follow each other, given the window of each tree of the shelf.
///
/// A tree is potted on the first day of its window, or when the pot it waits for is free, should that be later. In a ring the tree
/// whose window opens first goes into a box on that day: its roots are cut then, in its own time, and it waits there for its pot.
pub fn comes_free(offered: &Offered, plan: &Plan, windows: &[Option<(Date, Date)>]) -> Turns {
    let window = |tree: usize| windows.get(tree).copied().flatten();
    let start = |tree: usize| window(tree).map(|it| it.0);
    let occupants = offered.shelf.trees.iter().enumerate().filter_map(|(at, it)| Some((it.stands_in?, at)));
    let mut pots: Vec<Free> =
        (0..offered.shelf.pots).map(|pot| Free { pot, when: None, why: FreeWhy::Empty }).collect();
    for (pot, tree) in occupants {
        pots[pot].why = FreeWhy::Kept { tree };
    }
    let turn = |tree| Turn { tree, lifted: None, potted: None, is_late: false, waits_in_box: false };
    let mut trees: Vec<Turn> = (0..offered.shelf.trees.len()).map(turn).collect();
    for step in in_order_from(&offered.shelf, &plan.into, |ring| opens_first(ring, window)) {
        match step {
            Step::Park { tree } => {
                trees[tree].waits_in_box = true;
                trees[tree].lifted = start(tree);
                leave(offered, &mut pots, tree, start(tree));
            }
            Step::Pot { tree, into } => {
                let own = offered.shelf.trees[tree].stands_in;
                let stays = matches!(into, Place::Pot(pot) if own == Some(pot));
                let ready = match into {
                    Place::Pot(pot) if !stays => when(&pots[pot], start(tree)),
                    _ => start(tree),
                };
                trees[tree].potted = ready;
                if !trees[tree].waits_in_box {
                    trees[tree].is_late = ready.zip(window(tree)).is_some_and(|(day, (_, end))| day > end);
                    trees[tree].lifted = ready;
                    if !stays {
                        leave(offered, &mut pots, tree, ready);
                    }
                }
            }
        }
    }
    Turns { trees, pots }
}

/// The place in a ring of the tree whose window opens first; of two that open on one day, the one that closes first.
fn opens_first(ring: &[usize], window: impl Fn(usize) -> Option<(Date, Date)>) -> usize {
    let rank = |at: &usize| (window(ring[*at]).is_none(), window(ring[*at]), *at);
    (0..ring.len()).min_by_key(rank).unwrap_or(0)
}

/// The later of the tree's own start and the day on which the pot is free; none where either is not known.
fn when(pot: &Free, start: Option<Date>) -> Option<Date> {
    match pot.why {
        FreeWhy::Empty => start,
        FreeWhy::Lifted { .. } => pot.when.zip(start).map(|(free, start)| free.max(start)),
        FreeWhy::Kept { .. } | FreeWhy::NoWindow { .. } => None,
    }
}

/// A tree leaves its pot.
fn leave(offered: &Offered, pots: &mut [Free], tree: usize, day: Option<Date>) {
    if let Some(pot) = offered.shelf.trees[tree].stands_in {
        pots[pot].when = day;
        pots[pot].why = if day.is_some() { FreeWhy::Lifted { tree } } else { FreeWhy::NoWindow { tree } };
    }
}
