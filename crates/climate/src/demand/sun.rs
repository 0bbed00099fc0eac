//! The sun above the air at a latitude: energy and length of each day, and of each hour.

use std::f64::consts::PI;

use measure::{
    quantity::{DayEnergy, Degrees, Hours, Megajoule},
    range::{OutOfRange, within},
};

/// Sun's energy above the air, MJ m⁻² min⁻¹ (FAO-56; 4.92 MJ m⁻² h⁻¹ in ASCE-EWRI is the same).
const SOLAR: f64 = 0.0820;

/// A day's sun above the air at a latitude.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunOfDay {
    /// Energy that a flat place would receive without air.
    pub energy: DayEnergy,
    /// From sunrise to sunset, the sun's centre on the horizon.
    pub daylight: Hours,
    /// The sun's declination.
    pub declination: Degrees,
    /// Hour angle of sunset.
    pub sunset: Degrees,
    /// How much nearer the sun is than on average, as the inverse square of its distance.
    pub nearness: f64,
    half_day: f64,
    both_sines: f64,
    both_cosines: f64,
    clock_gap: f64,
}

/// The sun above the air on a day at a latitude.
///
/// ```text
/// dr = 1 + 0.033 cos(2πJ/365)    δ = 0.409 sin(2πJ/365 − 1.39)    ωs = acos(−tan φ tan δ)
/// Ra = (24·60/π) · 0.0820 · dr · (ωs sin φ sin δ + cos φ cos δ sin ωs)    N = 24 ωs/π
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Ra, N | `energy`, `daylight` | energy above the air, day length | MJ m⁻² d⁻¹, h |
/// | dr, δ, ωs | `nearness`, `declination`, `sunset` | | 1, rad (given in °), rad (given in °) |
/// | φ | `latitude` | degrees north | ° |
/// | J | `day_of_year` | day of the year | |
///
/// **Holds** for every latitude; polar days and nights come out as such. **Error** N leaves out the sun's width and
/// refraction and is up to half an hour short. **Source** Allen et al. 1998 Eq. 21 to 25, 34. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the latitude is beyond a pole or the day beyond 366.
///
/// # Example
///
/// ```
/// use climate::demand::sun::sun_of_day;
/// use measure::quantity::Degrees;
///
/// let sun = sun_of_day(Degrees(-20.0), 246)?;
/// assert_eq!(format!("{:.1} MJ in {:.1} h", sun.energy.0, sun.daylight.0), "32.2 MJ in 11.7 h");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn sun_of_day(latitude: Degrees, day_of_year: u16) -> Result<SunOfDay, OutOfRange> {
    let phi = within("latitude, °", latitude.0, -90.0, 90.0)?.to_radians();
    let day = within("day of the year", f64::from(day_of_year), 1.0, 366.0)?;
    let year = 2.0 * PI * day / 365.0;
    let nearness = 1.0 + 0.033 * year.cos(); // Eq. 23
    let delta = 0.409 * (year - 1.39).sin(); // Eq. 24
    let half_day = (-phi.tan() * delta.tan()).clamp(-1.0, 1.0).acos(); // Eq. 25
    let (both_sines, both_cosines) = (phi.sin() * delta.sin(), phi.cos() * delta.cos());
    let height = half_day * both_sines + both_cosines * half_day.sin();
    Ok(SunOfDay {
        energy: DayEnergy((24.0 * 60.0 / PI * SOLAR * nearness * height).max(0.0)), // Eq. 21
        daylight: Hours(24.0 / PI * half_day),                                      // Eq. 34
        declination: Degrees(delta.to_degrees()),
        sunset: Degrees(half_day.to_degrees()),
        nearness,
        half_day,
        both_sines,
        both_cosines,
        clock_gap: clock_gap(day),
    })
}

/// How far the sun runs ahead of an even clock, h (Allen et al. 1998 Eq. 32).
fn clock_gap(day: f64) -> f64 {
    let b = 2.0 * PI * (day - 81.0) / 364.0;
    0.1645 * (2.0 * b).sin() - 0.1255 * b.cos() - 0.025 * b.sin()
}

/// A clock against the sun: where it hangs and what it shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// Degrees east of the place.
    pub longitude: Degrees,
    /// Hours the clock is ahead of universal time, without summer time.
    pub ahead: Hours,
}

impl SunOfDay {
    /// Energy above the air in the hour around a clock time.
    ///
    /// ```text
    /// ω = π/12 · ((t + 0.06667 (Lz − Lm) + Sc) − 12)    ω1, ω2 = ω ∓ π/24, kept within ±ωs
    /// Ra = (12·60/π) · 0.0820 · dr · ((ω2 − ω1) sin φ sin δ + cos φ cos δ (sin ω2 − sin ω1))
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | Ra | returned | energy above the air in the hour | MJ m⁻² |
    /// | t | `middle` | clock time of the middle of the hour | h |
    /// | Lz, Lm | `clock` | meridian of the clock and of the place, west | ° |
    /// | Sc | | the sun against an even clock | h |
    ///
    /// **Holds** for every latitude. **Error** half a minute or so in the sun's clock, a second more where the clock is far from
    /// its meridian. **Source** Allen et al. 1998 Eq. 28 to 33. **Checked** `tests/demand.rs`.
    pub fn hour(&self, clock: &Clock, middle: Hours) -> Megajoule {
        let angle = self.hour_angle(clock, middle);
        let edge = |at: f64| at.clamp(-self.half_day, self.half_day);
        let (start, end) = (edge(angle - PI / 24.0), edge(angle + PI / 24.0));
        let height = (end - start) * self.both_sines + self.both_cosines * (end.sin() - start.sin());
        Megajoule((12.0 * 60.0 / PI * SOLAR * self.nearness * height).max(0.0)) // Eq. 28
    }

    /// How high the sun's centre stands at a clock time; below the horizon it is negative.
    ///
    /// **Holds**, **Error**, **Source** as [`SunOfDay::hour`]. **Checked** through the hourly library column of `tests/demand.rs`.
    pub fn height(&self, clock: &Clock, time: Hours) -> Degrees {
        let sine = self.both_sines + self.both_cosines * self.hour_angle(clock, time).cos();
        Degrees(sine.clamp(-1.0, 1.0).asin().to_degrees())
    }

    /// Hour angle of the sun, radians from noon, between −π and π.
    fn hour_angle(&self, clock: &Clock, time: Hours) -> f64 {
        let off_meridian = clock.longitude.0 - 15.0 * clock.ahead.0;
        let solar = time.0 + 0.06667 * off_meridian + self.clock_gap; // Eq. 31
        PI / 12.0 * ((solar.rem_euclid(24.0)) - 12.0)
    }
}
