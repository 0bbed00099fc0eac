//! The shared words: quantities with units, days and winters, taxa, stages, shelters, and where a number comes from.

pub mod caution;
pub mod ladder;
pub mod leaf;
pub mod quantity;
pub mod range;
pub mod shelter;
pub mod sourced;
pub mod stage;
mod taxa;
pub mod taxon;
pub mod winter;
