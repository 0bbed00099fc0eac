//! What of the sun reaches the ground, and what the ground sends back to the sky.

use measure::{
    quantity::{Celsius, DayEnergy, Hours, Kilopascal, Metre, Share},
    range::{OutOfRange, within},
};

use super::{Setting, Standard, sun::SunOfDay};

/// Share of the sun that grass keeps: its brightness is 0.23.
pub(super) const KEPT: f64 = 0.77;
/// Share of the sun above the air that reaches the ground under a clear sky at sea level, and what each metre adds.
const CLEAR: f64 = 0.75;
const CLEAR_PER_METRE: f64 = 2e-5;
/// °C to K as FAO-56 and ASCE-EWRI print it.
const KELVIN: f64 = 273.16;

/// Sun on the ground from hours of sunshine.
///
/// ```text
/// Rs = (0.25 + 0.50 n/N) Ra
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Rs | returned | sun on the ground | MJ m⁻² d⁻¹ |
/// | n | `sunshine` | measured hours of sun | h |
/// | N, Ra | `sun` | day length, energy above the air | h, MJ m⁻² d⁻¹ |
///
/// **Holds** where the two shares have not been fitted to the place. **Error** not stated by the source.
/// **Source** Allen et al. 1998 Eq. 35. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when there is more than an hour more sunshine than day.
///
/// # Example
///
/// ```
/// use climate::demand::{radiation::from_sunshine, sun::sun_of_day};
/// use measure::quantity::{Degrees, Hours};
///
/// let sun = sun_of_day(Degrees(-22.9), 135)?;
/// assert_eq!(format!("{:.1} MJ", from_sunshine(Hours(7.1), &sun)?.0), "14.5 MJ");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn from_sunshine(sunshine: Hours, sun: &SunOfDay) -> Result<DayEnergy, OutOfRange> {
    let shone = within("hours of sunshine", sunshine.0, 0.0, sun.daylight.0 + 1.0)?;
    let share = if sun.daylight.0 > 0.0 { (shone / sun.daylight.0).min(1.0) } else { 0.0 };
    Ok(DayEnergy((0.25 + 0.50 * share) * sun.energy.0)) // Eq. 35
}

/// Sun on the ground guessed from the span between low and high.
///
/// ```text
/// Rs = kRs √(Tmax − Tmin) Ra
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Rs | returned | sun on the ground | MJ m⁻² d⁻¹ |
/// | kRs | `setting` | 0.16 inland, 0.19 at the coast | °C^−0.5 |
/// | Tmin, Tmax | `low`, `high` | the day's extremes | °C |
/// | Ra | `sun` | energy above the air | MJ m⁻² d⁻¹ |
///
/// **Holds** where low and high come from the same air mass; not on the day a front passes; a span over 22 °C inland
/// comes out sunnier than a clear sky. **Error** a quarter on a single day is common (remembered).
/// **Source** Allen et al. 1998 Eq. 50. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the low is above the high.
///
/// # Example
///
/// ```
/// use climate::demand::{Setting, radiation::from_span, sun::sun_of_day};
/// use measure::quantity::{Celsius, Degrees};
///
/// let sun = sun_of_day(Degrees(45.7167), 196)?;
/// let guess = from_span(Setting::Inland, Celsius(14.8), Celsius(26.6), &sun)?;
/// assert_eq!(format!("{:.1} MJ", guess.0), "22.3 MJ");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn from_span(
    setting: Setting,
    low: Celsius,
    high: Celsius,
    sun: &SunOfDay,
) -> Result<DayEnergy, OutOfRange> {
    let span = within("high minus low, °C", high.0 - low.0, 0.0, 60.0)?;
    let share = match setting {
        Setting::Inland => 0.16,
        Setting::Coast => 0.19,
    };
    Ok(DayEnergy(share * span.sqrt() * sun.energy.0)) // Eq. 50
}

/// Sun on the ground under a clear sky, as a share of the sun above the air.
///
/// ```text
/// Rso/Ra = 0.75 + 0.00002 z
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Rso/Ra | returned | share that comes through | 1 |
/// | z | `elevation` | above sea level | m |
///
/// **Holds** up to 6000 m or so. **Error** the fuller form with the sun's height lowers demand by up to 0.14 mm a day;
/// do not mix the two. **Source** Allen et al. 1998 Eq. 37. **Checked** `tests/demand.rs`.
///
/// ```
/// use climate::demand::radiation::clear_share;
/// use measure::quantity::Metre;
///
/// assert_eq!(format!("{:.3}", clear_share(Metre(100.0)).0), "0.752");
/// ```
pub fn clear_share(elevation: Metre) -> Share {
    Share(CLEAR + CLEAR_PER_METRE * elevation.0) // Eq. 37
}

/// How clear the sky is: sun on the ground over that under a clear sky, kept between 0.3 and 1; none without sun.
///
/// Without the lower bound the error against 6,575 days of a published program is seven times as large.
///
/// ```
/// use climate::demand::radiation::clearness;
/// use measure::quantity::{DayEnergy, Share};
///
/// assert_eq!(clearness(DayEnergy(1.0), DayEnergy(20.0)), Some(Share(0.3)));
/// assert_eq!(clearness(DayEnergy(0.0), DayEnergy(0.0)), None);
/// ```
pub fn clearness(reached: DayEnergy, clear: DayEnergy) -> Option<Share> {
    (clear.0 > 0.0).then(|| Share((reached.0 / clear.0).clamp(0.3, 1.0)))
}

/// Heat that the ground sends to the sky over a day, less what it gets back.
///
/// ```text
/// Rnl = σ · ((Tmax + 273.16)⁴ + (Tmin + 273.16)⁴)/2 · (0.34 − 0.14 √ea) · (1.35 Rs/Rso − 0.35)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Rnl | returned | net longwave loss | MJ m⁻² d⁻¹ |
/// | σ | `standard` | 4.903e-9, in ASCE-EWRI 4.901e-9 | MJ m⁻² d⁻¹ K⁻⁴ |
/// | Tmin, Tmax | `low`, `high` | the day's extremes | °C |
/// | ea | `vapour` | vapour pressure | kPa |
/// | Rs/Rso | `sky` | how clear the sky is | 1 |
///
/// **Holds** in the open under the whole sky; not under a roof or a tree. **Error** not stated by the source.
/// **Source** Allen et al. 1998 Eq. 39; ASCE-EWRI 2005. **Checked** `tests/demand.rs`.
///
/// ```
/// use climate::demand::{Standard, radiation::net_longwave};
/// use measure::quantity::{Celsius, Kilopascal, Share};
///
/// let sky = Share(14.5 / 18.8);
/// let lost = net_longwave(Standard::Fao56, (Celsius(19.0), Celsius(25.1)), Kilopascal(2.1), sky);
/// assert_eq!(format!("{:.1} MJ", lost.0), "3.5 MJ");
/// ```
pub fn net_longwave(
    standard: Standard,
    (low, high): (Celsius, Celsius),
    vapour: Kilopascal,
    sky: Share,
) -> DayEnergy {
    let glow = f64::midpoint((high.0 + KELVIN).powi(4), (low.0 + KELVIN).powi(4));
    DayEnergy(standard.stefan() * glow * (0.34 - 0.14 * vapour.0.sqrt()) * (1.35 * sky.0 - 0.35)) // Eq. 39
}
