//! The outline of a tree in a photo: cut out from a plain cloth, set to scale by a card, and measured.
//!
//! Pixels count columns to the right and rows down; the middle of pixel (column, row) is at (column + 0.5, row + 0.5).

mod bits;
pub mod boxes;
pub mod canopy;
mod mask;
pub mod parts;
mod raster;
pub mod scale;
pub mod shape;
pub mod sides;
mod thin;
pub mod threshold;

pub use mask::Mask;
pub use raster::{Raster, upright};
pub use thin::{end_points, thinned};
