//! Answers of `budswell calc`: cold in every unit, hours from daily extremes, day length by every formula.

use climate::{
    hours::{self, Extremes},
    light::{self, DayLength},
};
use dormancy::chill::{self, ChillModel};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Degrees},
    range::OutOfRange,
};

/// Cold received, in one model's own unit.
#[derive(Clone, Debug, PartialEq)]
pub struct ColdRow {
    /// The model's word in files.
    pub model: &'static str,
    /// The model in plain words.
    pub words: &'static str,
    /// The unit, never converted into another model's.
    pub unit: &'static str,
    /// How much.
    pub amount: f64,
}

/// Cold in every unit side by side; no unit is converted into another, because no factor exists.
pub fn cold(hours: &[f64]) -> Vec<ColdRow> {
    ChillModel::ALL
        .into_iter()
        .map(|model| ColdRow {
            model: model.key(),
            words: model.words(),
            unit: model.unit(),
            amount: chill::sum(model, hours),
        })
        .collect()
}

/// Hours rebuilt from daily lows and highs; the clock is local solar time.
///
/// # Errors
///
/// As [`hours::from_extremes`]: a low above its high, or a latitude out of range.
pub fn hours_of(latitude: f64, first: Date, days: &[(f64, f64)]) -> Result<Vec<f64>, hours::HoursError> {
    let days: Vec<Extremes> =
        days.iter().map(|&(low, high)| Extremes { low: Celsius(low), high: Celsius(high) }).collect();
    hours::from_extremes(Degrees(latitude), first, &days)
}

/// Day length by one formula.
#[derive(Clone, Debug, PartialEq)]
pub struct DayLengthRow {
    /// Who published the formula.
    pub formula: &'static str,
    /// Hours from sunrise to sunset.
    pub hours: f64,
}

/// Day length by every formula we hold.
///
/// # Errors
///
/// [`OutOfRange`] when the latitude is beyond a pole.
pub fn day_lengths(latitude: f64, date: Date) -> Result<Vec<DayLengthRow>, OutOfRange> {
    [
        ("Spencer 1971", DayLength::Spencer),
        ("Forsythe 1995", DayLength::Forsythe),
        ("FAO-56", DayLength::Fao56),
    ]
    .into_iter()
    .map(|(formula, method)| {
        let hours = light::day_length(method, Degrees(latitude), date.day_of_year() as u16)?;
        Ok(DayLengthRow { formula, hours: hours.0 })
    })
    .collect()
}
