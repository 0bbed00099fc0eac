//! Rows of weather: the station's days and hours, the fetched forecast.

mod element;

pub use element::Kept;

use climate::record::{HourMean, StationDay};
use jiff::civil::Date;
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

pub(crate) fn hour(row: &rusqlite::Row<'_>) -> Result<HourMean, Error> {
    Ok(HourMean { at: row.get(0)?, temperature: row.get(1)?, filled: row.get(2)? })
}

impl Reader {
    /// The station's days, by date; where it lacks a low or a high, both are the weather model's if it has them.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn station_days(&self) -> Result<Vec<StationDay>, Error> {
        row::rows(&self.db, include_str!("weather/days.sql"), [], |row| {
            let date: String = row.get(0)?;
            let date = row::date("station_day", &date)?;
            Ok(StationDay { date, low: row.get(1)?, high: row.get(2)?, rain: row.get(3)? })
        })
    }

    /// How many days up to a date have their low and high from a weather model and not from the station.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn modelled_days(&self, until: Date) -> Result<u32, Error> {
        Ok(self.db.query_row(include_str!("weather/modelled.sql"), [until.to_string()], |row| row.get(0))?)
    }

    /// The lows and highs of a typical year, from 1 January of a leap year on; empty where none was brought.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn typical_year(&self) -> Result<Vec<(f64, f64)>, Error> {
        row::rows(&self.db, include_str!("weather/typical.sql"), [], |row| Ok((row.get(0)?, row.get(1)?)))
    }

    /// The station's hours, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn station_hours(&self) -> Result<Vec<HourMean>, Error> {
        row::rows(&self.db, include_str!("weather/hours.sql"), [], hour)
    }

    /// The fetched forecast with the moment it was fetched, seconds since 1970.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn forecast(&self) -> Result<Option<(i64, Vec<HourMean>)>, Error> {
        let fetched: Option<i64> =
            self.db.query_row(include_str!("weather/fetched.sql"), [], |row| row.get(0))?;
        let Some(fetched) = fetched else { return Ok(None) };
        Ok(Some((fetched, row::rows(&self.db, include_str!("weather/forecast.sql"), [], hour)?)))
    }
}

impl Change<'_> {
    /// Adds days of the station, each value for itself; how many days were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_station_days(&self, days: &[StationDay]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("weather/add_day.sql"))?;
        let mut added = 0;
        for day in days {
            added += query.execute(params![day.date.to_string(), day.low, day.high, day.rain])?;
        }
        Ok(added)
    }

    /// Adds the lows and highs of a weather model where the station has none; how many were added. What the station
    /// tells of a day, now or later, stands.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_modelled_days(&self, days: &[StationDay]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("weather/add_modelled_day.sql"))?;
        let mut added = 0;
        for day in days {
            let Some((low, high)) = day.extremes() else { continue };
            added += query.execute(params![day.date.to_string(), low, high])?;
        }
        Ok(added)
    }

    /// Sets the lows and highs of a typical year, from 1 January of a leap year on; how many were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_typical_year(&self, days: &[(f64, f64)]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("weather/add_typical.sql"))?;
        let mut added = 0;
        for (day, (low, high)) in (1..).zip(days) {
            added += query.execute(params![day, low, high])?;
        }
        Ok(added)
    }

    /// Adds hours of the station; how many were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_station_hours(&self, hours: &[HourMean]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("weather/add_hour.sql"))?;
        let mut added = 0;
        for hour in hours {
            added += query.execute(params![hour.at, hour.temperature])?;
        }
        Ok(added)
    }

    /// Replaces the forecast.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_forecast(&self, fetched: i64, hours: &[HourMean]) -> Result<(), Error> {
        self.tx.execute(include_str!("weather/drop_forecast.sql"), [])?;
        let mut query = self.tx.prepare_cached(include_str!("weather/add_forecast.sql"))?;
        for hour in hours {
            query.execute(params![hour.at, hour.temperature, fetched])?;
        }
        Ok(())
    }
}
