//! The coming night: how cold each place gets, what that does to each tree above the soil and at the root, who must move and where to,
//! in what order and at what weight; and tomorrow's heat. It proposes and writes nothing.

pub mod ball;
pub mod carry;
pub mod heat;
pub mod judge;
pub mod place;
pub mod room;
pub mod share_out;
pub mod sky;

#[cfg(test)]
mod tests;
