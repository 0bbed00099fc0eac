//! The collection as of a day, and what it answers: may this work be done to this tree today? It writes nothing and prints nothing.

pub mod facts;
pub mod going;
pub mod reason;
pub mod verdict;
pub mod work;

mod rules;
