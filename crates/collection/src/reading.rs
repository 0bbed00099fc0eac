//! What a sensor tells: the air of a place, or what a tree weighs with its pot.

use measure::quantity::{Celsius, Gram, Percent};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measured {
    /// Air temperature of a place.
    Temperature(Celsius),
    /// Relative humidity of a place's air.
    Humidity(Percent),
    /// Weight of a tree with its pot.
    Weight(Gram),
}

impl Measured {
    /// The word used in batches.
    pub fn kind(self) -> &'static str {
        match self {
            Measured::Temperature(_) => "temperature",
            Measured::Humidity(_) => "humidity",
            Measured::Weight(_) => "weight",
        }
    }

    /// The figure, in °C, % or g.
    pub fn value(self) -> f64 {
        match self {
            Measured::Temperature(Celsius(value))
            | Measured::Humidity(Percent(value))
            | Measured::Weight(Gram(value)) => value,
        }
    }

    /// The unit the figure is kept in.
    pub fn unit(self) -> &'static str {
        match self {
            Measured::Temperature(_) => "°C",
            Measured::Humidity(_) => "%",
            Measured::Weight(_) => "g",
        }
    }

    /// The same kind with another figure.
    pub fn with(self, value: f64) -> Measured {
        match self {
            Measured::Temperature(_) => Measured::Temperature(Celsius(value)),
            Measured::Humidity(_) => Measured::Humidity(Percent(value)),
            Measured::Weight(_) => Measured::Weight(Gram(value)),
        }
    }
}

/// One reading of a sensor; there is one per thing, kind and second.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Key of the place whose air it is, or of the tree that stands on the scale.
    pub thing: String,
    /// Seconds since 1970, UTC.
    pub at: i64,
    /// What was measured.
    pub measured: Measured,
}

/// A sensor that may send readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sender {
    /// The name the grower gave it.
    pub name: String,
    /// When its token was made, seconds since 1970, UTC.
    pub made: i64,
    /// When it last sent anything.
    pub last_sent: Option<i64>,
}
