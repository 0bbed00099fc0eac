//! The air of a case: hours from a first day on, out of daily or hourly files.

use std::collections::BTreeMap;

use climate::hours::{Extremes, from_extremes};
use jiff::{Timestamp, ToSpan, civil::Date};
use measure::quantity::{Celsius, Degrees};

use crate::{
    refusal::Refusal,
    series::{Series, read},
};

/// Hours of air on whole days.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// Date of the first hour.
    pub first: Date,
    /// °C, 24 to the day; not a number where the file has a gap.
    pub hours: Vec<f64>,
}

impl Weather {
    /// The hours of a day; none outside the file.
    pub fn day(&self, date: Date) -> Option<&[f64]> {
        let at = usize::try_from((date - self.first).get_days()).ok()? * 24;
        self.hours.get(at..at + 24)
    }
}

/// Longest gap that is bridged by what stands before it, days.
const BRIDGED: usize = 3;

/// Reads a weather file: columns `time` and °C by the hour; `date` with `min`, `max` and perhaps `mean`; `station`, `date`, `tmin_x10`,
/// `tmax_x10`; or any daily file that the weather import takes. `which` names the column of hours, or the station.
///
/// # Errors
///
/// A [`Refusal`] for every line that cannot be read.
pub fn weather(text: &str, which: Option<&str>, latitude: Degrees) -> Result<Weather, Vec<Refusal>> {
    let refuse = |line: usize, value: &str, why: &str| Refusal { line, value: value.into(), why: why.into() };
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let head: Vec<String> = match reader.headers() {
        Ok(head) => head.iter().map(str::to_lowercase).collect(),
        Err(why) => return Err(vec![refuse(1, "", &why.to_string())]),
    };
    let at = |names: &[&str]| head.iter().position(|name| names.contains(&name.as_str()));
    if let Some(time) = at(&["time"]) {
        let wanted = which.map(str::to_lowercase);
        let column = match &wanted {
            Some(name) => head.iter().position(|it| it == name),
            None => (0..head.len()).find(|it| *it != time),
        };
        let Some(column) = column else {
            return Err(vec![refuse(1, which.unwrap_or(""), "is no column of this file")]);
        };
        return hourly(reader, time, column);
    }
    let (date, low, high) =
        (at(&["date"]), at(&["tmin", "min", "tmin_x10"]), at(&["tmax", "max", "tmax_x10"]));
    let (station, mean) = (at(&["station"]), at(&["mean"]));
    let by_station = which.is_some_and(|_| station.is_some());
    let is_ours = by_station || mean.is_some() || at(&["min"]).is_some();
    let (Some(date), Some(low), Some(high), true) = (date, low, high, is_ours) else {
        return from_series(text, latitude);
    };
    let scale = if head[low].ends_with("x10") { 0.1 } else { 1.0 };
    let mut days: BTreeMap<Date, (Extremes, Option<f64>)> = BTreeMap::new();
    let mut refused = Vec::new();
    for record in reader.records() {
        let Ok(record) = record else { continue };
        let line = record.position().map_or(0, |at| at.line() as usize);
        let cell = |at: usize| record.get(at).unwrap_or("");
        if by_station && station.map(cell) != which {
            continue;
        }
        let Some(day) = day(cell(date)) else {
            refused.push(refuse(line, cell(date), "is no date"));
            continue;
        };
        let number = |at: usize| cell(at).parse::<f64>().ok().map(|value| value * scale);
        let Some((low, high)) = number(low).zip(number(high)) else { continue };
        if low > high {
            refused.push(refuse(line, &format!("{low} and {high}"), "is a low above its high"));
            continue;
        }
        let extremes = Extremes { low: Celsius(low), high: Celsius(high) };
        days.insert(day, (extremes, mean.and_then(|at| cell(at).parse().ok())));
    }
    if !refused.is_empty() {
        return Err(refused);
    }
    daily(days, latitude)
}

/// `2026-01-31` or `20260131`.
fn day(text: &str) -> Option<Date> {
    if text.len() == 8 && text.is_ascii() {
        return Date::new(text[..4].parse().ok()?, text[4..6].parse().ok()?, text[6..].parse().ok()?).ok();
    }
    text.parse().ok()
}

fn from_series(text: &str, latitude: Degrees) -> Result<Weather, Vec<Refusal>> {
    match read(text)? {
        Series::Days(days) => {
            let known = days.iter().map(|it| {
                let extremes = Extremes { low: Celsius(it.low), high: Celsius(it.high) };
                (it.date, (extremes, None))
            });
            daily(known.collect(), latitude)
        }
        Series::Hours(_) => Err(vec![Refusal {
            line: 1,
            value: String::new(),
            why: "hours without a time of their own belong to no winter; a column `time` is needed".into(),
        }]),
    }
}

/// Hours of daily extremes, drawn to the day's mean where it is known; short gaps are bridged, long ones left open.
fn daily(days: BTreeMap<Date, (Extremes, Option<f64>)>, latitude: Degrees) -> Result<Weather, Vec<Refusal>> {
    let refuse = |why: String| vec![Refusal { line: 0, value: String::new(), why }];
    let (Some((&first, _)), Some((&last, _))) = (days.first_key_value(), days.last_key_value()) else {
        return Err(refuse("the weather file holds no day that was asked for".into()));
    };
    let count = (last - first).get_days() as usize + 1;
    let mut known: Vec<Option<(Extremes, Option<f64>)>> = Vec::with_capacity(count);
    for at in 0..count {
        let date = first.checked_add((at as i64).days()).unwrap_or(last);
        known.push(days.get(&date).copied());
    }
    let mut filled = Vec::with_capacity(count);
    let (mut before, mut gap) = (known[0], 0);
    let mut is_open = vec![false; count];
    for (at, day) in known.iter().enumerate() {
        gap = if day.is_some() { 0 } else { gap + 1 };
        is_open[at] = gap > BRIDGED;
        before = day.or(before);
        filled.extend(before);
    }
    let extremes: Vec<Extremes> = filled.iter().map(|it| it.0).collect();
    let mut hours = from_extremes(latitude, first, &extremes).map_err(|why| refuse(why.to_string()))?;
    for ((of_day, (_, mean)), open) in hours.chunks_exact_mut(24).zip(&filled).zip(&is_open) {
        let shift = mean.map_or(0.0, |mean| mean - of_day.iter().sum::<f64>() / 24.0);
        of_day.iter_mut().for_each(|hour| *hour = if *open { f64::NAN } else { *hour + shift });
    }
    Ok(Weather { first, hours })
}

fn hourly(mut reader: csv::Reader<&[u8]>, time: usize, column: usize) -> Result<Weather, Vec<Refusal>> {
    let mut refused = Vec::new();
    let mut by_day: BTreeMap<Date, [f64; 24]> = BTreeMap::new();
    for record in reader.records() {
        let Ok(record) = record else { continue };
        let line = record.position().map_or(0, |at| at.line() as usize);
        let text = record.get(time).unwrap_or("");
        let Some((date, hour)) = moment(text) else {
            refused.push(Refusal {
                line,
                value: text.into(),
                why: "is no time, as 2026-01-31T06 is one".into(),
            });
            continue;
        };
        let value = record.get(column).and_then(|cell| cell.parse().ok()).unwrap_or(f64::NAN);
        by_day.entry(date).or_insert([f64::NAN; 24])[hour] = value;
    }
    if !refused.is_empty() {
        return Err(refused);
    }
    let (Some((&first, _)), Some((&last, _))) = (by_day.first_key_value(), by_day.last_key_value()) else {
        return Err(vec![Refusal {
            line: 0,
            value: String::new(),
            why: "the weather file holds no hour".into(),
        }]);
    };
    let count = (last - first).get_days().max(0) as i64 + 1;
    let hours = (0..count)
        .flat_map(|at| {
            let date = first.checked_add(at.days()).unwrap_or(last);
            by_day.get(&date).copied().unwrap_or([f64::NAN; 24])
        })
        .collect();
    Ok(Weather { first, hours })
}

/// A day and an hour: `2026-01-31T06`, `2026-01-31 06:00`, or an instant in UTC.
fn moment(text: &str) -> Option<(Date, usize)> {
    if let Ok(at) = text.parse::<Timestamp>() {
        let at = jiff::tz::TimeZone::UTC.to_datetime(at);
        return Some((at.date(), usize::try_from(at.hour()).ok()?));
    }
    let (date, rest) = text.split_once(['T', ' '])?;
    let hour: usize = rest.split(':').next()?.parse().ok()?;
    Some((date.parse().ok()?, hour)).filter(|(_, hour)| *hour < 24)
}
