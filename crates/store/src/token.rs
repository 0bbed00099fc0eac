//! Rows of tokens: which sensors may send, known by the hash of what they hold.

use collection::reading::Sender;
use rusqlite::{OptionalExtension, params};

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every sensor that may send, by name.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn senders(&self) -> Result<Vec<Sender>, Error> {
        row::rows(&self.db, include_str!("token/all.sql"), [], |row| {
            Ok(Sender { name: row.get(0)?, made: row.get(1)?, last_sent: row.get(2)? })
        })
    }

    /// The name of the sensor whose token has this hash.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn holder(&self, hash: &str) -> Result<Option<String>, Error> {
        let mut query = self.db.prepare_cached(include_str!("token/holder.sql"))?;
        Ok(query.query_row([hash], |row| row.get(0)).optional()?)
    }
}

impl Change<'_> {
    /// Lets a sensor send with the token of this hash; false if one of that name may send already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_token(&self, name: &str, hash: &str, made: i64) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("token/add.sql"), params![name, hash, made])? > 0)
    }

    /// Takes the token of a sensor away; what it sent stays.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when no sensor of that name may send.
    pub fn remove_token(&self, name: &str) -> Result<(), Error> {
        match self.tx.execute(include_str!("token/remove.sql"), [name])? {
            0 => Err(Error::Unknown { what: "sensor", key: name.to_string() }),
            _ => Ok(()),
        }
    }
}
