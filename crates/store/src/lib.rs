//! The only room that speaks SQL: one file on disk, one transaction per act, migrations with a backup before each.

pub mod error;
pub mod photo;
pub mod reader;
pub mod reading;
pub mod store;

mod drink;
mod event;
mod file;
mod intention;
mod layer;
mod limb;
mod place;
mod potting;
mod row;
mod site;
mod token;
mod tree;
mod weather;
mod wire;

pub mod change;
