//! A day's demand by the combination formula, from whatever was measured that day.

use measure::{
    quantity::{
        Celsius, DayEnergy, Hours, Kilopascal, KilopascalPerDegree, MetresPerSecond, Millimetre, Share,
    },
    range::{OutOfRange, within},
};

use super::{
    Caveat, Caveats, DemandPlace, Standard,
    radiation::{KEPT, clearness, from_span, from_sunshine, net_longwave},
    vapour::{AirOfDay, Humidity, saturation, slope, vapour_pressure},
};

/// What is known of the sun on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Radiation {
    /// Measured over the day.
    Measured(DayEnergy),
    /// Hours of bright sun.
    Sunshine(Hours),
}

/// A day's weather; what was not measured is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayWeather {
    /// Day of the calendar year, 1 to 366.
    pub day_of_year: u16,
    /// The day's low.
    pub low: Celsius,
    /// The day's high.
    pub high: Celsius,
    /// Moisture of the air.
    pub humidity: Option<Humidity>,
    /// Sun on the ground.
    pub radiation: Option<Radiation>,
    /// Wind at the mast.
    pub wind: Option<MetresPerSecond>,
    /// Heat into the ground; none for a single day.
    pub into_ground: DayEnergy,
}

impl DayWeather {
    /// A day of which only low and high are known.
    pub fn of_extremes(day_of_year: u16, low: Celsius, high: Celsius) -> DayWeather {
        let (humidity, radiation, wind) = (None, None, None);
        DayWeather { day_of_year, low, high, humidity, radiation, wind, into_ground: DayEnergy(0.0) }
    }
}

/// A day's demand with the steps that led to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayDemand {
    /// Depth of water; slightly negative on a night of dew.
    pub depth: Millimetre,
    /// What was not measured.
    pub caveats: Caveats,
    /// Mean of low and high.
    pub mean: Celsius,
    /// Slope of the saturation pressure.
    pub slope: KilopascalPerDegree,
    /// Saturation pressure, mean of low's and high's.
    pub saturation: Kilopascal,
    /// Vapour pressure.
    pub vapour: Kilopascal,
    /// Sun on the ground.
    pub reached: DayEnergy,
    /// Sun on the ground under a clear sky.
    pub clear: DayEnergy,
    /// Heat lost to the sky.
    pub longwave: DayEnergy,
    /// What the grass keeps of both.
    pub net: DayEnergy,
    /// Wind at 2 m.
    pub wind: MetresPerSecond,
}

impl DayDemand {
    /// The demand as it is asked of a pot: never below nothing.
    pub fn wanted(&self) -> Millimetre {
        Millimetre(self.depth.0.max(0.0))
    }
}

/// How clear the sky is taken where nothing tells (remembered from FAO-56 for nights, not verified).
pub(super) const USUAL_SKY: f64 = 0.8;

/// A day's reference demand.
///
/// ```text
/// ET0 = (0.408 Δ (Rn − G) + γ Cn/(T + 273) u2 (es − ea)) / (Δ + γ (1 + Cd u2))
/// Rn = 0.77 Rs − Rnl    T = (Tmax + Tmin)/2    es = (e°(Tmax) + e°(Tmin))/2
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ET0 | `depth` | demand of the reference crop | mm d⁻¹ |
/// | Cn, Cd | `standard` | 900, 0.34; tall crop 1600, 0.38 | |
/// | Tmin, Tmax, G | `day` | low, high, heat into the ground | °C, MJ m⁻² d⁻¹ |
/// | Rs, Rnl, ea, u2, Δ | fields returned | see `radiation`, `vapour`, `wind` | |
/// | γ | `place` | psychrometric constant | kPa °C⁻¹ |
///
/// **Holds** in the open over watered grass; the pot's own factors come after it. **Error** against two libraries
/// under 0.002 mm, against a published program under 0.06 mm on days with everything measured; more with each caveat.
/// **Source** Allen et al. 1998 Eq. 6; ASCE-EWRI 2005. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not one of weather. What was not measured is no error but a caveat.
///
/// # Example
///
/// ```
/// use climate::demand::{Caveat, DayWeather, DemandPlace, Site, Standard, daily};
/// use measure::quantity::{Celsius, Degrees, Metre};
///
/// let place = DemandPlace::new(Site::inland(Degrees(45.7167), Degrees(4.85), Metre(200.0)))?;
/// let day = DayWeather::of_extremes(196, Celsius(14.8), Celsius(26.6));
/// let demand = daily(Standard::Fao56, &place, &day)?;
/// assert_eq!(format!("{:.2} mm", demand.depth.0), "4.56 mm");
/// assert!(demand.caveats.has(Caveat::WindAssumed));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn daily(standard: Standard, place: &DemandPlace, day: &DayWeather) -> Result<DayDemand, OutOfRange> {
    let sun = place.sun(day.day_of_year)?;
    within("high minus low, °C", day.high.0 - day.low.0, 0.0, 60.0)?;
    let air = AirOfDay { low: day.low, high: day.high, pressure: place.pressure(), arid: place.site().arid };
    let (vapour, of_air) = vapour_pressure(day.humidity, &air)?;
    let (wind, of_wind) = place.wind(day.wind)?;
    let mut caveats = of_air.and(of_wind);
    let reached = match day.radiation {
        Some(Radiation::Measured(energy)) => {
            DayEnergy(within("sun on the ground, MJ/m²", energy.0, 0.0, 60.0)?)
        }
        Some(Radiation::Sunshine(hours)) => {
            caveats = caveats.with(Caveat::RadiationFromSunshine);
            from_sunshine(hours, sun)?
        }
        None => {
            caveats = caveats.with(Caveat::RadiationFromSpan);
            from_span(place.site().setting, day.low, day.high, sun)?
        }
    };
    let clear = DayEnergy(place.clear().0 * sun.energy.0);
    let sky = clearness(reached, clear).unwrap_or_else(|| {
        caveats = caveats.with(Caveat::SkyAssumed);
        Share(USUAL_SKY)
    });
    let longwave = net_longwave(standard, (day.low, day.high), vapour, sky);
    let net = DayEnergy(KEPT * reached.0 - longwave.0);
    let mean = Celsius(f64::midpoint(day.low.0, day.high.0));
    let slope = slope(standard, mean)?;
    let saturation = Kilopascal(f64::midpoint(saturation(day.low)?.0, saturation(day.high)?.0));
    let (cn, cd) = standard.of_day();
    let combined = Combined {
        slope: slope.0,
        psychrometric: place.psychrometric().0,
        energy: net.0 - day.into_ground.0,
        deficit: saturation.0 - vapour.0,
        kelvin: mean.0 + 273.0,
        wind: wind.0,
    };
    let depth = Millimetre(combined.depth(cn, cd));
    Ok(DayDemand { depth, caveats, mean, slope, saturation, vapour, reached, clear, longwave, net, wind })
}

/// The terms of the combination formula.
pub(super) struct Combined {
    pub(super) slope: f64,
    pub(super) psychrometric: f64,
    pub(super) energy: f64,
    pub(super) deficit: f64,
    pub(super) kelvin: f64,
    pub(super) wind: f64,
}

impl Combined {
    /// Sun and wind together, mm.
    pub(super) fn depth(&self, cn: f64, cd: f64) -> f64 {
        let sun = 0.408 * self.slope * self.energy;
        let air = self.psychrometric * cn / self.kelvin * self.wind * self.deficit;
        (sun + air) / (self.slope + self.psychrometric * (1.0 + cd * self.wind)) // Eq. 6
    }
}
