//! Layers and cuttings on their way to a tree of their own, and wounds on their way to close.

use form::layer::Roots;
use jiff::civil::Date;
use measure::quantity::{Degrees, Millimetre};

/// How the new tree is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// A ringed limb packed in moss.
    AirLayer,
    /// A limb pegged down.
    GroundLayer,
    /// A cutting.
    Cutting,
}

impl Way {
    /// All.
    pub const ALL: [Way; 3] = [Way::AirLayer, Way::GroundLayer, Way::Cutting];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Way::AirLayer => "air-layer",
            Way::GroundLayer => "ground-layer",
            Way::Cutting => "cutting",
        }
    }

    /// The way that goes by this word.
    pub fn from_key(key: &str) -> Option<Way> {
        Way::ALL.into_iter().find(|way| way.key() == key)
    }

    /// The way in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Way::AirLayer => "air layer",
            Way::GroundLayer => "ground layer",
            Way::Cutting => "cutting",
        }
    }
}

/// A layer or cutting.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// The parent's key.
    pub tree: String,
    /// Which limb.
    pub limb: u32,
    /// How.
    pub way: Way,
    /// Begun.
    pub day: Date,
    /// When roots were last looked for.
    pub seen: Option<Date>,
    /// What was seen of them.
    pub roots: Option<Roots>,
    /// Cut off the parent.
    pub apart: Option<Date>,
    /// The new tree's key.
    pub child: Option<String>,
    /// The lean it shall have at its first repot.
    pub lean: Option<Degrees>,
    /// Anything else.
    pub note: String,
}

/// A wound left by a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Wound {
    /// The tree's key.
    pub tree: String,
    /// On which limb.
    pub limb: u32,
    /// Made.
    pub day: Date,
    /// Its width across the limb; that is what counts.
    pub wide: Millimetre,
    /// Covered with paste.
    pub sealed: bool,
    /// Closed.
    pub closed: Option<Date>,
    /// Anything else.
    pub note: String,
}
