//! A tree's limbs through the season: raised from a photo, thickening, wired, planned, and worked on in order.

pub mod calendar;
pub mod frost;
pub mod order;
pub mod outline;
pub mod plans;
pub mod raise;
pub mod thick;
pub mod wires;
