//! Daily station records of the global network: fixed columns, one value a row, or one day a row; values in tenths.

use jiff::civil::Date;

use super::{
    Format, WeatherFile,
    book::{self, DayBook, Kind},
    note::Why,
    text::{cells, lines, number, refusal},
};
use crate::{import::Options, refusal::Refusal};

/// The elements that are kept, and what divides their whole numbers: °C, mm and m/s come in tenths, minutes of sunshine
/// make hours, and humidity is in whole %.
///
/// Source: the record's own readme (NOAA NCEI, GHCN-Daily `readme.txt`, section III).
const ELEMENTS: [(&str, Kind, f64); 7] = [
    ("TMAX", Kind::High, 10.0),
    ("TMIN", Kind::Low, 10.0),
    ("TAVG", Kind::Mean, 10.0),
    ("PRCP", Kind::Rain, 10.0),
    ("AWND", Kind::Wind, 10.0),
    ("TSUN", Kind::Sunshine, 60.0),
    ("RHAV", Kind::Humidity, 1.0),
];

/// The mark for a missing value.
const MISSING: f64 = -9999.0;

/// The last hour and minute that counts as a morning reading.
const MORNING: u32 = 1100;

/// One value with its flags, as all three shapes of the record give it.
struct Entry<'a> {
    date: Date,
    kind: (Kind, f64),
    value: &'a str,
    measured: &'a str,
    quality: &'a str,
    line: usize,
}

fn kind(element: &str) -> Option<(Kind, f64)> {
    ELEMENTS.iter().find(|(name, ..)| *name == element).map(|(_, kind, parts)| (*kind, *parts))
}

fn put(book: &mut DayBook, entry: &Entry) {
    let (kind, parts) = entry.kind;
    let Some(whole) = number(entry.value) else {
        return book.refused.push(refusal(entry.line, entry.value, "not a number"));
    };
    if whole == MISSING {
        book.tally.add(Why::Missing, 1);
    } else if !entry.quality.trim().is_empty() {
        book.tally.add(Why::Flagged, 1);
    } else {
        if kind == Kind::Rain && entry.measured == "T" {
            book.tally.add(Why::Trace, 1);
        }
        book.put(entry.date, kind, whole / parts, entry.line);
    }
}

/// Holds the file to one station.
fn same_station<'a>(station: &mut Option<String>, found: &'a str, line: usize) -> Result<&'a str, Refusal> {
    match station {
        Some(known) if known != found => {
            let why = format!("the file began with station {known}; bring in one station at a time");
            Err(refusal(line, found, &why))
        }
        _ => {
            station.get_or_insert_with(|| found.to_string());
            Ok(found)
        }
    }
}

/// Whether a first line has the fixed columns of a month.
pub(crate) fn looks_fixed(line: &str) -> bool {
    let digits = |from, to| line.get(from..to).is_some_and(|text| text.bytes().all(|b| b.is_ascii_digit()));
    digits(11, 17)
        && line
            .get(..11)
            .is_some_and(|id| id.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_'))
        && line.get(17..21).is_some_and(|element| element.bytes().all(|b| b.is_ascii_alphanumeric()))
}

/// Reads months in fixed columns: station, year, month, element, then 31 of value and three flags.
pub(crate) fn fixed(text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let (mut book, mut station) = (DayBook::new(options.strict), None);
    for (line, row) in lines(text) {
        if !row.is_ascii() || !looks_fixed(row) {
            book.refused.push(refusal(line, row, "not station, year, month and element in their columns"));
            continue;
        }
        same_station(&mut station, &row[..11], line).map_err(|why| vec![why])?;
        match kind(&row[17..21]) {
            Some(kind) => month(&mut book, row, kind, line),
            None => book.tally.add(Why::NotUsed, 1),
        }
    }
    book.close(Format::GhcnDaily, station)
}

fn month(book: &mut DayBook, row: &str, kind: (Kind, f64), line: usize) {
    let (year, month) = (row[11..15].parse().unwrap_or(0), row[15..17].parse().unwrap_or(0));
    if book::day(year, month, 1).is_none() {
        return book.refused.push(refusal(line, &row[11..17], "no such month"));
    }
    for nth in 1..=31_i8 {
        let start = 21 + 8 * (usize::from(nth.unsigned_abs()) - 1);
        let part =
            |from: usize, to: usize| row.get(start + from..(start + to).min(row.len())).unwrap_or("").trim();
        let (value, measured, quality) = (part(0, 5), part(5, 6), part(6, 7));
        match book::day(year, month, nth) {
            Some(_) if row.len() < start + 5 => {
                return book.refused.push(refusal(line, &row[17..21], "the month is cut short"));
            }
            Some(date) => put(book, &Entry { date, kind, value, measured, quality, line }),
            None if value.is_empty() || number(value) == Some(MISSING) => {}
            None => {
                let why = format!("a value on day {nth} of a month that has no such day");
                book.refused.push(refusal(line, value, &why));
            }
        }
    }
}

/// Whether a first line is one value of one day of one station.
pub(crate) fn looks_by_station(line: &str) -> bool {
    let row = cells(line, ',');
    let header = row.len() >= 4 && row[0] == "ID" && row[1] == "DATE" && row[2] == "ELEMENT";
    header || (row.len() >= 4 && date(&row[1]).is_some() && row[2].len() == 4 && number(&row[0]).is_none())
}

fn date(shown: &str) -> Option<Date> {
    let plain = shown.len() == 8 && shown.bytes().all(|byte| byte.is_ascii_digit());
    let date = if plain { Date::strptime("%Y%m%d", shown).ok() } else { shown.parse().ok() };
    date.filter(|date| book::believed(*date))
}

/// Reads one value a row: station, date, element, value, three flags and the hour of observation.
pub(crate) fn by_station(text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let (mut book, mut station) = (DayBook::new(options.strict), None);
    for (line, row) in lines(text) {
        let row = cells(row, ',');
        let cell = |at: usize| row.get(at).map_or("", String::as_str);
        if cell(0) == "ID" && cell(1) == "DATE" {
            continue;
        }
        same_station(&mut station, cell(0), line).map_err(|why| vec![why])?;
        let Some(date) = date(cell(1)) else {
            book.refused.push(refusal(line, cell(1), "not a date written as 20260308"));
            continue;
        };
        let Some(kind) = kind(cell(2)) else {
            book.tally.add(Why::NotUsed, 1);
            continue;
        };
        if kind.0 == Kind::High && cell(7).parse().is_ok_and(|hour: u32| (1..=MORNING).contains(&hour)) {
            book.tally.add(Why::MorningReading, 1);
        }
        let (value, measured, quality) = (cell(3), cell(4), cell(5));
        put(&mut book, &Entry { date, kind, value, measured, quality, line });
    }
    book.close(Format::GhcnByStation, station)
}

/// Whether a header is that of one day a row with attributes beside each value.
pub(crate) fn looks_access(header: &str) -> bool {
    let row = cells(header, ',');
    row.first().is_some_and(|name| name == "STATION") && row.iter().any(|name| name == "DATE")
}

/// Reads one day a row: station, date, then each element with its attributes.
pub(crate) fn access(text: &str, options: &Options) -> Result<WeatherFile, Vec<Refusal>> {
    let (mut book, mut station) = (DayBook::new(options.strict), None);
    let mut rows = lines(text);
    let header = rows.next().map(|(_, row)| cells(row, ',')).unwrap_or_default();
    let at = |name: &str| header.iter().position(|column| column == name);
    let columns: Vec<((Kind, f64), usize, usize)> = ELEMENTS
        .iter()
        .filter_map(|(name, kind, parts)| {
            Some(((*kind, *parts), at(name)?, at(&format!("{name}_ATTRIBUTES"))?))
        })
        .collect();
    let day = at("DATE").unwrap_or(1);
    if day != 1 || columns.len() < ELEMENTS.iter().filter(|(name, ..)| at(name).is_some()).count() {
        let why = "this order of columns does not tell its units; name the columns date, tmin_c, tmax_c \
                   or date, tmin_f, tmax_f";
        return Err(vec![refusal(1, &header.join(","), why)]);
    }
    for (line, row) in rows {
        let row = cells(row, ',');
        let cell = |at: usize| row.get(at).map_or("", String::as_str);
        same_station(&mut station, cell(0), line).map_err(|why| vec![why])?;
        let Some(date) = date(cell(day)) else {
            book.refused.push(refusal(line, cell(day), "not a date written as 2026-03-08"));
            continue;
        };
        for &(kind, value, flags) in &columns {
            let value = cell(value);
            let mut flags = cell(flags).split(',');
            let (measured, quality) = (flags.next().unwrap_or(""), flags.next().unwrap_or(""));
            if value.is_empty() {
                book.tally.add(Why::Missing, 1);
            } else if value.contains('.') {
                let why = "tenths have no decimal point; this file keeps another unit";
                book.refused.push(refusal(line, value, why));
            } else {
                put(&mut book, &Entry { date, kind, value, measured, quality, line });
            }
        }
    }
    book.close(Format::GhcnAccess, station)
}
