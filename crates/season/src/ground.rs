//! What is per place and not per tree: the days of this winter and of past ones, as a bud there feels them.

use climate::light::{DayLength, day_length};
use collection::place::Lamp;
use dormancy::{
    chill::{ChillModel, sum},
    wake::BudDay,
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

/// One day at a place. A day that the record does not hold has no mean and no cold.
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
    bud: BudDay { mean: f64::NAN, cold: 0.0, light: 0.0 },
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
    /// True when no day from the first to the last is missing.
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
}

/// All places, and where in the winter we stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// Which winter.
    pub winter: Winter,
    /// Day number of today.
    pub today: i32,
    /// Last day number told by measurement or forecast.
    pub known_to: i32,
    /// First day number known this winter.
    pub first_known: i32,
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
}

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

/// The days of every place; `airs` and `roofs` go together, and every air must start on the same date.
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
    let sky = sky_by_day(latitude, first, last);
    let mut places = Vec::with_capacity(airs.len());
    for &(air, roof) in airs {
        let days = |winter: Winter, to: i32| -> Vec<PlaceDay> {
            let start = (winter.first_date() - first).get_days();
            let at = |day: i32| usize::try_from(start + day - Winter::FIRST_DAY).ok();
            let told = |day: i32| place_day(&sky, air, roof, at(day)?);
            (Winter::FIRST_DAY..=to).map(|day| told(day).unwrap_or(NOTHING)).collect()
        };
        let past = (1..=MOST_YEARS)
            .filter(|&ago| {
                let past = winter.earlier(ago);
                air.first <= past.date(known_to + 1) && past.date(HORIZON) <= air.last()
            })
            .map(|years_ago| {
                let past = winter.earlier(years_ago);
                PlaceWinter { years_ago, days: days(past, HORIZON), whole: air.first <= past.first_date() }
            })
            .collect::<Vec<_>>();
        if past.is_empty() && known_to < HORIZON {
            return Err(NoGround::NoPastYear);
        }
        let hours = (first_known..=today_number)
            .filter_map(|day| air.day(winter.date(day)))
            .flat_map(|(hours, _)| hours.iter().copied())
            .collect();
        let this = PlaceWinter {
            years_ago: 0,
            days: days(winter, known_to),
            whole: first_known == Winter::FIRST_DAY,
        };
        places.push(PlaceGround { this, past, hours });
    }
    Ok(Ground { winter, today: today_number, known_to, first_known, places })
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
fn place_day(sky: &[f64], air: &Air, roof: Roof, at: usize) -> Option<PlaceDay> {
    let (hours, origin) = (air.hours.get(at * 24..at * 24 + 24)?, air.origin.get(at * 24..at * 24 + 24)?);
    let (mut total, mut low, mut high) = (0.0, f64::INFINITY, f64::NEG_INFINITY);
    for &hour in hours {
        total += hour;
        low = low.min(hour);
        high = high.max(hour);
    }
    let bud = BudDay {
        mean: total / 24.0,
        cold: sum(ChillModel::HoursC, hours),
        light: light(*sky.get(at)?, roof),
    };
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
    /// How many possible courses the season may take from here.
    pub fn years(&self) -> usize {
        self.places.iter().map(|place| place.past.len()).min().unwrap_or(0).max(1)
    }

    /// One possible course of the season for a tree that stands as told: this winter as far as it is known, then
    /// the past year of that rank.
    pub fn course_days(&self, stays: &[Stay], year: usize, days: &mut Vec<BudDay>) {
        days.clear();
        days.extend((Winter::FIRST_DAY..=HORIZON).map(|day| {
            let place = &self.places[place_on(stays, day)];
            let winter = if day <= self.known_to { &place.this } else { &place.past[year] };
            winter.days[(day - Winter::FIRST_DAY) as usize].bud
        }));
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

/// The place of a day; before the first stay it is the first stay's.
fn place_on(stays: &[Stay], day: i32) -> usize {
    let at = stays.partition_point(|stay| stay.from <= day);
    stays.get(at.saturating_sub(1)).map_or(0, |stay| stay.place)
}
