//! What is per place and not per tree: the days of this winter and of past ones, as a bud there feels them.

use climate::light::{DayLength, day_length};
use collection::place::Lamp;
use dormancy::{
    dynamic::DynamicState,
    wake::{BudDay, Lit, START},
};
use jiff::civil::Date;
use measure::{
    quantity::Degrees,
    shelter::Shelter,
    winter::{Hemisphere, Winter},
};

use crate::air::{Air, Origin};

/// Most past years to splice on; older ones are colder and help no more.
pub const MOST_YEARS: i16 = 20;

/// Last day of a season that a course reaches: late July in the north.
pub const HORIZON: i32 = 205;

/// One day at a place. A day that the record does not hold has no mean, no warmth and no cold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceDay {
    /// What a bud feels.
    pub bud: BudDay,
    /// Lowest temperature, °C.
    pub low: f64,
    /// Highest temperature, °C.
    pub high: f64,
    /// Hours of the 24 that were read from a station or logger or rebuilt from a day's extremes.
    pub measured: u8,
}

const NOTHING: PlaceDay = PlaceDay {
    bud: BudDay { mean: f64::NAN, heat: 0.0, portions: 0.0, light: 0.0, lit: Lit::Sky },
    low: f64::NAN,
    high: f64::NAN,
    measured: 0,
};

/// One winter at a place, from [`Winter::FIRST_DAY`].
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceWinter {
    /// How many years before this one; 0 for this one.
    pub years_ago: i16,
    /// Day by day.
    pub days: Vec<PlaceDay>,
    /// True when no day from the first to the last is missing and the station told most of them.
    pub whole: bool,
}

/// A place with its winters.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceGround {
    /// This winter up to the last day known.
    pub this: PlaceWinter,
    /// Past winters, newest first; only those that run on to the horizon.
    pub past: Vec<PlaceWinter>,
    /// This winter's hours from its first known day, for the cold models.
    pub hours: Vec<f64>,
    /// Whether its air is a logger's or the station's own, and no default.
    pub known: bool,
    /// Whether it is a heated room.
    pub is_heated: bool,
    /// Last day number told for it: by its logger, else by the station or the forecast. Past years follow from the next day on; the usual
    /// weather never stands in for days at the end, for a mean year has none of the warm days that a real one has.
    pub told_to: i32,
}

/// All places, and where in the winter we stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Which winter.
    pub winter: Winter,
    /// Day number of today.
    pub today: i32,
    /// Last day number that this winter's days reach: today, or further where a forecast does.
    pub known_to: i32,
    /// Last day number that the station or the forecast told; a record that ends before today ends here.
    pub told_to: i32,
    /// First day number known this winter.
    pub first_known: i32,
    /// Past years that the station told; where none did, the usual weather stands in for one or more.
    pub measured_years: usize,
    /// Share of the days from when warmth counts to the last one told that the station left out; the usual weather stands in for them.
    pub unread: f64,
    /// Warmer and colder runs of each past year, K: none but 0 where enough years were measured.
    pub runs: &'static [f64],
    /// What the open air of winter and spring has warmed by a year, K, as far as its years bear it out; past years are run warmer by it.
    pub trend: f64,
    /// The places, in the order given.
    pub places: Vec<PlaceGround>,
}

/// What a place does to light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roof {
    /// The kind of shelter.
    pub shelter: Shelter,
    /// A lamp, where there is one.
    pub lamp: Option<Lamp>,
    /// Whether its air is a logger's or the station's own, and no default.
    pub known: bool,
}

/// Measured past years that carry the spread between years themselves.
pub const ENOUGH_YEARS: usize = 10;

/// What a past year is run warmer and colder by where too few were measured, K: a season's mean differs from year to
/// year by about 2 K (standard deviation). Our estimate.
const RUNS: [f64; 5] = [-2.8, -1.1, 0.0, 1.1, 2.8];

/// The one run of a past year as it was.
const AS_IT_WAS: [f64; 1] = [0.0];

/// Share of the days that the station must tell for a winter to count as measured.
const MOST: f64 = 0.8;

/// Why there is no ground to stand on.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoGround {
    /// Today lies outside the record.
    #[error("the weather record runs from {first} to {last}, which does not hold {today}")]
    TodayOutside {
        /// First day of the record.
        first: Date,
        /// Last day of the record.
        last: Date,
        /// The day asked for.
        today: Date,
    },
    /// No past year reaches from today's date to the end of its season.
    #[error("no earlier year in the weather record runs on past today's date; at least one is needed")]
    NoPastYear,
}

/// Hours of light a bud gets under a roof, given the sky's.
fn light(sky: f64, roof: Roof) -> f64 {
    let lamp = roof.lamp.map_or(0.0, |lamp| lamp.hours.0);
    if roof.shelter == Shelter::ColdRoom { lamp } else { sky.max(lamp) }
}

/// Where a bud under a roof gets its light.
fn lit(roof: Roof) -> Lit {
    match (roof.shelter, roof.lamp) {
        (Shelter::ColdRoom | Shelter::CoolSill | Shelter::WarmSill, Some(_)) => Lit::Lamp,
        (Shelter::ColdRoom, None) => Lit::Dark,
        (Shelter::CoolSill | Shelter::WarmSill, None) => Lit::Window,
        _ => Lit::Sky,
    }
}

/// The days of every place; every air must start on the same date, and the last must be the open air, which says
/// what the station told.
///
/// # Errors
///
/// [`NoGround`] when today lies outside the record or no past year can follow.
pub fn ground(latitude: Degrees, airs: &[(&Air, Roof)], today: Date) -> Result<Ground, NoGround> {
    let winter = Winter::holding(today, Hemisphere::of(latitude));
    let today_number = winter.day_number(today);
    let (first, last) = airs.iter().map(|(air, _)| (air.first, air.last())).next().unwrap_or((today, today));
    if !(first..=last).contains(&today) {
        return Err(NoGround::TodayOutside { first, last, today });
    }
    let known_to = winter.day_number(last).min(today_number + 16).min(winter.last_day());
    let first_known = winter.day_number(first).max(Winter::FIRST_DAY);
    let told_to = airs.last().map_or(known_to, |(air, _)| last_told(air, winter, known_to, is_told));
    let sky = sky_by_day(latitude, first, last);
    let followed = |from: i32| -> Vec<i16> {
        let runs_on = |ago: &i16| {
            let past = winter.earlier(*ago);
            first <= past.date(from + 1) && past.date(HORIZON) <= last
        };
        (1..=MOST_YEARS).filter(runs_on).collect()
    };
    // A record too short to follow from where it ends is followed from today, the usual weather before.
    let (follows, told_to) = match followed(told_to) {
        none if none.is_empty() => (followed(known_to), known_to),
        some => (some, told_to),
    };
    let told = |ago: i16, from: i32| {
        airs.last().map_or(0.0, |(air, _)| share_told(air, winter.earlier(ago), from, HORIZON))
    };
    let measured: Vec<i16> = follows.iter().copied().filter(|&ago| told(ago, told_to + 1) >= MOST).collect();
    let measured_years = measured.len();
    let follows = if measured.is_empty() { follows } else { measured };
    if follows.is_empty() && known_to < HORIZON {
        return Err(NoGround::NoPastYear);
    }
    let mut places = Vec::with_capacity(airs.len());
    for &(air, roof) in airs {
        let days = |winter: Winter, to: i32| -> Vec<PlaceDay> {
            let start = (winter.first_date() - first).get_days();
            let at = |day: i32| usize::try_from(start + day - Winter::FIRST_DAY).ok();
            let mut cold = DynamicState::default();
            let mut told = |day: i32| place_day(&sky, air, roof, at(day)?, &mut cold);
            (Winter::FIRST_DAY..=to).map(|day| told(day).unwrap_or(NOTHING)).collect()
        };
        let past = follows
            .iter()
            .map(|&years_ago| {
                let past = winter.earlier(years_ago);
                let whole = first <= past.first_date() && told(years_ago, Winter::FIRST_DAY) >= MOST;
                PlaceWinter { years_ago, days: days(past, HORIZON), whole }
            })
            .collect();
        let hours = (first_known..=today_number)
            .filter_map(|day| air.day(winter.date(day)))
            .flat_map(|(hours, _)| hours.iter().copied())
            .collect();
        let this = PlaceWinter {
            years_ago: 0,
            days: days(winter, known_to),
            whole: first_known == Winter::FIRST_DAY,
        };
        let own = last_told(air, winter, known_to, is_read).max(told_to);
        places.push(PlaceGround {
            this,
            past,
            hours,
            known: roof.known,
            is_heated: roof.shelter == Shelter::WarmSill,
            told_to: own,
        });
    }
    let runs: &[f64] = if measured_years < ENOUGH_YEARS { &RUNS } else { &AS_IT_WAS };
    let trend =
        places.last().filter(|_| measured_years >= ENOUGH_YEARS).map_or(0.0, |open| trend(&open.past));
    // Days after the last one told are past years', each in its own course: their doubt is in the courses.
    let read_to = told_to.min(today_number).min(HORIZON);
    let unread = match airs.last() {
        Some((air, _)) if read_to >= START => 1.0 - share_told(air, winter, START, read_to),
        _ => 0.0,
    };
    Ok(Ground {
        winter,
        today: today_number,
        known_to,
        told_to,
        first_known,
        measured_years,
        unread,
        runs,
        trend,
        places,
    })
}

/// Days of winter and spring whose mean a trend is read off: December to May.
const TREND_DAYS: std::ops::RangeInclusive<i32> = -30..=151;

/// Most that a trend may be, K a year.
const MOST_TREND: f64 = 0.1;

/// What the mean of winter and spring has risen by a year, drawn in by its own doubt.
///
/// ```text
/// b = Σ (a − ā)(T − T̄) / Σ (a − ā)²,   trend = −b · b² / (b² + s²),   a years ago, s the standard error of b
/// ```
///
/// A mean is known to half a degree at best, so a trend that ten years show is mostly drawn in to nothing, and one that twenty show is not.
fn trend(past: &[PlaceWinter]) -> f64 {
    let mean = |winter: &PlaceWinter| {
        let days = winter.days.iter().zip(Winter::FIRST_DAY..);
        let read = days.filter(|(day, number)| TREND_DAYS.contains(number) && day.bud.mean.is_finite());
        let (sum, count) = read.fold((0.0, 0.0), |sum, (day, _)| (sum.0 + day.bud.mean, sum.1 + 1.0));
        (count > 0.0).then_some((f64::from(winter.years_ago), sum / count))
    };
    let years: Vec<(f64, f64)> = past.iter().filter_map(mean).collect();
    let count = years.len() as f64;
    if count < ENOUGH_YEARS as f64 {
        return 0.0;
    }
    let (x, y) = years.iter().fold((0.0, 0.0), |sum, it| (sum.0 + it.0 / count, sum.1 + it.1 / count));
    let across: f64 = years.iter().map(|it| (it.0 - x).powi(2)).sum();
    let slope = years.iter().map(|it| (it.0 - x) * (it.1 - y)).sum::<f64>() / across;
    let left: f64 = years.iter().map(|it| (it.1 - y - slope * (it.0 - x)).powi(2)).sum();
    let error = (left / (count - 2.0) / across).max(1e-12);
    (-slope * slope * slope / (slope * slope + error)).clamp(-MOST_TREND, MOST_TREND)
}

impl Ground {
    /// Takes the lows of a place from the air of its coldest corner: buds go by the mean of its sensors, frost by the lowest.
    pub fn take_lows(&mut self, place: usize, cold: &Air) {
        let winter = self.winter;
        let own = &mut self.places[place];
        for of in std::iter::once(&mut own.this).chain(&mut own.past) {
            let past = winter.earlier(of.years_ago);
            for (number, day) in (Winter::FIRST_DAY..).zip(&mut of.days) {
                let Some((hours, _)) = cold.day(past.date(number)) else { continue };
                day.low = hours.iter().copied().fold(day.low, f64::min);
            }
        }
    }
}

/// Hours of a day that must be told for the day to count as told.
const MOST_HOURS: usize = 20;

fn is_read(origin: Origin) -> bool {
    matches!(origin, Origin::Measured | Origin::Rebuilt)
}

fn is_told(origin: Origin) -> bool {
    is_read(origin) || origin == Origin::Forecast
}

/// The last day number up to one on which most hours were told; the day before the winter's first where none was.
fn last_told(air: &Air, winter: Winter, to: i32, is_told: fn(Origin) -> bool) -> i32 {
    let is_known = |day: &i32| {
        air.day(winter.date(*day))
            .is_some_and(|(_, origin)| origin.iter().filter(|it| is_told(**it)).count() >= MOST_HOURS)
    };
    (Winter::FIRST_DAY..=to).rev().find(is_known).unwrap_or(Winter::FIRST_DAY - 1)
}

/// The share of a winter's days, from one day number to another, that the station told.
fn share_told(open: &Air, winter: Winter, from: i32, to: i32) -> f64 {
    let days = from.min(to)..=to;
    let count = f64::from(to - days.start() + 1);
    let told = days.filter(|&day| {
        open.day(winter.date(day))
            .is_some_and(|(_, origin)| origin.iter().filter(|it| is_read(**it)).count() >= MOST_HOURS)
    });
    told.count() as f64 / count
}

/// The sky's hours of light for each day of the record.
fn sky_by_day(latitude: Degrees, first: Date, last: Date) -> Vec<f64> {
    let year: Vec<f64> = (1..=366)
        .map(|day| day_length(DayLength::Spencer, latitude, day).map_or(12.0, |hours| hours.0))
        .collect();
    let mut date = first;
    let mut sky = Vec::with_capacity((last - first).get_days().max(0) as usize + 1);
    while date <= last {
        sky.push(year[date.day_of_year() as usize - 1]);
        match date.tomorrow() {
            Ok(next) => date = next,
            Err(_) => break,
        }
    }
    sky
}

/// One day of a place by its rank in the record; none beyond the record.
fn place_day(sky: &[f64], air: &Air, roof: Roof, at: usize, cold: &mut DynamicState) -> Option<PlaceDay> {
    let (hours, origin) = (air.hours.get(at * 24..at * 24 + 24)?, air.origin.get(at * 24..at * 24 + 24)?);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for &hour in hours {
        low = low.min(hour);
        high = high.max(hour);
    }
    let bud = BudDay::of_hours(hours, light(*sky.get(at)?, roof), lit(roof), cold);
    let measured =
        origin.iter().filter(|origin| matches!(origin, Origin::Measured | Origin::Rebuilt)).count();
    Some(PlaceDay { bud, low, high, measured: measured as u8 })
}

/// Where a tree stands from a day on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stay {
    /// From this day number on.
    pub from: i32,
    /// Which place of the ground.
    pub place: usize,
}

impl Ground {
    /// How many past years follow, each of which may be run in several ways.
    pub fn years(&self) -> usize {
        self.places.iter().map(|place| place.past.len()).min().unwrap_or(0).max(1)
    }

    /// Share of the past years that are wanting to carry the spread themselves, from 0 to 1.
    pub fn wanting(&self) -> f64 {
        1.0 - (self.measured_years as f64 / ENOUGH_YEARS as f64).min(1.0)
    }

    /// How many possible courses the season may take from here.
    pub fn courses(&self) -> usize {
        self.years() * self.runs.len()
    }

    /// One possible course of the season for a tree that stands as told: this winter as far as it is told, then
    /// a past year, warmer or colder where too few years were measured.
    pub fn course_days(&self, stays: &[Stay], course: usize, days: &mut Vec<BudDay>) {
        let (year, warmer) = (course / self.runs.len(), self.runs[course % self.runs.len()]);
        days.clear();
        days.extend((Winter::FIRST_DAY..=HORIZON).map(|day| {
            let place = &self.places[place_on(stays, day)];
            let at = (day - Winter::FIRST_DAY) as usize;
            if day <= place.told_to {
                return place.this.days[at].bud;
            }
            let past = &place.past[year];
            past.days[at].bud.warmer(warmer + self.trend * f64::from(past.years_ago))
        }));
    }

    /// Whether a tree that stands as told stands in a heated room on a day.
    pub fn is_heated(&self, stays: &[Stay], day: i32) -> bool {
        self.places[place_on(stays, day)].is_heated
    }

    /// The days of one past winter for a tree that stood as told.
    pub fn past_days(&self, stays: &[Stay], year: usize) -> Vec<BudDay> {
        (Winter::FIRST_DAY..=HORIZON)
            .map(|day| {
                self.places[place_on(stays, day)].past[year].days[(day - Winter::FIRST_DAY) as usize].bud
            })
            .collect()
    }

    /// The hours of this winter up to today as the tree lived them.
    pub fn lived_hours(&self, stays: &[Stay]) -> Vec<f64> {
        (self.first_known..=self.today)
            .flat_map(|day| {
                let from = (day - self.first_known) as usize * 24;
                self.places[place_on(stays, day)].hours.get(from..from + 24).unwrap_or(&[]).iter().copied()
            })
            .collect()
    }
}

/// The place where a tree stands last; none where it stands nowhere.
pub fn last_place(stays: &[Stay]) -> Option<usize> {
    stays.last().map(|stay| stay.place)
}

/// The place of a day; before the first stay it is the first stay's.
fn place_on(stays: &[Stay], day: i32) -> usize {
    let at = stays.partition_point(|stay| stay.from <= day);
    stays.get(at.saturating_sub(1)).map_or(0, |stay| stay.place)
}
