//! A shelf of pots shared out over its trees, with the order of the repots, told by the numbers of trees and pots.

use season::shelf::{
    assign::{self, Place, Shelf, plan},
    steps::{Step, Stuck, carry_out},
};

/// A step at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// A tree is lifted into a temporary box.
    Park {
        /// Which tree.
        tree: i64,
    },
    /// A tree is potted.
    Pot {
        /// Which tree.
        tree: i64,
        /// Into which pot; none for a training pot.
        into: Option<i64>,
    },
}

/// The best plan of a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shared {
    /// Its points, less the price of the rings of swaps.
    pub value: i64,
    /// Whether no better plan exists.
    pub proven: bool,
    /// No plan has more points.
    pub bound: i64,
    /// Its points if swaps in a ring cost nothing.
    pub free_swaps: i64,
    /// Rings of swaps.
    pub rings: usize,
    /// The most temporary boxes in use at once.
    pub boxes: usize,
    /// Each tree with its pot; none for a training pot.
    pub into: Vec<(i64, Option<i64>)>,
    /// The order of the repots.
    pub steps: Vec<Move>,
    /// How many part-plans were looked at.
    pub looked_at: usize,
}

/// Why a shelf was not shared out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotShared {
    /// The shelf cannot be, or not all its trees can be placed.
    #[error(transparent)]
    Shelf(#[from] assign::Error),
    /// The order cannot be carried out.
    #[error("the order cannot be carried out: {0}")]
    Order(#[from] Stuck),
}

/// Shares a shelf out; `trees` and `pots` are the numbers by which its trees and pots are told, in its order.
///
/// # Errors
///
/// [`NotShared`], with the tree and the pot.
pub fn shared_out(shelf: &Shelf, trees: &[i64], pots: &[i64]) -> Result<Shared, NotShared> {
    let told = plan(shelf)?;
    let done = carry_out(shelf, &told.steps)?;
    let pot = |place: Place| match place {
        Place::Pot(pot) => Some(pots[pot]),
        Place::Training => None,
    };
    Ok(Shared {
        value: told.value,
        proven: told.proven(),
        bound: told.bound,
        free_swaps: told.free_swaps,
        rings: told.rings,
        boxes: done.boxes,
        into: trees.iter().copied().zip(told.into.iter().map(|&place| pot(place))).collect(),
        steps: told
            .steps
            .iter()
            .map(|step| match *step {
                Step::Park { tree } => Move::Park { tree: trees[tree] },
                Step::Pot { tree, into } => Move::Pot { tree: trees[tree], into: pot(into) },
            })
            .collect(),
        looked_at: told.looked_at,
    })
}
