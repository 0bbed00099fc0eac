//! A handle that can only read; pages get this one.

use climate::record::WeatherOrigin;
use rusqlite::Connection;

use crate::{error::Error, row};

/// Reads the collection; cannot write.
#[derive(Debug)]
pub struct Reader {
    pub(crate) db: Connection,
}

/// A line of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ActLine {
    /// When, in UTC, as written.
    pub at: String,
    /// What.
    pub words: String,
}

impl Reader {
    /// How much has happened so far, acts and readings together; it changes whenever anything does.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn changes(&self) -> Result<i64, Error> {
        let mut query = self.db.prepare_cached(include_str!("act/changes.sql"))?;
        Ok(query.query_row([], |row| row.get(0))?)
    }

    /// Number of the last act.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn last_act(&self) -> Result<i64, Error> {
        Ok(self.db.query_row(include_str!("act/last.sql"), [], |row| row.get(0))?)
    }

    /// The latest lines of the log, newest first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn latest_acts(&self, count: u32) -> Result<Vec<ActLine>, Error> {
        row::rows(&self.db, include_str!("act/latest.sql"), [count], |row| {
            Ok(ActLine { at: row.get(0)?, words: row.get(1)? })
        })
    }

    /// Looks over the whole file: its pages, its references, and that each row reads back as what it is.
    ///
    /// # Errors
    ///
    /// [`Error`] only when the file cannot be read at all; faults found are the answer.
    pub fn faults(&self) -> Result<Vec<String>, Error> {
        let mut faults: Vec<String> =
            row::rows(&self.db, include_str!("check/integrity.sql"), [], |row| Ok(row.get::<_, String>(0)?))?;
        faults.retain(|line| line != "ok");
        faults.extend(row::rows(&self.db, include_str!("check/foreign_keys.sql"), [], |row| {
            let (table, parent): (String, String) = (row.get(0)?, row.get(2)?);
            Ok(format!("a row of {table} names a {parent} that is not there"))
        })?);
        let reads: [Result<(), Error>; 50] = [
            self.site().map(drop),
            self.places().map(drop),
            self.trees().map(drop),
            self.moves().map(drop),
            self.looks().map(drop),
            self.works().map(drop),
            self.pots().map(drop),
            self.mixes().map(drop),
            self.potted().map(drop),
            self.crowns().map(drop),
            self.drinks().map(drop),
            self.photos().map(drop),
            self.traces().map(drop),
            self.brushes().map(drop),
            self.limbs().map(drop),
            self.calipers().map(drop),
            self.fronts().map(drop),
            self.aims().map(drop),
            self.intentions().map(drop),
            self.cuts().map(drop),
            self.wires().map(drop),
            self.coils().map(drop),
            self.layers().map(drop),
            self.wounds().map(drop),
            self.aways().map(drop),
            self.round_times().map(drop),
            self.station_days().map(drop),
            self.station_hours().map(drop),
            self.weather_days().map(drop),
            self.weather_hours(WeatherOrigin::Station).map(drop),
            self.weather_hours(WeatherOrigin::Reanalysis).map(drop),
            self.weather_hours(WeatherOrigin::Forecast).map(drop),
            self.weather_hours(WeatherOrigin::Typical).map(drop),
            self.weather_kept().map(drop),
            self.senders().map(drop),
            self.wares().map(drop),
            self.pot_photos().map(drop),
            self.reservations().map(drop),
            self.likings().map(drop),
            self.grown().map(drop),
            self.statures().map(drop),
            self.tints().map(drop),
            self.vigours().map(drop),
            self.meant().map(drop),
            self.pot_looks().map(drop),
            self.repots().map(drop),
            self.tolls().map(drop),
            self.stock().map(drop),
            self.blends().map(drop),
            self.rules_off().map(drop),
        ];
        faults.extend(reads.into_iter().filter_map(Result::err).map(|fault| fault.to_string()));
        Ok(faults)
    }
}
