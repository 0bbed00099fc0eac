//! The night ahead and the outside air through it: told by a forecast, or else by the usual weather of the date.

use std::ops::Range;

use climate::hours::{Extremes, from_extremes};
use jiff::{Timestamp, ToSpan, civil::Date, tz::TimeZone};
use measure::{
    quantity::Celsius,
    sourced::{Sourced, Standing},
};
use statrs::statistics::Statistics;

use crate::air::{Air, Origin, Spot, days_between, sun_on};

/// From mid afternoon to the next morning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Night {
    /// Now, or three in the afternoon.
    pub from: Timestamp,
    /// Ten in the morning.
    pub to: Timestamp,
    /// The date of its evening.
    pub evening: Date,
    /// How many nights lie before it: none before the coming one.
    pub ahead: u8,
}

/// When an afternoon's look at the night begins, by the clock.
const AFTERNOON: i8 = 15;
/// When a night is over, by the clock.
const MORNING: i8 = 10;

impl Night {
    /// The coming night on the clock of a zone; before ten in the morning it is the one that runs.
    ///
    /// ```
    /// use jiff::{Timestamp, tz::TimeZone};
    /// use season::tonight::sky::Night;
    ///
    /// let now: Timestamp = "2026-03-28T14:00:00Z".parse().unwrap();
    /// let night = Night::coming(now, &TimeZone::get("Europe/Zurich").unwrap());
    /// // The clock goes forward in this night: 18 hours from three to ten.
    /// assert_eq!(night.to.as_second() - night.from.as_second(), 18 * 3600);
    /// ```
    pub fn coming(now: Timestamp, zone: &TimeZone) -> Night {
        let local = zone.to_datetime(now);
        let at = |date: Date, hour| zone.to_timestamp(date.at(hour, 0, 0, 0)).unwrap_or(now);
        let today = local.date();
        if local.hour() < MORNING {
            return Night { from: now, to: at(today, MORNING), evening: today - 1.days(), ahead: 0 };
        }
        let from = now.max(at(today, AFTERNOON));
        Night { from, to: at(today + 1.days(), MORNING), evening: today, ahead: 0 }
    }

    /// The night after this one, from three in the afternoon.
    ///
    /// ```
    /// use jiff::{Timestamp, civil::date, tz::TimeZone};
    /// use season::tonight::sky::Night;
    ///
    /// let now: Timestamp = "2026-03-28T02:00:00Z".parse().unwrap();
    /// let next = Night::coming(now, &TimeZone::UTC).next(&TimeZone::UTC);
    /// assert_eq!((next.evening, next.ahead, next.from.to_string().as_str()), (date(2026, 3, 28), 1, "2026-03-28T15:00:00Z"));
    /// ```
    #[must_use]
    pub fn next(&self, zone: &TimeZone) -> Night {
        let evening = self.evening + 1.days();
        let at = |date: Date, hour| zone.to_timestamp(date.at(hour, 0, 0, 0)).unwrap_or(self.to);
        let (from, to) = (at(evening, AFTERNOON), at(evening + 1.days(), MORNING));
        Night { from, to, evening, ahead: self.ahead.saturating_add(1) }
    }

    /// By when a tree is moved for it: three in the afternoon of its evening.
    pub fn move_by(&self, zone: &TimeZone) -> Timestamp {
        zone.to_timestamp(self.evening.at(AFTERNOON, 0, 0, 0)).unwrap_or(self.from)
    }
}

/// How the night's hours are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// By a forecast.
    Forecast,
    /// Read or rebuilt from what was read: a night that has been.
    Read,
    /// By what is usual on the date in this many past years.
    Usual {
        /// Past years that tell.
        years: usize,
    },
}

/// The outside through the weeks before and the night ahead.
#[derive(Clone, Debug, PartialEq)]
pub struct Sky {
    /// The air, to the end of the day after the night.
    pub air: Air,
    /// Sun on the same hours.
    pub(crate) sun: Vec<f64>,
    /// The night's hours in it.
    pub night: Range<usize>,
    /// The hours of the day that follows.
    pub morrow: Range<usize>,
    /// When the night begins.
    pub from: Timestamp,
    /// How the night is known.
    pub known: Known,
    /// What its low may be off by, K (standard deviation).
    pub spread: Sourced<f64>,
}

/// Days before the night that are looked over for what each place does at night.
const DAYS_BEFORE: i64 = 75;

/// What the first night's low of a forecast is off by, K.
const FORECAST: Sourced<f64> = Sourced {
    value: 1.5,
    standing: Standing::Estimate(
        "a forecast's low for the first night is off by some 1.5 °C (standard deviation), a quarter more each night ahead",
    ),
};

/// What each night further ahead adds to it, K; our estimate.
const EACH_NIGHT: f64 = 0.25;

/// What a night that has been is off by, K.
const READ: Sourced<f64> =
    Sourced { value: 0.5, standing: Standing::Estimate("hours rebuilt from a day's low and high") };

/// What the usual low is off by where too few nights tell, K.
const UNKNOWN: Sourced<f64> = Sourced {
    value: 4.0,
    standing: Standing::Estimate("lows of one date differ by some 4 °C between years"),
};

/// Nights that tell how lows of one date differ.
const ENOUGH: usize = 10;

/// The outside through the night; none where the record does not hold the day before it.
pub fn sky(spot: Spot, outside: &Air, night: &Night) -> Option<Sky> {
    let last = spot.solar_date(night.to.as_second());
    let first = (spot.solar_date(night.from.as_second()) - DAYS_BEFORE.days()).max(outside.first);
    let (air, lows) = through(spot, outside, first, last)?;
    let start = i64::from(days_between(Date::constant(1970, 1, 1), first)) * 24;
    let at = |time: Timestamp| usize::try_from(spot.solar_hour(time.as_second()) - start).ok();
    let hours = at(night.from)?..at(night.to)?;
    let told = air.origin.get(hours.clone())?;
    let known = if told.contains(&Origin::Filled) {
        Known::Usual { years: lows.years }
    } else if told.contains(&Origin::Forecast) {
        Known::Forecast
    } else {
        Known::Read
    };
    let spread = match known {
        Known::Forecast => {
            let value = FORECAST.value + EACH_NIGHT * f64::from(night.ahead);
            Sourced { value: value.min(UNKNOWN.value), ..FORECAST }
        }
        Known::Read => READ,
        Known::Usual { .. } if lows.lows.len() >= ENOUGH => {
            Sourced { value: lows.lows.iter().std_dev(), standing: Standing::Measured }
        }
        Known::Usual { .. } => UNKNOWN,
    };
    let morrow = air.hours.len() - 24..air.hours.len();
    Some(Sky { sun: sun_on(spot, &air), air, night: hours, morrow, from: night.from, known, spread })
}

/// The lows of a date in past years.
struct Lows {
    lows: Vec<f64>,
    highs: Vec<f64>,
    years: usize,
}

/// The air from one date to another; days past the record take the usual low and high of their date.
fn through(spot: Spot, outside: &Air, first: Date, last: Date) -> Option<(Air, Lows)> {
    let known_to = outside.last().min(last);
    let mut air = Air { first, hours: Vec::new(), origin: Vec::new() };
    let mut date = first;
    while date <= known_to {
        let (hours, origin) = outside.day(date)?;
        air.hours.extend_from_slice(hours);
        air.origin.extend_from_slice(origin);
        date = date.tomorrow().ok()?;
    }
    let lows = usual(outside, last);
    let (Some(from), true) = (known_to.yesterday().ok().filter(|from| *from >= first), known_to < last)
    else {
        return (air.hours.len() >= 24).then_some((air, lows));
    };
    let mut days: Vec<Extremes> =
        [from, known_to].iter().filter_map(|&date| extremes(outside, date)).collect();
    while date <= last {
        let usual = usual(outside, date);
        let mean = |of: &[f64]| if of.is_empty() { f64::NAN } else { of.mean() };
        days.push(Extremes { low: Celsius(mean(&usual.lows)), high: Celsius(mean(&usual.highs)) });
        date = date.tomorrow().ok()?;
    }
    let hours = from_extremes(spot.latitude, from, &days).ok()?;
    // The evening of the last day leads to the next morning's low, which was not known when it was rebuilt.
    let known = air.hours.len();
    for back in 1..=EVENING {
        let at = known.checked_sub(back)?;
        if matches!(air.origin[at], Origin::Rebuilt | Origin::Filled) {
            air.hours[at] = hours[48 - back];
        }
    }
    air.hours.extend_from_slice(&hours[48..]);
    air.origin.resize(air.hours.len(), Origin::Filled);
    Some((air, lows))
}

/// Hours from three in the afternoon to midnight.
const EVENING: usize = 9;

fn extremes(air: &Air, date: Date) -> Option<Extremes> {
    let (hours, _) = air.day(date)?;
    let low = hours.iter().copied().fold(f64::INFINITY, f64::min);
    let high = hours.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(Extremes { low: Celsius(low), high: Celsius(high) })
}

/// Lows and highs within a week of the date in every past year that was read.
fn usual(outside: &Air, date: Date) -> Lows {
    let mut told = Lows { lows: Vec::new(), highs: Vec::new(), years: 0 };
    for year in outside.first.year()..date.year() {
        let Ok(then) = date.with().year(year).day(date.day().min(28)).build() else { continue };
        let before = told.lows.len();
        for day in (-7..=7).filter_map(|off: i64| read(outside, then.checked_add(off.days()).ok()?)) {
            told.lows.push(day.low.0);
            told.highs.push(day.high.0);
        }
        told.years += usize::from(told.lows.len() > before);
    }
    told
}

/// The low of the night that leads to a day, and the day's high, where both were read.
fn read(outside: &Air, day: Date) -> Option<Extremes> {
    let at = usize::try_from(days_between(outside.first, day)).ok()?.checked_mul(24)?;
    let whole = at.checked_sub(EVENING)?..at + 24;
    let told = outside.origin.get(whole)?;
    if !told.iter().all(|it| matches!(it, Origin::Measured | Origin::Rebuilt)) {
        return None;
    }
    let night = &outside.hours[at - EVENING..at + MORNING as usize];
    let low = night.iter().copied().fold(f64::INFINITY, f64::min);
    let high = outside.hours[at..at + 24].iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(Extremes { low: Celsius(low), high: Celsius(high.max(low)) })
}
