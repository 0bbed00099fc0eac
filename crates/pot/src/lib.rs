//! Vessels and substrates: volume and shape, what a mix holds at this depth, weight, and lifting.

pub mod bucket;
pub mod caveat;
pub mod colour;
pub mod column;
pub mod error;
pub mod fit;
pub mod granule;
pub mod lift;
pub mod outline;
pub mod repot;
pub mod retention;
pub mod table;
pub mod tilt;
pub mod vessel;
pub mod weight;
mod words;
