//! A weather record from outside: its format is told by its content, its days or hours become checked rows.

pub(crate) mod book;
mod epw;
mod ghcn;
mod isd;
pub(crate) mod note;
mod plain;
mod table;
pub(crate) mod text;
pub(crate) mod unit;

use climate::record::{WeatherDay, WeatherHour};
use jiff::{civil::Date, tz::TimeZone};

pub use note::{Note, Why};

use crate::{import::Options, refusal::Refusal};

/// What a weather file held; it has days or hours, never both.
#[derive(Clone, Debug, PartialEq)]
pub struct WeatherFile {
    /// Which format it was.
    pub format: Format,
    /// The station or city it names.
    pub station: Option<String>,
    /// Days in order, each once, each with at least one value.
    pub days: Vec<DayRow>,
    /// Hours in order, each moment once.
    pub hours: Vec<HourRow>,
    /// Hours of the other elements, in order.
    pub elements: Vec<WeatherHour>,
    /// Temperatures as they stand with their moments, where the file does not name their scale; empty where it does.
    pub unnamed: Vec<(i64, f64)>,
    /// Seconds that the record's clock is ahead of UTC; 0 but for a typical year.
    pub offset: i64,
    /// Whether the format's own habit says °C where the header names no scale.
    pub usually_celsius: bool,
    /// What was left out or is in doubt, counted.
    pub notes: Vec<Note>,
    /// Lines that cannot be taken.
    pub refused: Vec<Refusal>,
}

/// The formats that are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Global daily records, months in fixed columns.
    GhcnDaily,
    /// Global daily records, one value a row.
    GhcnByStation,
    /// Global daily records, one day a row.
    GhcnAccess,
    /// Global hourly records in fixed columns.
    IsdLite,
    /// A typical year for building simulation.
    Epw,
    /// A sheet of days with a low and a high.
    PlainDays,
    /// A sheet of hours with a temperature.
    PlainHours,
    /// A reply of the open weather service, forecast or past years.
    OpenMeteo,
}

impl WeatherFile {
    fn empty(format: Format, station: Option<String>) -> WeatherFile {
        WeatherFile {
            format,
            station,
            days: Vec::new(),
            hours: Vec::new(),
            elements: Vec::new(),
            unnamed: Vec::new(),
            offset: 0,
            usually_celsius: false,
            notes: Vec::new(),
            refused: Vec::new(),
        }
    }
}

impl Format {
    /// The format in words.
    pub fn words(self) -> &'static str {
        match self {
            Format::GhcnDaily => "GHCN-Daily station file (.dly)",
            Format::GhcnByStation => "GHCN-Daily by station (CSV, one value a row)",
            Format::GhcnAccess => "GHCN-Daily access file (CSV, one day a row)",
            Format::IsdLite => "ISD-Lite hourly station file",
            Format::Epw => "EnergyPlus typical year (.epw)",
            Format::PlainDays => "sheet of days with a low and a high",
            Format::PlainHours => "sheet of hours with a temperature",
            Format::OpenMeteo => "reply of the open weather service (Open-Meteo)",
        }
    }
}

/// One day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayRow {
    /// Which day, on the clock of the record.
    pub date: Date,
    /// Lowest temperature, °C.
    pub low: Option<f64>,
    /// Highest temperature, °C.
    pub high: Option<f64>,
    /// Rain and melted snow, mm.
    pub rain: Option<f64>,
    /// The other elements.
    pub others: WeatherDay,
}

/// One hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourRow {
    /// Unix seconds, UTC.
    pub at: i64,
    /// Air temperature, °C.
    pub temperature: f64,
}

/// Reads a weather file; `name` only lends a station's number, `zone` only clocks that name no offset.
///
/// # Errors
///
/// The format is not known, two stations share the file, its units are not told, or no line could be taken.
///
/// # Example
///
/// ```
/// use intake::weather::{read, Format};
/// use jiff::tz::TimeZone;
///
/// let file = read("frost.csv", b"date,tmin,tmax\n2026-01-01,-4,3\n", &TimeZone::UTC).unwrap();
/// assert_eq!((file.format, file.days[0].low), (Format::PlainDays, Some(-4.0)));
/// ```
pub fn read(name: &str, bytes: &[u8], zone: &TimeZone) -> Result<WeatherFile, Vec<Refusal>> {
    read_as(name, bytes, zone, &Options::default())
}

/// Reads a weather file with what the grower decided about its scale and its doubles.
///
/// # Errors
///
/// As [`read`].
pub fn read_as(
    name: &str,
    bytes: &[u8],
    zone: &TimeZone,
    options: &Options,
) -> Result<WeatherFile, Vec<Refusal>> {
    let text = text::decode(bytes);
    let Some((line, first)) = text::lines(&text).next() else {
        return Err(vec![text::refusal(0, name, "the file is empty")]);
    };
    if first.starts_with("LOCATION,") {
        epw::read(&text, options)
    } else if ghcn::looks_access(first) {
        ghcn::access(&text, options)
    } else if ghcn::looks_by_station(first) {
        ghcn::by_station(&text, options)
    } else if plain::looks_hours(first) {
        plain::hours(&text, zone, options)
    } else if plain::looks_days(first) {
        plain::days(&text, options)
    } else if isd::looks(first) {
        isd::read(name, &text, options)
    } else if ghcn::looks_fixed(first) {
        ghcn::fixed(&text, options)
    } else {
        let why = "no weather format that is known here; a sheet needs a header such as date,tmin,tmax \
                   or time,temp_c";
        Err(vec![text::refusal(line, first, why)])
    }
}

#[cfg(test)]
mod tests;
