//! The only room that speaks SQL: one file on disk, one transaction per act, migrations with a backup before each.

pub mod error;
pub mod photo;
pub mod reader;
pub mod reading;
pub mod store;
pub mod version;

mod drink;
mod event;
mod file;
mod intention;
mod layer;
mod limb;
mod place;
mod pot_photo;
mod pot_rule_off;
mod potting;
mod repot;
mod reserve;
mod row;
mod site;
mod standing;
mod stock;
mod token;
mod tree;
mod ware;
pub mod weather;
mod wire;

pub mod before;
pub mod change;
