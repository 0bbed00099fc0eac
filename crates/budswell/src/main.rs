//! The face: web pages and command line.

fn main() {}
