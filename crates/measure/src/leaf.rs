//! What leaves do in autumn, from full to bare, numbered as in BBCH 91 to 97.

use std::fmt;

/// What most of a tree's leaves do; the number is the BBCH code.
///
/// Codes: Meier (2001) BBCH Monograph, 2nd ed., principal stage 9 (remembered, not read again). The words are ours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Leaf {
    /// Full and green.
    Full = 91,
    /// Turning: a fifth of the crown or more.
    Colouring = 92,
    /// Coming down.
    Falling = 95,
    /// Down, or brown and dead where a tree keeps them.
    Bare = 97,
}

impl Leaf {
    /// All, from full to bare.
    pub const ALL: [Leaf; 4] = [Leaf::Full, Leaf::Colouring, Leaf::Falling, Leaf::Bare];

    /// The BBCH code.
    pub fn code(self) -> u8 {
        self as u8
    }

    /// The state with this BBCH code, if it is one of leaves.
    ///
    /// ```
    /// use measure::leaf::Leaf;
    ///
    /// assert_eq!(Leaf::from_code(92), Some(Leaf::Colouring));
    /// assert_eq!(Leaf::from_code(3), None);
    /// ```
    pub fn from_code(code: u8) -> Option<Leaf> {
        Leaf::ALL.into_iter().find(|leaf| leaf.code() == code)
    }

    /// Place in [`Leaf::ALL`], from 0.
    pub fn rank(self) -> usize {
        match self {
            Leaf::Full => 0,
            Leaf::Colouring => 1,
            Leaf::Falling => 2,
            Leaf::Bare => 3,
        }
    }

    /// The word used in files and forms.
    pub fn key(self) -> &'static str {
        match self {
            Leaf::Full => "full",
            Leaf::Colouring => "colouring",
            Leaf::Falling => "falling",
            Leaf::Bare => "bare",
        }
    }

    /// The state that goes by this word.
    pub fn from_key(key: &str) -> Option<Leaf> {
        Leaf::ALL.into_iter().find(|leaf| leaf.key() == key)
    }

    /// In two or three words.
    pub fn words(self) -> &'static str {
        match self {
            Leaf::Full => "in leaf",
            Leaf::Colouring => "colouring",
            Leaf::Falling => "leaves falling",
            Leaf::Bare => "bare",
        }
    }

    /// What to look for.
    pub fn signs(self) -> &'static str {
        match self {
            Leaf::Full => "green, none or next to none turning",
            Leaf::Colouring => "a fifth of the crown or more has turned",
            Leaf::Falling => "leaves come down, some still on",
            Leaf::Bare => "down, or brown and dead on beech, hornbeam and oak",
        }
    }
}

impl fmt::Display for Leaf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_codes_and_words_follow_the_order_of_the_list() {
        for (rank, leaf) in Leaf::ALL.into_iter().enumerate() {
            assert_eq!(leaf.rank(), rank);
            assert_eq!(Leaf::from_code(leaf.code()), Some(leaf));
            assert_eq!(Leaf::from_key(leaf.key()), Some(leaf));
        }
    }
}
