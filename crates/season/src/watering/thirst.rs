//! The thirst of the air at each place, hour by hour: as it was, and as each past year says of the fortnight to come.

use std::sync::Arc;

use climate::{
    demand::{DemandPlace, Site, split::HourShares, temperature::hargreaves_samani, vapour::saturation},
    record::StationDay,
};
use jiff::{ToSpan, civil::Date};
use measure::{
    quantity::{Celsius, Degrees, Hours, Kilopascal, Metre, Millimetre, SquareMetre},
    range::OutOfRange,
    shelter::Shelter,
};
use water::{
    indoors::{Crown, Room, indoor_use},
    leaf::Exposure,
};

use crate::air::{Air, Origin};

/// Days ahead that a plan reaches.
pub const AHEAD: usize = 14;

/// Days back that a log is read.
pub const BACK: i64 = 400;

/// Most past years that stand for the days to come.
const MOST_YEARS: i16 = 20;

/// Share of full humidity of a lived-in room and of an unheated one, where nothing measured it (our estimate).
const HUMID: [f64; 2] = [0.5, 0.75];

/// Hours by the sun in which leaves indoors are open.
const OPEN: std::ops::Range<usize> = 6..18;

/// What a place does to water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// How sun and wind reach it.
    pub exposure: Exposure,
    /// Whether rain falls into the pots.
    pub rained_on: bool,
}

impl Standing {
    /// What a shelter does.
    pub fn of(shelter: Shelter) -> Standing {
        let (exposure, rained_on) = match shelter {
            Shelter::OpenBench => (Exposure::OpenBench, true),
            Shelter::ShadedBench => (Exposure::Shade, true),
            Shelter::ColdFrame | Shelter::ColdGlasshouse => (Exposure::Sheltered, false),
            Shelter::ColdRoom | Shelter::CoolSill | Shelter::WarmSill => (Exposure::Indoors, false),
        };
        Standing { exposure, rained_on }
    }
}

/// One place, hour by hour from [`Thirst::first`].
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceThirst {
    /// How water fares there.
    pub standing: Standing,
    /// Demand of each hour for one millimetre of crown, through today and [`AHEAD`] days, one row for each weather.
    pub demand: Arc<Vec<Vec<Millimetre>>>,
    /// Demand from the first hour up to each, as the first weather has it.
    summed: Arc<Vec<f64>>,
}

/// Demand and rain of all places.
#[derive(Clone, Debug, PartialEq)]
pub struct Thirst {
    /// Solar date of the first hour.
    pub first: Date,
    /// Degrees east, for the solar clock.
    longitude: Degrees,
    /// Whole days from the first to today, today not counted.
    pub past_days: usize,
    /// The places, in the order given.
    pub places: Vec<PlaceThirst>,
    /// Rain of each hour under open sky, one row for each weather.
    pub rain: Vec<Vec<Millimetre>>,
    /// Rain from the first hour up to each, as the first weather has it.
    rain_summed: Vec<f64>,
    /// Whether the record tells rain at all.
    pub rain_known: bool,
    /// Days from today on that the forecast tells.
    pub told_days: usize,
    /// How many past years stand for the days to come; where none does, today's weather is taken to go on.
    pub years: usize,
}

/// A place as the thirst needs it.
#[derive(Clone, Copy, Debug)]
pub struct Spot<'a> {
    /// Its kind.
    pub shelter: Shelter,
    /// Its air, where it has one of its own.
    pub air: &'a Air,
}

impl Thirst {
    /// Of a site on a day.
    ///
    /// `outside` and every place's air must start on one date and reach today.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the site lies beyond a pole or off the Earth.
    pub fn of(
        [latitude, longitude]: [Degrees; 2],
        elevation: Metre,
        outside: &Air,
        places: &[Spot<'_>],
        rain: &[StationDay],
        today: Date,
    ) -> Result<Thirst, OutOfRange> {
        let sky = Sky::new(DemandPlace::new(Site::inland(latitude, longitude, elevation))?)?;
        let first = (today - BACK.days()).max(outside.first);
        let past_days = (today - first).get_days().max(0) as usize;
        let told_days = (0..AHEAD).take_while(|&day| is_told(outside, today + (day as i64).days())).count();
        let years: Vec<i16> =
            (1..=MOST_YEARS).filter(|&year| has_fortnight(outside, years_before(today, year))).collect();
        let plan = Plan { first, past_days, told_days, today, years: &years };
        let open = Arc::new(plan.rows(|date| sky.day(outside, date)));
        let open_summed = Arc::new(running(&open[0]));
        let indoors = |spot: &Spot<'_>| {
            let humid = HUMID[usize::from(spot.shelter == Shelter::ColdRoom)];
            Arc::new(plan.rows(|date| sky.indoors(spot.air, date, humid)))
        };
        let places = places
            .iter()
            .map(|spot| {
                let standing = Standing::of(spot.shelter);
                if standing.exposure != Exposure::Indoors {
                    let summed = Arc::clone(&open_summed);
                    return PlaceThirst { standing, demand: Arc::clone(&open), summed };
                }
                let demand = indoors(spot);
                let summed = Arc::new(running(&demand[0]));
                PlaceThirst { standing, demand, summed }
            })
            .collect();
        let fallen = |date: Date| {
            let day = rain.binary_search_by_key(&date, |day| day.date).ok().and_then(|at| rain[at].rain);
            [Millimetre(day.unwrap_or(0.0) / 24.0); 24]
        };
        let rain_known = rain.iter().rev().take(60).any(|day| day.rain.is_some());
        let rain = plan.rows(fallen);
        Ok(Thirst {
            first,
            longitude,
            past_days,
            places,
            rain_summed: running(&rain[0]),
            rain,
            rain_known,
            told_days,
            years: years.len(),
        })
    }

    /// The hour of a moment, seconds since 1970, counted from the first.
    pub fn hour(&self, at: i64) -> f64 {
        let start = i64::from((self.first - Date::constant(1970, 1, 1)).get_days()) * 86_400;
        (at - start) as f64 / 3600.0 + self.longitude.0 / 15.0
    }

    /// The moment of an hour, seconds since 1970.
    pub fn moment(&self, hour: f64) -> i64 {
        let start = i64::from((self.first - Date::constant(1970, 1, 1)).get_days()) * 86_400;
        start + ((hour - self.longitude.0 / 15.0) * 3600.0).round() as i64
    }

    /// How many weathers there are.
    pub fn weathers(&self) -> usize {
        self.rain.len()
    }

    /// Demand of a place between two hours, as the first weather has it.
    pub fn demanded(&self, place: usize, from: f64, to: f64) -> Millimetre {
        Millimetre(between(&self.places[place].summed, from, to))
    }

    /// Demand of a place in the mean of all weathers.
    pub fn expected(&self, place: usize, from: f64, to: f64) -> Millimetre {
        Millimetre(mean(&self.places[place].demand, from, to))
    }

    /// Rain under open sky in the mean of all weathers.
    pub fn expected_rain(&self, from: f64, to: f64) -> Millimetre {
        Millimetre(mean(&self.rain, from, to))
    }

    /// Rain under open sky between two hours, as the first weather has it.
    pub fn fallen(&self, from: f64, to: f64) -> Millimetre {
        Millimetre(between(&self.rain_summed, from, to))
    }
}

/// Sums up to the start of each hour and to the end of the last.
fn running(hours: &[Millimetre]) -> Vec<f64> {
    let mut sums = Vec::with_capacity(hours.len() + 1);
    sums.push(0.0);
    let mut sum = 0.0;
    sums.extend(hours.iter().map(|hour| {
        sum += hour.0;
        sum
    }));
    sums
}

/// The mean over rows of what falls between two moments.
fn mean(rows: &[Vec<Millimetre>], from: f64, to: f64) -> f64 {
    let of = |row: &Vec<Millimetre>| -> f64 {
        let hours = from.max(0.0).floor() as usize..(to.max(0.0).ceil() as usize).min(row.len());
        hours.map(|hour| row[hour].0 * (to.min(hour as f64 + 1.0) - from.max(hour as f64)).max(0.0)).sum()
    };
    rows.iter().map(of).sum::<f64>() / rows.len().max(1) as f64
}

/// What falls between two moments, straight within an hour.
fn between(sums: &[f64], from: f64, to: f64) -> f64 {
    let at = |hour: f64| {
        let hour = hour.clamp(0.0, (sums.len() - 1) as f64);
        let whole = hour.floor() as usize;
        let next = sums[(whole + 1).min(sums.len() - 1)];
        sums[whole] + (next - sums[whole]) * (hour - whole as f64)
    };
    (at(to) - at(from)).max(0.0)
}

/// Which date stands for which, in each weather.
struct Plan<'a> {
    first: Date,
    past_days: usize,
    told_days: usize,
    today: Date,
    years: &'a [i16],
}

impl Plan<'_> {
    /// A row of hours for each weather.
    fn rows(&self, mut day: impl FnMut(Date) -> [Millimetre; 24]) -> Vec<Vec<Millimetre>> {
        let known: Vec<[Millimetre; 24]> = (0..self.past_days + self.told_days.max(1))
            .map(|at| day(self.first + (at as i64).days()))
            .collect();
        let weathers = self.years.len().max(1);
        (0..weathers)
            .map(|weather| {
                let mut row = Vec::with_capacity((self.past_days + AHEAD) * 24);
                known.iter().for_each(|hours| row.extend_from_slice(hours));
                for ahead in self.told_days.max(1)..AHEAD {
                    let date = self.today + (ahead as i64).days();
                    match self.years.get(weather) {
                        Some(&year) => row.extend_from_slice(&day(years_before(date, year))),
                        None => row.extend_from_slice(&known[known.len() - 1]),
                    }
                }
                row
            })
            .collect()
    }
}

fn years_before(date: Date, years: i16) -> Date {
    date - i64::from(years).years()
}

fn has_fortnight(air: &Air, from: Date) -> bool {
    let told = |date: Date| {
        air.day(date).is_some_and(|(_, origin)| origin.iter().all(|origin| *origin != Origin::Filled))
    };
    told(from) && told(from + (AHEAD as i64).days())
}

fn is_told(air: &Air, date: Date) -> bool {
    air.day(date).is_some_and(|(_, origin)| origin.iter().any(|origin| *origin != Origin::Filled))
}

/// The sky over a site with its hours worked out once.
struct Sky {
    place: DemandPlace,
    shares: Vec<HourShares>,
}

impl Sky {
    fn new(place: DemandPlace) -> Result<Sky, OutOfRange> {
        let shares = (1..=366).map(|day| HourShares::of_sun(&place, day)).collect::<Result<_, _>>()?;
        Ok(Sky { place, shares })
    }

    /// A day's demand under open sky, from its low and high.
    fn day(&self, air: &Air, date: Date) -> [Millimetre; 24] {
        let nothing = [Millimetre(0.0); 24];
        let Some((hours, _)) = air.day(date) else { return nothing };
        let low = hours.iter().copied().fold(f64::INFINITY, f64::min);
        let high = hours.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let day = date.day_of_year() as u16;
        let whole = self.place.sun(day).and_then(|sun| hargreaves_samani(Celsius(low), Celsius(high), sun));
        let Ok(Millimetre(whole)) = whole else { return nothing };
        self.shares[usize::from(day) - 1].0.map(|share| Millimetre(whole.max(0.0) * share))
    }

    /// A day's demand of a leafy crown indoors.
    fn indoors(&self, air: &Air, date: Date, humid: f64) -> [Millimetre; 24] {
        let Some((hours, _)) = air.day(date) else { return [Millimetre(0.0); 24] };
        std::array::from_fn(|hour| {
            let full = saturation(Celsius(hours[hour])).map_or(0.0, |full| full.0);
            let room = Room {
                conductance: Crown::Leafy.conductance().value,
                deficit: Kilopascal(full * (1.0 - humid)),
                pressure: self.place.pressure(),
                crown: SquareMetre(1.0),
                hours: Hours(if OPEN.contains(&hour) { 1.0 } else { 0.1 }),
            };
            Millimetre(indoor_use(&room).map_or(0.0, |litres| litres.0))
        })
    }
}
