//! A place where trees stand: a bench, a frame, a room, a sill.

use measure::{
    quantity::{Hours, PhotonFlux},
    shelter::Shelter,
};

/// Which way a window looks, and so how much light a sill gets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Facing {
    North,
    East,
    South,
    West,
}

impl Facing {
    /// All four.
    pub const ALL: [Facing; 4] = [Facing::North, Facing::East, Facing::South, Facing::West];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Facing::North => "north",
            Facing::East => "east",
            Facing::South => "south",
            Facing::West => "west",
        }
    }

    /// The way that goes by this word.
    pub fn from_key(key: &str) -> Option<Facing> {
        Facing::ALL.into_iter().find(|facing| facing.key() == key)
    }
}

/// A lamp over a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lamp {
    /// Photon flux at tree height.
    pub flux: PhotonFlux,
    /// Hours a day it burns.
    pub hours: Hours,
}

/// A place where trees stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Name in files and addresses, unique in the collection.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// What shelters it.
    pub shelter: Shelter,
    /// Which way the window looks, for sills.
    pub facing: Option<Facing>,
    /// A lamp, where there is one.
    pub lamp: Option<Lamp>,
    /// How many trees it takes, where that is known.
    pub capacity: Option<u32>,
}
