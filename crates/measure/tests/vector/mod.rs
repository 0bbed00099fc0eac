//! Reading the check data of this room.
#![allow(dead_code, unused_imports, reason = "each check uses its own part")]

#[path = "../../../../checks/vector.rs"]
mod shared;

pub use shared::*;
