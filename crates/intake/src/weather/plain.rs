//! A sheet the grower made: days with a low and a high, or hours with a temperature, told apart by the header.

use jiff::{civil::Date, tz::TimeZone};
use measure::quantity::Fahrenheit;

use super::{
    Format, WeatherFile,
    book::{self, DayBook, HourBook, Kind},
    note::Why,
    text::{cells, delimiter, lines, number, refusal},
};
use crate::{
    logger::{
        clock,
        stamp::{self, Order, Stamp},
    },
    refusal::Refusal,
};

/// What a column's numbers are multiples of.
#[derive(Clone, Copy)]
enum Unit {
    /// °C or mm.
    Plain,
    /// Tenths of °C or mm.
    Tenths,
    /// °F.
    Fahrenheit,
    /// Inches of rain.
    Inch,
}

/// Names of columns, what they hold and in which unit.
const DAYS: [(&str, Kind, Unit); 26] = [
    ("tmin", Kind::Low, Unit::Plain),
    ("tmax", Kind::High, Unit::Plain),
    ("tavg", Kind::Mean, Unit::Plain),
    ("tmean", Kind::Mean, Unit::Plain),
    ("temp_min", Kind::Low, Unit::Plain),
    ("temp_max", Kind::High, Unit::Plain),
    ("temp_mean", Kind::Mean, Unit::Plain),
    ("tmin_c", Kind::Low, Unit::Plain),
    ("tmax_c", Kind::High, Unit::Plain),
    ("tavg_c", Kind::Mean, Unit::Plain),
    ("tmean_c", Kind::Mean, Unit::Plain),
    ("tmin_f", Kind::Low, Unit::Fahrenheit),
    ("tmax_f", Kind::High, Unit::Fahrenheit),
    ("tavg_f", Kind::Mean, Unit::Fahrenheit),
    ("tmean_f", Kind::Mean, Unit::Fahrenheit),
    ("tmin_x10", Kind::Low, Unit::Tenths),
    ("tmax_x10", Kind::High, Unit::Tenths),
    ("tavg_x10", Kind::Mean, Unit::Tenths),
    ("prcp_x10", Kind::Rain, Unit::Tenths),
    ("rain", Kind::Rain, Unit::Plain),
    ("rain_mm", Kind::Rain, Unit::Plain),
    ("prcp", Kind::Rain, Unit::Plain),
    ("prcp_mm", Kind::Rain, Unit::Plain),
    ("precipitation", Kind::Rain, Unit::Plain),
    ("rain_in", Kind::Rain, Unit::Inch),
    ("prcp_in", Kind::Rain, Unit::Inch),
];

/// Names of the column of times.
const TIMES: [&str; 4] = ["time", "datetime", "date_time", "timestamp"];

/// Marks for no value.
const MISSING: [f64; 5] = [-9999.0, 9999.0, -999.0, 999.9, -127.0];

impl Unit {
    fn plain(self, value: f64) -> f64 {
        match self {
            Unit::Plain => value,
            Unit::Tenths => value / 10.0,
            Unit::Fahrenheit => Fahrenheit(value).celsius().0,
            Unit::Inch => value * 25.4,
        }
    }
}

/// A cell that holds a number, a mark for none, or neither.
enum Cell {
    Number(f64),
    Missing,
    Unreadable,
}

fn cell(shown: &str) -> Cell {
    match number(shown) {
        Some(value) if MISSING.contains(&value) => Cell::Missing,
        Some(value) => Cell::Number(value),
        None if shown.is_empty() || shown.eq_ignore_ascii_case("na") || shown.eq_ignore_ascii_case("nan") => {
            Cell::Missing
        }
        None => Cell::Unreadable,
    }
}

fn names(header: &str) -> Vec<String> {
    cells(header, delimiter(header)).iter().map(|name| name.to_lowercase()).collect()
}

/// Whether a header names a date, a low and a high.
pub(crate) fn looks_days(header: &str) -> bool {
    let names = names(header);
    let holds =
        |kind| DAYS.iter().any(|(name, of, _)| *of == kind && names.iter().any(|column| column == name));
    names.iter().any(|name| name == "date") && holds(Kind::Low) && holds(Kind::High)
}

/// Whether a header names a time and `temp_c` or `temp_f`.
pub(crate) fn looks_hours(header: &str) -> bool {
    let names = names(header);
    names.iter().any(|name| TIMES.contains(&name.as_str()))
        && names.iter().any(|name| name == "temp_c" || name == "temp_f")
}

/// Reads days; gaps between them are noted.
pub(crate) fn days(text: &str) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = DayBook::default();
    let mut rows = lines(text);
    let header = rows.next().map_or("", |(_, row)| row);
    let (delimiter, names) = (delimiter(header), names(header));
    let at = |wanted: &str| names.iter().position(|name| name == wanted);
    let date_at = at("date").unwrap_or(0);
    let mut columns: Vec<(Kind, Unit, usize)> = Vec::new();
    for (name, kind, unit) in DAYS {
        if let Some(place) = at(name)
            && !columns.iter().any(|(known, ..)| *known == kind)
        {
            columns.push((kind, unit, place));
        }
    }
    for (line, row) in rows {
        let row = cells(row, delimiter);
        let shown = row.get(date_at).map_or("", String::as_str);
        let date = shown.parse().ok().or_else(|| Date::strptime("%Y%m%d", shown).ok());
        let Some(date) = date.filter(|date| book::believed(*date)) else {
            book.refused.push(refusal(line, shown, "not a date written as 2026-03-08 or 20260308"));
            continue;
        };
        for &(kind, unit, place) in &columns {
            let shown = row.get(place).map_or("", String::as_str);
            match cell(shown) {
                Cell::Number(value) => book.put(date, kind, unit.plain(value), line),
                Cell::Missing => book.tally.add(Why::Missing, 1),
                Cell::Unreadable => book.refused.push(refusal(line, shown, "not a number")),
            }
        }
    }
    book.close(Format::PlainDays, None)
}

/// Reads hours; a time without an offset is on the clock of `zone`.
pub(crate) fn hours(text: &str, zone: &TimeZone) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = HourBook::default();
    let mut rows = lines(text);
    let header = rows.next().map_or("", |(_, row)| row);
    let (delimiter, names) = (delimiter(header), names(header));
    let at = |wanted: &str| names.iter().position(|name| name == wanted);
    let (place, unit) = match (at("temp_c"), at("temp_f")) {
        (None, Some(place)) => (place, Unit::Fahrenheit),
        (place, _) => (place.unwrap_or(1), Unit::Plain),
    };
    let time_at = TIMES.iter().find_map(|name| at(name)).unwrap_or(0);
    let mut stamped: Vec<(usize, Stamp, String)> = Vec::new();
    for (line, row) in rows {
        let row = cells(row, delimiter);
        let shown = row.get(time_at).map_or("", String::as_str);
        let whole = stamp::open_pair(shown).is_none() && (shown.contains(':') || number(shown).is_some());
        match stamp::stamp(shown, Order::DayFirst).filter(|_| whole) {
            Some(stamp) => stamped.push((line, stamp, row.get(place).cloned().unwrap_or_default())),
            None => book.refused.push(refusal(line, shown, "not a time written as 2026-03-08T14:00")),
        }
    }
    if clock::newest_first(&stamped.iter().map(|(_, stamp, _)| *stamp).collect::<Vec<_>>()) {
        stamped.reverse();
    }
    let stamps: Vec<Stamp> = stamped.iter().map(|(_, stamp, _)| *stamp).collect();
    let moments = clock::moments(&stamps, zone, stamp::offset_within(&names[time_at]), &mut book.tally);
    for ((line, stamp, shown), moment) in stamped.iter().zip(moments) {
        match (moment, cell(shown)) {
            (Some(at), Cell::Number(value)) => book.put(at, unit.plain(value), *line),
            (Some(_), Cell::Missing) => book.tally.add(Why::Missing, 1),
            (Some(_), Cell::Unreadable) => book.refused.push(refusal(*line, shown, "not a number")),
            (None, _) => {
                let value = match stamp {
                    Stamp::Wall(wall) => wall.to_string(),
                    Stamp::Moment(at) => at.to_string(),
                };
                book.refused.push(refusal(*line, &value, "the clock skips this time in spring"));
            }
        }
    }
    book.close(Format::PlainHours, None)
}
