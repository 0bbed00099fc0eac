//! How a given pot dries: what its tree draws, what is left, when it is dry, and what weighings say about the tree.

pub mod after_cut;
pub mod balance;
pub mod canopy;
pub mod change;
pub mod drink;
pub mod dry_down;
pub mod feed;
pub mod indoors;
pub mod leaf;
pub mod learn;
pub mod round;
pub mod supply;
pub mod triage;
