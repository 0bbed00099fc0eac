//! What a bought pot, or one that breaks, would change.

use super::assign::{Choice, Error, Plan, Shelf, plan};

/// The plan with a pot more, beside the plan without.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bought {
    /// As the shelf stands.
    pub before: Plan,
    /// With the pot, which has the last number.
    pub after: Plan,
    /// Trees that would go elsewhere.
    pub moved: Vec<usize>,
}

impl Bought {
    /// Points that the pot would add.
    pub fn gain(&self) -> i64 {
        self.after.value - self.before.value
    }
}

/// What the shelf would be like with one more pot, given its points for each tree that may have it.
///
/// # Errors
///
/// As [`plan`].
///
/// # Example
///
/// ```
/// use season::shelf::{assign::{Choice, Shelf, Tree}, what_if::bought};
///
/// let tree = Tree { stands_in: None, training: Some(2) };
/// let choices = vec![Choice { tree: 0, pot: 0, points: 9 }, Choice { tree: 1, pot: 0, points: 8 }];
/// let shelf = Shelf { trees: vec![tree; 2], pots: 1, choices, ring_price: 0, boxes: 0 };
/// let told = bought(&shelf, &[(0, 7)])?;
/// assert_eq!((told.gain(), told.moved), (4, vec![0, 1]));
/// # Ok::<(), season::shelf::assign::Error>(())
/// ```
pub fn bought(shelf: &Shelf, points: &[(usize, i64)]) -> Result<Bought, Error> {
    let before = plan(shelf)?;
    let mut more = shelf.clone();
    let pot = more.pots;
    more.pots += 1;
    more.choices.extend(points.iter().map(|&(tree, points)| Choice { tree, pot, points }));
    let after = plan(&more)?;
    let moved = (0..before.into.len()).filter(|&tree| before.into[tree] != after.into[tree]).collect();
    Ok(Bought { before, after, moved })
}
