//! When a tree has had its cold and when its buds will move: chill, waking, and the forecast of bud stages.

pub mod chill;
pub mod forecast;
pub mod ladder;
pub mod table;
pub mod wake;
