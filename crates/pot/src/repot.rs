//! The repot itself: is it due, how much root may go, what the tree can still bear this year, and what lies ready on the bench.

pub mod due;
pub mod insult;
pub mod materials;
pub mod roots;
mod taxa;

pub use taxa::ROOT_WORK;
