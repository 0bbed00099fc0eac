//! The only room that speaks SQL: one file on disk, one transaction per act, migrations with a backup before each.

pub mod copies;
pub mod copy;
pub mod error;
pub mod fold;
pub mod header;
pub mod lock;
pub mod logger;
pub mod photo;
pub mod read_only;
pub mod reader;
pub mod reading;
pub mod restore;
pub mod store;
pub mod version;

mod check;
mod layout;
mod sums;

mod drink;
mod event;
mod file;
mod incident;
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
