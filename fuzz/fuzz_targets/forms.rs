//! Any bytes as a form; what must hold stands in `fuzz/bodies`.
#![no_main]

#[path = "../bodies/mod.rs"]
mod bodies;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| bodies::run("forms", bytes));
