//! Day length and the light of a day.

use measure::{
    quantity::{Degrees, Hours, MolPerDay, PhotonFlux},
    range::{OutOfRange, within},
};

/// A published formula for day length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DayLength {
    /// Spencer 1971, sun's upper edge on the horizon, with refraction.
    Spencer,
    /// Forsythe et al. 1995 (CBM), the same horizon.
    Forsythe,
    /// Allen et al. 1998, FAO-56 Eq. 34: the sun's centre, no refraction; up to half an hour shorter.
    Fao56,
}

/// Sun's height at rise and set, with refraction and its half-width, degrees.
const HORIZON: f64 = -0.8333;

/// Hours from sunrise to sunset.
///
/// ```text
/// Spencer:  cos w = (sin(−0.8333°) − sin φ sin δ)/(cos φ cos δ),  D = 2w/15
/// Forsythe: D = 24 − (24/π)·acos((sin(pπ/180) + sin φ sin ϕ)/(cos φ cos ϕ)),  p = 0.8333
/// FAO-56:   N = (24/π)·acos(−tan φ tan δ)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | D, N | returned | day length | h |
/// | φ | `latitude` | degrees north | ° |
/// | δ, ϕ | from `day_of_year` | the sun's declination | rad |
///
/// **Holds** for every latitude; polar days give 24 and polar nights 0.
/// **Error** against SPA at 120 place-dates: Spencer and Forsythe under 5 minutes, FAO-56 up to 31.
/// **Source** Spencer 1971; Forsythe et al. 1995 (constants remembered, agree with SPA); Allen et al. 1998 Eq. 34.
/// **Checked** `tests/day_length.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the latitude is beyond a pole or the day beyond 366.
///
/// # Example
///
/// ```
/// use climate::light::{DayLength, day_length};
/// use measure::quantity::Degrees;
///
/// let hours = day_length(DayLength::Spencer, Degrees(51.5), 105)?;
/// assert_eq!(format!("{:.6}", hours.0), "13.801455");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn day_length(method: DayLength, latitude: Degrees, day_of_year: u16) -> Result<Hours, OutOfRange> {
    use std::f64::consts::PI;
    let latitude = within("latitude, °", latitude.0, -90.0, 90.0)?.to_radians();
    let day = within("day of the year", f64::from(day_of_year), 1.0, 366.0)?;
    let cosine = match method {
        DayLength::Spencer => {
            let sun = spencer_declination(day);
            (HORIZON.to_radians().sin() - latitude.sin() * sun.sin()) / (latitude.cos() * sun.cos())
        }
        DayLength::Forsythe => {
            let theta = 0.216_310_8 + 2.0 * (0.967_139_6 * (0.008_60 * (day - 186.0)).tan()).atan();
            let sun = (0.397_95 * theta.cos()).asin();
            let edge = (0.8333 * PI / 180.0).sin();
            -(edge + latitude.sin() * sun.sin()) / (latitude.cos() * sun.cos())
        }
        DayLength::Fao56 => {
            let sun = 0.409 * (2.0 * PI * day / 365.0 - 1.39).sin();
            -latitude.tan() * sun.tan()
        }
    };
    Ok(Hours(24.0 / PI * cosine.clamp(-1.0, 1.0).acos()))
}

/// Sunrise and sunset in local solar time, hours; none in a polar day or night.
///
/// **Holds** for every latitude. **Error** as [`day_length`] by Spencer. **Source** Spencer 1971.
/// **Checked** through [`day_length`].
///
/// # Errors
///
/// As [`day_length`].
pub fn sun_times(latitude: Degrees, day_of_year: u16) -> Result<Option<(Hours, Hours)>, OutOfRange> {
    let Hours(long) = day_length(DayLength::Spencer, latitude, day_of_year)?;
    let times = (Hours(12.0 - long / 2.0), Hours(12.0 + long / 2.0));
    Ok((long > 0.0 && long < 24.0).then_some(times))
}

/// Light of a day from a steady flux.
///
/// ```
/// use climate::light::daily_light;
/// use measure::quantity::{Hours, PhotonFlux};
///
/// assert_eq!(format!("{:.2}", daily_light(PhotonFlux(100.0), Hours(14.0)).0), "5.04");
/// ```
pub fn daily_light(flux: PhotonFlux, lit: Hours) -> MolPerDay {
    MolPerDay(flux.0 * lit.0 * 3600.0 / 1e6)
}

/// Declination of the sun, radians (Spencer 1971).
fn spencer_declination(day: f64) -> f64 {
    let g = 2.0 * std::f64::consts::PI * (day - 1.0) / 365.0;
    0.006_918 - 0.399_912 * g.cos() + 0.070_257 * g.sin() - 0.006_758 * (2.0 * g).cos()
        + 0.000_907 * (2.0 * g).sin()
        - 0.002_697 * (3.0 * g).cos()
        + 0.001_48 * (3.0 * g).sin()
}
