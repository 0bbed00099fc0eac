//! A tree: an individual with a name, a taxon and a history.

use jiff::civil::Date;
use measure::taxon::Taxon;

use crate::drink::Worth;

/// How sure the grower is of the taxon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NameConfidence {
    /// From a label, a key or an expert.
    Sure,
    /// Likely.
    Likely,
    /// A guess: limits are set by the tenderest candidate the grower can think of.
    Guess,
}

impl NameConfidence {
    /// All, from sure to guess.
    pub const ALL: [NameConfidence; 3] =
        [NameConfidence::Sure, NameConfidence::Likely, NameConfidence::Guess];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            NameConfidence::Sure => "sure",
            NameConfidence::Likely => "likely",
            NameConfidence::Guess => "guess",
        }
    }

    /// The confidence that goes by this word.
    pub fn from_key(key: &str) -> Option<NameConfidence> {
        NameConfidence::ALL.into_iter().find(|confidence| confidence.key() == key)
    }
}

/// Most other names that a tree may have besides its own.
pub const MOST_CANDIDATES: usize = 5;

/// A tree in the collection.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    /// Name in files and addresses, unique in the collection.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// What it is.
    pub taxon: &'static Taxon,
    /// What it may be as well, where the name is not sure; the tenderest of all sets its lines in frost.
    pub candidates: Vec<&'static Taxon>,
    /// How sure that is.
    pub name_confidence: NameConfidence,
    /// In the collection since.
    pub since: Option<Date>,
    /// What its drying out would cost.
    pub worth: Worth,
    /// Anything else.
    pub note: String,
    /// Counts the changes to this record; an edit must name the one it started from.
    pub revision: u32,
}
