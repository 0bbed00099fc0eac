//! Where a logger's file keeps its time, temperature and humidity, and what its header says of unit and clock.

use jiff::tz::Offset;
use measure::quantity::Fahrenheit;

use super::stamp::{self, Order};
use crate::weather::{
    text::{cells, number},
    unit,
};

/// A scale of temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// °C.
    Celsius,
    /// °F.
    Fahrenheit,
    /// K.
    Kelvin,
}

impl Scale {
    /// A value on this scale, in °C.
    ///
    /// ```
    /// use intake::logger::Scale;
    ///
    /// assert_eq!((Scale::Fahrenheit.celsius(50.0), Scale::Kelvin.celsius(273.15)), (10.0, 0.0));
    /// ```
    pub fn celsius(self, value: f64) -> f64 {
        match self {
            Scale::Celsius => value,
            Scale::Fahrenheit => Fahrenheit(value).celsius().0,
            Scale::Kelvin => value - 273.15,
        }
    }

    /// The scale that goes by this word: c, f or k.
    pub fn from_key(key: &str) -> Option<Scale> {
        match key {
            "c" | "C" => Some(Scale::Celsius),
            "f" | "F" => Some(Scale::Fahrenheit),
            "k" | "K" => Some(Scale::Kelvin),
            _ => None,
        }
    }
}

/// How to read the rows.
#[derive(Clone, Debug)]
pub(crate) struct Sheet {
    /// The last line before the rows; 0 if the rows begin at once.
    pub(crate) line: usize,
    pub(crate) delimiter: char,
    pub(crate) time: usize,
    /// A second column that holds the time of day.
    pub(crate) clock: Option<usize>,
    pub(crate) temperature: usize,
    /// How many more columns hold temperatures.
    pub(crate) others: usize,
    pub(crate) humidity: Option<usize>,
    pub(crate) scale: Option<Scale>,
    pub(crate) offset: Option<Offset>,
}

/// Lines in which a header may stand.
const FAR: usize = 200;

/// Rows after a header of which one must hold a time.
const NEAR: usize = 5;

const DELIMITERS: [char; 4] = [';', '\t', ',', '|'];

/// Finds the header, or failing that the first row that holds a time and a number.
pub(crate) fn find(lines: &[(usize, &str)]) -> Option<Sheet> {
    let near = &lines[..lines.len().min(FAR)];
    let headed = near.iter().enumerate().find_map(|(nth, (line, text))| {
        DELIMITERS.iter().find_map(|&delimiter| {
            let mut sheet = named(*line, text, delimiter)?;
            let mut after = lines[nth + 1..].iter().take(NEAR);
            after.any(|(_, row)| holds_time(&sheet, row)).then(|| {
                let above = || near[..nth].iter().map(|(_, text)| *text);
                sheet.scale = sheet.scale.or_else(|| above().find_map(scale_in_preamble));
                sheet.offset = sheet.offset.or_else(|| above().find_map(offset_in_preamble));
                sheet
            })
        })
    });
    headed.or_else(|| {
        near.iter().enumerate().find_map(|(nth, (_, row))| {
            DELIMITERS.iter().find_map(|&delimiter| bare(&near[..nth], row, delimiter))
        })
    })
}

fn holds_time(sheet: &Sheet, row: &str) -> bool {
    let shown = sheet.shown_time(&cells(row, sheet.delimiter));
    stamp::stamp(&shown, Order::DayFirst).or(stamp::stamp(&shown, Order::MonthFirst)).is_some()
}

impl Sheet {
    /// Date and time of day as they stand in a row.
    pub(crate) fn shown_time(&self, row: &[String]) -> String {
        let cell = |at: usize| row.get(at).map_or("", String::as_str);
        match self.clock {
            Some(clock) => format!("{} {}", cell(self.time), cell(clock)).trim().to_string(),
            None => cell(self.time).to_string(),
        }
    }
}

/// Reads a line as a header.
fn named(line: usize, text: &str, delimiter: char) -> Option<Sheet> {
    let shown = cells(text, delimiter);
    let names: Vec<String> = shown.iter().map(|name| name.to_lowercase()).collect();
    let says = |name: &str, words: &[&str]| words.iter().any(|word| name.contains(word));
    let is_date = |name: &str| says(name, &["date", "datum", "fecha", "giorno"]);
    let is_clock =
        |name: &str| says(name, &["time", "zeit", "stamp", "epoch", "heure", "hora", "ora", "uhr"]);
    let is_temperature = |at: &usize| {
        let other = [
            "dew", "taupunkt", "wet", "alarm", "limit", "max", "min", "time", "zeit", "feels", "heat",
            "chill",
        ];
        unit::is_temperature(&shown[*at]) && !says(&names[*at], &other)
    };
    let is_humidity = |name: &str| {
        says(name, &["humid", "feucht", "%", "umid", "humed"]) || tokens(name).any(|t| t == "rh")
    };
    let temperature = (0..names.len()).find(is_temperature)?;
    let others = (0..names.len()).filter(is_temperature).count() - 1;
    let elsewhere = |at: &usize| *at != temperature;
    let date = (0..names.len()).filter(elsewhere).find(|&at| is_date(&names[at]));
    let clock = (0..names.len()).filter(elsewhere).find(|&at| is_clock(&names[at]));
    let (time, clock) = match (date, clock) {
        (Some(date), Some(clock)) if is_clock(&names[date]) => (date.min(clock), None),
        (Some(date), Some(clock)) if is_date(&names[clock]) || clock + 1 < date => (clock, None),
        (Some(date), Some(clock)) => (date, Some(clock)),
        (Some(time), None) | (None, Some(time)) => (time, None),
        (None, None) => return None,
    };
    let humidity = (0..names.len()).filter(elsewhere).find(|&at| at != time && is_humidity(&names[at]));
    let scale = unit::scale(&shown[temperature]);
    let offset = stamp::offset_within(&names[time]);
    Some(Sheet { line, delimiter, time, clock, temperature, others, humidity, scale, offset })
}

/// Reads a row that stands without a header: a time, and after it the first number.
fn bare(above: &[(usize, &str)], row: &str, delimiter: char) -> Option<Sheet> {
    let row = cells(row, delimiter);
    let time = row.iter().position(|cell| {
        stamp::stamp(cell, Order::DayFirst).or(stamp::stamp(cell, Order::MonthFirst)).is_some()
    })?;
    let temperature = (time + 1..row.len()).find(|&at| number(&row[at]).is_some())?;
    Some(Sheet {
        line: above.last().map_or(0, |(line, _)| *line),
        delimiter,
        time,
        clock: None,
        temperature,
        others: 0,
        humidity: None,
        scale: above.iter().find_map(|(_, text)| scale_in_preamble(text)),
        offset: above.iter().find_map(|(_, text)| offset_in_preamble(text)),
    })
}

fn tokens(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| !c.is_alphanumeric()).filter(|token| !token.is_empty())
}

/// The scale a line above the header tells, where a lone letter would prove nothing.
fn scale_in_preamble(text: &str) -> Option<Scale> {
    let text = text.to_lowercase();
    let says = |words: &[&str]| words.iter().any(|word| text.contains(word));
    let fahrenheit = says(&["°f", "℉", "fahrenheit", "degf", "deg f"]);
    let celsius = says(&["°c", "℃", "celsius", "degc", "deg c", "grad c"]);
    match (fahrenheit, celsius) {
        (true, false) => Some(Scale::Fahrenheit),
        (false, true) => Some(Scale::Celsius),
        _ => None,
    }
}

/// The offset a line above the header tells, if it speaks of the logger's clock and not of its own hour.
fn offset_in_preamble(text: &str) -> Option<Offset> {
    let lower = text.to_lowercase();
    let speaks = ["zone", "offset"].iter().any(|word| lower.contains(word));
    speaks.then(|| stamp::offset_within(text)).flatten()
}
