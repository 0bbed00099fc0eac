//! Where the collection stands.

use measure::quantity::{Degrees, Metre, Units};

/// The grower's site: one spot on Earth with its clock and units.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// What the grower calls it.
    pub name: String,
    /// Degrees north.
    pub latitude: Degrees,
    /// Degrees east.
    pub longitude: Degrees,
    /// Height above the sea.
    pub elevation: Metre,
    /// IANA time zone, as `Europe/Zurich`.
    pub zone: String,
    /// Units to read and type.
    pub units: Units,
}
