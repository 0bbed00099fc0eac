//! Rows of what loggers and sensors of a place told, a series for each, and of the checks by which they are corrected.

use std::collections::{BTreeMap, btree_map::Entry};

use climate::{
    record::{HourMean, bridged},
    sensors::{Check, Sensors, Together, correct, together},
};
use collection::incident::IceCheck;
use measure::quantity::Celsius;
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row, weather::hour};

/// What was logged in a place: corrected, and without the hours of which the grower said that the logger alone was wrong.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Logged {
    /// Each sensor by its name; empty for what came without one.
    pub sensors: Sensors,
    /// What they amount to.
    pub together: Together,
}

impl Reader {
    /// A place's logged hours: those of its loggers' files and the means of the readings sent for it, a series for each sensor.
    ///
    /// Where a file and what was sent both tell an hour of one sensor the lower stands. Hours filled in a file make room for
    /// readings; what is then still open is bridged anew.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn logged(&self, place: &str) -> Result<Logged, Error> {
        let series = |sql| -> Result<Sensors, Error> {
            let rows = row::rows(&self.db, sql, [place], |row| Ok((row.get::<_, String>(3)?, hour(row)?)))?;
            let mut sensors = Sensors::new();
            for (sensor, hour) in rows {
                sensors.entry(sensor).or_default().push(hour);
            }
            Ok(sensors)
        };
        let mut sensors = series(include_str!("logger/all.sql"))?;
        for (name, sent) in series(include_str!("reading_hour/all.sql"))? {
            match sensors.entry(name) {
                Entry::Vacant(open) => drop(open.insert(whole(sent))),
                Entry::Occupied(mut file) => {
                    let mut hours: Vec<HourMean> =
                        file.get().iter().filter(|hour| !hour.filled).copied().chain(sent).collect();
                    hours.sort_by(|a, b| a.at.cmp(&b.at).then(a.temperature.total_cmp(&b.temperature)));
                    hours.dedup_by_key(|hour| hour.at); // the lower of an hour comes first
                    file.insert(whole(hours));
                }
            }
        }
        let checks = self.checks_of(place)?;
        let wrong: Vec<(i64, i64, Option<String>)> =
            row::rows(&self.db, include_str!("incident/left_out.sql"), [place], |row| {
                Ok((row.get(0)?, row.get(1)?, row.get(2)?))
            })?;
        for (name, hours) in &mut sensors {
            correct(hours, checks.get(name).map_or(&[], Vec::as_slice));
            hours.retain(|hour| {
                let is_of = |sensor: &Option<String>| sensor.as_ref().is_none_or(|it| it == name);
                !wrong
                    .iter()
                    .any(|(since, until, sensor)| (*since..*until).contains(&hour.at) && is_of(sensor))
            });
        }
        let together = together(&sensors);
        Ok(Logged { sensors, together })
    }

    fn checks_of(&self, place: &str) -> Result<BTreeMap<String, Vec<Check>>, Error> {
        let rows = row::rows(&self.db, include_str!("ice_check/of_place.sql"), [place], |row| {
            let (sensor, day): (String, String) = (row.get(0)?, row.get(1)?);
            let day = row::date("ice_check", &day)?;
            let from = i64::from((day - jiff::civil::Date::constant(1970, 1, 1)).get_days()) * 86_400;
            Ok((sensor, (from, row.get::<_, f64>(2)?)))
        })?;
        let mut checks: BTreeMap<String, Vec<Check>> = BTreeMap::new();
        for (sensor, check) in rows {
            checks.entry(sensor).or_default().push(check);
        }
        Ok(checks)
    }

    /// The lowest of a place's sensors by the hour.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn logged_hours(&self, place: &str) -> Result<Vec<HourMean>, Error> {
        Ok(self.logged(place)?.together.lowest)
    }

    /// Every check in ice water with its number, by place, sensor and day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn ice_checks(&self) -> Result<Vec<(i64, IceCheck)>, Error> {
        row::rows(&self.db, include_str!("ice_check/all.sql"), [], |row| {
            let day: String = row.get(3)?;
            let check = IceCheck {
                place: row.get(1)?,
                sensor: row.get(2)?,
                day: row::date("ice_check", &day)?,
                shown: Celsius(row.get(4)?),
            };
            Ok((row.get(0)?, check))
        })
    }
}

fn whole(hours: Vec<HourMean>) -> Vec<HourMean> {
    bridged(hours.iter().map(|hour| (hour.at, hour.temperature)))
}

impl Change<'_> {
    /// Adds hours of a sensor of a place out of its logger's file; how many were new or different. A measured hour is never replaced by a
    /// filled one.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the place is unknown.
    pub fn add_logged_hours(&self, place: &str, sensor: &str, hours: &[HourMean]) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("logger/add.sql"))?;
        let mut added = 0;
        for hour in hours {
            added += query.execute(params![place, sensor, hour.at, hour.temperature, hour.filled])?;
        }
        Ok(added)
    }

    /// Adds hours of humidity by a sensor of a place, %; how many were new or different.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the place is unknown.
    pub fn add_logged_humidity(
        &self,
        place: &str,
        sensor: &str,
        hours: &[(i64, f64)],
    ) -> Result<usize, Error> {
        let mut query = self.tx.prepare_cached(include_str!("logger/add_humidity.sql"))?;
        let mut added = 0;
        for (at, humidity) in hours {
            added += query.execute(params![place, sensor, at, humidity])?;
        }
        Ok(added)
    }

    /// Adds a check in ice water; that of the same sensor and day makes room. False if the same stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the place is unknown.
    pub fn set_ice_check(&self, it: &IceCheck) -> Result<bool, Error> {
        let given = params![it.place, it.sensor, it.day.to_string(), it.shown.0];
        Ok(self.tx.execute(include_str!("ice_check/add.sql"), given)? > 0)
    }

    /// Undoes a check in ice water by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_ice_check(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("ice_check/remove.sql"), [id])?, "ice-water check", id)
    }
}
