//! Answers of `budswell calc`: cold in every unit, hours from daily extremes, day length by every formula.

use climate::{
    hours::{self, Extremes},
    light::{self, DayLength},
};
use dormancy::chill::{self, ChillModel};
use jiff::{ToSpan, civil::Date};
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

/// A run of days without a gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Its first day.
    pub first: Date,
    /// Lows and highs, °C.
    pub days: Vec<(f64, f64)>,
    /// Days that stood alone absent and were filled from their neighbours.
    pub filled: Vec<Date>,
}

impl Stretch {
    /// Its last day.
    pub fn last(&self) -> Date {
        self.first + (self.days.len() as i64 - 1).days()
    }
}

/// Days in order cut into runs: one absent day between two that are told is filled with their mean and named, two or
/// more part the runs.
///
/// ```
/// use jiff::civil::date;
/// use view::calc::stretches;
///
/// let days = [(1, 0.0), (3, 4.0), (9, 1.0)].map(|(day, low)| (date(2026, 1, day), low, low + 5.0));
/// let told = stretches(&days);
/// assert_eq!(told.len(), 2);
/// assert_eq!((told[0].days[1], told[0].filled[0]), ((2.0, 7.0), date(2026, 1, 2)));
/// ```
pub fn stretches(days: &[(Date, f64, f64)]) -> Vec<Stretch> {
    let mut stretches: Vec<Stretch> = Vec::new();
    for &(date, low, high) in days {
        let open = stretches.last_mut().map(|open| ((date - open.last()).get_days(), open));
        match open {
            Some((1, open)) => open.days.push((low, high)),
            Some((2, open)) => {
                let (low_before, high_before) = open.days[open.days.len() - 1];
                open.filled.push(open.last() + 1.days());
                open.days.push((f64::midpoint(low_before, low), f64::midpoint(high_before, high)));
                open.days.push((low, high));
            }
            _ => stretches.push(Stretch { first: date, days: vec![(low, high)], filled: Vec::new() }),
        }
    }
    stretches
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
