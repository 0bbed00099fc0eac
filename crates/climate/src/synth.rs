//! Invented weather of a station, the same for the same seed, for the demonstration and for trying plans.

use std::f64::consts::PI;

use jiff::civil::Date;
use measure::quantity::{Celsius, Degrees};
use rand_pcg::{
    Pcg64Mcg,
    rand_core::{Rng, SeedableRng},
};

use crate::{hours::Extremes, light::sun_times};

/// What an invented station's weather is like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SynthClimate {
    /// Degrees north; south of the equator the seasons turn over.
    pub latitude: Degrees,
    /// Mean of all hours.
    pub mean: Celsius,
    /// Half the difference of the warmest and coldest time of the year, K.
    pub swing: f64,
    /// Day-to-day spread of the daily mean in winter and in summer, K.
    pub spread: Seasonal,
    /// Daily high minus low in winter and in summer, K.
    pub range: Seasonal,
    /// Spread of slow departures that last for months, K.
    pub slow: f64,
    /// Cold snaps in a winter.
    pub snaps: f64,
}

/// A quantity that goes with the season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seasonal {
    /// At the coldest time.
    pub winter: f64,
    /// At the warmest time.
    pub summer: f64,
}

impl Seasonal {
    /// Between the two; `winter` is 1 at the coldest time and −1 at the warmest.
    fn at(self, winter: f64) -> f64 {
        f64::midpoint(self.winter, self.summer) + (self.winter - self.summer) / 2.0 * winter
    }
}

impl SynthClimate {
    /// A temperate station: weather of 3.5 K spread in winter and 2.5 K in summer, two cold snaps a winter.
    ///
    /// All figures but the three arguments are our own estimates for a temperate lowland.
    pub fn temperate(latitude: Degrees, mean: Celsius, swing: f64) -> SynthClimate {
        SynthClimate {
            latitude,
            mean,
            swing,
            spread: Seasonal { winter: 3.5, summer: 2.5 },
            range: Seasonal { winter: 5.5, summer: 10.5 },
            slow: 0.9,
            snaps: 2.0,
        }
    }
}

/// How long weather lasts, h: makes the daily mean remember three quarters of yesterday's.
const WEATHER_LASTS: f64 = 53.0;
/// Share of the hourly spread that daily means keep under that memory.
const DAILY_SHARE: f64 = 0.93;
/// How long a slow departure lasts, days.
const SLOW_LASTS: f64 = 150.0;
/// Share of yesterday's cloud that is left today.
const CLOUD_LASTS: f64 = 0.5;
/// Hour of the daily high, solar time.
const WARMEST_HOUR: f64 = 15.0;
/// Coldest day of the northern year.
const COLDEST_DAY: f64 = 20.0;
/// Mean length of a year, days.
const YEAR: f64 = 365.2425;

/// Hourly air temperature of an invented station, °C, hour 0 of `first` onwards, in local solar hours.
///
/// ```text
/// T = mean − swing·cos(season) + w(h) + slow(d) − snap(d) + ½ range(d)·shape(h)
/// ```
///
/// | term | meaning |
/// |------|---------|
/// | w | weather: remembers e^(−1/53) from hour to hour, its daily means about 0.75 from day to day; spread by season |
/// | slow | departures that last for months, so that years differ |
/// | snap | 3 to 7 days of 4 to 9 K in winter; the mean is made up for on the other days |
/// | range | by season, and by cloud from half to one and a half |
/// | shape | half cosines from the low at sunrise to the high at 15 h and back |
///
/// In winter warm weather is cloudy, in summer clear. Rain, wind and fronts are not made.
///
/// **Holds** for trying plans; it is nobody's weather. **Error** means little here; the tests bound its statistics.
/// **Source** our own; a first-order memory as in the weather generators since Richardson 1981.
/// **Checked** nothing outside.
///
/// # Example
///
/// ```
/// use climate::synth::{SynthClimate, daily, hours};
/// use jiff::civil::date;
/// use measure::quantity::{Celsius, Degrees};
///
/// let town = SynthClimate::temperate(Degrees(47.4), Celsius(9.5), 9.5);
/// let year = hours(&town, date(2025, 7, 1), 365, 7);
/// assert_eq!(year, hours(&town, date(2025, 7, 1), 365, 7));
/// assert!(daily(&year).iter().any(|day| day.low.0 < -5.0));
/// ```
pub fn hours(climate: &SynthClimate, first: Date, days: usize, seed: u64) -> Vec<f64> {
    let mut dice = Dice(Pcg64Mcg::seed_from_u64(seed));
    let keep = (-1.0 / WEATHER_LASTS).exp();
    let mut weather = dice.normal();
    let mut sky = Sky::new(&mut dice);
    let mut today = sky.day(climate, first, 0, weather, &mut dice);
    let (mut base_before, mut range_before) = (today.base, today.half_range);
    let mut hours = Vec::with_capacity(days * 24);
    for day in 0..days {
        let coming = sky.day(climate, first, day + 1, weather, &mut dice);
        for hour in 0..24 {
            let clock = f64::from(hour);
            // A day's own figures stand at noon; between two noons they change evenly.
            let between = |before: f64, now: f64, after: f64| {
                if clock < 12.0 {
                    before + (now - before) * (0.5 + clock / 24.0)
                } else {
                    now + (after - now) * (clock / 24.0 - 0.5)
                }
            };
            let base = between(base_before, today.base, coming.base);
            let half_range = between(range_before, today.half_range, coming.half_range);
            hours.push(base + today.spread * weather + half_range * shape(clock, today.rise));
            weather = keep * weather + (1.0 - keep * keep).sqrt() * dice.normal();
        }
        (base_before, range_before, today) = (today.base, today.half_range, coming);
    }
    hours
}

/// The low and high of each whole day of 24 hours.
///
/// ```
/// use climate::synth::daily;
///
/// let hours: Vec<f64> = (0..30).map(f64::from).collect();
/// let days = daily(&hours);
/// assert_eq!((days.len(), days[0].low.0, days[0].high.0), (1, 0.0, 23.0));
/// ```
pub fn daily(hours: &[f64]) -> Vec<Extremes> {
    let of = |day: &[f64]| Extremes {
        low: Celsius(day.iter().copied().fold(f64::INFINITY, f64::min)),
        high: Celsius(day.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
    };
    hours.chunks_exact(24).map(of).collect()
}

/// What one day brings apart from the hour-to-hour weather.
struct Day {
    /// Season, slow departure and snap, °C.
    base: f64,
    /// Spread of the hour-to-hour weather, K.
    spread: f64,
    /// Half the daily range, K.
    half_range: f64,
    /// Sunrise, solar hour.
    rise: f64,
}

/// What carries over from day to day besides the weather.
struct Sky {
    slow: f64,
    cloud: f64,
    snap: Option<Snap>,
}

/// A run of cold days.
struct Snap {
    depth: f64,
    long: f64,
    passed: f64,
}

impl Sky {
    fn new(dice: &mut Dice) -> Sky {
        Sky { slow: dice.normal(), cloud: dice.normal(), snap: None }
    }

    fn day(&mut self, climate: &SynthClimate, first: Date, day: usize, weather: f64, dice: &mut Dice) -> Day {
        let since = f64::from(first.day_of_year()) + day as f64 - COLDEST_DAY;
        let turned = if climate.latitude.0 < 0.0 { PI } else { 0.0 };
        let winter = (2.0 * PI * since / YEAR + turned).cos();
        let keep = (-1.0 / SLOW_LASTS).exp();
        self.slow = keep * self.slow + (1.0 - keep * keep).sqrt() * dice.normal();
        self.cloud = CLOUD_LASTS * self.cloud + (1.0 - CLOUD_LASTS * CLOUD_LASTS).sqrt() * dice.normal();
        let (cold, made_up) = self.snap(climate.snaps, winter, dice);
        let clear = -0.9 * (self.cloud + 0.5 * winter * weather) + 0.2 * cold;
        let range = climate.range.at(winter) * (1.0 + 0.5 * clear.tanh());
        let day_of_year = (since + COLDEST_DAY - 1.0).rem_euclid(365.0) as u16 + 1;
        let sun = sun_times(climate.latitude, day_of_year).ok().flatten();
        Day {
            base: climate.mean.0 - climate.swing * winter + climate.slow * self.slow - cold + made_up,
            spread: climate.spread.at(winter) / DAILY_SHARE,
            half_range: range / 2.0,
            rise: sun.map_or(6.0, |(rise, _)| rise.0.clamp(2.0, 10.0)),
        }
    }

    /// Cold of the day's snap, and what the day gets back for all snaps, K.
    fn snap(&mut self, a_winter: f64, winter: f64, dice: &mut Dice) -> (f64, f64) {
        /// Mean depth times mean length times the mean of the half sine.
        const MEAN_COLD: f64 = 6.5 * 5.0 * 2.0 / PI;
        // The positive half of the season's cosine sums to a year over π.
        let chance = a_winter * PI / YEAR * winter.max(0.0);
        let (starts, depth, long) =
            (dice.even() < chance, 4.0 + 5.0 * dice.even(), 3.0 + (5.0 * dice.even()).floor());
        if starts && self.snap.is_none() {
            self.snap = Some(Snap { depth, long, passed: 0.0 });
        }
        let Some(snap) = &mut self.snap else { return (0.0, chance * MEAN_COLD) };
        let cold = snap.depth * (PI * (snap.passed + 0.5) / snap.long).sin();
        snap.passed += 1.0;
        if snap.passed >= snap.long {
            self.snap = None;
        }
        (cold, chance * MEAN_COLD)
    }
}

/// From −1 at sunrise to 1 at the warmest hour and back, in half cosines.
fn shape(clock: f64, rise: f64) -> f64 {
    let climb = WARMEST_HOUR - rise;
    let since = (clock - rise).rem_euclid(24.0);
    if since < climb { -(PI * since / climb).cos() } else { (PI * (since - climb) / (24.0 - climb)).cos() }
}

/// Chance from a seed.
struct Dice(Pcg64Mcg);

impl Dice {
    /// Evenly from 0 to 1, 1 left out.
    fn even(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal of mean 0 and spread 1 (Box and Muller 1958).
    fn normal(&mut self) -> f64 {
        let (far, turn) = (1.0 - self.even(), self.even());
        (-2.0 * far.ln()).sqrt() * (2.0 * PI * turn).cos()
    }
}

#[cfg(test)]
mod tests;
