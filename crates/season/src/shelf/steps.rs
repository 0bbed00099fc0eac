//! The order of the repots, and a bench that carries them out and refuses what cannot be done.

use super::{
    assign::{Place, Plan, Shelf},
    search::rings_of,
};

/// A step at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Lift the tree into a temporary box; its pot is free.
    Park {
        /// Which tree.
        tree: usize,
    },
    /// Pot the tree.
    Pot {
        /// Which tree.
        tree: usize,
        /// Into what.
        into: Place,
    },
}

/// Why a step cannot be carried out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Stuck {
    /// There is no such tree or pot.
    #[error("step {step} names a tree or a pot that is not there")]
    NoSuch {
        /// Which step, from 0.
        step: usize,
    },
    /// Another tree stands in the pot.
    #[error("step {step}: tree {other} still stands in pot {pot}")]
    PotTaken {
        /// Which step, from 0.
        step: usize,
        /// The pot.
        pot: usize,
        /// Who stands in it.
        other: usize,
    },
    /// The tree may not have the place.
    #[error("step {step}: tree {tree} may not have that place")]
    NotAllowed {
        /// Which step, from 0.
        step: usize,
        /// The tree.
        tree: usize,
    },
    /// The tree has been potted already, or stands in a box already.
    #[error("step {step}: tree {tree} has been moved already")]
    Again {
        /// Which step, from 0.
        step: usize,
        /// The tree.
        tree: usize,
    },
    /// Every temporary box is taken.
    #[error("step {step}: no temporary box is left")]
    NoBox {
        /// Which step, from 0.
        step: usize,
    },
    /// A tree was left out.
    #[error("tree {tree} was never potted")]
    LeftOut {
        /// The tree.
        tree: usize,
    },
}

/// The trees of each ring of swaps: each waits for the next to leave its pot.
pub fn rings(shelf: &Shelf, into: &[Place]) -> Vec<Vec<usize>> {
    let occupants = shelf.occupants();
    rings_of(into.len(), |tree| waits_for(&occupants, into, tree))
}

fn waits_for(occupants: &[Option<usize>], into: &[Place], tree: usize) -> Option<usize> {
    match into[tree] {
        Place::Pot(pot) => occupants[pot].filter(|&other| other != tree),
        Place::Training => None,
    }
}

/// The order in which the repots can be done: each chain from the end whose pot is free, each ring after a tree of it was
/// lifted into a box; one box serves all rings.
pub fn in_order(shelf: &Shelf, into: &[Place]) -> Vec<Step> {
    in_order_from(shelf, into, |_| 0)
}

/// As [`in_order`], with the place in each ring of the tree that is lifted into a box.
pub fn in_order_from(shelf: &Shelf, into: &[Place], parked: impl Fn(&[usize]) -> usize) -> Vec<Step> {
    let occupants = shelf.occupants();
    let mut steps = Vec::new();
    let mut done = vec![false; into.len()];
    for mut ring in rings(shelf, into) {
        let start = parked(&ring).min(ring.len().saturating_sub(1));
        ring.rotate_left(start);
        // The first waits for the second, so the work runs from the last of the ring back to the first.
        let Some((&first, rest)) = ring.split_first() else { continue };
        steps.push(Step::Park { tree: first });
        for &tree in rest.iter().rev().chain([&first]) {
            steps.push(Step::Pot { tree, into: into[tree] });
            done[tree] = true;
        }
    }
    for tree in 0..into.len() {
        let mut chain = Vec::new();
        let mut at = Some(tree);
        while let Some(tree) = at.filter(|&tree| !done[tree]) {
            done[tree] = true;
            chain.push(tree);
            at = waits_for(&occupants, into, tree);
        }
        steps.extend(chain.into_iter().rev().map(|tree| Step::Pot { tree, into: into[tree] }));
    }
    steps
}

/// What carrying out the steps comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// Where each tree stands at the end.
    pub into: Vec<Place>,
    /// Points of all trees, less the price of each time that a tree was parked.
    pub value: i64,
    /// The most temporary boxes in use at once.
    pub boxes: usize,
}

/// Carries out the steps on the shelf, one by one.
///
/// # Errors
///
/// [`Stuck`] at the first step that cannot be done, or when a tree is left out.
///
/// # Example
///
/// ```
/// use season::shelf::{assign::{Choice, Place, Shelf, Tree}, steps::{Step, Stuck, carry_out}};
///
/// let tree = |pot| Tree { stands_in: Some(pot), training: Some(10) };
/// let shelf = Shelf {
///     trees: vec![tree(0), tree(1)],
///     pots: 2,
///     choices: vec![Choice { tree: 0, pot: 1, points: 50 }],
///     ring_price: 25,
///     boxes: 0,
/// };
/// let out = Step::Pot { tree: 1, into: Place::Training };
/// let over = Step::Pot { tree: 0, into: Place::Pot(1) };
/// assert_eq!(carry_out(&shelf, &[out, over])?.value, 60);
/// assert_eq!(carry_out(&shelf, &[over, out]), Err(Stuck::PotTaken { step: 0, pot: 1, other: 1 }));
/// # Ok::<(), Stuck>(())
/// ```
pub fn carry_out(shelf: &Shelf, steps: &[Step]) -> Result<Done, Stuck> {
    let mut inside = shelf.occupants();
    let mut parked = vec![false; shelf.trees.len()];
    let mut into: Vec<Option<Place>> = vec![None; shelf.trees.len()];
    let points = points(shelf, steps);
    let (mut value, mut boxes, mut most) = (0, 0, 0);
    for (step, &done) in steps.iter().enumerate() {
        let (Step::Park { tree } | Step::Pot { tree, .. }) = done;
        let one = shelf.trees.get(tree).ok_or(Stuck::NoSuch { step })?;
        if into[tree].is_some() {
            return Err(Stuck::Again { step, tree });
        }
        // The tree leaves its pot as it is lifted, unless it was parked before.
        if let Some(pot) = one.stands_in.filter(|_| !parked[tree]) {
            inside[pot] = None;
        }
        match done {
            Step::Park { .. } if parked[tree] => return Err(Stuck::Again { step, tree }),
            Step::Park { .. } if boxes == shelf.boxes => return Err(Stuck::NoBox { step }),
            Step::Park { .. } => {
                (parked[tree], boxes, value) = (true, boxes + 1, value - shelf.ring_price);
                most = most.max(boxes);
            }
            Step::Pot { into: place, .. } => {
                value += points[tree].ok_or(Stuck::NotAllowed { step, tree })?;
                if let Place::Pot(pot) = place
                    && let Some(other) = inside[pot].replace(tree)
                {
                    return Err(Stuck::PotTaken { step, pot, other });
                }
                boxes -= usize::from(parked[tree]);
                into[tree] = Some(place);
            }
        }
    }
    let left_out = into.iter().position(Option::is_none);
    match left_out {
        Some(tree) => Err(Stuck::LeftOut { tree }),
        None => Ok(Done { into: into.into_iter().flatten().collect(), value, boxes: most }),
    }
}

/// The points of each tree in the place into which it is potted first; none where it may not have that place. The choices are
/// gone through once, however many the steps.
fn points(shelf: &Shelf, steps: &[Step]) -> Vec<Option<i64>> {
    let mut points = vec![None; shelf.trees.len()];
    let mut pot_of = vec![None; shelf.trees.len()];
    for step in steps.iter().rev() {
        if let &Step::Pot { tree, into } = step
            && tree < points.len()
        {
            (points[tree], pot_of[tree]) = match into {
                Place::Training => (shelf.trees[tree].training, None),
                Place::Pot(pot) => (None, Some(pot)),
            };
        }
    }
    for choice in shelf.choices.iter().rev() {
        if pot_of.get(choice.tree) == Some(&Some(choice.pot)) {
            points[choice.tree] = Some(choice.points);
        }
    }
    points
}

impl Plan {
    /// The trees that wait for each other in a ring, each ring by itself.
    pub fn rings_of(&self, shelf: &Shelf) -> Vec<Vec<usize>> {
        rings(shelf, &self.into)
    }
}
