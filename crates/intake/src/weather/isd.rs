//! Hourly station records in fixed columns, UTC, values in tenths.

use super::{
    Format, WeatherFile,
    book::{self, HourBook},
    note::Why,
    text::{lines, number, refusal},
};
use crate::refusal::Refusal;

/// How many numbers a row holds.
const COLUMNS: usize = 12;

/// Where year, month, day, hour and temperature stand when numbers touch.
const PLACES: [(usize, usize); 5] = [(0, 4), (5, 7), (8, 10), (11, 13), (13, 19)];

/// Whether a first line begins with year, month, day, hour and a temperature.
pub(crate) fn looks(line: &str) -> bool {
    !line.contains([',', ';', '\t'])
        && moment(&head(line)).is_some()
        && head(line).get(4).is_some_and(|cell| number(cell).is_some())
}

/// Year, month, day, hour and temperature as they stand: by spaces, or by columns when numbers touch.
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

/// Reads hours: year, month, day, hour, then temperature and the rest, of which only temperature is used.
pub(crate) fn read(name: &str, text: &str) -> Result<WeatherFile, Vec<Refusal>> {
    let mut book = HourBook::default();
    for (line, row) in lines(text) {
        let head = head(row);
        let Some(at) = moment(&head) else {
            book.refused.push(refusal(line, row, "no such year, month, day and hour"));
            continue;
        };
        match head.get(4).map(|cell| (cell, number(cell))) {
            Some((_, Some(-9999.0))) => book.tally.add(Why::Missing, 1),
            Some((_, Some(tenths))) => book.put(at, tenths / 10.0, line),
            Some((cell, None)) => book.refused.push(refusal(line, cell, "not a number")),
            None => book.refused.push(refusal(line, row, "the row is cut short")),
        }
    }
    book.close(Format::IsdLite, station(name))
}
