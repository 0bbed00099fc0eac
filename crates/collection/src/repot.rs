//! Repots: what is meant for the season, what was seen in the pot, what was done at the bench, and what the tree had to bear.

use jiff::civil::Date;
use measure::quantity::{Centimetre, Degrees, Millimetre, Minutes, Seconds, Share};
use pot::repot::insult::Insult;

/// What is meant for a tree this season.
#[derive(Clone, Debug, PartialEq)]
pub struct Meant {
    /// The tree's key.
    pub tree: String,
    /// The year in which the season's repots fall.
    pub season: i16,
    /// Repot it, or leave it, whatever the signs say.
    pub repot: bool,
    /// Share of the roots to cut, where the grower said so.
    pub cut: Option<Share>,
    /// The mix that is meant, by its key.
    pub mix: Option<String>,
    /// A pot is wanted, not a training pot: the tree's own shape is done.
    pub show: bool,
    /// Why.
    pub why: String,
}

/// What was seen of a tree in its pot on a day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PotLook {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// How long the last of three passes of water took to drain.
    pub drained: Option<Seconds>,
    /// Water twice a day for a week in mild weather.
    pub twice_a_day: bool,
    /// It has lifted itself in the pot, or rocks.
    pub rocks: bool,
    /// Roots at the holes or round the surface.
    pub roots: bool,
    /// The top has crumbled to mud.
    pub crumbled: bool,
    /// Vigour falling for two seasons, and no pest.
    pub falling: bool,
    /// Anything else.
    pub note: String,
}

/// A repot as it was done.
#[derive(Clone, Debug, PartialEq)]
pub struct Repot {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// Into which pot.
    pub pot: String,
    /// Into which mix.
    pub mix: String,
    /// Share of the roots cut; 0 for a tree slipped into a larger pot.
    pub cut: Share,
    /// Washed or shaken bare.
    pub bare: bool,
    /// What was found: roots, rot, old soil, grubs.
    pub found: String,
    /// How far the root flare stands above the rim; below it is less than 0.
    pub proud: Option<Millimetre>,
    /// The front, as the hour of the clock seen from above: 6 was the old front.
    pub clock: Option<u8>,
    /// Tilt to the right and forward.
    pub lean: Option<[Degrees; 2]>,
    /// Length, width and depth of the roots after the cut.
    pub pad: Option<[Centimetre; 3]>,
    /// Photo of it, by its key.
    pub photo: Option<String>,
    /// How long it took.
    pub took: Option<Minutes>,
    /// Anything else.
    pub note: String,
}

/// What a tree had to bear that no other record tells.
#[derive(Clone, Debug, PartialEq)]
pub struct Toll {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// What.
    pub what: Insult,
    /// Anything else.
    pub note: String,
}
