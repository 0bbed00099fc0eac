//! What is known of materials, mixes and sizes, each figure with its standing.

mod bag;
mod component;
mod material;
mod recipe;
mod size;

pub use bag::{BAGS, Bag};
pub use component::{Component, MAKEUPS, Makeup};
pub use material::{Between, MATERIALS, Material};
pub use recipe::{Grade, RECIPES, Recipe};
pub use size::{GRAINS, Grains, HANDLING, Handling, SizeClass, TALLEST};
