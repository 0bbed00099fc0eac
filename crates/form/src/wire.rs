//! Wiring a branch: which wire, how much of it, whether the branch stands the bend, when it has set, and when the wire bites.

pub mod bend;
pub mod bite;
pub mod gauge;
pub mod guy;
pub mod helix;
pub mod metal;
mod question;
pub mod set;

pub use question::{Answer, Ask, Danger, answer};
