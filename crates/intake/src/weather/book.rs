//! Days and hours gathered in any order and closed into sorted rows, each at most once.

use std::collections::BTreeMap;

use climate::record::{Element, WeatherDay, WeatherHour};
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
    Humidity,
    Wind,
    Radiation,
    Sunshine,
}

impl Kind {
    /// The values that are believed.
    fn range(self) -> std::ops::RangeInclusive<f64> {
        match self {
            Kind::Low | Kind::High | Kind::Mean => AIR,
            Kind::Rain => RAIN,
            Kind::Humidity => Element::Humidity.range(),
            Kind::Wind => Element::Wind.range(),
            Kind::Radiation => Element::Radiation.range(),
            Kind::Sunshine => Element::Sunshine.range(),
        }
    }
}

/// A value and the line it stood on.
type Placed = Option<(f64, usize)>;

/// Days while they are gathered.
#[derive(Debug, Default)]
pub(crate) struct DayBook {
    days: BTreeMap<Date, [Placed; 8]>,
    /// Different values for one day are refused; else the first stands.
    pub(crate) strict: bool,
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
    /// An empty book; with `strict`, different values for one day are refused.
    pub(crate) fn new(strict: bool) -> DayBook {
        DayBook { strict, ..DayBook::default() }
    }

    /// Notes one value in its unit; of two that differ the first stands, or the second is refused where that is wanted.
    pub(crate) fn put(&mut self, date: Date, kind: Kind, value: f64, line: usize) {
        if !kind.range().contains(&value) {
            let why = match kind {
                Kind::Rain => "no day brings that much rain",
                Kind::Humidity | Kind::Wind | Kind::Radiation | Kind::Sunshine => {
                    "no such day can be; is it another unit?"
                }
                _ => "no air is that cold or hot; is it another unit or a fault?",
            };
            return self.refused.push(refusal(line, &value.to_string(), why));
        }
        match &mut self.days.entry(date).or_default()[kind as usize] {
            Some((before, _)) if *before == value => self.tally.add(Why::SameTwice, 1),
            Some((before, _)) if !self.strict => {
                self.tally.add_gap(Why::DoublesFirst, (*before - value).abs());
            }
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
        for (date, [mut low, mut high, mean, rain, humidity, wind, radiation, sunshine]) in self.days {
            if let (Some((below, at)), Some((above, other))) = (low, high)
                && below > above
            {
                let value = format!("{below} and {above}");
                self.refused.push(refusal(at.max(other), &value, "the low is above the high"));
                (low, high) = (None, None);
            }
            let plain = |placed: Placed| placed.map(|(value, _)| value);
            let others = WeatherDay {
                date,
                mean: plain(mean),
                humidity: plain(humidity),
                wind: plain(wind),
                radiation: plain(radiation),
                sunshine: plain(sunshine),
            };
            let row = DayRow { date, low: plain(low), high: plain(high), rain: plain(rain), others };
            if row.low.is_some() || row.high.is_some() || row.rain.is_some() || !others.is_empty() {
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
        Ok(WeatherFile { days, notes: tally.notes(), refused, ..WeatherFile::empty(format, station) })
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

/// What becomes of different values for one moment.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Doubles {
    /// The first stands: a station's later value is no better than its first.
    #[default]
    First,
    /// Their mean stands: a logger's samples are averaged by the hour anyway.
    Mean,
    /// All but the first are refused.
    Refused,
}

/// Sorts by time; the same reading twice is dropped and counted, and of two that differ becomes what is said.
pub(crate) fn settle(
    mut rows: Vec<Timed>,
    doubles: Doubles,
    tally: &mut Tally,
    refused: &mut Vec<Refusal>,
) -> Vec<Timed> {
    rows.sort_by_key(|row| row.at);
    let mut kept: Vec<Timed> = Vec::with_capacity(rows.len());
    for same in rows.chunk_by(|a, b| a.at == b.at) {
        let first = same[0];
        let mut distinct = vec![first.temperature];
        for row in &same[1..] {
            if distinct.contains(&row.temperature) {
                tally.add(Why::SameTwice, 1);
            } else if doubles == Doubles::Refused {
                let why = format!("line {} gives {:.2} °C for the same time", first.line, first.temperature);
                refused.push(refusal(row.line, &format!("{:.2} °C", row.temperature), &why));
            } else {
                distinct.push(row.temperature);
            }
        }
        let low = distinct.iter().copied().fold(f64::INFINITY, f64::min);
        let high = distinct.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mean = distinct.iter().sum::<f64>() / distinct.len() as f64;
        let temperature = if doubles == Doubles::Mean { mean } else { first.temperature };
        if distinct.len() > 1 {
            let why = if doubles == Doubles::Mean { Why::DoublesMean } else { Why::DoublesFirst };
            tally.add_gap(why, high - low);
        }
        kept.push(Timed { temperature, ..first });
    }
    kept
}

/// Hours gathered, in order.
#[derive(Debug)]
pub(crate) struct Settled {
    pub(crate) hours: Vec<HourRow>,
    pub(crate) elements: Vec<WeatherHour>,
    pub(crate) tally: Tally,
    pub(crate) refused: Vec<Refusal>,
}

/// Hours while they are gathered.
#[derive(Debug, Default)]
pub(crate) struct HourBook {
    rows: Vec<Timed>,
    elements: BTreeMap<i64, WeatherHour>,
    /// Different values for one moment are refused; else the first stands.
    pub(crate) strict: bool,
    pub(crate) tally: Tally,
    pub(crate) refused: Vec<Refusal>,
}

impl HourBook {
    /// An empty book; with `strict`, different values for one moment are refused.
    pub(crate) fn new(strict: bool) -> HourBook {
        HourBook { strict, ..HourBook::default() }
    }

    /// Notes one temperature, °C.
    pub(crate) fn put(&mut self, at: i64, temperature: f64, line: usize) {
        if AIR.contains(&temperature) {
            self.rows.push(Timed { at, temperature, humidity: None, line });
        } else {
            let why = "no air is that cold or hot; is it another unit or a fault?";
            self.refused.push(refusal(line, &temperature.to_string(), why));
        }
    }

    /// Notes a value of another element in its unit, at its moment or for the hour from there on; the first stands, and
    /// one that cannot be is counted and left out.
    pub(crate) fn put_element(&mut self, at: i64, element: Element, value: f64) {
        if !element.range().contains(&value) {
            return self.tally.add(Why::ElementImpossible, 1);
        }
        let hour = self.elements.entry(at).or_insert_with(|| WeatherHour::at(at));
        match hour.get(element) {
            Some(before) if before != value => self.tally.add(Why::ElementTwice, 1),
            Some(_) => {}
            None => *hour = hour.with(element, Some(value)),
        }
    }

    /// The hours in order with what was noted and refused.
    pub(crate) fn settle(mut self) -> Settled {
        let doubles = if self.strict { Doubles::Refused } else { Doubles::First };
        let rows = settle(self.rows, doubles, &mut self.tally, &mut self.refused);
        let skipped: i64 = rows.windows(2).map(|pair| ((pair[1].at - pair[0].at) / 3600 - 1).max(0)).sum();
        self.tally.add(Why::HoursMissing, skipped as usize);
        self.refused.sort_by_key(|refusal| refusal.line);
        let hours = rows.iter().map(|row| HourRow { at: row.at, temperature: row.temperature }).collect();
        let elements = self.elements.into_values().collect();
        Settled { hours, elements, tally: self.tally, refused: self.refused }
    }

    /// The finished file, or why nothing can be read from it.
    pub(crate) fn close(self, format: Format, station: Option<String>) -> Result<WeatherFile, Vec<Refusal>> {
        let Settled { hours, elements, tally, mut refused } = self.settle();
        if hours.is_empty() && elements.is_empty() {
            refused.push(refusal(0, "", "no hour could be read from the file"));
            return Err(refused);
        }
        Ok(WeatherFile {
            hours,
            elements,
            notes: tally.notes(),
            refused,
            ..WeatherFile::empty(format, station)
        })
    }
}
