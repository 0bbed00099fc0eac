//! Colour of glaze, bark and leaf: measured from a photo, set side by side, and scored in the open.

pub mod card;
mod cluster;
pub mod difference;
pub mod harmony;
pub mod relation;
pub mod score;
pub mod space;
pub mod swatch;
pub mod taste;
