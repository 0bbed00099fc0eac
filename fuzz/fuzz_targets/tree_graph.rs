//! Any bytes as a tree graph; what must hold stands in `fuzz/bodies`.
#![no_main]

#[path = "../bodies/mod.rs"]
mod bodies;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| bodies::run("tree_graph", bytes));
