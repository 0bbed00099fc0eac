//! A place prepared for reckoning demand: everything that depends on the place and the day of the year alone.

use measure::{
    quantity::{Degrees, Hours, Kilopascal, KilopascalPerDegree, Metre, MetresPerSecond, Share},
    range::{OutOfRange, within},
};

use super::{
    Caveat, Caveats,
    radiation::clear_share,
    sun::{Clock, SunOfDay, sun_of_day},
    vapour::{air_pressure, psychrometric_constant},
    wind,
};

/// What shapes the span between low and high.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// Land air: 0.16.
    Inland,
    /// On or near a large water: 0.19.
    Coast,
}

/// Where weather is measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Degrees north.
    pub latitude: Degrees,
    /// Above sea level.
    pub elevation: Metre,
    /// The clock of hourly records.
    pub clock: Clock,
    /// Height of the wind mast.
    pub wind_height: Metre,
    /// Calmer winds are raised to this; none for a check against a program that keeps them.
    pub calm: Option<MetresPerSecond>,
    /// Inland or at the coast.
    pub setting: Setting,
    /// Dry country, where the night's low stays above the dew point.
    pub arid: bool,
}

impl Site {
    /// An inland place whose clock keeps its own meridian, wind at 10 m, calm winds raised to 0.5 m/s (remembered from
    /// FAO-56, not verified).
    pub fn inland(latitude: Degrees, longitude: Degrees, elevation: Metre) -> Site {
        Site {
            latitude,
            elevation,
            clock: Clock { longitude, ahead: Hours(longitude.0 / 15.0) },
            wind_height: Metre(10.0),
            calm: Some(MetresPerSecond(0.5)),
            setting: Setting::Inland,
            arid: false,
        }
    }
}

/// Wind that is taken where none is given, the mean of the world's stations (FAO-56), m/s.
const USUAL_WIND: f64 = 2.0;

/// A site with its year of sun, its air pressure and its mast worked out once.
#[derive(Clone, Debug, PartialEq)]
pub struct DemandPlace {
    site: Site,
    pressure: Kilopascal,
    psychrometric: KilopascalPerDegree,
    clear: Share,
    mast: f64,
    year: Vec<SunOfDay>,
}

impl DemandPlace {
    /// Prepares a site.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the site is not on this earth.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::demand::{DemandPlace, Site};
    /// use measure::quantity::{Degrees, Metre};
    ///
    /// let place = DemandPlace::new(Site::inland(Degrees(50.8), Degrees(4.4), Metre(100.0)))?;
    /// assert_eq!(format!("{:.2} MJ", place.sun(187)?.energy.0), "41.09 MJ");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn new(site: Site) -> Result<DemandPlace, OutOfRange> {
        within("longitude, °", site.clock.longitude.0, -180.0, 180.0)?;
        within("clock ahead of universal time, h", site.clock.ahead.0, -14.0, 14.0)?;
        let pressure = air_pressure(site.elevation)?;
        Ok(DemandPlace {
            site,
            pressure,
            psychrometric: psychrometric_constant(pressure),
            clear: clear_share(site.elevation),
            mast: wind::factor(site.wind_height)?,
            year: (1..=366).map(|day| sun_of_day(site.latitude, day)).collect::<Result<_, _>>()?,
        })
    }

    /// The site as given.
    pub fn site(&self) -> &Site {
        &self.site
    }

    /// Air pressure.
    pub fn pressure(&self) -> Kilopascal {
        self.pressure
    }

    /// Psychrometric constant.
    pub fn psychrometric(&self) -> KilopascalPerDegree {
        self.psychrometric
    }

    /// Share of the sun that comes through a clear sky.
    pub fn clear(&self) -> Share {
        self.clear
    }

    /// The sun above the air on a day.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the day is not 1 to 366.
    pub fn sun(&self, day_of_year: u16) -> Result<&SunOfDay, OutOfRange> {
        within("day of the year", f64::from(day_of_year), 1.0, 366.0)?;
        Ok(&self.year[usize::from(day_of_year) - 1])
    }

    /// Wind at 2 m from that of the mast, or the usual wind where none was measured.
    pub(super) fn wind(
        &self,
        measured: Option<MetresPerSecond>,
    ) -> Result<(MetresPerSecond, Caveats), OutOfRange> {
        let Some(MetresPerSecond(measured)) = measured else {
            return Ok((MetresPerSecond(USUAL_WIND), Caveats::default().with(Caveat::WindAssumed)));
        };
        let low = within("wind, m/s", measured, 0.0, 120.0)? * self.mast;
        match self.site.calm {
            Some(calm) if low < calm.0 => Ok((calm, Caveats::default().with(Caveat::WindRaised))),
            _ => Ok((MetresPerSecond(low), Caveats::default())),
        }
    }
}
