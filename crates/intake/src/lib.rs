//! The door in: outside text becomes checked values, and a bad line is named.

pub mod forecast_reply;
pub mod logger;
pub mod refusal;
pub mod series;
pub mod sheet;
pub mod weather;
