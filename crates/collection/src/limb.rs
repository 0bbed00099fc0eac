//! A tree's limbs, known by the same number from year to year, and what was measured on them.

use form::traced::{Clock, TipClass};
use jiff::civil::Date;
use measure::quantity::Millimetre;

/// The trunk's number in every tree.
pub const TRUNK: u32 = 0;

/// The trunk or a branch.
#[derive(Clone, Debug, PartialEq)]
pub struct Limb {
    /// The tree's key.
    pub tree: String,
    /// Its number, which no other limb of the tree ever has; the trunk is [`TRUNK`].
    pub number: u32,
    /// The limb that bears it; none for the trunk.
    pub bearer: Option<u32>,
    /// What the grower calls it.
    pub name: String,
    /// Which way it grows, seen from above.
    pub clock: Option<Clock>,
    /// How many tips it bears.
    pub tips: Option<TipClass>,
    /// Known since.
    pub since: Date,
    /// Came off on this day.
    pub gone: Option<Date>,
}

/// A diameter read with a caliper.
#[derive(Clone, Debug, PartialEq)]
pub struct Caliper {
    /// The tree's key.
    pub tree: String,
    /// Which limb.
    pub limb: u32,
    /// When.
    pub day: Date,
    /// How far from the limb's base, along it.
    pub along: Millimetre,
    /// How thick.
    pub thick: Millimetre,
}

/// The side a tree is seen from, how it leans there, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Front {
    /// The tree's key.
    pub tree: String,
    /// 0 for today's front, 1 and 2 for the candidates.
    pub rank: u8,
    /// The hour of today's front that would come to face the viewer; 6 keeps it.
    pub clock: Clock,
    /// Tilt in the picture: to the right is positive.
    pub sideways: measure::quantity::Degrees,
    /// Tilt towards the viewer.
    pub forward: measure::quantity::Degrees,
    /// Why, in the grower's words.
    pub why: String,
}

/// What the grower is after with a tree.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Aim {
    /// The tree's key.
    pub tree: String,
    /// How high it shall be above the soil.
    pub high: Option<Millimetre>,
    /// How thick its trunk shall be above the flare.
    pub trunk: Option<Millimetre>,
    /// How long its needles shall be, of a pine whose candles are cut.
    pub needles: Option<Millimetre>,
    /// The day on which it shall be shown.
    pub shown: Option<Date>,
    /// In a line.
    pub words: String,
}
