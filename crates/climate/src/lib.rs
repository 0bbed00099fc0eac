//! A place and its weather: day length and light, and hours rebuilt from daily records.

pub mod hours;
pub mod light;
pub mod root;
pub mod shelter;
pub mod sun;
pub mod synth;
