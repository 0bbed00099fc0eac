//! The air of the station and of each place, hour by hour: measured where there is a reading, else rebuilt or
//! modelled, and each hour remembers which.

use climate::{
    hours::{Extremes, HoursError, from_extremes},
    record::{HourMean, StationDay},
    sensors::Together,
    shelter::{self, ShelterFit, ShelterModel},
    sun::hourly_sun,
};
use jiff::{Timestamp, ToSpan, civil::Date};
use measure::{
    quantity::{Celsius, Degrees},
    shelter::Shelter,
    sourced::Sourced,
};

use crate::odd_hours::{OddHours, stretches};

/// How an hour was had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Read from a station or a logger.
    Measured,
    /// Rebuilt from the day's low and high.
    Rebuilt,
    /// Filled across a gap.
    Filled,
    /// Worked out from the air outside.
    Modelled,
    /// Forecast.
    Forecast,
}

/// Hours of air temperature on whole local solar days.
#[derive(Clone, Debug, PartialEq)]
pub struct Air {
    /// Solar date of the first hour.
    pub first: Date,
    /// °C, 24 to the day.
    pub hours: Vec<f64>,
    /// How each hour was had.
    pub origin: Vec<Origin>,
}

/// Where on Earth, as far as the sun is concerned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Degrees north.
    pub latitude: Degrees,
    /// Degrees east; sets the solar clock.
    pub longitude: Degrees,
}

/// Where a place's temperatures come from.
#[derive(Clone, Debug, PartialEq)]
pub enum Basis {
    /// The logger, and between its readings a model fitted to them.
    Fitted(ShelterFit),
    /// The logger, and between its readings the default of the shelter, because no fit could be made or trusted.
    LoggedAndDefault(String),
    /// The default of the shelter alone.
    Default,
}

/// A place's air and how it was had.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceAir {
    /// Hour by hour.
    pub air: Air,
    /// Where the temperatures come from.
    pub basis: Basis,
    /// The model used where nothing was measured.
    pub model: Sourced<ShelterModel>,
    /// Hours that the logger gave.
    pub logged: usize,
    /// Stretches of them that the model was not learned from; the trees felt them all the same.
    pub odd: Vec<OddHours>,
    /// The same by the lowest of its sensors, where they differ.
    pub cold: Option<Box<PlaceAir>>,
}

impl PlaceAir {
    /// What frost is judged by: the coldest corner that a sensor hangs in. Buds go by the mean of the sensors, as nobody knows which of
    /// them hangs nearer to a tree.
    pub fn in_frost(&self) -> &PlaceAir {
        self.cold.as_deref().unwrap_or(self)
    }
}

/// Longest gap in days that a straight line may cross; longer ones take the usual weather of the date.
const SHORT_GAP: usize = 3;

impl Spot {
    /// Hours since 1970 on the local solar clock.
    pub(crate) fn solar_hour(self, at: i64) -> i64 {
        (at + (self.longitude.0 * 240.0) as i64).div_euclid(3600)
    }

    /// The moment at which a solar hour begins, seconds since 1970.
    pub(crate) fn moment(self, solar_hour: i64) -> i64 {
        solar_hour * 3600 - (self.longitude.0 * 240.0) as i64
    }

    /// The solar date of a moment, seconds since 1970.
    pub fn solar_date(self, at: i64) -> Date {
        Date::constant(1970, 1, 1) + self.solar_hour(at).div_euclid(24).days()
    }
}

pub(crate) fn days_between(first: Date, last: Date) -> i32 {
    (last - first).get_days()
}

impl Air {
    /// The last date.
    pub fn last(&self) -> Date {
        self.first + (self.hours.len() as i64 / 24 - 1).days()
    }

    /// The hours of one date, with their origins.
    pub fn day(&self, date: Date) -> Option<(&[f64], &[Origin])> {
        let at = usize::try_from(days_between(self.first, date)).ok()? * 24;
        Some((self.hours.get(at..at + 24)?, self.origin.get(at..at + 24)?))
    }

    /// The last date with a measured hour.
    pub fn measured_to(&self) -> Option<Date> {
        let last =
            self.origin.iter().rposition(|origin| matches!(origin, Origin::Measured | Origin::Rebuilt))?;
        Some(self.first + (last as i64 / 24).days())
    }

    /// The moment at which its hour of a rank begins, seconds since 1970.
    pub fn moment(&self, spot: Spot, rank: usize) -> i64 {
        spot.moment(i64::from(days_between(Date::constant(1970, 1, 1), self.first)) * 24 + rank as i64)
    }

    fn overlay(&mut self, spot: Spot, hours: &[HourMean], origin: impl Fn(&HourMean) -> Origin) {
        let start = i64::from(days_between(Date::constant(1970, 1, 1), self.first)) * 24;
        for hour in hours {
            let slot = usize::try_from(spot.solar_hour(hour.at) - start).ok();
            if let Some(at) = slot.filter(|&at| at < self.hours.len()) {
                self.hours[at] = hour.temperature;
                self.origin[at] = origin(hour);
            }
        }
    }
}

/// The station's air: days rebuilt into hours, the forecast on days that the station does not tell, hours read on
/// top, and up to `until` the usual weather of the date where the record ends sooner.
///
/// A `typical` year (366 lows and highs) takes the part of the usual weather, and of one past year where the record
/// holds none. Returns none when nothing at all was measured.
///
/// # Errors
///
/// [`HoursError`] when a low is above its high or the latitude is beyond a pole.
pub fn outside(
    spot: Spot,
    days: &[StationDay],
    hours: &[HourMean],
    forecast: &[HourMean],
    until: Date,
    typical: &[(f64, f64)],
) -> Result<Option<Air>, HoursError> {
    let dates = days.iter().filter(|day| day.extremes().is_some()).map(|day| day.date);
    let of_hours = [hours, forecast]
        .into_iter()
        .flat_map(|hours| [hours.first(), hours.last()])
        .flatten()
        .map(|hour| spot.solar_date(hour.at));
    let ends: Vec<Date> = dates.chain(of_hours).collect();
    let (Some(&first), Some(&last)) = (ends.iter().min(), ends.iter().chain([&until]).max()) else {
        return Ok(None);
    };
    let first = if typical.is_empty() { first } else { first.min(a_winter_before(until)) };
    let count = days_between(first, last) as usize + 1;
    let mut known: Vec<Option<Extremes>> = vec![None; count];
    for day in days {
        let Some((low, high)) = day.extremes() else { continue };
        let at = days_between(first, day.date) as usize;
        known[at] = Some(Extremes { low: Celsius(low), high: Celsius(high) });
    }
    let told_by_days: Vec<bool> = known.iter().map(Option::is_some).collect();
    extremes_of_hours(spot, first, [forecast, hours], &mut known);
    let filled = fill(first, &known, typical);
    let extremes: Vec<Extremes> = filled.iter().map(|(day, _)| *day).collect();
    let origin = filled
        .iter()
        .flat_map(|&(_, was_known)| [if was_known { Origin::Rebuilt } else { Origin::Filled }; 24])
        .collect();
    let mut air = Air { first, hours: from_extremes(spot.latitude, first, &extremes)?, origin };
    let unmeasured = |hour: &&HourMean| !told_by_days[days_between(first, spot.solar_date(hour.at)) as usize];
    let forecast: Vec<HourMean> = forecast.iter().filter(unmeasured).copied().collect();
    air.overlay(spot, &forecast, |_| Origin::Forecast);
    air.overlay(spot, hours, |_| Origin::Measured);
    Ok(Some(air))
}

/// Lows and highs of days that only hours tell of.
fn extremes_of_hours(spot: Spot, first: Date, series: [&[HourMean]; 2], known: &mut [Option<Extremes>]) {
    for hours in series {
        for same_day in hours.chunk_by(|a, b| spot.solar_date(a.at) == spot.solar_date(b.at)) {
            let at = days_between(first, spot.solar_date(same_day[0].at)) as usize;
            if same_day.len() < 20 || known[at].is_some() {
                continue;
            }
            let low = same_day.iter().map(|hour| hour.temperature).fold(f64::INFINITY, f64::min);
            let high = same_day.iter().map(|hour| hour.temperature).fold(f64::NEG_INFINITY, f64::max);
            known[at] = Some(Extremes { low: Celsius(low), high: Celsius(high) });
        }
    }
}

/// A date so early that the whole winter before this one lies after it.
fn a_winter_before(until: Date) -> Date {
    until - (365 + 365 + 31).days()
}

/// Every day with its low and high, and whether they were known.
fn fill(first: Date, known: &[Option<Extremes>], typical: &[(f64, f64)]) -> Vec<(Extremes, bool)> {
    let usual = if typical.len() == 366 {
        let day = |&(low, high): &(f64, f64)| Extremes { low: Celsius(low), high: Celsius(high) };
        typical.iter().map(day).collect()
    } else {
        usual(first, known)
    };
    let mut filled: Vec<(Extremes, bool)> = Vec::with_capacity(known.len());
    let mut at = 0;
    while at < known.len() {
        if let Some(day) = known[at] {
            filled.push((day, true));
            at += 1;
            continue;
        }
        let gap = known[at..].iter().take_while(|day| day.is_none()).count();
        let before = at.checked_sub(1).and_then(|at| known[at]);
        let after = known.get(at + gap).copied().flatten();
        for step in 1..=gap {
            let day = match (before, after) {
                (Some(a), Some(b)) if gap <= SHORT_GAP => between(a, b, step as f64 / (gap + 1) as f64),
                _ => usual[day_of_year(first, at + step - 1)],
            };
            filled.push((day, false));
        }
        at += gap;
    }
    filled
}

fn day_of_year(first: Date, at: usize) -> usize {
    (first + (at as i64).days()).day_of_year() as usize - 1
}

fn between(a: Extremes, b: Extremes, share: f64) -> Extremes {
    let mix = |a: Celsius, b: Celsius| Celsius(a.0 + (b.0 - a.0) * share);
    Extremes { low: mix(a.low, b.low), high: mix(a.high, b.high) }
}

/// The usual low and high of each day of the year: the mean over all years within a week of the date, and where
/// no year tells, the nearest date that is told.
fn usual(first: Date, known: &[Option<Extremes>]) -> Vec<Extremes> {
    let mut sums = vec![(0.0, 0.0, 0.0_f64); 366];
    for (at, day) in known.iter().enumerate() {
        if let Some(day) = day {
            let sum = &mut sums[day_of_year(first, at)];
            *sum = (sum.0 + day.low.0, sum.1 + day.high.0, sum.2 + 1.0);
        }
    }
    (0..366_usize)
        .map(|at| {
            for reach in [7, 15, 30, 60, 183] {
                let near = (366 + at - reach..=366 + at + reach).map(|at| sums[at % 366]);
                let (low, high, count) = near.fold((0.0, 0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1, a.2 + b.2));
                if count > 0.0 {
                    return Extremes { low: Celsius(low / count), high: Celsius(high / count) };
                }
            }
            Extremes { low: Celsius(0.0), high: Celsius(0.0) }
        })
        .collect()
}

/// A place's air by all its sensors: the mean of them, and beside it the lowest, each with a model of its own.
pub fn place_of(spot: Spot, outside: &Air, sun: &[f64], shelter: Shelter, logged: &Together) -> PlaceAir {
    let of = |hours: &[HourMean]| place(spot, outside, sun, shelter, hours);
    let cold = (logged.lowest != logged.mean).then(|| Box::new(of(&logged.lowest)));
    PlaceAir { cold, ..of(&logged.mean) }
}

/// A place's air: its logger's where there is one, else a model fitted on the overlap, else the default of its
/// shelter.
pub fn place(spot: Spot, outside: &Air, sun: &[f64], shelter: Shelter, logged: &[HourMean]) -> PlaceAir {
    let hours = outside.hours.len();
    let mut own =
        Air { first: outside.first, hours: vec![f64::NAN; hours], origin: vec![Origin::Modelled; hours] };
    own.overlay(spot, logged, |hour| if hour.filled { Origin::Filled } else { Origin::Measured });
    let default = shelter::default_of(shelter);
    let (model, basis, odd) = if logged.is_empty() {
        (default, Basis::Default, Vec::new())
    } else {
        match fit_on_overlap(&outside.hours, sun, &own.hours) {
            Ok((fit, odd)) if is_to_be_used(&fit, default.value, [&outside.hours, sun, &own.hours], &odd) => {
                let standing = measure::sourced::Standing::Measured;
                (Sourced { value: fit.model, standing }, Basis::Fitted(fit), odd)
            }
            Ok((fit, odd)) => {
                let why = format!("the fit misses by {:.1} K, too much to be trusted", fit.free_run_rmse);
                (default, Basis::LoggedAndDefault(why), odd)
            }
            Err(why) => (default, Basis::LoggedAndDefault(why.to_string()), Vec::new()),
        }
    };
    let modelled = model.value.series(&outside.hours, sun);
    let odd = stretches(&odd, &own.hours, &modelled);
    for ((hour, origin), modelled) in own.hours.iter_mut().zip(&mut own.origin).zip(modelled) {
        if hour.is_nan() {
            *hour = modelled;
            *origin = Origin::Modelled;
        }
    }
    if matches!(basis, Basis::Default) && shelter == Shelter::OpenBench {
        own.origin.clone_from(&outside.origin);
    }
    PlaceAir { air: own, basis, model, logged: logged.len(), odd, cold: None }
}

/// Newest days of a logger that the fit looks at: a frame is opened, a room is heated differently from year to year.
const NEWEST: usize = 180;

/// Days before the first reading that the fit may run in.
const RUN_IN: usize = 10;

/// Good hours of a logger from which on its own fit is used, however far it is off, unless the default is off further: six weeks (our
/// choice).
const MANY: usize = 1000;

/// Whether a place's own fit tells it: it is good, or many hours stand behind it and the default does worse on them.
fn is_to_be_used(
    fit: &ShelterFit,
    default: ShelterModel,
    [outside, sun, own]: [&[f64]; 3],
    odd: &[usize],
) -> bool {
    let misses = |model: ShelterModel| {
        let told = model.series(outside, sun);
        let good = (0..own.len()).filter(|at| own[*at].is_finite() && odd.binary_search(at).is_err());
        good.map(|at| (told[at] - own[at]).powi(2)).sum::<f64>()
    };
    fit.accepted() || (fit.hours >= MANY && misses(fit.model) < misses(default))
}

/// A place's model learned from its logger, and the ranks of the odd hours that it was not learned from.
fn fit_on_overlap(
    outside: &[f64],
    sun: &[f64],
    own: &[f64],
) -> Result<(ShelterFit, Vec<usize>), shelter::FitError> {
    let last = own.iter().rposition(|hour| !hour.is_nan()).map_or(0, |at| at + 1);
    let newest = last.saturating_sub(NEWEST * 24);
    let first = own[newest..].iter().position(|hour| !hour.is_nan()).map_or(newest, |at| newest + at);
    // Whole days from midnight, with some days to run in.
    let first = (first / 24).saturating_sub(RUN_IN) * 24;
    let fit = shelter::fit(&outside[first..last], &sun[first..last], &own[first..last])?;
    let odd = fit.odd.iter().map(|at| at + first).collect();
    Ok((fit, odd))
}

/// The sun on the outside's hours, MJ/m², as a clear sky would have it; one leap year stands for all, which moves
/// the sun by less than a day's step.
pub fn sun_on(spot: Spot, outside: &Air) -> Vec<f64> {
    const YEAR: Date = Date::constant(2024, 1, 1);
    let solar = i64::from(days_between(Date::constant(1970, 1, 1), YEAR)) * 86_400;
    let first = Timestamp::from_second(solar - (spot.longitude.0 * 240.0) as i64).unwrap_or_default();
    let year = hourly_sun(spot.latitude, spot.longitude, first, 366 * 24);
    let mut sun = Vec::with_capacity(outside.hours.len());
    let mut date = outside.first;
    while sun.len() < outside.hours.len() {
        let at = (date.day_of_year() as usize - 1) * 24;
        sun.extend_from_slice(&year[at..at + 24]);
        date = date.tomorrow().unwrap_or(date);
    }
    sun
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    const SPOT: Spot = Spot { latitude: Degrees(47.4), longitude: Degrees(8.5) };

    fn day(date: Date, low: f64) -> StationDay {
        StationDay::of_extremes(date, low, low + 8.0)
    }

    #[test]
    fn a_short_gap_is_crossed_in_a_straight_line_and_marked() {
        let days = [day(date(2026, 1, 1), 0.0), day(date(2026, 1, 3), 4.0)];
        let air = outside(SPOT, &days, &[], &[], date(2026, 1, 1), &[]).unwrap().unwrap();
        assert_eq!(air.hours.len(), 72);
        assert_eq!(air.origin[30], Origin::Filled);
        let low = air.day(date(2026, 1, 2)).unwrap().0.iter().copied().fold(f64::INFINITY, f64::min);
        assert!((low - 2.0).abs() < 0.6, "{low}");
    }

    #[test]
    fn a_long_gap_takes_the_usual_weather_of_the_date() {
        let mut days: Vec<StationDay> =
            (0..365).map(|at| day(date(2024, 1, 1) + at.days(), if at < 180 { 1.0 } else { 10.0 })).collect();
        days.push(day(date(2025, 3, 1), 1.0));
        let air = outside(SPOT, &days, &[], &[], date(2025, 3, 1), &[]).unwrap().unwrap();
        let (hours, origin) = air.day(date(2025, 1, 20)).unwrap();
        assert!(origin.iter().all(|&origin| origin == Origin::Filled));
        assert!((hours[6] - 1.0).abs() < 2.0, "{}", hours[6]);
    }

    #[test]
    fn a_day_of_the_station_beats_an_older_forecast_of_it() {
        let days = [day(date(2026, 1, 1), 0.0), day(date(2026, 1, 2), 0.0)];
        let noon = 1_767_225_600 + 12 * 3600;
        let told = [noon, noon + 2 * 86_400].map(|at| HourMean { at, temperature: -9.0, filled: false });
        let air = outside(SPOT, &days, &[], &told, date(2026, 1, 1), &[]).unwrap().unwrap();
        assert_eq!((air.origin[12], air.origin[60]), (Origin::Rebuilt, Origin::Forecast));
        assert!(air.hours[12] > 0.0 && air.hours[60] == -9.0);
    }

    #[test]
    fn a_typical_year_stands_in_for_a_past_winter_and_is_never_measured() {
        let days: Vec<StationDay> = (0..40).map(|at| day(date(2026, 1, 1) + at.days(), 0.0)).collect();
        let typical = [(-2.0, 5.0); 366];
        let air = outside(SPOT, &days, &[], &[], date(2026, 2, 9), &typical).unwrap().unwrap();
        assert!(air.first <= date(2024, 9, 1));
        let (hours, origin) = air.day(date(2025, 3, 1)).unwrap();
        assert!(origin.iter().all(|&origin| origin == Origin::Filled));
        assert!(hours.iter().all(|hour| (-2.5..5.5).contains(hour)));
    }

    #[test]
    fn a_reading_beats_a_rebuilt_hour_and_a_forecast() {
        let days = [day(date(2026, 1, 1), 0.0), day(date(2026, 1, 2), 0.0)];
        let at = 1_767_225_600 + 12 * 3600;
        let read = [HourMean { at, temperature: 21.5, filled: false }];
        let told = [HourMean { at, temperature: -9.0, filled: false }];
        let air = outside(SPOT, &days, &read, &told, date(2026, 1, 1), &[]).unwrap().unwrap();
        assert_eq!(air.hours[12], 21.5);
        assert_eq!(air.origin[12], Origin::Measured);
    }
}
