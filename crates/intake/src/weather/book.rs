//! Days and hours gathered in any order and closed into sorted rows, each at most once.

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::{
    DayRow, Format, HourRow, WeatherFile,
    note::{Tally, Why},
    text::refusal,
};
use crate::refusal::Refusal;

/// Years a weather record may speak of.
const YEARS: std::ops::RangeInclusive<i16> = 1700..=2200;

/// The coldest and warmest air that is believed, °C.
pub(crate) const AIR: std::ops::RangeInclusive<f64> = -90.0..=60.0;

/// The most rain a day can bring, mm; the record stands near 1,825.
const RAIN: std::ops::RangeInclusive<f64> = 0.0..=2000.0;

/// What a value of a day is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Low,
    High,
    Mean,
    Rain,
}

/// A value and the line it stood on.
type Placed = Option<(f64, usize)>;

/// Days while they are gathered.
#[derive(Debug, Default)]
pub(crate) struct DayBook {
    days: BTreeMap<Date, [Placed; 4]>,
    pub(crate) tally: Tally,
    pub(crate) refused: Vec<Refusal>,
}

/// A calendar day, if there is one and a weather record may speak of it.
pub(crate) fn day(year: i16, month: i8, day: i8) -> Option<Date> {
    Date::new(year, month, day).ok().filter(|date| believed(*date))
}

/// Whether a weather record may speak of this day.
pub(crate) fn believed(date: Date) -> bool {
    YEARS.contains(&date.year())
}

impl DayBook {
    /// Notes one value, °C or mm; a second one must be the same.
    pub(crate) fn put(&mut self, date: Date, kind: Kind, value: f64, line: usize) {
        let possible = if kind == Kind::Rain { RAIN } else { AIR };
        if !possible.contains(&value) {
            let why = match kind {
                Kind::Rain => "no day brings that much rain",
                _ => "no air is that cold or hot; is it another unit or a fault?",
            };
            return self.refused.push(refusal(line, &value.to_string(), why));
        }
        match &mut self.days.entry(date).or_default()[kind as usize] {
            Some((before, _)) if *before == value => self.tally.add(Why::SameTwice, 1),
            Some((before, at)) => {
                let why = format!("{date} has another value, {before}, on line {at}");
                self.refused.push(refusal(line, &value.to_string(), &why));
            }
            empty => *empty = Some((value, line)),
        }
    }

    /// The days in order with what was noted and refused.
    pub(crate) fn settle(mut self) -> (Vec<DayRow>, Tally, Vec<Refusal>) {
        let mut days = Vec::new();
        for (date, [mut low, mut high, mean, rain]) in self.days {
            if let (Some((below, at)), Some((above, other))) = (low, high)
                && below > above
            {
                let value = format!("{below} and {above}");
                self.refused.push(refusal(at.max(other), &value, "the low is above the high"));
                (low, high) = (None, None);
            }
            let plain = |placed: Placed| placed.map(|(value, _)| value);
            let row =
                DayRow { date, low: plain(low), high: plain(high), mean: plain(mean), rain: plain(rain) };
            if row.low.is_some() || row.high.is_some() || row.mean.is_some() || row.rain.is_some() {
                days.push(row);
            }
        }
        self.tally.add(Why::DaysMissing, days_missing(&days));
        self.refused.sort_by_key(|refusal| refusal.line);
        (days, self.tally, self.refused)
    }

    /// The finished file, or why nothing can be read from it.
    pub(crate) fn close(self, format: Format, station: Option<String>) -> Result<WeatherFile, Vec<Refusal>> {
        let (days, tally, mut refused) = self.settle();
        if days.is_empty() {
            refused.push(refusal(0, "", "no day could be read from the file"));
            return Err(refused);
        }
        Ok(WeatherFile { format, station, days, hours: Vec::new(), notes: tally.notes(), refused })
    }
}

/// Days from the first to the last that lack a low or a high.
fn days_missing(days: &[DayRow]) -> usize {
    let whole = days.iter().filter(|day| day.low.is_some() && day.high.is_some()).count();
    match (days.first(), days.last()) {
        (Some(first), Some(last)) => {
            let span = first.date.duration_until(last.date).as_hours() / 24 + 1;
            (span as usize).saturating_sub(whole)
        }
        _ => 0,
    }
}

/// A temperature with its moment and line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Timed {
    pub(crate) at: i64,
    pub(crate) temperature: f64,
    pub(crate) humidity: Option<f64>,
    pub(crate) line: usize,
}

/// Sorts by time; the same reading twice is dropped and counted, two that differ are refused but the first.
pub(crate) fn settle(mut rows: Vec<Timed>, tally: &mut Tally, refused: &mut Vec<Refusal>) -> Vec<Timed> {
    rows.sort_by_key(|row| row.at);
    let mut kept: Vec<Timed> = Vec::with_capacity(rows.len());
    for row in rows {
        match kept.last() {
            Some(before) if before.at == row.at && before.temperature == row.temperature => {
                tally.add(Why::SameTwice, 1);
            }
            Some(before) if before.at == row.at => {
                let why =
                    format!("line {} gives {:.2} °C for the same time", before.line, before.temperature);
                refused.push(refusal(row.line, &format!("{:.2} °C", row.temperature), &why));
            }
            _ => kept.push(row),
        }
    }
    kept
}

/// Hours while they are gathered.
#[derive(Debug, Default)]
pub(crate) struct HourBook {
    rows: Vec<Timed>,
    pub(crate) tally: Tally,
    pub(crate) refused: Vec<Refusal>,
}

impl HourBook {
    /// Notes one temperature, °C.
    pub(crate) fn put(&mut self, at: i64, temperature: f64, line: usize) {
        if AIR.contains(&temperature) {
            self.rows.push(Timed { at, temperature, humidity: None, line });
        } else {
            let why = "no air is that cold or hot; is it another unit or a fault?";
            self.refused.push(refusal(line, &temperature.to_string(), why));
        }
    }

    /// The hours in order with what was noted and refused.
    pub(crate) fn settle(mut self) -> (Vec<HourRow>, Tally, Vec<Refusal>) {
        let rows = settle(self.rows, &mut self.tally, &mut self.refused);
        let skipped: i64 = rows.windows(2).map(|pair| ((pair[1].at - pair[0].at) / 3600 - 1).max(0)).sum();
        self.tally.add(Why::HoursMissing, skipped as usize);
        self.refused.sort_by_key(|refusal| refusal.line);
        let hours = rows.iter().map(|row| HourRow { at: row.at, temperature: row.temperature }).collect();
        (hours, self.tally, self.refused)
    }

    /// The finished file, or why nothing can be read from it.
    pub(crate) fn close(self, format: Format, station: Option<String>) -> Result<WeatherFile, Vec<Refusal>> {
        let (hours, tally, mut refused) = self.settle();
        if hours.is_empty() {
            refused.push(refusal(0, "", "no hour could be read from the file"));
            return Err(refused);
        }
        Ok(WeatherFile { format, station, days: Vec::new(), hours, notes: tally.notes(), refused })
    }
}
