//! What is due and on which day: it proposes and writes nothing.

pub mod window;
