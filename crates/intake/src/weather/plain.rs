//! A sheet the grower made: days with a low and a high, or hours with a temperature, told apart by the header.

use climate::record::Element;
use jiff::{
    civil::Date,
    tz::{Offset, TimeZone},
};

use super::{
    Format, WeatherFile,
    book::{self, DayBook, HourBook, Kind},
    note::Why,
    text::{cells, delimiter, lines, number, refusal},
    unit,
};
use crate::{
    import::Options,
    logger::{
        Scale, clock,
        stamp::{self, Order, Stamp},
    },
    refusal::Refusal,
};

/// What a column's numbers are multiples of.
#[derive(Clone, Copy)]
enum Unit {
    /// mm.
    Plain,
    /// Tenths of °C or mm.
    Tenths,
    /// A temperature on a scale that the header names.
    On(Scale),
    /// A temperature on a scale that the header does not name.
    Unnamed,
    /// The unit of another element.
    Of(Element, unit::Unit),
    /// Inches of rain.
    Inch,
}

/// Names of columns, what they hold and in which unit.
const DAYS: [(&str, Kind, Unit); 26] = [
    ("tmin", Kind::Low, Unit::Unnamed),
    ("tmax", Kind::High, Unit::Unnamed),
    ("tavg", Kind::Mean, Unit::Unnamed),
    ("tmean", Kind::Mean, Unit::Unnamed),
    ("temp_min", Kind::Low, Unit::Unnamed),
    ("temp_max", Kind::High, Unit::Unnamed),
    ("temp_mean", Kind::Mean, Unit::Unnamed),
    ("tmin_c", Kind::Low, Unit::On(Scale::Celsius)),
    ("tmax_c", Kind::High, Unit::On(Scale::Celsius)),
    ("tavg_c", Kind::Mean, Unit::On(Scale::Celsius)),
    ("tmean_c", Kind::Mean, Unit::On(Scale::Celsius)),
    ("tmin_f", Kind::Low, Unit::On(Scale::Fahrenheit)),
    ("tmax_f", Kind::High, Unit::On(Scale::Fahrenheit)),
    ("tavg_f", Kind::Mean, Unit::On(Scale::Fahrenheit)),
    ("tmean_f", Kind::Mean, Unit::On(Scale::Fahrenheit)),
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
            Unit::On(scale) => scale.celsius(value),
            Unit::Of(element, unit) => unit::in_unit(element, unit, value).unwrap_or(value),
            Unit::Unnamed => value,
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

/// What a column of days holds, by its exact name or by the words and the unit in it.
fn day_column(name: &str) -> Option<(Kind, Unit)> {
    let lower = name.to_lowercase();
    if let Some((_, kind, unit)) = DAYS.iter().find(|(known, ..)| *known == lower) {
        return Some((*kind, *unit));
    }
    if let Some((element, named)) = unit::element(name) {
        let kind = match element {
            Element::Humidity => Kind::Humidity,
            Element::Wind => Kind::Wind,
            Element::Radiation if named == unit::Unit::WattPerSquareMetre => Kind::Radiation,
            Element::Sunshine => Kind::Sunshine,
            Element::Rain => Kind::Rain,
            _ => return None,
        };
        return Some((kind, Unit::Of(element, named)));
    }
    let words = unit::words(name);
    let says = |wanted: &[&str]| words.iter().any(|word| wanted.contains(&word.text.as_str()));
    let temperature = unit::is_temperature(name) || says(&["tmin", "tmax", "tavg", "tmean", "low", "high"]);
    let kind = match () {
        () if !temperature || says(&["dew", "wet", "soil", "grass"]) => return None,
        () if says(&["tmin", "min", "minimum", "low", "lowest", "tiefst", "tn"]) => Kind::Low,
        () if says(&["tmax", "max", "maximum", "high", "highest", "höchst", "tx"]) => Kind::High,
        () if says(&["tavg", "tmean", "mean", "avg", "average", "mittel", "tm"]) => Kind::Mean,
        () => return None,
    };
    Some((kind, unit::scale(name).map_or(Unit::Unnamed, Unit::On)))
}

const DATES: [&str; 4] = ["date", "datum", "day", "tag"];

fn date_column(names: &[String]) -> Option<usize> {
    names.iter().position(|name| DATES.contains(&name.as_str()))
}

/// Whether a header names a date, a low and a high.
pub(crate) fn looks_days(header: &str) -> bool {
    let shown = cells(header, delimiter(header));
    let holds = |wanted| shown.iter().any(|name| day_column(name).is_some_and(|(kind, _)| kind == wanted));
    date_column(&names(header)).is_some() && holds(Kind::Low) && holds(Kind::High)
}

/// The column of times, by a name of [`TIMES`], alone or before a bracket or a clock.
fn time_column(names: &[String]) -> Option<usize> {
    names
        .iter()
        .position(|name| TIMES.iter().any(|time| name == time || name.starts_with(&format!("{time} "))))
}

/// The column of the air's temperature, and its scale where the header names it.
fn temperature_column(shown: &[String]) -> Option<(usize, Option<Scale>)> {
    let other = ["dew", "wet", "min", "max", "soil", "feels", "heat", "chill"];
    let fits = |name: &&String| {
        let lower = name.to_lowercase();
        unit::is_temperature(name) && !other.iter().any(|word| lower.contains(word))
    };
    let time = time_column(&shown.iter().map(|name| name.to_lowercase()).collect::<Vec<_>>());
    let place = (0..shown.len()).find(|at| Some(*at) != time && fits(&&shown[*at]))?;
    Some((place, unit::scale(&shown[place])))
}

/// Whether a header names a time and a temperature.
pub(crate) fn looks_hours(header: &str) -> bool {
    time_column(&names(header)).is_some()
        && temperature_column(&cells(header, delimiter(header))).is_some()
        && !looks_days(header)
}

/// Reads days; gaps between them are noted.
pub(crate) fn days(text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = DayBook::new(options.strict);
    let mut rows = lines(text);
    let header = rows.next().map_or("", |(_, row)| row);
    let (delimiter, names) = (delimiter(header), names(header));
    let date_at = date_column(&names).unwrap_or(0);
    let mut columns: Vec<(Kind, Unit, usize)> = Vec::new();
    for (place, name) in cells(header, delimiter).iter().enumerate() {
        match day_column(name) {
            Some((kind, unit)) if !columns.iter().any(|(known, ..)| *known == kind) => {
                columns.push((kind, unit, place));
            }
            _ if place != date_at => book.tally.add(Why::NotUsed, 1),
            _ => {}
        }
    }
    let mut unnamed = Vec::new();
    for (line, row) in rows {
        let row = cells(row, delimiter);
        let shown = row.get(date_at).map_or("", String::as_str);
        let date = shown.parse().ok().or_else(|| Date::strptime("%Y%m%d", shown).ok());
        let Some(date) = date.filter(|date| book::believed(*date)) else {
            book.refused.push(refusal(line, shown, "not a date written as 2026-03-08 or 20260308"));
            continue;
        };
        if split_by_its_comma(delimiter, &row, names.len(), line, &mut book.refused) {
            continue;
        }
        for &(kind, unit, place) in &columns {
            let shown = row.get(place).map_or("", String::as_str);
            match (cell(shown), unit) {
                (Cell::Number(value), Unit::Unnamed) => {
                    unnamed.extend(noon(date).map(|noon| (noon, value)));
                    book.put(date, kind, options.scale.unwrap_or(Scale::Celsius).celsius(value), line);
                }
                (Cell::Number(value), unit) => book.put(date, kind, unit.plain(value), line),
                (Cell::Missing, _) => book.tally.add(Why::Missing, 1),
                (Cell::Unreadable, _) => book.refused.push(refusal(line, shown, "not a number")),
            }
        }
    }
    let file = book.close(Format::PlainDays, None)?;
    Ok(WeatherFile { unnamed, usually_celsius: true, ..file })
}

fn noon(date: Date) -> Option<i64> {
    Some(Offset::UTC.to_timestamp(date.at(12, 0, 0, 0)).ok()?.as_second())
}

/// Refuses a row with more cells than its header where the cells are parted by commas: a decimal comma may have split a
/// number in two.
fn split_by_its_comma(
    delimiter: char,
    row: &[String],
    columns: usize,
    line: usize,
    refused: &mut Vec<Refusal>,
) -> bool {
    let filled = row.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1);
    let split = delimiter == ',' && filled > columns;
    if split {
        let why =
            "more cells than the header; does a decimal comma split a number? Part the cells by semicolons";
        refused.push(refusal(line, &row.join(","), why));
    }
    split
}

/// Reads hours; a time without an offset is on the clock of `zone`.
pub(crate) fn hours(text: &str, zone: &TimeZone, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = HourBook::new(options.strict);
    let mut rows = lines(text);
    let header = rows.next().map_or("", |(_, row)| row);
    let (delimiter, names) = (delimiter(header), names(header));
    let headed = cells(header, delimiter);
    let (place, named) = temperature_column(&headed).unwrap_or((1, None));
    let scale = named.or(options.scale).unwrap_or(Scale::Celsius);
    let time_at = time_column(&names).unwrap_or(0);
    let mut elements: Vec<(usize, Element, unit::Unit)> = Vec::new();
    for (at, name) in headed.iter().enumerate().filter(|(at, _)| *at != place && *at != time_at) {
        match unit::element(name) {
            Some((element, unit)) if !elements.iter().any(|(_, known, _)| *known == element) => {
                elements.push((at, element, unit));
            }
            _ => book.tally.add(Why::NotUsed, 1),
        }
    }
    let mut stamped: Vec<(usize, Stamp, Vec<String>)> = Vec::new();
    for (line, row) in rows {
        let row = cells(row, delimiter);
        let shown = row.get(time_at).map_or("", String::as_str);
        let whole = stamp::open_pair(shown).is_none() && (shown.contains(':') || number(shown).is_some());
        match stamp::stamp(shown, Order::DayFirst).filter(|_| whole) {
            None => book.refused.push(refusal(line, shown, "not a time written as 2026-03-08T14:00")),
            Some(_) if split_by_its_comma(delimiter, &row, names.len(), line, &mut book.refused) => {}
            Some(stamp) => stamped.push((line, stamp, row)),
        }
    }
    if clock::newest_first(&stamped.iter().map(|(_, stamp, _)| *stamp).collect::<Vec<_>>()) {
        stamped.reverse();
    }
    let stamps: Vec<Stamp> = stamped.iter().map(|(_, stamp, _)| *stamp).collect();
    let moments = clock::moments(&stamps, zone, stamp::offset_within(&names[time_at]), &mut book.tally);
    let mut unnamed = Vec::new();
    for ((line, stamp, row), moment) in stamped.iter().zip(moments) {
        let shown = row.get(place).map_or("", String::as_str);
        let Some(at) = moment else {
            let value = match stamp {
                Stamp::Wall(wall) => wall.to_string(),
                Stamp::Moment(at) => at.to_string(),
            };
            book.refused.push(refusal(*line, &value, "the clock skips this time in spring"));
            continue;
        };
        match cell(shown) {
            Cell::Number(value) => {
                unnamed.extend(named.is_none().then_some((at, value)));
                book.put(at, scale.celsius(value), *line);
            }
            Cell::Missing => book.tally.add(Why::Missing, 1),
            Cell::Unreadable => book.refused.push(refusal(*line, shown, "not a number")),
        }
        for &(column, element, unit) in &elements {
            let shown = row.get(column).map_or("", String::as_str);
            match cell(shown) {
                Cell::Number(value) => {
                    book.put_element(at, element, unit::in_unit(element, unit, value).unwrap_or(value));
                }
                Cell::Missing => {}
                Cell::Unreadable => book.refused.push(refusal(*line, shown, "not a number")),
            }
        }
    }
    let file = book.close(Format::PlainHours, None)?;
    Ok(WeatherFile { unnamed, ..file })
}
