//! Any bytes as a calendar of shifts; what must hold stands in `fuzz/bodies`.
#![no_main]

#[path = "../bodies/mod.rs"]
mod bodies;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| bodies::run("calendars", bytes));
