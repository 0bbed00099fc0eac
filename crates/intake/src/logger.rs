//! A temperature logger's file, whatever its maker: delimiter, date order and clock are found out, a scale is read where it is named, doubts are reported.

pub(crate) mod clock;
mod faults;
mod guess;
mod header;
mod hourly;
mod sensors;
pub(crate) mod stamp;

use jiff::tz::TimeZone;

pub use header::Scale;
pub use hourly::{hourly, humidity};
pub use sensors::by_sensor;
pub use stamp::Order;

use self::{header::Sheet, stamp::Stamp};
use crate::{
    import::Options,
    refusal::Refusal,
    weather::{
        Note,
        book::{self, Doubles, Timed},
        note::{Tally, Why},
        text::{cells, decode, lines, number, refusal},
        unit,
    },
};

/// What a logger's file held.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggerFile {
    /// Readings in the order of time, at most one per second.
    pub readings: Vec<Reading>,
    /// What was left out or is in doubt, counted.
    pub notes: Vec<Note>,
    /// Lines that cannot be taken.
    pub refused: Vec<Refusal>,
    /// The readings as they stand with their moments, where the file does not name their scale; empty where it does.
    pub unnamed: Vec<(i64, f64)>,
    /// Which scale the readings were taken in.
    pub scale: Scale,
    /// Which of the first two numbers of a date was taken as the day.
    pub order: Order,
    /// No day above 12 tells day from month; the steps or the habit of the format decided.
    pub date_order_guessed: bool,
}

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Unix seconds, UTC.
    pub at: i64,
    /// Air temperature, °C.
    pub temperature: f64,
    /// Relative humidity, %, where the logger keeps it.
    pub humidity: Option<f64>,
}

/// A row with a time, before its temperature is looked at.
struct Row {
    line: usize,
    stamp: Stamp,
    temperature: String,
    humidity: String,
    /// Something other than numbers stands beside an empty temperature.
    event: bool,
}

/// Words that stand for no value.
const NOTHING: [&str; 8] = ["-", "--", "---", "na", "n/a", "null", "none", "error"];

/// Reads a logger's file; `zone` is the clock on the wall, used where the file names no offset.
///
/// # Errors
///
/// No column of times with a temperature beside it was found, or no line could be taken.
///
/// # Example
///
/// ```
/// use intake::logger::read;
/// use jiff::tz::TimeZone;
///
/// let file = read("time;Temp [°C]\n13.01.2026 06:00;-3,5\n".as_bytes(), &TimeZone::UTC).unwrap();
/// assert_eq!((file.readings[0].temperature, file.unnamed.is_empty()), (-3.5, true));
/// ```
pub fn read(bytes: &[u8], zone: &TimeZone) -> Result<LoggerFile, Vec<Refusal>> {
    read_as(bytes, zone, &Options::default())
}

/// Reads a logger's file with what the grower decided about its scale, its dates and its doubles.
///
/// Without a scale, in the file or decided, the readings are taken as °C and also given as they stand. Different
/// readings at one moment become their mean, since a logger's samples are averaged by the hour anyway.
///
/// # Errors
///
/// As [`read`].
pub fn read_as(bytes: &[u8], zone: &TimeZone, options: &Options) -> Result<LoggerFile, Vec<Refusal>> {
    let text = decode(bytes);
    let lines: Vec<(usize, &str)> = lines(&text).collect();
    let Some(sheet) = header::find(&lines) else {
        let first = lines.first().map_or("", |(_, text)| text);
        return Err(vec![refusal(1, first, "no column of times with a temperature beside it")]);
    };
    let body = lines.iter().filter(|(line, _)| *line > sheet.line);
    let body: Vec<(usize, Vec<String>)> =
        body.map(|(line, text)| (*line, cells(text, sheet.delimiter))).collect();
    let shown: Vec<String> = body.iter().map(|(_, row)| sheet.shown_time(row)).collect();
    let (order, date_order_guessed) = match (guess::order(&shown), options.order) {
        ((_, true), Some(order)) => (order, false),
        (guessed, _) => guessed,
    };

    let (mut tally, mut refused) = (Tally::default(), Vec::new());
    tally.add(Why::OtherColumns, sheet.others);
    tally.add(Why::ShortYear, shown.iter().filter(|text| stamp::has_short_year(text)).count());
    let mut rows = Vec::new();
    for ((line, row), shown) in body.iter().zip(&shown) {
        match row_of(&sheet, *line, row, shown, order) {
            Ok(Some(row)) => rows.push(row),
            Ok(None) => tally.add(Why::EventRow, 1),
            Err(why) => refused.push(why),
        }
    }
    let rows = timed(rows, zone, &sheet, &mut tally, &mut refused);
    let scale = sheet.scale.or(options.scale).unwrap_or(Scale::Celsius);
    let bare = |(at, row): &(i64, Row)| {
        let value = number(&row.temperature)?;
        faults::sentinel(value, None).is_none().then_some((*at, value))
    };
    let unnamed = match sheet.scale {
        Some(_) => Vec::new(),
        None => rows.iter().filter_map(bare).collect(),
    };
    let taken = taken(rows, &sheet, scale, &mut tally, &mut refused);
    let doubles = if options.strict { Doubles::Refused } else { Doubles::Mean };
    let kept = book::settle(taken, doubles, &mut tally, &mut refused);
    let kept = without_lone_minus_40(kept, &mut tally);
    refused.sort_by_key(|refusal| refusal.line);
    if kept.is_empty() {
        refused.push(refusal(0, "", "no reading could be taken from the file"));
        return Err(refused);
    }
    tally.add(Why::Spike, kept.windows(2).filter(|pair| is_spike(&pair[0], &pair[1])).count());
    tally.add(Why::LongGap, kept.windows(2).filter(|pair| pair[1].at - pair[0].at > 3 * 3600).count());
    let readings = kept
        .iter()
        .map(|row| Reading { at: row.at, temperature: row.temperature, humidity: row.humidity })
        .collect();
    Ok(LoggerFile { readings, notes: tally.notes(), refused, unnamed, scale, order, date_order_guessed })
}

/// The row if it holds a time, nothing if it is the logger's word about itself.
fn row_of(
    sheet: &Sheet,
    line: usize,
    row: &[String],
    shown: &str,
    order: Order,
) -> Result<Option<Row>, Refusal> {
    let cell = |at: usize| row.get(at).map_or("", String::as_str);
    let temperature = cell(sheet.temperature);
    let Some(stamp) = stamp::stamp(shown, order) else {
        return match temperature {
            "" => Ok(None),
            _ => Err(refusal(line, shown, "not a time that can be read")),
        };
    };
    let known = [Some(sheet.time), sheet.clock, Some(sheet.temperature), sheet.humidity];
    let event = row
        .iter()
        .enumerate()
        .any(|(at, cell)| !known.contains(&Some(at)) && !cell.is_empty() && number(cell).is_none());
    let humidity = sheet.humidity.map_or("", cell).to_string();
    Ok(Some(Row { line, stamp, temperature: temperature.to_string(), humidity, event }))
}

/// Rows with their moments, from oldest to newest as the file runs.
fn timed(
    mut rows: Vec<Row>,
    zone: &TimeZone,
    sheet: &Sheet,
    tally: &mut Tally,
    refused: &mut Vec<Refusal>,
) -> Vec<(i64, Row)> {
    let mut stamps: Vec<Stamp> = rows.iter().map(|row| row.stamp).collect();
    if clock::newest_first(&stamps) {
        rows.reverse();
        stamps.reverse();
    }
    let moments = clock::moments(&stamps, zone, sheet.offset, tally);
    let mut timed: Vec<(i64, Row)> = Vec::with_capacity(rows.len());
    for (moment, row) in moments.into_iter().zip(rows) {
        match (moment, row.stamp) {
            (Some(at), _) => {
                let late = timed.last().is_some_and(|(before, _)| *before > at);
                tally.add(Why::OutOfOrder, usize::from(late));
                timed.push((at, row));
            }
            (None, Stamp::Wall(wall)) => {
                let why = "the clock skips this time in spring; does the logger keep one time all year?";
                refused.push(refusal(row.line, &wall.to_string(), why));
            }
            (None, Stamp::Moment(at)) => refused.push(refusal(row.line, &at.to_string(), "no such time")),
        }
    }
    timed
}

/// Temperatures in °C; what stands for a fault is counted, what is no temperature is refused.
fn taken(
    rows: Vec<(i64, Row)>,
    sheet: &Sheet,
    scale: Scale,
    tally: &mut Tally,
    refused: &mut Vec<Refusal>,
) -> Vec<Timed> {
    let mut taken = Vec::with_capacity(rows.len());
    for (at, row) in rows {
        let shown = row.temperature.trim_end_matches(['C', 'F', 'K', '°', '℃', '℉', ' ', '\u{a0}']);
        let own = row.temperature.get(shown.len()..).and_then(unit::scale);
        if let (Some(own), Some(headed)) = (own, sheet.scale)
            && own != headed
        {
            refused.push(refusal(row.line, &row.temperature, "the header names another scale"));
            continue;
        }
        let scale = own.unwrap_or(scale);
        let word = shown.to_lowercase();
        let value = match number(shown) {
            Some(value) => value,
            None if word == "nan" => {
                tally.add(Why::NotANumber, 1);
                continue;
            }
            None if word.is_empty() || NOTHING.contains(&word.as_str()) => {
                tally.add(if row.event { Why::EventRow } else { Why::Empty }, 1);
                continue;
            }
            None => {
                refused.push(refusal(row.line, &row.temperature, "not a number"));
                continue;
            }
        };
        if let Some(why) = faults::sentinel(value, Some(scale)) {
            tally.add(why, 1);
            continue;
        }
        let temperature = scale.celsius(value);
        let humidity =
            number(row.humidity.trim_end_matches(['%', ' '])).filter(|h| (0.0..=110.0).contains(h));
        if book::AIR.contains(&temperature) {
            taken.push(Timed { at, temperature, humidity, line: row.line });
        } else {
            let why = "no air is that cold or hot; is it another unit or a fault?";
            refused.push(refusal(row.line, &row.temperature, why));
        }
    }
    taken
}

fn without_lone_minus_40(rows: Vec<Timed>, tally: &mut Tally) -> Vec<Timed> {
    let celsius: Vec<f64> = rows.iter().map(|row| row.temperature).collect();
    let lone = faults::lone_minus_40(&celsius);
    tally.add(Why::LoneMinus40, lone.iter().filter(|lone| **lone).count());
    rows.into_iter().zip(lone).filter(|(_, lone)| !lone).map(|(row, _)| row).collect()
}

/// A jump of more than 8 °C in ten minutes, or at that pace over longer.
fn is_spike(before: &Timed, after: &Timed) -> bool {
    let tens = ((after.at - before.at) as f64 / 600.0).max(1.0);
    (after.temperature - before.temperature).abs() > 8.0 * tens
}

#[cfg(test)]
mod tests;
