//! Wire on limbs, from the day it goes on to the day the last piece is out, and the wire on the shelf.

use form::wire::metal::Metal;
use jiff::civil::Date;
use measure::quantity::{Gram, Millimetre};

/// What came of a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// The limb stayed where it was bent.
    Held,
    /// The limb sprang back.
    SprangBack,
    /// The wire left marks.
    Marked,
}

impl Outcome {
    /// All.
    pub const ALL: [Outcome; 3] = [Outcome::Held, Outcome::SprangBack, Outcome::Marked];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Outcome::Held => "held",
            Outcome::SprangBack => "sprang-back",
            Outcome::Marked => "marked",
        }
    }

    /// The outcome that goes by this word.
    pub fn from_key(key: &str) -> Option<Outcome> {
        Outcome::ALL.into_iter().find(|outcome| outcome.key() == key)
    }

    /// The outcome in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Outcome::Held => "held",
            Outcome::SprangBack => "sprang back",
            Outcome::Marked => "left marks",
        }
    }
}

/// A wire on a limb.
#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    /// The tree's key.
    pub tree: String,
    /// Which limb.
    pub limb: u32,
    /// On since.
    pub on: Date,
    /// What it is made of.
    pub metal: Metal,
    /// How thick it is.
    pub gauge: Millimetre,
    /// One, or two side by side.
    pub strands: u8,
    /// How thick the limb was there.
    pub thick: Option<Millimetre>,
    /// Radius of the tightest bend.
    pub bend: Option<Millimetre>,
    /// Last looked at.
    pub seen: Option<Date>,
    /// Taken off.
    pub off: Option<Date>,
    /// What came of it.
    pub outcome: Option<Outcome>,
    /// A piece that grew in and is still there.
    pub grown_in: bool,
    /// Photo of it.
    pub photo: Option<String>,
    /// Anything else.
    pub note: String,
}

impl Wire {
    /// Whether any of it is on the tree on a day.
    pub fn is_on(&self, day: Date) -> bool {
        self.on <= day && (self.off.is_none_or(|off| day < off) || self.grown_in)
    }
}

/// Wire on the shelf.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// What it is made of.
    pub metal: Metal,
    /// How thick it is.
    pub gauge: Millimetre,
    /// How much is left.
    pub left: Gram,
}
