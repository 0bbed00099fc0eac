//! Hour-by-hour temperatures rebuilt from each day's low and high.

use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Degrees},
    range::OutOfRange,
};

use crate::light::sun_times;

/// A day's low and high.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extremes {
    /// Lowest temperature.
    pub low: Celsius,
    /// Highest temperature.
    pub high: Celsius,
}

/// Why hours could not be rebuilt.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum HoursError {
    /// A low above its high, or not a number.
    #[error("on {day} the low is {low} and the high is {high}")]
    Crossed {
        /// Which day.
        day: Date,
        /// The low given, °C.
        low: f64,
        /// The high given, °C.
        high: f64,
    },
    /// The latitude is beyond a pole.
    #[error(transparent)]
    Latitude(#[from] OutOfRange),
}

/// The sun of one day: rise and set in solar hours, or none.
type Sun = Option<(f64, f64)>;

/// Temperatures at solar hours 0 to 23 of each day: a sine by day, a logarithm by night.
///
/// ```text
/// R < h < S: T = Tn + (Tx − Tn)·sin(π(h − R)/(D + 4))
/// night:     T = Ts − (Ts − Tn′)·ln(t + 1)/ln(N + 1),   Ts = Tn + (Tx − Tn)·sin(πD/(D + 4))
/// ```
///
/// | symbol | meaning | unit |
/// |--------|---------|------|
/// | R, S, D | sunrise, sunset, day length | h |
/// | Tn, Tx | the day's low and high | °C |
/// | Tn′ | the coming low | °C |
/// | t, N | hours since sunset, length of the night | h |
///
/// The clock is local solar time. Before the first day its own extremes stand in for yesterday's, under yesterday's sun; after the last
/// its own low is the coming one. In a polar day or night every hour is the mean of low and high.
///
/// **Holds** for open air; a frame or a room does not follow this curve.
/// **Error** not stated by the source.
/// **Source** Linvill 1990, in the form that keeps the night's ends consistent.
/// **Checked** `tests/linvill.rs`.
///
/// # Errors
///
/// [`HoursError`] when a low is above its high or not a number, or the latitude beyond a pole.
///
/// # Example
///
/// ```
/// use climate::hours::{Extremes, from_extremes};
/// use jiff::civil::date;
/// use measure::quantity::{Celsius, Degrees};
///
/// let day = Extremes { low: Celsius(10.6), high: Celsius(15.0) };
/// let hours = from_extremes(Degrees(47.45), date(2012, 11, 1), &[day])?;
/// assert_eq!(format!("{:.3}", hours[14]), "15.000");
/// # Ok::<(), climate::hours::HoursError>(())
/// ```
pub fn from_extremes(latitude: Degrees, first: Date, days: &[Extremes]) -> Result<Vec<f64>, HoursError> {
    let mut suns: Vec<Sun> = Vec::with_capacity(days.len() + 2);
    suns.push(sun_of(latitude, first.yesterday().unwrap_or(first))?);
    let mut date = first;
    for day in 0..=days.len() {
        if let Some(&Extremes { low: Celsius(low), high: Celsius(high) }) = days.get(day)
            && (!low.is_finite() || !high.is_finite() || low > high)
        {
            return Err(HoursError::Crossed { day: date, low, high });
        }
        suns.push(sun_of(latitude, date)?);
        date = date.tomorrow().unwrap_or(date);
    }
    let mut hours = Vec::with_capacity(days.len() * 24);
    for (at, day) in days.iter().enumerate() {
        let yesterday = (days[at.saturating_sub(1)], suns[at]);
        let coming = days.get(at + 1).unwrap_or(day).low.0;
        for hour in 0..24 {
            hours.push(at_hour(f64::from(hour), (*day, suns[at + 1]), yesterday, (coming, suns[at + 2])));
        }
    }
    Ok(hours)
}

fn sun_of(latitude: Degrees, date: Date) -> Result<Sun, OutOfRange> {
    let times = sun_times(latitude, date.day_of_year() as u16)?;
    Ok(times.map(|(rise, set)| (rise.0, set.0)))
}

fn at_hour(hour: f64, (day, sun): (Extremes, Sun), yesterday: (Extremes, Sun), coming: (f64, Sun)) -> f64 {
    let mean = f64::midpoint(day.low.0, day.high.0);
    let Some((rise, set)) = sun else { return mean };
    if hour > rise && hour < set {
        return by_day(day, hour - rise, set - rise);
    }
    if hour >= set {
        let next_rise = coming.1.map_or(rise, |(rise, _)| rise);
        let night = 24.0 - set + next_rise;
        return by_night(by_day(day, set - rise, set - rise), coming.0, hour - set, night);
    }
    let (before, (rise_before, set_before)) = (yesterday.0, yesterday.1.unwrap_or((rise, set)));
    let long = set_before - rise_before;
    by_night(by_day(before, long, long), day.low.0, hour + 24.0 - set_before, 24.0 - set_before + rise)
}

fn by_day(day: Extremes, since_rise: f64, long: f64) -> f64 {
    day.low.0 + (day.high.0 - day.low.0) * (std::f64::consts::PI * since_rise / (long + 4.0)).sin()
}

fn by_night(at_set: f64, coming_low: f64, since_set: f64, night: f64) -> f64 {
    at_set - (at_set - coming_low) * since_set.ln_1p() / night.ln_1p()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_low_above_its_high_is_named_by_its_day() {
        let bad = Extremes { low: Celsius(6.0), high: Celsius(5.0) };
        let good = Extremes { low: Celsius(1.0), high: Celsius(5.0) };
        let first = Date::constant(2026, 1, 1);
        let error = from_extremes(Degrees(47.0), first, &[good, bad]).unwrap_err();
        assert_eq!(error, HoursError::Crossed { day: Date::constant(2026, 1, 2), low: 6.0, high: 5.0 });
    }

    #[test]
    fn the_polar_night_is_the_mean() {
        let day = Extremes { low: Celsius(-20.0), high: Celsius(-10.0) };
        let hours = from_extremes(Degrees(80.0), Date::constant(2026, 1, 1), &[day]).unwrap();
        assert!(hours.iter().all(|&hour| hour == -15.0));
    }
}
