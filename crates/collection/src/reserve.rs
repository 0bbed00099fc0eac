//! The grower's word on a pot for a tree in a season, and whether a pairing was liked.

use jiff::civil::Date;

/// What was said of a pot and a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// The tree gets this pot and no other.
    Promised,
    /// No other tree gets it.
    KeptFor,
    /// The next best, should the first fail.
    Second,
    /// The tree does not get it.
    Never,
}

impl Said {
    /// All.
    pub const ALL: [Said; 4] = [Said::Promised, Said::KeptFor, Said::Second, Said::Never];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Said::Promised => "promised",
            Said::KeptFor => "kept-for",
            Said::Second => "second",
            Said::Never => "never",
        }
    }

    /// The one that goes by this word.
    pub fn from_key(key: &str) -> Option<Said> {
        Said::ALL.into_iter().find(|it| it.key() == key)
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Said::Promised => "promised to",
            Said::KeptFor => "kept for",
            Said::Second => "second choice of",
            Said::Never => "never for",
        }
    }

    /// Whether it keeps every other tree out of the pot.
    pub fn holds(self) -> bool {
        matches!(self, Said::Promised | Said::KeptFor)
    }
}

/// A word on a pot and a tree. One pair has one word a season; one pot is held for one tree a season.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reservation {
    /// The pot's key.
    pub pot: String,
    /// The tree's key.
    pub tree: String,
    /// The year in which the season's repots fall.
    pub season: i16,
    /// What was said.
    pub said: Said,
    /// Why.
    pub why: String,
    /// When.
    pub made: Date,
}

/// Of two pots held against one tree, the one the grower liked better.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Liking {
    /// The tree's key.
    pub tree: String,
    /// The pot that was liked.
    pub liked: String,
    /// The pot that was not.
    pub over: String,
    /// When.
    pub day: Date,
}
