//! Hourly station records in fixed columns, UTC, values in tenths.
//!
//! Source: NOAA NCEI, ISD-Lite format description: year, month, day, hour, air temperature, dew point, sea level pressure, wind
//! direction, wind speed, sky, rain of one hour and of six hours; scaled by 10, −9999 is missing, −1 in rain is a trace.

use climate::record::Element;

use super::{
    Format, WeatherFile,
    book::{self, HourBook},
    note::Why,
    text::{lines, number, refusal},
};
use crate::{import::Options, refusal::Refusal};

/// How many numbers a row holds.
const COLUMNS: usize = 12;

/// Where the numbers stand when they touch.
const PLACES: [(usize, usize); COLUMNS] = [
    (0, 4),
    (5, 7),
    (8, 10),
    (11, 13),
    (13, 19),
    (19, 25),
    (25, 31),
    (31, 37),
    (37, 43),
    (43, 49),
    (49, 55),
    (55, 61),
];

/// The other elements that are kept: their column, and the hours before the stamp that they are summed over.
const ELEMENTS: [(usize, Element, i64); 5] = [
    (5, Element::DewPoint, 0),
    (6, Element::Pressure, 0),
    (8, Element::Wind, 0),
    (10, Element::Rain, 1),
    (11, Element::RainOfSixHours, 6),
];

/// The mark for a missing value.
const MISSING: f64 = -9999.0;

/// The mark for a trace of rain, which is taken as none.
const TRACE: f64 = -1.0;

/// Whether a first line begins with year, month, day, hour and a temperature.
pub(crate) fn looks(line: &str) -> bool {
    !line.contains([',', ';', '\t'])
        && moment(&head(line)).is_some()
        && head(line).get(4).is_some_and(|cell| number(cell).is_some())
}

/// The numbers of a row as they stand: by spaces, or by columns when numbers touch.
fn head(line: &str) -> Vec<&str> {
    let spaced: Vec<&str> = line.split_whitespace().collect();
    if spaced.len() == COLUMNS {
        return spaced;
    }
    PLACES.iter().map_while(|&(from, to)| Some(line.get(from..to)?.trim())).collect()
}

/// The hour in unix seconds.
fn moment(head: &[&str]) -> Option<i64> {
    let part = |at: usize| head.get(at)?.parse::<i16>().ok();
    let (month, day) = (i8::try_from(part(1)?).ok()?, i8::try_from(part(2)?).ok()?);
    let hour = i64::from(part(3)?);
    let midnight = book::day(part(0)?, month, day)?.at(0, 0, 0, 0);
    let midnight = jiff::tz::Offset::UTC.to_timestamp(midnight).ok()?.as_second();
    (0..24).contains(&hour).then_some(midnight + 3600 * hour)
}

/// The station, if the file bears its two numbers in its name.
fn station(name: &str) -> Option<String> {
    let stem = name.rsplit(['/', '\\']).next()?;
    let mut parts = stem.split(['-', '.']);
    let (first, second) = (parts.next()?, parts.next()?);
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_alphanumeric());
    (first.len() == 6 && second.len() == 5 && digits(first) && digits(second))
        .then(|| format!("{first}-{second}"))
}

/// Reads hours: year, month, day, hour, then temperature and the other elements.
pub(crate) fn read(name: &str, text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = HourBook::new(options.strict);
    for (line, row) in lines(text) {
        let head = head(row);
        let Some(at) = moment(&head) else {
            book.refused.push(refusal(line, row, "no such year, month, day and hour"));
            continue;
        };
        match head.get(4).map(|cell| (cell, number(cell))) {
            Some((_, Some(MISSING))) => book.tally.add(Why::Missing, 1),
            Some((_, Some(tenths))) => book.put(at, tenths / 10.0, line),
            Some((cell, None)) => book.refused.push(refusal(line, cell, "not a number")),
            None => book.refused.push(refusal(line, row, "the row is cut short")),
        }
        for (column, element, hours) in ELEMENTS {
            let Some(tenths) = head.get(column).and_then(|cell| number(cell)).filter(|it| *it != MISSING)
            else {
                continue;
            };
            let rain = matches!(element, Element::Rain | Element::RainOfSixHours);
            let trace = rain && tenths == TRACE;
            book.tally.add(Why::Trace, usize::from(trace));
            book.put_element(at - 3600 * hours, element, if trace { 0.0 } else { tenths / 10.0 });
        }
    }
    book.close(Format::IsdLite, station(name))
}
