//! Rows of the other elements of the weather: humidity, wind, sun, rain by the hour, each with its origin.

use climate::record::{Element, WeatherDay, WeatherHour, WeatherOrigin};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

/// How much of an element is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// What, in plain words.
    pub what: &'static str,
    /// In which unit.
    pub unit: &'static str,
    /// How many values.
    pub count: u32,
    /// Whether they are hours; else days.
    pub hours: bool,
    /// Where they come from.
    pub origin: WeatherOrigin,
}

impl Reader {
    /// The hours of the other elements from one origin, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn weather_hours(&self, origin: WeatherOrigin) -> Result<Vec<WeatherHour>, Error> {
        row::rows(&self.db, include_str!("element_hours.sql"), [origin.key()], |row| {
            Element::ALL
                .into_iter()
                .enumerate()
                .try_fold(WeatherHour::at(row.get(0)?), |hour, (at, element)| {
                    Ok(hour.with(element, row.get(at + 1)?))
                })
        })
    }

    /// The station's days of the other elements, by date.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn weather_days(&self) -> Result<Vec<WeatherDay>, Error> {
        row::rows(&self.db, include_str!("element_days.sql"), [], |row| {
            let date: String = row.get(0)?;
            Ok(WeatherDay {
                date: row::date("weather_day", &date)?,
                mean: row.get(1)?,
                humidity: row.get(2)?,
                wind: row.get(3)?,
                radiation: row.get(4)?,
                sunshine: row.get(5)?,
            })
        })
    }

    /// A place's relative humidity by its logger, mean of the hour from this moment on, %.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn logged_humidity(&self, place: &str) -> Result<Vec<(i64, f64)>, Error> {
        row::rows(&self.db, include_str!("../logger/humidity.sql"), [place], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
    }

    /// How many hours of humidity a place's logger told.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn logged_humidity_count(&self, place: &str) -> Result<u32, Error> {
        let mut query = self.db.prepare_cached(include_str!("../logger/kept_humidity.sql"))?;
        Ok(query.query_row([place], |row| row.get(0))?)
    }

    /// What is kept of the weather beside temperatures, and how much of it.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn weather_kept(&self) -> Result<Vec<Kept>, Error> {
        let mut kept = Vec::new();
        let rain: u32 = self.db.query_row(include_str!("rain_days.sql"), [], |row| row.get(0))?;
        let mut days = vec![("rain", "mm", rain)];
        let counts: [u32; 5] = self.db.query_row(include_str!("kept_days.sql"), [], |row| {
            Ok([row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?, row.get(4)?])
        })?;
        let named = [
            ("mean temperature", "°C"),
            (Element::Humidity.words(), "%"),
            (Element::Wind.words(), "m/s"),
            (Element::Radiation.words(), "W/m²"),
            (Element::Sunshine.words(), "h"),
        ];
        days.extend(named.into_iter().zip(counts).map(|((what, unit), count)| (what, unit, count)));
        let origin = WeatherOrigin::Station;
        kept.extend(days.into_iter().map(|(what, unit, count)| Kept {
            what,
            unit,
            count,
            hours: false,
            origin,
        }));
        for origin in WeatherOrigin::ALL {
            let mut query = self.db.prepare_cached(include_str!("kept_hours.sql"))?;
            let counts: Vec<u32> = query
                .query_row([origin.key()], |row| (0..Element::ALL.len()).map(|at| row.get(at)).collect())?;
            kept.extend(Element::ALL.into_iter().zip(counts).map(|(element, count)| Kept {
                what: element.words(),
                unit: element.unit(),
                count,
                hours: true,
                origin,
            }));
        }
        kept.retain(|it| it.count > 0);
        Ok(kept)
    }
}

impl Change<'_> {
    /// Adds hours of the other elements, each value for itself; how many hours were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_weather_hours(&self, origin: WeatherOrigin, hours: &[WeatherHour]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("add_element_hour.sql"))?;
        let mut added = 0;
        for hour in hours.iter().filter(|hour| !hour.is_empty()) {
            let [a, b, c, d, e, f, g, h] = hour.values();
            added += query.execute(params![origin.key(), hour.at, a, b, c, d, e, f, g, h])?;
        }
        Ok(added)
    }

    /// Replaces the forecast's hours of the other elements.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_forecast_elements(&self, hours: &[WeatherHour]) -> Result<(), Error> {
        self.tx.execute(include_str!("drop_elements.sql"), [WeatherOrigin::Forecast.key()])?;
        self.add_weather_hours(WeatherOrigin::Forecast, hours).map(drop)
    }

    /// Adds the station's days of the other elements, each value for itself; how many days were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_weather_days(&self, days: &[WeatherDay]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("add_element_day.sql"))?;
        let mut added = 0;
        for day in days.iter().filter(|day| !day.is_empty()) {
            let date = day.date.to_string();
            added += query.execute(params![
                date,
                day.mean,
                day.humidity,
                day.wind,
                day.radiation,
                day.sunshine
            ])?;
        }
        Ok(added)
    }
}
