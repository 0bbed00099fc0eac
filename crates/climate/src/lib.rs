//! A place and its weather: day length and light, hours rebuilt from daily records, and shelters learned from a logger.

pub mod hours;
pub mod light;
pub mod record;
pub mod shelter;
pub mod sun;
