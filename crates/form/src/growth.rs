//! How a tree grows on: vigour divided at every node, light, buds that break behind a cut, and wood laid on what carries them.

pub mod cut;
mod dice;
pub mod direction;
pub mod flux;
mod forecast;
pub mod habit;
mod knife;
mod plan;
mod plant;
mod season;
pub mod shadow;
mod sprout;

pub use forecast::{Forecast, LimbForecast, Question, forecast};
pub use plan::{Act, Order, Plan, When};
pub use plant::Plant;
pub use season::Grower;
