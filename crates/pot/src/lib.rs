//! Vessels and substrates: volume and shape, what a mix holds at this depth, weight, and lifting.

pub mod caveat;
pub mod column;
pub mod outline;
pub mod retention;
pub mod vessel;
