//! When a tree has had its cold and when its buds will move: chill and forcing, published waking models, learning a
//! tree's own pace, and the forecast of bud stages.

pub mod autumn;
pub mod chill;
pub mod dynamic;
pub mod fit;
pub mod forcing;
pub mod forecast;
pub mod frost;
pub mod ladder;
pub mod learn;
pub mod menzel;
pub mod model;
pub mod needs;
mod quick;
pub mod score;
pub mod table;
pub mod wake;
