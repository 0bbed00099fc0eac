//! The grower's word on a pot: promised, kept for, never.

use super::assign::{Choice, Error, Shelf};

/// A word on a pot and a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// The tree gets this pot and no other.
    Promised {
        /// Which tree.
        tree: usize,
        /// Which pot.
        pot: usize,
    },
    /// No other tree gets this pot; the tree may still get a better one.
    KeptFor {
        /// Which tree.
        tree: usize,
        /// Which pot.
        pot: usize,
    },
    /// The pot leaves the shelf this season: lent, sold, broken, or wanted elsewhere.
    Withheld {
        /// Which pot.
        pot: usize,
    },
    /// The tree does not get this pot.
    Never {
        /// Which tree.
        tree: usize,
        /// Which pot.
        pot: usize,
    },
}

/// The shelf as it stands after the grower's word: the choices that remain.
///
/// # Errors
///
/// [`Error::PromisedTwice`] when a pot is promised to or kept for two trees; [`Error::NoSuchChoice`] when a promise goes against
/// the hard limits or another word.
///
/// # Example
///
/// ```
/// use season::shelf::{assign::{Choice, Shelf, Tree, plan}, word::{Word, after}};
///
/// let tree = Tree { stands_in: None, training: Some(0) };
/// let choices = vec![Choice { tree: 0, pot: 0, points: 9 }, Choice { tree: 1, pot: 0, points: 5 }];
/// let shelf = Shelf { trees: vec![tree; 2], pots: 1, choices, ring_price: 0, boxes: 0 };
/// assert_eq!(plan(&shelf)?.value, 9);
/// let told = after(&shelf, &[Word::KeptFor { tree: 1, pot: 0 }])?;
/// assert_eq!(plan(&told)?.value, 5);
/// # Ok::<(), season::shelf::assign::Error>(())
/// ```
pub fn after(shelf: &Shelf, words: &[Word]) -> Result<Shelf, Error> {
    let owners = owners(words)?;
    let mut told = shelf.clone();
    told.choices.retain(|&choice| words.iter().all(|&word| allows(word, choice)));
    for &(pot, tree, promised) in &owners {
        if promised {
            if !told.choices.iter().any(|choice| (choice.tree, choice.pot) == (tree, pot)) {
                return Err(Error::NoSuchChoice { tree, pot });
            }
            told.trees[tree].training = None;
        }
    }
    Ok(told)
}

/// Whose each pot is by word, and whether by promise.
fn owners(words: &[Word]) -> Result<Vec<(usize, usize, bool)>, Error> {
    let mut owners: Vec<(usize, usize, bool)> = Vec::new();
    for &word in words {
        let (tree, pot, promised) = match word {
            Word::Promised { tree, pot } => (tree, pot, true),
            Word::KeptFor { tree, pot } => (tree, pot, false),
            Word::Withheld { .. } | Word::Never { .. } => continue,
        };
        if let Some(&(_, first, _)) = owners.iter().find(|owner| owner.0 == pot && owner.1 != tree) {
            return Err(Error::PromisedTwice { pot, first, second: tree });
        }
        owners.push((pot, tree, promised));
    }
    Ok(owners)
}

fn allows(word: Word, choice: Choice) -> bool {
    match word {
        Word::Promised { tree, pot } => (choice.tree == tree) == (choice.pot == pot),
        Word::KeptFor { tree, pot } => choice.pot != pot || choice.tree == tree,
        Word::Withheld { pot } => choice.pot != pot,
        Word::Never { tree, pot } => (choice.tree, choice.pot) != (tree, pot),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::assign::{Place, Tree, plan};

    fn shelf() -> Shelf {
        let tree = Tree { stands_in: None, training: Some(1) };
        let choices = (0..6).map(|at| Choice { tree: at / 3, pot: at % 3, points: 10 + at as i64 }).collect();
        Shelf { trees: vec![tree; 2], pots: 3, choices, ring_price: 0, boxes: 0 }
    }

    #[test]
    fn a_promised_pot_is_given_and_a_vetoed_one_is_not() {
        let told = after(&shelf(), &[Word::Promised { tree: 1, pot: 0 }]).unwrap();
        assert_eq!(plan(&told).unwrap().into, [Place::Pot(2), Place::Pot(0)]);
        let told = after(&shelf(), &[Word::Never { tree: 1, pot: 2 }, Word::Withheld { pot: 1 }]).unwrap();
        assert_eq!(plan(&told).unwrap().into, [Place::Pot(2), Place::Pot(0)]);
    }

    #[test]
    fn one_pot_is_not_promised_twice_nor_against_a_veto() {
        let (mine, yours) = (Word::Promised { tree: 0, pot: 2 }, Word::KeptFor { tree: 1, pot: 2 });
        assert_eq!(
            after(&shelf(), &[mine, yours]),
            Err(Error::PromisedTwice { pot: 2, first: 0, second: 1 })
        );
        let never = Word::Never { tree: 0, pot: 2 };
        assert_eq!(after(&shelf(), &[mine, never]), Err(Error::NoSuchChoice { tree: 0, pot: 2 }));
    }
}
