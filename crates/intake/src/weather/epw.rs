//! Hours of a typical year for building simulation: eight header lines, then 35 fields an hour in local standard time.
//!
//! Source: EnergyPlus, Auxiliary Programs, “EnergyPlus Weather File (EPW) Data Dictionary”: fields, units and marks for missing.

use climate::record::Element;
use jiff::tz::Offset;

use super::{
    Format, WeatherFile,
    book::{self, HourBook},
    note::Why,
    text::{cells, lines, number, refusal},
};
use crate::{import::Options, refusal::Refusal};

/// The mark for a missing temperature.
const MISSING: f64 = 99.9;

/// The other elements that are kept: their field and their mark for missing.
const ELEMENTS: [(usize, Element, f64); 6] = [
    (7, Element::DewPoint, 99.9),
    (8, Element::Humidity, 999.0),
    (9, Element::Pressure, 999_999.0),
    (13, Element::Radiation, 9999.0),
    (21, Element::Wind, 999.0),
    (33, Element::Rain, 999.0),
];

/// How many header lines stand before the hours.
const HEADER: usize = 8;

/// Reads hours; each is stamped at its end, so hour 1 ends at 01:00 local standard time. The other elements are
/// stamped at the hour's start in 2024, on local standard time.
pub(crate) fn read(text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let mut rows = lines(text);
    let place = rows.next().map(|(_, row)| cells(row, ',')).unwrap_or_default();
    let shown = place.get(8).map_or("", String::as_str);
    let Some(offset) = number(shown).filter(|hours| (-14.0..=14.0).contains(hours)) else {
        return Err(vec![refusal(1, shown, "the first line does not tell the hours from UTC")]);
    };
    let offset = (offset * 3600.0).round() as i64;
    let mut book = HourBook::new(options.strict);
    let mut hours = 0;
    for (line, row) in
        rows.skip_while(|(line, row)| *line <= HEADER && !row.starts_with(|c: char| c.is_ascii_digit()))
    {
        let row = cells(row, ',');
        let Some(end) = end(&row) else {
            let value = row[..row.len().min(5)].join(",");
            book.refused.push(refusal(line, &value, "no such year, month, day and hour from 1 to 24"));
            continue;
        };
        let cell = row.get(6).map_or("", String::as_str);
        match number(cell) {
            Some(MISSING) => book.tally.add(Why::Missing, 1),
            Some(celsius) => {
                book.put(end - offset, celsius, line);
                hours += 1;
            }
            None => book.refused.push(refusal(line, cell, "not a number")),
        }
        for (field, element, missing) in ELEMENTS {
            let value = row.get(field).and_then(|cell| number(cell)).filter(|value| *value < missing);
            if let Some(value) = value {
                let parts = if element == Element::Pressure { 100.0 } else { 1.0 };
                book.put_element(in_leap_year(&row).unwrap_or(end), element, value / parts);
            }
        }
    }
    book.tally.add(Why::TypicalYear, hours);
    let city = place.get(1).filter(|city| !city.is_empty()).cloned();
    Ok(WeatherFile { offset, ..book.close(Format::Epw, city)? })
}

/// The start of the hour in seconds of the leap year 2024 on the local clock.
fn in_leap_year(row: &[String]) -> Option<i64> {
    let part = |at: usize| row.get(at)?.parse::<i8>().ok();
    let date = book::day(2024, part(1)?, part(2)?)?;
    let midnight = Offset::UTC.to_timestamp(date.at(0, 0, 0, 0)).ok()?.as_second();
    Some(midnight + 3600 * (i64::from(part(3)?) - 1))
}

/// The end of the hour in seconds of the local clock.
fn end(row: &[String]) -> Option<i64> {
    let part = |at: usize| row.get(at)?.parse::<i16>().ok();
    let (month, day) = (i8::try_from(part(1)?).ok()?, i8::try_from(part(2)?).ok()?);
    let midnight = book::day(part(0)?, month, day)?.at(0, 0, 0, 0);
    let midnight = Offset::UTC.to_timestamp(midnight).ok()?.as_second();
    let (hour, minute) = (part(3)?, part(4).unwrap_or(60));
    let whole = (1..=24).contains(&hour) && (0..=60).contains(&minute);
    let minutes = if minute == 0 { 60 } else { i64::from(minute) };
    whole.then(|| midnight + 3600 * (i64::from(hour) - 1) + 60 * minutes)
}
