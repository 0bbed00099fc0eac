//! A place and its weather: day length and light, hours rebuilt from daily records, shelters learned from a logger,
//! roots behind the air, the water that air and sun demand, and made-up years from a seed.

pub mod demand;
pub mod hours;
pub mod light;
pub mod record;
pub mod root;
pub mod sensors;
pub mod shelter;
pub mod sun;
pub mod synth;
