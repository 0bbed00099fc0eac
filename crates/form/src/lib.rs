//! The shape of a tree: its skeleton, how it thickens, bends, closes its wounds and grows on, and what the eye sees of it.

pub mod error;
pub mod front;
pub mod growth;
pub mod joint;
pub mod layer;
pub mod mtg;
pub mod order;
pub mod peaks;
pub mod reading;
mod root;
pub mod rules;
pub mod sight;
pub mod silhouette;
pub mod skeleton;
pub mod taper;
pub mod thickness;
pub mod timing;
pub mod traced;
pub mod wire;
pub mod wood;
pub mod wound;
