//! Pots, mixes and what stands in them: the vessel, the soil, the tree's crown over it, from a day on.

use jiff::civil::Date;
use measure::quantity::{Centimetre, Gram, Litre, Millimetre, Share};
use pot::vessel::Vessel;

/// Whether a pot's wall lets water through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wall {
    /// Glazed or fired dense: tight.
    Glazed,
    /// Stoneware without a glaze: nearly tight.
    Stoneware,
    /// Earthenware without a glaze, as a flower pot: drinks and dries.
    Earthenware,
}

impl Wall {
    /// All, from tight to thirsty.
    pub const ALL: [Wall; 3] = [Wall::Glazed, Wall::Stoneware, Wall::Earthenware];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Wall::Glazed => "glazed",
            Wall::Stoneware => "stoneware",
            Wall::Earthenware => "earthenware",
        }
    }

    /// The wall that goes by this word.
    pub fn from_key(key: &str) -> Option<Wall> {
        Wall::ALL.into_iter().find(|wall| wall.key() == key)
    }
}

/// A pot of the grower's.
#[derive(Clone, Debug, PartialEq)]
pub struct Pot {
    /// Name in files and addresses, unique in the collection.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Its measures.
    pub vessel: Vessel,
    /// Its wall.
    pub wall: Wall,
}

/// The five weighings of a bucket test, in a straight vessel with a hole that closes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BucketTest {
    /// Height of the soil in the vessel.
    pub height: Centimetre,
    /// Volume of that soil.
    pub volume: Litre,
    /// Dry soil without the vessel.
    pub dry: Gram,
    /// Flooded to the brim.
    pub flooded: Gram,
    /// Drained.
    pub drained: Gram,
    /// Share of the volume that the soaked and shaken grains hold inside, where that was weighed too.
    pub inside: Option<Share>,
}

/// A mix that pots are filled with.
#[derive(Clone, Debug, PartialEq)]
pub struct Mix {
    /// Name in files and addresses, unique in the collection.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Smallest and largest grain as sieved.
    pub grain: [Millimetre; 2],
    /// What the bucket said of it; until then its holding is an estimate from its grains.
    pub tested: Option<BucketTest>,
}

/// A tree stands in a pot and a mix from a day on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Potted {
    /// The tree's key.
    pub tree: String,
    /// From this day on.
    pub day: Date,
    /// The pot's key.
    pub pot: String,
    /// The mix's key.
    pub mix: String,
}

/// How wide a tree's crown was on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Crown {
    /// The tree's key.
    pub tree: String,
    /// When it was measured.
    pub day: Date,
    /// The long way across.
    pub length: Centimetre,
    /// The short way across.
    pub width: Centimetre,
}
