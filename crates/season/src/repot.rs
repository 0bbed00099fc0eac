//! Pots and repots out of the records: what is due, how much root may go, which pot for which tree, what lies ready, and the care after.

pub mod aftercare;
pub mod book;
pub mod cut;
pub mod due;
pub mod frame;
pub mod goods;
pub mod held;
pub mod late;
pub mod left_alone;
pub mod offer;
pub mod record;
pub mod root_cuts;
pub mod sitter;
pub mod stand;
pub mod taste;
pub mod wanted;
pub mod wintered;
pub mod year;
