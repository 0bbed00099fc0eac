//! Water in the air: how much it can hold, how much it holds, and how thick the air is.

use measure::{
    quantity::{Celsius, Kilopascal, KilopascalPerDegree, Metre, Percent},
    range::{OutOfRange, within},
};

use super::{Caveat, Caveats, Standard};

/// Vapour pressure of air that can hold no more water, over liquid water.
///
/// ```text
/// e°(T) = 0.6108 · exp( 17.27 T / (T + 237.3) )
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | e° | returned | saturation vapour pressure | kPa |
/// | T | `air` | air temperature | °C |
///
/// **Holds** −60 to 60 °C (guard of this house; the source's own span not looked up).
/// **Error** under 0.0005 kPa against the printed examples; no other figure known.
/// **Source** Allen et al. 1998, FAO-56 Eq. 11. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when `air` leaves the span above or is not a number.
///
/// # Example
///
/// ```
/// use climate::demand::vapour::saturation;
/// use measure::quantity::Celsius;
///
/// assert_eq!(format!("{:.3} kPa", saturation(Celsius(24.5))?.0), "3.075 kPa");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn saturation(air: Celsius) -> Result<Kilopascal, OutOfRange> {
    let t = within("air temperature, °C", air.0, -60.0, 60.0)?;
    Ok(Kilopascal(0.6108 * (17.27 * t / (t + 237.3)).exp())) // Eq. 11
}

/// How steeply the saturation pressure climbs at a temperature.
///
/// ```text
/// Δ = 4098 e°(T) / (T + 237.3)²        (ASCE-EWRI rounds 4098 · 0.6108 to 2503)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Δ | returned | slope | kPa °C⁻¹ |
/// | T | `air` | air temperature | °C |
///
/// **Holds** as [`saturation`]. **Error** the two roundings differ by 3 parts in 100,000.
/// **Source** Allen et al. 1998 Eq. 13; ASCE-EWRI 2005. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// As [`saturation`].
///
/// # Example
///
/// ```
/// use climate::demand::{Standard, vapour::slope};
/// use measure::quantity::Celsius;
///
/// assert_eq!(format!("{:.3}", slope(Standard::Fao56, Celsius(16.9))?.0), "0.122");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn slope(standard: Standard, air: Celsius) -> Result<KilopascalPerDegree, OutOfRange> {
    let t = within("air temperature, °C", air.0, -60.0, 60.0)?;
    let reach = t + 237.3;
    Ok(KilopascalPerDegree(standard.slope() * (17.27 * t / reach).exp() / (reach * reach))) // Eq. 13
}

/// Air pressure at a height.
///
/// ```text
/// P = 101.3 · ((293 − 0.0065 z)/293)^5.26
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | P | returned | air pressure | kPa |
/// | z | `elevation` | above sea level | m |
///
/// **Holds** −500 to 9000 m (our guard). **Error** weather moves the true pressure by some 3 kPa; demand hardly feels it.
/// **Source** Allen et al. 1998 Eq. 7. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the height leaves the span above.
///
/// # Example
///
/// ```
/// use climate::demand::vapour::air_pressure;
/// use measure::quantity::Metre;
///
/// assert_eq!(format!("{:.1} kPa", air_pressure(Metre(1800.0))?.0), "81.8 kPa");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn air_pressure(elevation: Metre) -> Result<Kilopascal, OutOfRange> {
    let z = within("elevation, m", elevation.0, -500.0, 9000.0)?;
    Ok(Kilopascal(101.3 * ((293.0 - 0.0065 * z) / 293.0).powf(5.26))) // Eq. 7
}

/// The constant that ties drying air to cooling air.
///
/// ```text
/// γ = 0.000665 P
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | γ | returned | psychrometric constant | kPa °C⁻¹ |
/// | P | `pressure` | air pressure | kPa |
///
/// **Holds** for air near the ground. **Error** not stated by the source.
/// **Source** Allen et al. 1998 Eq. 8. **Checked** `tests/demand.rs`.
///
/// ```
/// use climate::demand::vapour::psychrometric_constant;
/// use measure::quantity::Kilopascal;
///
/// assert_eq!(format!("{:.3}", psychrometric_constant(Kilopascal(81.8)).0), "0.054");
/// ```
pub fn psychrometric_constant(pressure: Kilopascal) -> KilopascalPerDegree {
    KilopascalPerDegree(0.665e-3 * pressure.0) // Eq. 8
}

/// How a wet thermometer is aired; its constant per kPa of air pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Psychrometer {
    /// Drawn past at 5 m/s: 0.000662 (FAO-56 Eq. 16).
    Ventilated,
    /// Left to the wind: 0.0008 (remembered from FAO-56, not verified).
    Natural,
    /// Indoors, still air: 0.0012 (remembered from FAO-56, not verified).
    Indoor,
}

/// What is known of the air's moisture, best first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Humidity {
    /// The vapour pressure itself.
    Pressure(Kilopascal),
    /// Where dew would fall.
    DewPoint(Celsius),
    /// A dry and a wet thermometer.
    WetBulb {
        /// The dry one.
        dry: Celsius,
        /// The wet one.
        wet: Celsius,
        /// How it is aired.
        kind: Psychrometer,
    },
    /// The day's highest and lowest relative humidity.
    Extremes {
        /// Near dawn.
        highest: Percent,
        /// In the afternoon.
        lowest: Percent,
    },
    /// The day's highest relative humidity alone.
    Highest(Percent),
    /// The day's mean relative humidity alone.
    Mean(Percent),
}

/// The air over which moisture is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirOfDay {
    /// The day's low; for an hour, its temperature.
    pub low: Celsius,
    /// The day's high; for an hour, its temperature.
    pub high: Celsius,
    /// Of the place.
    pub pressure: Kilopascal,
    /// Whether nights stay above the dew point, as in dry country.
    pub arid: bool,
}

/// Vapour pressure the air holds, from whatever was measured, and what that rests on.
///
/// ```text
/// e°(Tdew)  |  e°(Twet) − a P (Tdry − Twet)  |  (e°(Tmin) RHmax + e°(Tmax) RHmin)/200
/// e°(Tmin) RHmax/100  |  RHmean/100 · (e°(Tmax) + e°(Tmin))/2  |  e°(Tmin), in dry country e°(Tmin − 2)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ea | returned | vapour pressure | kPa |
/// | Tdew, Tdry, Twet, RH | `known` | what was measured | °C, % |
/// | Tmin, Tmax, P | `air` | low, high, pressure | °C, kPa |
/// | a | [`Psychrometer`] | its constant | °C⁻¹ |
///
/// **Holds** outdoors. **Error** from the low alone often 0.2 kPa; for the others not stated by the source.
/// **Source** Allen et al. 1998 Eq. 14 to 19, 48. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not one of weather.
///
/// # Example
///
/// ```
/// use climate::demand::vapour::{AirOfDay, Humidity, vapour_pressure};
/// use measure::quantity::{Celsius, Kilopascal, Percent};
///
/// let air = AirOfDay { low: Celsius(18.0), high: Celsius(25.0), pressure: Kilopascal(101.3), arid: false };
/// let known = Humidity::Extremes { highest: Percent(82.0), lowest: Percent(54.0) };
/// let (held, doubts) = vapour_pressure(Some(known), &air)?;
/// assert_eq!(format!("{:.2} kPa", held.0), "1.70 kPa");
/// assert!(doubts.is_empty());
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn vapour_pressure(known: Option<Humidity>, air: &AirOfDay) -> Result<(Kilopascal, Caveats), OutOfRange> {
    let percent = |given: Percent| within("relative humidity, %", given.0, 0.0, 100.0);
    let mut doubts = Caveats::default();
    let held = match known {
        Some(Humidity::Pressure(given)) => within("vapour pressure, kPa", given.0, 0.0, 20.0)?,
        Some(Humidity::DewPoint(dew)) => saturation(dew)?.0,
        Some(Humidity::WetBulb { dry, wet, kind }) => {
            let a = match kind {
                Psychrometer::Ventilated => 0.000_662,
                Psychrometer::Natural => 0.0008,
                Psychrometer::Indoor => 0.0012,
            };
            let drop = within("dry minus wet thermometer, °C", dry.0 - wet.0, 0.0, 60.0)?;
            (saturation(wet)?.0 - a * air.pressure.0 * drop).max(0.0) // Eq. 15
        }
        Some(Humidity::Extremes { highest, lowest }) => {
            (saturation(air.low)?.0 * percent(highest)? + saturation(air.high)?.0 * percent(lowest)?) / 200.0
        }
        Some(Humidity::Highest(highest)) => {
            doubts = doubts.with(Caveat::HumidityFromHighest);
            saturation(air.low)?.0 * percent(highest)? / 100.0
        }
        Some(Humidity::Mean(mean)) => {
            doubts = doubts.with(Caveat::HumidityFromMean);
            percent(mean)? / 100.0 * f64::midpoint(saturation(air.low)?.0, saturation(air.high)?.0)
        }
        None => {
            doubts = doubts.with(Caveat::HumidityFromLow);
            saturation(Celsius(air.low.0 - if air.arid { 2.0 } else { 0.0 }))?.0 // Eq. 48
        }
    };
    Ok((Kilopascal(held), doubts))
}
