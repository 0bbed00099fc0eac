//! Where the sun stands, when it rises, and the energy it would send through a clear sky.

use jiff::{SignedDuration, Timestamp};
use measure::{
    quantity::{Celsius, Degrees, Metre},
    range::{OutOfRange, within},
};
use solar_positioning::{
    Horizon, Location, RefractionCorrection, SolarEvents, SolarPositions, time::JulianDate,
};

/// A point on the earth and the air that bends the light there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observer {
    /// Degrees north.
    pub latitude: Degrees,
    /// Degrees east.
    pub longitude: Degrees,
    /// Above sea level.
    pub elevation: Metre,
    /// Air pressure, hPa.
    pub pressure: f64,
    /// Air temperature.
    pub air: Celsius,
    /// ΔT, terrestrial time minus universal time, s; 69 does for this decade.
    pub clock_gap: f64,
}

impl Observer {
    /// At sea level under 1013 hPa and 15 °C, in this decade.
    pub fn at(latitude: Degrees, longitude: Degrees) -> Observer {
        Observer {
            latitude,
            longitude,
            elevation: Metre(0.0),
            pressure: 1013.25,
            air: Celsius(15.0),
            clock_gap: 69.0,
        }
    }

    fn checked(&self) -> Result<Location, OutOfRange> {
        within("elevation, m", self.elevation.0, -500.0, 9000.0)?;
        within("air pressure, hPa", self.pressure, 300.0, 1100.0)?;
        within("air temperature, °C", self.air.0, -90.0, 60.0)?;
        within("terrestrial minus universal time, s", self.clock_gap, 0.0, 200.0)?;
        Ok(Location {
            latitude: within("latitude, °", self.latitude.0, -90.0, 90.0)?,
            longitude: within("longitude, °", self.longitude.0, -180.0, 180.0)?,
        })
    }
}

/// Where the sun is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// Angle from overhead, as bent by the air.
    pub zenith: Degrees,
    /// From north over east.
    pub azimuth: Degrees,
}

/// The sun's day, as far as it has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunEvents {
    /// Upper edge on the horizon, rising.
    pub rise: Option<Timestamp>,
    /// Highest.
    pub noon: Option<Timestamp>,
    /// Upper edge on the horizon, setting.
    pub set: Option<Timestamp>,
}

/// Why the crate's own checks cannot fail.
const POSITION_HOLDS: &str = "the span of every argument was checked above";

/// Where the sun is seen from a place.
///
/// The equations are the 30 pages of the source, computed by the crate `solar-positioning` 0.7.
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | θ | `zenith` | topocentric zenith, with refraction | ° |
/// | Φ | `azimuth` | topocentric azimuth, eastward from north | ° |
/// | ΔT | `clock_gap` | terrestrial minus universal time | s |
///
/// **Holds** for every place, years −2000 to 6000. **Error** 0.0003° by the source.
/// **Source** Reda and Andreas 2004, NREL/TP-560-34302 (SPA). **Checked** `tests/spa.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the place, its air or ΔT is beyond the earth's, or the year beyond 6000.
///
/// # Example
///
/// ```
/// use climate::sun::{Observer, position};
/// use measure::quantity::Degrees;
///
/// let noon = "2026-06-21T11:30:00Z".parse().unwrap();
/// let sun = position(&Observer::at(Degrees(47.4), Degrees(8.5)), noon)?;
/// assert_eq!(format!("{:.0}° {:.0}°", sun.zenith.0, sun.azimuth.0), "24° 181°");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn position(observer: &Observer, at: Timestamp) -> Result<SunPosition, OutOfRange> {
    let place = observer.checked()?;
    let air = RefractionCorrection::new(observer.pressure, observer.air.0).expect(POSITION_HOLDS);
    let time = JulianDate::new(julian(at), observer.clock_gap).expect(POSITION_HOLDS);
    let sun =
        SolarPositions::new().at_from_julian(time, place, observer.elevation.0, Some(air)).map_err(|_| {
            OutOfRange {
                quantity: "year",
                got: at.as_second() as f64 / YEAR + 1970.0,
                low: -2000.0,
                high: 6000.0,
            }
        })?;
    Ok(SunPosition { zenith: Degrees(sun.zenith_angle()), azimuth: Degrees(sun.azimuth()) })
}

/// First rise, highest stand and set in the 24 hours after `from`; in a polar day or night some are absent.
///
/// The sun has risen when its centre stands at −0.8333°, which counts refraction and its half-width.
///
/// **Holds** for a level horizon at sea level. **Error** under a second against the worked example; real air moves it by
/// a minute and more. **Source** as [`position`]. **Checked** `tests/spa.rs`.
///
/// # Errors
///
/// As [`position`].
///
/// # Example
///
/// ```
/// use climate::sun::{Observer, events};
/// use measure::quantity::Degrees;
///
/// let night = "2026-06-21T00:00:00Z".parse().unwrap();
/// let svalbard = events(&Observer::at(Degrees(78.2), Degrees(15.6)), night)?;
/// assert!(svalbard.rise.is_none() && svalbard.noon.is_some());
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn events(observer: &Observer, from: Timestamp) -> Result<SunEvents, OutOfRange> {
    let place = observer.checked()?;
    let (start, gap) = (julian(from), observer.clock_gap);
    let (end, horizon) = (start + 1.0, Horizon::SunriseSunset);
    let sun = SolarEvents::new();
    let when = |day: Option<f64>| day.and_then(timestamp);
    Ok(SunEvents {
        rise: when(sun.next_rise_from_julian(start, end, place, gap, horizon).ok().flatten()),
        noon: when(sun.next_transit_from_julian(start, end, place.longitude, gap).ok().flatten()),
        set: when(sun.next_set_from_julian(start, end, place, gap, horizon).ok().flatten()),
    })
}

/// Energy that reaches the level ground through a clear sky, W m⁻².
///
/// ```text
/// G = 1098·cos z·exp(−0.059/cos z)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | G | returned | on the level, straight and from the sky | W m⁻² |
/// | z | `zenith` | the sun's angle from overhead; beyond 90° it is night | ° |
///
/// **Holds** for clear sky near sea level; no haze, no clouds, no hills.
/// **Error** daily sums 2 to 9 % above another clear sky model at 47° N, most in January.
/// **Source** Haurwitz 1945, J. Meteorology 2:154, as coded in pvlib (the paper itself not read; 0.057 is also quoted).
/// **Checked** `tests/spa.rs`.
///
/// # Example
///
/// ```
/// use climate::sun::clear_sky_haurwitz;
/// use measure::quantity::Degrees;
///
/// assert_eq!(format!("{:.0}", clear_sky_haurwitz(Degrees(60.0))), "488");
/// assert_eq!(clear_sky_haurwitz(Degrees(95.0)), 0.0);
/// ```
pub fn clear_sky_haurwitz(zenith: Degrees) -> f64 {
    haurwitz(zenith.0.to_radians().cos())
}

/// Clear sky energy on the level of each hour, MJ m⁻², as [`ShelterModel::series`] takes it.
///
/// ```text
/// n = days since 2000-01-01 12:00 UTC,  g = 357.528° + 0.9856003° n,  L = 280.460° + 0.9856474° n
/// λ = L + 1.915° sin g + 0.020° sin 2g,  ε = 23.439° − 4·10⁻⁷° n,  θ = 280.46062° + 360.98564737° n + longitude
/// cos z = sin φ sin ε sin λ + cos φ (cos θ cos λ + sin θ cos ε sin λ)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | z | | the sun's angle from overhead at the middle of the hour | ° |
/// | λ, ε | | the sun's ecliptic longitude, tilt of the earth's axis | ° |
/// | θ | | local sidereal angle | ° |
/// | φ | `latitude` | degrees north | ° |
///
/// Hour k runs from `first` + k h to one hour later, and is taken by its middle. The light is [`clear_sky_haurwitz`]'s.
///
/// **Holds** 1950 to 2050; the air does not bend the light.
/// **Error** the sun's height within 0.013° of SPA without refraction; within 0.012 MJ m⁻² an hour of the light by
/// [`position`], most at the horizon.
/// **Source** Astronomical Almanac, low precision formulas, as in Michalsky 1988 (constants remembered, agree with SPA).
/// **Checked** `tests/spa.rs`.
///
/// [`ShelterModel::series`]: crate::shelter::ShelterModel::series
///
/// # Example
///
/// ```
/// use climate::sun::hourly_sun;
/// use measure::quantity::Degrees;
///
/// let midnight = "2026-06-21T00:00:00Z".parse().unwrap();
/// let day: f64 = hourly_sun(Degrees(47.4), Degrees(8.5), midnight, 24).iter().sum();
/// assert_eq!(format!("{day:.0} MJ"), "31 MJ");
/// ```
pub fn hourly_sun(latitude: Degrees, longitude: Degrees, first: Timestamp, hours: usize) -> Vec<f64> {
    const MEGAJOULE_PER_WATT_HOUR: f64 = 0.0036;
    let start = julian(first) - 2_451_545.0;
    let place = latitude.0.to_radians().sin_cos();
    (0..hours)
        .map(|hour| cosine_zenith(place, longitude, start + (hour as f64 + 0.5) / 24.0))
        .map(|cosine| haurwitz(cosine) * MEGAJOULE_PER_WATT_HOUR)
        .collect()
}

/// Cosine of the sun's angle from overhead, unbent, `days` after 2000-01-01 12:00 UTC.
fn cosine_zenith((sin_place, cos_place): (f64, f64), longitude: Degrees, days: f64) -> f64 {
    let anomaly = (357.528 + 0.985_600_3 * days).to_radians();
    let bend = 1.915 * anomaly.sin() + 0.020 * (2.0 * anomaly).sin();
    let (sin_sun, cos_sun) = (280.460 + 0.985_647_4 * days + bend).to_radians().sin_cos();
    let (sin_tilt, cos_tilt) = (23.439 - 4e-7 * days).to_radians().sin_cos();
    let turn = (280.460_62 + 360.985_647_37 * days + longitude.0).to_radians();
    let (sin_turn, cos_turn) = turn.sin_cos();
    sin_place * sin_tilt * sin_sun + cos_place * (cos_turn * cos_sun + sin_turn * cos_tilt * sin_sun)
}

fn haurwitz(cosine: f64) -> f64 {
    if cosine > 0.0 { 1098.0 * cosine * (-0.059 / cosine).exp() } else { 0.0 }
}

/// Mean length of a calendar year, s.
const YEAR: f64 = 31_556_952.0;
const UNIX_EPOCH_JULIAN: f64 = 2_440_587.5;

fn julian(at: Timestamp) -> f64 {
    at.as_duration().as_secs_f64() / 86_400.0 + UNIX_EPOCH_JULIAN
}

fn timestamp(julian: f64) -> Option<Timestamp> {
    let since = SignedDuration::try_from_secs_f64((julian - UNIX_EPOCH_JULIAN) * 86_400.0).ok()?;
    Timestamp::from_duration(since).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SPA without refraction, seen from the earth's centre as near as makes no matter.
    fn full(latitude: f64, longitude: f64, days: f64) -> f64 {
        let time = JulianDate::new(days + 2_451_545.0, 69.0).unwrap();
        let place = Location { latitude, longitude };
        90.0 - SolarPositions::new().at_from_julian(time, place, 0.0, None).unwrap().zenith_angle()
    }

    #[test]
    fn the_quick_height_is_within_a_hundredth_of_a_degree_until_2050() {
        let mut largest = 0.0_f64;
        for (latitude, longitude) in [(47.4, 8.5), (60.2, 24.9), (35.7, 139.7), (-33.9, 151.2), (0.0, -78.5)]
        {
            for step in 0..4000 {
                let days = 9000.0 + f64::from(step) * 2.3;
                let place = f64::to_radians(latitude).sin_cos();
                let ours = cosine_zenith(place, Degrees(longitude), days).asin().to_degrees();
                largest = largest.max((ours - full(latitude, longitude, days)).abs());
            }
        }
        println!("largest gap {largest:.4}°");
        assert!(largest < 0.02, "{largest}");
    }
}
