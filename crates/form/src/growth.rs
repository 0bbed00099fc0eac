//! How a tree grows on: vigour divided at every node, light, buds that break behind a cut, and wood laid on what carries them.

pub mod cut;
pub mod direction;
pub mod flux;
pub mod shadow;
