//! Pots to trees across one season: the best sum of fits, with every ring of swaps paid for.

use super::{
    graph::Graph,
    search::{Found, search},
    steps::{Step, in_order, rings},
};

/// A tree that is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tree {
    /// The pot of the shelf in which it stands until it is lifted; none when it stands in a box or in the ground.
    pub stands_in: Option<usize>,
    /// Points for a training pot, of which there are enough; none when no training pot will do.
    pub training: Option<i64>,
}

/// A pot that a tree may have: it passes the hard limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Which tree.
    pub tree: usize,
    /// Which pot.
    pub pot: usize,
    /// How well they suit each other.
    pub points: i64,
}

/// The trees that are due, the pots, and who may have which.
///
/// A pot in which a tree stands that is not due this season belongs to no choice.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    /// The trees that are due.
    pub trees: Vec<Tree>,
    /// How many pots there are.
    pub pots: usize,
    /// Who may have which; a tree may keep its own pot only where that stands here too.
    pub choices: Vec<Choice>,
    /// Points that a ring of swaps costs: its first tree is potted twice.
    pub ring_price: i64,
    /// The most rings of swaps: each takes a temporary box.
    pub boxes: usize,
}

/// Where a tree goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// A pot of the shelf.
    Pot(usize),
    /// A training pot.
    Training,
}

/// Who gets which pot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Where each tree goes.
    pub into: Vec<Place>,
    /// Points of all trees, less the price of the rings.
    pub value: i64,
    /// No plan has more than this.
    pub bound: i64,
    /// What the points would be if swapping in a ring cost nothing.
    pub free_swaps: i64,
    /// Rings of swaps, each needing a temporary box for a while.
    pub rings: usize,
    /// The order of the repots.
    pub steps: Vec<Step>,
    /// How many part-plans were looked at.
    pub looked_at: usize,
}

impl Plan {
    /// Whether no better plan exists.
    pub fn proven(&self) -> bool {
        self.value == self.bound
    }
}

/// Why there is no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Error {
    /// A choice or a tree names a pot that is not there.
    #[error("tree {tree} names pot {pot}, but there are {pots} pots")]
    NoSuchPot {
        /// Which tree.
        tree: usize,
        /// The pot that it names.
        pot: usize,
        /// How many there are.
        pots: usize,
    },
    /// A choice names a tree that is not there.
    #[error("a choice names tree {tree}, but there are {trees} trees")]
    NoSuchTree {
        /// The tree that it names.
        tree: usize,
        /// How many there are.
        trees: usize,
    },
    /// Two trees are said to stand in one pot.
    #[error("trees {first} and {second} both stand in pot {pot}")]
    TwoInOnePot {
        /// The one.
        first: usize,
        /// The other.
        second: usize,
        /// The pot.
        pot: usize,
    },
    /// The same pot stands twice among the choices of one tree.
    #[error("pot {pot} stands twice among the choices of tree {tree}")]
    SaidTwice {
        /// Which tree.
        tree: usize,
        /// Which pot.
        pot: usize,
    },
    /// Points beyond what can be summed.
    #[error("{0} points are more than a plan can sum; at most {MOST} either way")]
    Points(i64),
    /// A ring of swaps must not be paid for being there.
    #[error("a ring of swaps costs {0} points; it must not be below 0")]
    RingPrice(i64),
    /// Two trees were promised one pot.
    #[error("pot {pot} is promised to tree {first} and to tree {second}")]
    PromisedTwice {
        /// The pot.
        pot: usize,
        /// To one.
        first: usize,
        /// And to the other.
        second: usize,
    },
    /// A tree was promised a pot that it may not have.
    #[error("tree {tree} was promised pot {pot}, which it may not have")]
    NoSuchChoice {
        /// The tree.
        tree: usize,
        /// The pot.
        pot: usize,
    },
    /// Some tree is left without any place.
    #[error("the trees cannot all be given a place with {boxes} temporary boxes")]
    NoPlace {
        /// Temporary boxes.
        boxes: usize,
    },
}

/// The most points of a choice, either way.
pub const MOST: i64 = 1_000_000_000;

/// Part-plans times choices after which the best plan so far is given, with the bound that still stands; a few seconds' worth.
const PATIENCE: usize = 20_000_000;

/// The best plan for the whole shelf, and the order of its repots.
///
/// ```text
/// max Σ points(tree, pot) − price·rings,   each tree one place, each pot at most one tree, rings ≤ boxes
/// ```
///
/// A pot is free only when its present tree has left it. That needs no rule of its own: a tree that keeps its pot is the one
/// tree of that pot, and any other leaves it in the order of the steps. Where the order runs in a ring, one tree of it waits in
/// a temporary box; one box serves all rings, worked one after another.
///
/// The best plan with free swaps is an assignment; it is found by shortest augmenting paths. Each ring in it is then either paid
/// for or broken at one of its repots, best first, until no part-plan can beat the best whole one. Points are whole numbers, so
/// nothing is rounded. With a few free pots on the shelf a ring is soon broken. Where every pot is taken and every tree must swap,
/// the proof may take longer than anyone waits: then the best plan so far is given, with the bound that still stands.
///
/// # Errors
///
/// [`Error`] when the shelf contradicts itself, or some tree is left without a place.
///
/// # Example
///
/// ```
/// use season::shelf::assign::{Choice, Place, Shelf, Tree, plan};
///
/// // Two trees would swap their pots; with a free pot on the shelf the swap still needs a box.
/// let tree = |pot| Tree { stands_in: Some(pot), training: Some(10) };
/// let choice = |tree, pot, points| Choice { tree, pot, points };
/// let shelf = Shelf {
///     trees: vec![tree(0), tree(1)],
///     pots: 3,
///     choices: vec![choice(0, 1, 100), choice(1, 0, 100), choice(1, 2, 60)],
///     ring_price: 25,
///     boxes: 1,
/// };
/// let best = plan(&shelf)?;
/// assert_eq!((best.value, best.rings, best.proven()), (175, 1, true));
/// let dear = plan(&Shelf { ring_price: 50, ..shelf })?;
/// assert_eq!((dear.value, dear.into), (160, vec![Place::Pot(1), Place::Pot(2)]));
/// # Ok::<(), season::shelf::assign::Error>(())
/// ```
pub fn plan(shelf: &Shelf) -> Result<Plan, Error> {
    plan_with(shelf, (PATIENCE / shelf.choices.len().max(1)).clamp(200, 100_000))
}

/// As [`plan`], looking at so many part-plans at most.
///
/// # Errors
///
/// As [`plan`].
pub fn plan_with(shelf: &Shelf, patience: usize) -> Result<Plan, Error> {
    shelf.checked()?;
    let graph = Graph::of(shelf);
    let no_place = Error::NoPlace { boxes: shelf.boxes };
    let Found { columns, value, bound, free_swaps, looked_at } =
        search(&graph, shelf, patience).ok_or(no_place)?;
    let into: Vec<Place> = columns
        .iter()
        .map(|&column| if column < shelf.pots { Place::Pot(column) } else { Place::Training })
        .collect();
    let rings = rings(shelf, &into).len();
    let steps = in_order(shelf, &into);
    Ok(Plan { into, value, bound, free_swaps, rings, steps, looked_at })
}

impl Shelf {
    /// The tree that stands in each pot.
    pub(super) fn occupants(&self) -> Vec<Option<usize>> {
        let mut inside = vec![None; self.pots];
        for (at, tree) in self.trees.iter().enumerate() {
            if let Some(pot) = tree.stands_in {
                inside[pot] = Some(at);
            }
        }
        inside
    }

    /// Whether the choices stand tree by tree and pot by pot, each once, so that nothing needs sorting.
    pub(super) fn in_order(&self) -> bool {
        self.choices.is_sorted_by(|one, next| (one.tree, one.pot) < (next.tree, next.pot))
    }

    fn each_once(&self) -> Result<(), Error> {
        if self.in_order() {
            return Ok(());
        }
        let mut pairs: Vec<(usize, usize)> =
            self.choices.iter().map(|choice| (choice.tree, choice.pot)).collect();
        pairs.sort_unstable();
        match pairs.windows(2).find(|pair| pair[0] == pair[1]) {
            Some(same) => Err(Error::SaidTwice { tree: same[0].0, pot: same[0].1 }),
            None => Ok(()),
        }
    }

    /// Refuses a shelf that contradicts itself.
    ///
    /// # Errors
    ///
    /// [`Error`], with the tree and the pot.
    pub fn checked(&self) -> Result<(), Error> {
        let pots = self.pots;
        let mut inside: Vec<Option<usize>> = vec![None; pots];
        for (tree, one) in self.trees.iter().enumerate() {
            if let Some(points) = one.training.filter(|points| points.abs() > MOST) {
                return Err(Error::Points(points));
            }
            let Some(pot) = one.stands_in else { continue };
            if pot >= pots {
                return Err(Error::NoSuchPot { tree, pot, pots });
            }
            if let Some(first) = inside[pot].replace(tree) {
                return Err(Error::TwoInOnePot { first, second: tree, pot });
            }
        }
        for &Choice { tree, pot, points } in &self.choices {
            if tree >= self.trees.len() {
                return Err(Error::NoSuchTree { tree, trees: self.trees.len() });
            }
            if pot >= pots {
                return Err(Error::NoSuchPot { tree, pot, pots });
            }
            if points.abs() > MOST {
                return Err(Error::Points(points));
            }
        }
        self.each_once()?;
        if self.ring_price < 0 {
            return Err(Error::RingPrice(self.ring_price));
        }
        if self.ring_price > MOST { Err(Error::Points(self.ring_price)) } else { Ok(()) }
    }
}
