//! A handle that can only read; pages get this one.

use rusqlite::Connection;

use crate::{check, error::Error, row};

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

    /// The line of the log with this number.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn act(&self, number: i64) -> Result<Option<ActLine>, Error> {
        let lines = row::rows(&self.db, include_str!("act/one.sql"), [number], |row| {
            Ok(ActLine { at: row.get(0)?, words: row.get(1)? })
        })?;
        Ok(lines.into_iter().next())
    }

    /// Looks over the whole collection: its pages, its references, its plan and the sums over its rows, and that each row
    /// reads back as what it is.
    ///
    /// # Errors
    ///
    /// [`Error`] only when the file cannot be read at all; faults found are the answer.
    pub fn faults(&self) -> Result<Vec<String>, Error> {
        let mut faults = check::of_file(&self.db)?;
        faults.extend(self.unreadable());
        Ok(faults)
    }
}
