//! An hour's demand, and a run of hours with the sky carried through the night.

use measure::{
    quantity::{
        Celsius, DayEnergy, Hours, Kilopascal, KilopascalPerDegree, Megajoule, MetresPerSecond, Millimetre,
        Share,
    },
    range::{OutOfRange, within},
};

use super::{
    Caveat, Caveats, DemandPlace, Standard,
    daily::{Combined, USUAL_SKY},
    radiation::{KEPT, clearness, net_longwave},
    vapour::{AirOfDay, Humidity, saturation, slope, vapour_pressure},
};

/// An hour's weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourWeather {
    /// Day of the calendar year, 1 to 366.
    pub day_of_year: u16,
    /// Clock time of the middle of the hour, without summer time.
    pub middle: Hours,
    /// Mean temperature.
    pub air: Celsius,
    /// Moisture of the air.
    pub humidity: Humidity,
    /// Sun on the ground in the hour.
    pub radiation: Megajoule,
    /// Wind at the mast.
    pub wind: Option<MetresPerSecond>,
    /// How clear the sky is, where this hour's own sun cannot tell: by night and with the sun low.
    pub sky: Option<Share>,
}

/// An hour's demand with the steps that led to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HourDemand {
    /// Depth of water; slightly negative in an hour of dew.
    pub depth: Millimetre,
    /// What was not measured.
    pub caveats: Caveats,
    /// Energy above the air.
    pub above: Megajoule,
    /// Sun on the ground under a clear sky.
    pub clear: Megajoule,
    /// How clear the sky was taken.
    pub sky: Share,
    /// Vapour pressure.
    pub vapour: Kilopascal,
    /// Saturation pressure.
    pub saturation: Kilopascal,
    /// Its slope.
    pub slope: KilopascalPerDegree,
    /// Heat lost to the sky.
    pub longwave: Megajoule,
    /// What the grass keeps of both.
    pub net: Megajoule,
    /// Heat into the ground.
    pub into_ground: Megajoule,
}

/// An hour's reference demand.
///
/// ```text
/// ET0 = (0.408 Δ (Rn − G) + γ Cn/(T + 273) u2 (e°(T) − ea)) / (Δ + γ (1 + Cd u2))
/// Rnl = σ/24 · (T + 273.16)⁴ (0.34 − 0.14 √ea)(1.35 Rs/Rso − 0.35)    G = 0.1 Rn by day, 0.5 Rn by night
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ET0 | `depth` | demand of the reference crop | mm h⁻¹ |
/// | Cn, Cd | `standard` | FAO 37, 0.34; short 37, 0.24 by day and 0.96 by night; tall 66, 0.25 and 1.7 | |
/// | T, ea, Rs, u2 | `hour` | air, vapour, sun, wind | °C, kPa, MJ m⁻², m s⁻¹ |
/// | Rs/Rso | `hour.sky`, else this hour's | how clear the sky is | 1 |
/// | G | `into_ground` | heat into the ground; tall crop 0.04 and 0.2 | MJ m⁻² |
///
/// Night is an hour without sun (FAO-56) or with a net loss (ASCE-EWRI).
///
/// **Holds** in the open over watered grass. **Error** by night it hangs on the sky, which nothing measures: around
/// sunset two programs were seen 0.06 mm apart. **Source** Allen et al. 1998 Eq. 53; ASCE-EWRI 2005.
/// **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not one of weather.
///
/// # Example
///
/// ```
/// use climate::demand::{DemandPlace, HourWeather, Site, Standard, hourly, vapour::Humidity};
/// use measure::quantity::{Celsius, Degrees, Hours, Megajoule, Metre, MetresPerSecond, Percent};
///
/// let mut site = Site::inland(Degrees(16.2167), Degrees(-16.25), Metre(8.0));
/// (site.clock.ahead, site.wind_height) = (Hours(-1.0), Metre(2.0));
/// let hour = HourWeather {
///     day_of_year: 274,
///     middle: Hours(14.5),
///     air: Celsius(38.0),
///     humidity: Humidity::Mean(Percent(52.0)),
///     radiation: Megajoule(2.45),
///     wind: Some(MetresPerSecond(3.3)),
///     sky: None,
/// };
/// let demand = hourly(Standard::Fao56, &DemandPlace::new(site)?, &hour)?;
/// assert_eq!(format!("{:.2} mm", demand.depth.0), "0.63 mm");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn hourly(standard: Standard, place: &DemandPlace, hour: &HourWeather) -> Result<HourDemand, OutOfRange> {
    let middle = Hours(within("clock time, h", hour.middle.0, 0.0, 24.0)?);
    let reached = within("sun on the ground, MJ/m²", hour.radiation.0, 0.0, 6.0)?;
    let site = place.site();
    let air = AirOfDay { low: hour.air, high: hour.air, pressure: place.pressure(), arid: site.arid };
    let (vapour, _) = vapour_pressure(Some(hour.humidity), &air)?;
    let (wind, mut caveats) = place.wind(hour.wind)?;
    let above = place.sun(hour.day_of_year)?.hour(&site.clock, middle);
    let clear = place.clear().0 * above.0;
    let own = || clearness(DayEnergy(reached), DayEnergy(clear));
    let sky = hour.sky.or_else(own).unwrap_or_else(|| {
        caveats = caveats.with(Caveat::SkyAssumed);
        Share(USUAL_SKY)
    });
    let longwave = net_longwave(standard, (hour.air, hour.air), vapour, sky).0 / 24.0;
    let net = KEPT * reached - longwave;
    let night = if standard == Standard::Fao56 { reached == 0.0 } else { net < 0.0 };
    let (cn, cd, to_ground) = standard.of_hour(night);
    let saturation = saturation(hour.air)?;
    let slope = slope(standard, hour.air)?;
    let combined = Combined {
        slope: slope.0,
        psychrometric: place.psychrometric().0,
        energy: net * (1.0 - to_ground),
        deficit: saturation.0 - vapour.0,
        kelvin: hour.air.0 + 273.0,
        wind: wind.0,
    };
    Ok(HourDemand {
        depth: Millimetre(combined.depth(cn, cd)),
        caveats,
        above,
        clear: Megajoule(clear),
        sky,
        vapour,
        saturation,
        slope,
        longwave: Megajoule(longwave),
        net: Megajoule(net),
        into_ground: Megajoule(net * to_ground),
    })
}

/// Sun's height under which its ratio to a clear sky says little: 0.3 rad (ASCE-EWRI 2005, remembered), °.
const SUN_WELL_UP: f64 = 17.188_733_853_924_695;

/// A run of hours in order; through night and low sun the sky keeps the clearness of the last hour with the sun well up.
///
/// An hour that brings its own `sky` keeps it. **Holds**, **Error** as [`hourly`].
/// **Source** ASCE-EWRI 2005 (remembered). **Checked** against the day sum of a program in `tests/demand.rs`.
///
/// # Errors
///
/// As [`hourly`].
pub fn hourly_series(
    standard: Standard,
    place: &DemandPlace,
    hours: &[HourWeather],
) -> Result<Vec<HourDemand>, OutOfRange> {
    let clock = place.site().clock;
    let mut carried = None;
    let mut demands = Vec::with_capacity(hours.len());
    for hour in hours {
        let well_up = place.sun(hour.day_of_year)?.height(&clock, hour.middle).0 > SUN_WELL_UP;
        let borrowed = (!well_up && hour.sky.is_none()).then_some(carried).flatten();
        let mut demand = hourly(standard, place, &HourWeather { sky: hour.sky.or(borrowed), ..*hour })?;
        if borrowed.is_some() {
            demand.caveats = demand.caveats.with(Caveat::SkyCarried);
        }
        if well_up {
            carried = Some(demand.sky);
        }
        demands.push(demand);
    }
    Ok(demands)
}
