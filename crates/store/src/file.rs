//! The raw files that came in by the door, kept as they were.

use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Name, kind and size of each file kept.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn files(&self) -> Result<Vec<(String, String, u64)>, Error> {
        row::rows(&self.db, include_str!("file/all.sql"), [], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get::<_, i64>(2)?.unsigned_abs()))
        })
    }
}

impl Change<'_> {
    /// Keeps a file; false if the same content is kept already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn keep_file(&self, hash: &str, name: &str, kind: &str, bytes: &[u8]) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("file/add.sql"), params![hash, name, kind, bytes])? > 0)
    }
}
