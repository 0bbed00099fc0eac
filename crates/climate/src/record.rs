//! What was measured, by the hour or by the day, before anything is computed from it.

use jiff::civil::Date;

/// One day of a station: its low and high, and what else it wrote down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StationDay {
    /// Civil date at the station.
    pub date: Date,
    /// Lowest air temperature, °C.
    pub low: f64,
    /// Highest air temperature, °C.
    pub high: f64,
    /// Rain and melted snow, mm.
    pub rain: Option<f64>,
}

/// One hour of a station, a logger or a forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourMean {
    /// Start of the hour, seconds since 1970 in UTC.
    pub at: i64,
    /// Mean air temperature, °C.
    pub temperature: f64,
    /// True where the hour was filled from its neighbours.
    pub filled: bool,
}
