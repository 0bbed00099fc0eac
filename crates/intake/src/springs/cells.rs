//! Cells of daily means and observations: dates, years, days and temperatures, each checked.

use csv::StringRecord;
use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};

use crate::refusal::Refusal;

/// Names that phases of the BBCH-like list of Harvard Forest have elsewhere.
const NUMBERED_PHASES: [(&str, &str); 2] = [("371", "budburst"), ("501", "first_flower")];

/// A cell that cannot be taken; its line is added by who knows it.
pub(super) struct Bad {
    value: String,
    why: String,
}

impl Bad {
    pub(super) fn new(value: &str, why: impl Into<String>) -> Bad {
        Bad { value: value.to_string(), why: why.into() }
    }

    pub(super) fn on(self, line: usize) -> Refusal {
        Refusal { line, value: self.value, why: self.why }
    }
}

/// The cell of a column; empty where the row is short.
pub(super) fn cell(row: &StringRecord, at: usize) -> &str {
    row.get(at).unwrap_or("")
}

fn is_empty(cell: &str) -> bool {
    cell.is_empty() || cell.eq_ignore_ascii_case("na") || cell.eq_ignore_ascii_case("nan")
}

/// A date written either way.
pub(super) fn dated(row: &StringRecord, at: usize) -> Result<Date, Bad> {
    let shown = cell(row, at);
    shown
        .parse()
        .or_else(|_| Date::strptime("%Y%m%d", shown))
        .map_err(|_| Bad::new(shown, "is not a date written as 2026-03-08 or 20260308"))
}

/// The date of a day counted from 1 January of a year.
pub(super) fn counted(row: &StringRecord, year: usize, doy: usize) -> Result<Date, Bad> {
    let year = spring_year(cell(row, year))?;
    let shown = cell(row, doy);
    match shown.parse::<i32>() {
        Ok(day) if (-183..=366).contains(&day) => {
            Ok(Winter { spring_year: year, hemisphere: Hemisphere::North }.date(day))
        }
        _ => Err(Bad::new(shown, "is not a day of the year from -183 to 366")),
    }
}

/// A year of four digits.
pub(super) fn spring_year(shown: &str) -> Result<i16, Bad> {
    match shown.parse::<i16>() {
        Ok(year) if (1000..=3000).contains(&year) => Ok(year),
        _ => Err(Bad::new(shown, "is not a year written as 2026")),
    }
}

/// A day of a year; none where the cell is empty.
pub(super) fn day_of_year(shown: &str, year: i16) -> Result<Option<i16>, Bad> {
    if is_empty(shown) {
        return Ok(None);
    }
    let days = Date::constant(year, 1, 1).days_in_year();
    match shown.parse::<f64>() {
        Ok(day) if day.fract() == 0.0 && (1.0..=f64::from(days)).contains(&day) => Ok(Some(day as i16)),
        _ => Err(Bad::new(shown, format!("is not a day of {year}, from 1 to {days}"))),
    }
}

/// A temperature given in parts of a degree; none where the cell is empty.
pub(super) fn celsius(shown: &str, scale: f64) -> Result<Option<f64>, Bad> {
    if is_empty(shown) {
        return Ok(None);
    }
    match shown.parse::<f64>().map(|read| read / scale) {
        Ok(mean) if (-60.0..=60.0).contains(&mean) => Ok(Some(mean)),
        Ok(mean) if mean.is_finite() => {
            Err(Bad::new(shown, "no day's mean is that cold or hot; is the unit another?"))
        }
        _ => Err(Bad::new(shown, "is not a temperature")),
    }
}

/// A phase under the name used here.
pub(super) fn phase_name(shown: &str) -> String {
    NUMBERED_PHASES.iter().find(|(number, _)| *number == shown).map_or(shown, |(_, name)| name).to_string()
}
