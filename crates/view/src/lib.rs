//! The door out: gathers facts, asks the pure rooms, and returns one plain struct per answer.

pub mod after_cut;
pub mod calc;
pub mod dry_down;
pub mod feed;
pub mod limbs;
pub mod mixes;
pub mod photos;
pub mod places;
pub mod pots;
pub mod repots;
pub mod round;
pub mod second;
pub mod shape;
pub mod shelf;
pub mod springs;
pub mod standing;
pub mod strip;
pub mod today;
pub mod tonight;
pub mod tree;
pub mod trial;
pub mod waking;
pub mod water;
pub mod whole;
mod why;
pub mod window;
pub mod words;
