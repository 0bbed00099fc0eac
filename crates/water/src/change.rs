//! Simpler alarms for a change of use, as a fallback and an independent cross-check of the season's filter.

pub mod cusum;
pub mod online;
pub mod run_length;
