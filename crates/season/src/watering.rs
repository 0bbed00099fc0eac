//! Which pots need water before the next possible visit: the air's thirst at each place, each pot's store, what its log taught, and the
//! round's plan.

pub mod after_cut;
pub mod curve;
pub mod drinking;
pub mod log;
pub mod odd;
pub mod plan;
pub mod pots;
pub mod scale;
pub mod thirst;
pub mod visits;
