//! Rows of readings that sensors send, and the hourly means kept beside them.

use std::collections::BTreeMap;

use collection::reading::{Measured, Reading};
use measure::quantity::{Celsius, Gram, Percent};
use rusqlite::{CachedStatement, OptionalExtension, ffi, params};

use crate::{change::Change, error::Error, reader::Reader, row};

/// What became of one reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// It was new and was added.
    Added,
    /// The very same stood already.
    Known,
    /// Another figure stands for that second; it was kept as it was.
    Differs(Measured),
    /// No place or tree has that key.
    Nowhere,
}

impl Reader {
    /// What was sent of the air of a place, from one moment up to another, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn air_readings(&self, place: &str, from: i64, to: i64) -> Result<Vec<Reading>, Error> {
        row::rows(&self.db, include_str!("air_reading/between.sql"), params![place, from, to], |row| {
            let (kind, value): (String, f64) = (row.get(0)?, row.get(2)?);
            let measured = match kind.as_str() {
                "temperature" => Measured::Temperature(Celsius(value)),
                "humidity" => Measured::Humidity(Percent(value)),
                _ => return Err(row::bad("air_reading", "kind of reading", &kind)),
            };
            Ok(Reading { thing: place.to_string(), at: row.get(1)?, measured })
        })
    }

    /// The trees that a scale ever weighed.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn weighed(&self) -> Result<Vec<String>, Error> {
        row::rows(&self.db, include_str!("weight_reading/trees.sql"), [], |row| Ok(row.get(0)?))
    }

    /// What a tree weighed with its pot, as scales sent it: seconds since 1970 in UTC, and the weight, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn weights(&self, tree: &str) -> Result<Vec<(i64, Gram)>, Error> {
        row::rows(&self.db, include_str!("weight_reading/all.sql"), [tree], |row| {
            Ok((row.get(0)?, Gram(row.get(1)?)))
        })
    }
}

impl Change<'_> {
    /// Adds what a sensor sent at a moment, and says of each reading in turn what became of it.
    ///
    /// A reading that stands is never changed, so a batch may come twice, late or in any order. The sums of the hours
    /// touched grow by what was added, so the means need no second look at the readings.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when no sensor of that name may send, else [`Error`] from the store.
    pub fn add_readings(&self, sender: &str, sent: i64, readings: &[Reading]) -> Result<Vec<Outcome>, Error> {
        if self.cached(include_str!("token/sent.sql"))?.execute(params![sender, sent])? == 0 {
            return Err(Error::Unknown { what: "sensor", key: sender.to_string() });
        }
        let mut hours: BTreeMap<(&str, i64), (f64, i64)> = BTreeMap::new();
        let mut outcomes = Vec::with_capacity(readings.len());
        for reading in readings {
            let outcome = self.add_reading(sender, reading)?;
            if let (Outcome::Added, Measured::Temperature(Celsius(value))) = (outcome, reading.measured) {
                let hour = hours.entry((&reading.thing, reading.at.div_euclid(3600) * 3600)).or_default();
                *hour = (hour.0 + value, hour.1 + 1);
            }
            outcomes.push(outcome);
        }
        let mut add = self.cached(include_str!("reading_hour/add.sql"))?;
        for ((place, hour), (sum, count)) in hours {
            add.execute(params![place, hour, sum, count, sender])?;
        }
        let added = outcomes.iter().filter(|outcome| **outcome == Outcome::Added).count() as i64;
        if added > 0 {
            self.cached(include_str!("reading_count/add.sql"))?.execute([added])?;
        }
        Ok(outcomes)
    }

    fn add_reading(&self, sender: &str, it: &Reading) -> Result<Outcome, Error> {
        let (kind, value) = (it.measured.kind(), it.measured.value());
        let weight = matches!(it.measured, Measured::Weight(_));
        let mark = self.tally.mark();
        let done = if weight {
            self.cached(include_str!("weight_reading/add.sql"))?.execute(params![it.thing, it.at, value])
        } else {
            self.cached(include_str!("air_reading/add.sql"))?
                .execute(params![it.thing, kind, it.at, value, sender])
        };
        match done {
            Ok(0) => {}
            Ok(_) => return Ok(Outcome::Added),
            Err(why) if names_what_is_not_there(&why) => {
                self.tally.rewind(mark); // SQLite has undone the statement
                return Ok(Outcome::Nowhere);
            }
            Err(why) => return Err(why.into()),
        }
        let stands: Option<f64> = if weight {
            let mut get = self.cached(include_str!("weight_reading/get.sql"))?;
            get.query_row(params![it.thing, it.at], |row| row.get(0)).optional()?
        } else {
            let mut get = self.cached(include_str!("air_reading/get.sql"))?;
            get.query_row(params![it.thing, kind, it.at, sender], |row| row.get(0)).optional()?
        };
        Ok(match stands {
            Some(stands) if stands == value => Outcome::Known,
            Some(stands) => Outcome::Differs(it.measured.with(stands)),
            None => Outcome::Nowhere,
        })
    }

    fn cached(&self, sql: &str) -> Result<CachedStatement<'_>, Error> {
        Ok(self.tx.prepare_cached(sql)?)
    }
}

fn names_what_is_not_there(why: &rusqlite::Error) -> bool {
    why.sqlite_error().is_some_and(|it| it.extended_code == ffi::SQLITE_CONSTRAINT_FOREIGNKEY)
}
