//! What the grower has and has decided: the site, its places, the trees and everything written down about them.

pub mod drink;
pub mod event;
pub mod incident;
pub mod intention;
pub mod key;
pub mod layer;
pub mod limb;
pub mod money;
pub mod photo;
pub mod place;
pub mod potting;
pub mod reading;
pub mod repot;
pub mod reserve;
pub mod site;
pub mod standing;
pub mod stock;
pub mod toll;
pub mod tree;
pub mod ware;
pub mod wire;
