//! The whole shelf at once: which pot goes to which tree this season, in which order, and what a bought pot would change.

pub mod assign;
mod graph;
mod matching;
mod outbid;
mod search;
pub mod steps;
pub mod what_if;
pub mod word;
