//! Demand from low and high alone, where nothing else was ever measured.

use measure::{
    quantity::{Celsius, Millimetre},
    range::{OutOfRange, within},
};

use super::sun::SunOfDay;

/// A day's demand from its low, its high and the sun above the air.
///
/// ```text
/// ET0 = 0.0023 (Tm + 17.8) √(Tmax − Tmin) · 0.408 Ra
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ET0 | returned | demand; below −17.8 °C negative | mm d⁻¹ |
/// | Tmin, Tmax, Tm | `low`, `high` | extremes and their mean | °C |
/// | Ra | `sun` | energy above the air | MJ m⁻² d⁻¹ |
///
/// **Holds** inland; too high where the air is humid, too low where wind blows (remembered). **Error** 20 to 25 % on a
/// single day (remembered); +5 % over a year at one dry station. **Source** Hargreaves and Samani 1985, as FAO-56 Eq. 52.
/// **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the low is above the high.
///
/// # Example
///
/// ```
/// use climate::demand::{sun::sun_of_day, temperature::hargreaves_samani};
/// use measure::quantity::{Celsius, Degrees};
///
/// let sun = sun_of_day(Degrees(45.7167), 196)?;
/// let demand = hargreaves_samani(Celsius(14.8), Celsius(26.6), &sun)?;
/// assert_eq!(format!("{:.1} mm", demand.0), "5.0 mm");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn hargreaves_samani(low: Celsius, high: Celsius, sun: &SunOfDay) -> Result<Millimetre, OutOfRange> {
    let span = within("high minus low, °C", high.0 - low.0, 0.0, 60.0)?;
    let mean = within("mean of the day, °C", f64::midpoint(low.0, high.0), -60.0, 60.0)?;
    Ok(Millimetre(0.0023 * (mean + 17.8) * span.sqrt() * 0.408 * sun.energy.0)) // Eq. 52
}
