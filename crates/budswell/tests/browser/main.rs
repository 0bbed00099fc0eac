//! The pages in a real browser, from the grower's chair; fails when there is no browser, unless told to go without.

mod acts;
mod first;
mod limbs;
mod mixes;
mod pages;
mod pots;
mod repots;
mod rounds;
#[path = "../served/mod.rs"]
mod served;
mod window;
