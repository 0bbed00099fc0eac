//! A place through the night: its own hours, what it was learned to do at night, and how far that may be off.

use std::ops::Range;

use jiff::{Timestamp, ToSpan};
use measure::{
    quantity::{Celsius, Share},
    shelter::Shelter,
    sourced::{Sourced, Standing},
};
use statrs::{
    distribution::{Continuous, ContinuousCDF, Normal},
    statistics::Statistics,
};

use super::sky::Sky;
use crate::air::{Origin, PlaceAir};

/// What nights on record say of a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// Nights that both the place's logger and the station told.
    pub nights: usize,
    /// Its lows less the station's, K.
    pub over_station: f64,
    /// Its lows less those that its model tells, K: what the model's night is shifted by.
    pub over_model: f64,
    /// How far that differs from night to night, K (standard deviation).
    pub spread: f64,
}

impl Learned {
    /// Whether the nights are enough to shift by.
    pub fn is_applied(&self) -> bool {
        self.nights >= ENOUGH
    }
}

/// A place through the night.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceNight {
    /// Its air by the hour, °C, from weeks before the night to the day after.
    hours: Vec<f64>,
    night: Range<usize>,
    morrow: Range<usize>,
    from: Timestamp,
    /// Its low.
    pub low: Celsius,
    /// When that is.
    pub at: Timestamp,
    /// What the low may be off by, K (standard deviation): the sky's and the place's own.
    pub spread: f64,
    /// The place's own part of it.
    pub own_spread: Sourced<f64>,
    /// What nights on record say.
    pub learned: Option<Learned>,
}

/// Nights of record before a place's offset is applied.
pub const ENOUGH: usize = 10;

/// Nights looked back over.
const LOOK_BACK: usize = 60;

/// Hours of a night's sixteen that must be read.
const MOST_READ: usize = 12;

/// The least that a low may be off by, K.
const LEAST_SPREAD: f64 = 0.05;

/// What the night's air in a place may be off by before any night was recorded, K (our estimates; cold frame remembered, ±2).
fn unlearned(shelter: Shelter) -> f64 {
    match shelter {
        Shelter::ColdFrame => 2.0,
        Shelter::OpenBench | Shelter::ColdGlasshouse | Shelter::ColdRoom => 1.5,
        Shelter::ShadedBench | Shelter::CoolSill | Shelter::WarmSill => 1.0,
    }
}

impl PlaceNight {
    /// A place under this sky, where several sensors hang in its coldest corner.
    pub fn of(sky: &Sky, place: &PlaceAir, shelter: Shelter) -> PlaceNight {
        let place = place.in_frost();
        let model = place.model.value;
        let modelled = model.series(&sky.air.hours, &sky.sun);
        let logged = logged(sky, place);
        let mut hours: Vec<f64> =
            logged.iter().zip(&modelled).map(|(read, told)| read.unwrap_or(*told)).collect();
        let learned = learn(sky, &logged, &modelled);
        let applied = learned.filter(Learned::is_applied);
        if let Some(learned) = applied {
            for at in sky.night.start..hours.len() {
                if logged[at].is_none() {
                    hours[at] += learned.over_model;
                }
            }
        }
        let own_spread = match applied {
            Some(learned) => Sourced { value: learned.spread, standing: Standing::Measured },
            None => Sourced {
                value: unlearned(shelter),
                standing: Standing::Estimate("no nights of record here: what such a place may be off by"),
            },
        };
        // A night is half a day: what it may be off by reaches a slow place only in part.
        let follows = if model.lag.0 > 0.0 { 1.0 - (-12.0 / model.lag.0).exp() } else { 1.0 };
        let spread = (sky.spread.value * model.share * follows).hypot(own_spread.value);
        let (at, low) = lowest(&hours, sky.night.clone());
        PlaceNight {
            low: Celsius(low),
            at: sky.from + ((at - sky.night.start) as i64).hours(),
            spread,
            own_spread,
            learned,
            hours,
            night: sky.night.clone(),
            morrow: sky.morrow.clone(),
            from: sky.from,
        }
    }

    /// The night's air by the hour, °C.
    pub fn night(&self) -> &[f64] {
        &self.hours[self.night.clone()]
    }

    /// When the night begins.
    pub fn from(&self) -> Timestamp {
        self.from
    }

    /// The air from days before the night to its end, °C, and where in it the night begins.
    pub(crate) fn run_in(&self, days: usize) -> (&[f64], usize) {
        let start = self.night.start.saturating_sub(days * 24);
        (&self.hours[start..self.night.end], self.night.start - start)
    }

    /// The air from days before to the end of the day after the night, °C, and where in it that day begins.
    pub(crate) fn morrow(&self, days: usize) -> (&[f64], usize) {
        let start = self.morrow.start.saturating_sub(days * 24);
        (&self.hours[start..self.morrow.end], self.morrow.start - start)
    }

    /// Hours of the night below a line.
    pub fn hours_below(&self, line: Celsius) -> usize {
        self.night().iter().filter(|&&hour| hour < line.0).count()
    }

    /// The chance that the low passes a line.
    ///
    /// ```text
    /// P = Φ((line − low)/σ)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | P | returned | chance | 1 |
    /// | line, low | `line`, [`PlaceNight::low`] | | °C |
    /// | σ | [`PlaceNight::spread`] | of the low | K |
    ///
    /// **Holds** while the low's error is near normal. **Error** that of σ. **Source** normal distribution (statrs). **Checked** nothing yet.
    pub fn chance_below(&self, line: Celsius) -> Share {
        self.chance_of_shift(line.0 - self.low.0)
    }

    /// How far below a line the low is expected to be, each night's depth counted up to `most`, K.
    ///
    /// ```text
    /// E[min((line − X)⁺, most)] = G(line − low) − G(line − low − most),   G(x) = x·Φ(x/σ) + σ·φ(x/σ),   X ~ N(low, σ)
    /// ```
    ///
    /// **Holds** while the low's error is near normal. **Error** that of σ. **Source** partial expectation of the normal distribution.
    /// **Checked** against its sum over the quantiles, in `tests.rs`.
    pub fn expected_below(&self, line: Celsius, most: f64) -> f64 {
        let spread = self.spread.max(LEAST_SPREAD);
        let Ok(error) = Normal::new(0.0, 1.0) else { return 0.0 };
        let part = |x: f64| x * error.cdf(x / spread) + spread * error.pdf(x / spread);
        let under = line.0 - self.low.0;
        (part(under) - part(under - most)).clamp(0.0, most)
    }

    /// Shifts of the night's air that stand for its spread: the middles of ten equal parts, K.
    pub(crate) fn shifts(&self) -> [f64; 10] {
        let error = Normal::new(0.0, self.spread.max(LEAST_SPREAD));
        std::array::from_fn(|at| error.map_or(0.0, |it| it.inverse_cdf((at as f64 + 0.5) / 10.0)))
    }

    /// The mean of the night's air.
    pub fn mean(&self) -> Celsius {
        Celsius(self.night().iter().mean())
    }

    /// The chance that the night's air is lower by at least this, K (a negative shift is lower).
    pub(crate) fn chance_of_shift(&self, shift: f64) -> Share {
        Share(Normal::new(0.0, self.spread.max(LEAST_SPREAD)).map_or(0.0, |error| error.cdf(shift)))
    }
}

/// The place's logger on the sky's hours; none where nothing was read.
fn logged(sky: &Sky, place: &PlaceAir) -> Vec<Option<f64>> {
    let mut read = vec![None; sky.air.hours.len()];
    if place.logged == 0 {
        return read;
    }
    for (at, day) in read.chunks_mut(24).enumerate() {
        let Some((hours, origin)) = place.air.day(sky.air.first + (at as i64).days()) else { continue };
        for ((slot, hour), origin) in day.iter_mut().zip(hours).zip(origin) {
            *slot = (*origin == Origin::Measured).then_some(*hour);
        }
    }
    read
}

fn lowest(hours: &[f64], within: Range<usize>) -> (usize, f64) {
    let start = within.start;
    let coldest = hours[within].iter().copied().enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
    coldest.map_or((start, f64::NAN), |(at, low)| (start + at, low))
}

/// Compares the lows of past nights, from six in the evening to ten in the morning.
fn learn(sky: &Sky, logged: &[Option<f64>], modelled: &[f64]) -> Option<Learned> {
    let (mut over_station, mut over_model) = (Vec::new(), Vec::new());
    let today = sky.night.start / 24;
    for day in today.saturating_sub(LOOK_BACK).max(1)..=today {
        let night = day * 24 - 6..(day * 24 + 10).min(sky.night.start);
        let read: Vec<f64> = logged[night.clone()].iter().copied().flatten().collect();
        let told = &sky.air.origin[night.clone()];
        let is_told = told.iter().all(|it| matches!(it, Origin::Measured | Origin::Rebuilt));
        if read.len() < MOST_READ || !is_told {
            continue;
        }
        let low = read.into_iter().fold(f64::INFINITY, f64::min);
        over_station.push(low - lowest(&sky.air.hours, night.clone()).1);
        over_model.push(low - lowest(modelled, night).1);
    }
    let nights = over_model.len();
    (nights > 0).then(|| Learned {
        nights,
        over_station: over_station.iter().mean(),
        spread: if nights > 1 { over_model.iter().std_dev().max(0.3) } else { f64::NAN },
        over_model: over_model.iter().mean(),
    })
}
