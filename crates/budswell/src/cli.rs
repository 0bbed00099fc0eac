//! The command line, one file per command.

pub mod demo;
pub mod serve;
pub mod import;
pub mod check;
pub mod calc;
