//! The door in: outside text becomes checked values, a bad line is named, and every write passes here.

pub mod asked;
pub mod bucket;
pub mod calendar;
pub mod fetch;
pub mod forecast_reply;
pub mod import;
pub mod instance;
mod length;
pub mod limbs;
mod limits;
pub mod logger;
pub mod photo;
pub mod readings;
pub mod record;
pub mod refusal;
pub mod restore;
pub mod round;
mod scale;
pub mod series;
pub mod sheet;
pub mod shelf;
pub mod springs;
pub mod text;
pub mod token;
pub mod version;
pub mod weather;
pub mod weight;
