//! The command line, one file per command.

pub mod backup;
pub mod bench;
pub mod calc;
pub mod check;
pub mod demo;
pub mod fetch;
pub mod import;
pub mod leaves;
pub mod may;
pub mod round;
pub mod say;
pub mod serve;
pub mod shelf;
pub mod token;
pub mod tonight;
