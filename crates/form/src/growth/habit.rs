//! How a kind of tree grows: its buds, its internodes, its flushes. Estimates of ours, to be learned from your own cuts.
//!
//! Left alone these plants grow as in open ground. A pot holds a tree back: its vigour, learned from its rings, tells how much.

use measure::{
    quantity::{Degrees, Millimetre, SquareCentimetre},
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
};

use super::cut::{Breaking, learned};

/// How a kind of tree grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Habit {
    /// Buds behind a cut.
    pub breaking: Breaking,
    /// Above 0.5 favours the leader.
    pub apical: f64,
    /// Metamers a year for each bud in full light; set so that unpruned plants branch like one digitised walnut (n = 1; other trees differ).
    pub strength: f64,
    /// Buds lower on a shoot are weaker by this factor, node by node.
    pub acrotony: f64,
    /// Internode of a shoot that runs.
    pub running: Millimetre,
    /// Internode in a refined crown.
    pub refined: Millimetre,
    /// Flushes that a cut in summer can call.
    pub flushes: u32,
    /// Buds of old wood that live on for another year.
    pub survives: f64,
    /// Leaf at one node.
    pub leaf: SquareCentimetre,
    /// Turn from node to node.
    pub turn: Degrees,
}

/// Mean angle between a branch and its bearer, and its spread: 1,872 of a digitised walnut.
pub const BRANCH_ANGLE: Sourced<[f64; 2]> = Sourced {
    value: [56.9, 28.5],
    standing: Standing::Published("digitised walnut, computed in the reference set"),
};

/// Internodes along a shoot against its later ones: the first five, the next five, and those beyond.
pub const ALONG_SHOOT: Sourced<[f64; 3]> = Sourced {
    value: [0.4, 0.85, 1.0],
    standing: Standing::Published("internodes of a digitised apple, computed in the reference set; rounded"),
};

const OURS: Standing = Standing::Estimate("no published counts for bonsai; learn them from your own cuts");

impl Habit {
    /// The habit of a taxon.
    ///
    /// ```
    /// use form::growth::habit::Habit;
    /// use measure::taxon::Taxon;
    ///
    /// let maple = Habit::of(Taxon::of("acer-palmatum").unwrap()).value;
    /// assert_eq!((maple.breaking.buds, maple.flushes), (2, 2));
    /// ```
    pub fn of(taxon: &Taxon) -> Sourced<Habit> {
        let row = match (taxon.genus(), taxon.kind) {
            ("Ulmus" | "Zelkova" | "Celtis", _) => ELM,
            ("Acer", _) => MAPLE,
            ("Carpinus", _) => HORNBEAM,
            ("Fagus", _) | (_, Kind::Oak) => BEECH,
            ("Larix" | "Pseudolarix", _) => LARCH,
            (_, Kind::TwoFlushPine | Kind::OneFlushPine | Kind::SpruceHemlock) => PINE,
            (_, Kind::Juniper | Kind::YewCypress) => {
                Habit { survives: if taxon.genus() == "Taxus" { 0.5 } else { 0.0 }, ..LARCH }
            }
            _ => HORNBEAM,
        };
        Sourced { value: row, standing: OURS }
    }

    /// The habit with the chance of the nearest bud learned from cuts: how many broke of how many watched.
    pub fn learned(self, broke: u32, watched: u32) -> Habit {
        Habit { breaking: Breaking { nearest: learned(broke, watched), ..self.breaking }, ..self }
    }
}

const fn buds(nearest: f64, falls: f64, buds: u32) -> Breaking {
    Breaking { nearest, falls, buds }
}

/// Elm, zelkova, hackberry.
pub const ELM: Habit = Habit {
    breaking: buds(0.95, 0.6, 1),
    apical: 0.53,
    strength: 4.0,
    acrotony: 0.6,
    running: Millimetre(20.0),
    refined: Millimetre(6.0),
    flushes: 3,
    survives: 0.5,
    leaf: SquareCentimetre(4.0),
    turn: Degrees(180.0),
};

/// Japanese and trident maple.
pub const MAPLE: Habit = Habit {
    breaking: buds(0.9, 0.5, 2),
    apical: 0.53,
    running: Millimetre(40.0),
    refined: Millimetre(8.0),
    flushes: 2,
    leaf: SquareCentimetre(12.0),
    turn: Degrees(90.0),
    ..ELM
};

/// Hornbeam, and deciduous trees without a row of their own.
pub const HORNBEAM: Habit = Habit {
    breaking: buds(0.9, 0.5, 1),
    apical: 0.53,
    running: Millimetre(25.0),
    refined: Millimetre(8.0),
    flushes: 2,
    leaf: SquareCentimetre(6.0),
    ..ELM
};

/// Beech and oak: one flush.
pub const BEECH: Habit = Habit {
    breaking: buds(0.85, 0.4, 1),
    apical: 0.53,
    running: Millimetre(30.0),
    refined: Millimetre(10.0),
    flushes: 1,
    survives: 0.2,
    leaf: SquareCentimetre(10.0),
    ..ELM
};

/// Larch.
pub const LARCH: Habit = Habit {
    breaking: buds(0.8, 0.6, 1),
    apical: 0.53,
    running: Millimetre(15.0),
    refined: Millimetre(8.0),
    flushes: 1,
    survives: 0.5,
    leaf: SquareCentimetre(3.0),
    turn: Degrees(137.5),
    ..ELM
};

/// Pine and spruce: nothing comes from bare wood.
pub const PINE: Habit =
    Habit { breaking: buds(0.95, 0.6, 2), survives: 0.0, leaf: SquareCentimetre(5.0), ..LARCH };
