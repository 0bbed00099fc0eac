//! What happened to a tree, and when: moves, bud looks, work done.

use jiff::civil::Date;
use measure::{leaf::Leaf, quantity::Share, stage::Stage};

/// A tree was put in a place on a day and stands there until the next move.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// The tree's key.
    pub tree: String,
    /// The place's key.
    pub place: String,
    /// From this day on.
    pub day: Date,
}

/// How sure a bud look was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sureness {
    /// Close up, several buds.
    Sure,
    /// At a glance.
    Fair,
    /// From memory or a photo.
    Doubtful,
}

impl Sureness {
    /// All, from sure to doubtful.
    pub const ALL: [Sureness; 3] = [Sureness::Sure, Sureness::Fair, Sureness::Doubtful];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Sureness::Sure => "sure",
            Sureness::Fair => "fair",
            Sureness::Doubtful => "doubtful",
        }
    }

    /// The sureness that goes by this word.
    pub fn from_key(key: &str) -> Option<Sureness> {
        Sureness::ALL.into_iter().find(|sureness| sureness.key() == key)
    }
}

/// Someone looked at the buds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// The stage of most buds.
    pub stage: Stage,
    /// How sure.
    pub sureness: Sureness,
    /// Anything else.
    pub note: String,
}

/// Someone looked at the leaves: are they still on?
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeafLook {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// What most leaves did.
    pub leaf: Leaf,
    /// How sure.
    pub sureness: Sureness,
    /// Anything else.
    pub note: String,
}

/// Kinds of work in the diary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum WorkKind {
    Repot,
    SlipPot,
    HardPrune,
    Trim,
    Wire,
    Defoliate,
    Fed,
    Other,
}

impl WorkKind {
    /// All kinds.
    pub const ALL: [WorkKind; 8] = [
        WorkKind::Repot,
        WorkKind::SlipPot,
        WorkKind::HardPrune,
        WorkKind::Trim,
        WorkKind::Wire,
        WorkKind::Defoliate,
        WorkKind::Fed,
        WorkKind::Other,
    ];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            WorkKind::Repot => "repot",
            WorkKind::SlipPot => "slip-pot",
            WorkKind::HardPrune => "hard-prune",
            WorkKind::Trim => "trim",
            WorkKind::Wire => "wire",
            WorkKind::Defoliate => "defoliate",
            WorkKind::Fed => "feed",
            WorkKind::Other => "other",
        }
    }

    /// The kind that goes by this word.
    pub fn from_key(key: &str) -> Option<WorkKind> {
        WorkKind::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The kind in plain words.
    pub fn words(self) -> &'static str {
        match self {
            WorkKind::Repot => "repotted",
            WorkKind::SlipPot => "slipped into a larger pot",
            WorkKind::HardPrune => "pruned hard",
            WorkKind::Trim => "trimmed",
            WorkKind::Wire => "wired",
            WorkKind::Defoliate => "leaves taken off",
            WorkKind::Fed => "fed",
            WorkKind::Other => "other work",
        }
    }
}

/// Work done on a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// What.
    pub kind: WorkKind,
    /// Share of the roots that a repot cut, where that was told here; where a log of the repot stands, the log tells it.
    pub roots: Option<Share>,
    /// Anything else; nothing is ever read out of it.
    pub note: String,
}
