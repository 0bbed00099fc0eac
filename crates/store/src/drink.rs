//! Rows of the watering log, of absences, and the times of the rounds.

use collection::drink::{Away, Deed, Drink, Remark, RoundTimes};
use measure::quantity::Gram;
use rusqlite::{OptionalExtension, params};

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// The watering log with its numbers, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn drinks(&self) -> Result<Vec<(i64, Drink)>, Error> {
        row::rows(&self.db, include_str!("drink/all.sql"), [], |row| {
            let (deed, grams): (String, Option<f64>) = (row.get(3)?, row.get(4)?);
            let remark: Option<String> = row.get(5)?;
            let remark = remark.map(|word| row::word("drink", "remark", &word, Remark::from_key));
            let drink = Drink {
                tree: row.get(1)?,
                at: row.get(2)?,
                deed: row::word("drink", "deed", &deed, |word| Deed::from_key(word, grams.map(Gram)))?,
                remark: remark.transpose()?,
                hand: row.get(6)?,
                sure: row.get(7)?,
            };
            Ok((row.get(0)?, drink))
        })
    }

    /// Every absence, by its start.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn aways(&self) -> Result<Vec<Away>, Error> {
        row::rows(&self.db, include_str!("away/all.sql"), [], |row| {
            Ok(Away { uid: row.get(0)?, from: row.get(1)?, to: row.get(2)?, words: row.get(3)? })
        })
    }

    /// When the rounds are walked, if the grower has said so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn round_times(&self) -> Result<Option<RoundTimes>, Error> {
        let told: Option<(String, String)> = self
            .db
            .query_row(include_str!("round/get.sql"), [], |row| Ok((row.get(0)?, row.get(1)?)))
            .optional()?;
        let time = |text: &str| text.parse().map_err(|_| row::bad("round", "time", text));
        told.map(|(morning, evening)| Ok(RoundTimes { morning: time(&morning)?, evening: time(&evening)? }))
            .transpose()
    }
}

impl Change<'_> {
    /// Writes down a line of the watering log; false if the very same hand wrote it already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_drink(&self, it: &Drink) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.at,
            it.deed.key(),
            it.deed.grams().map(|grams| grams.0),
            it.remark.map(Remark::key),
            it.hand,
            it.sure
        ];
        Ok(self.tx.execute(include_str!("drink/add.sql"), given)? > 0)
    }

    /// Takes back a line of the watering log by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_drink(&self, id: i64) -> Result<(), Error> {
        match self.tx.execute(include_str!("drink/remove.sql"), [id])? {
            0 => Err(Error::Unknown { what: "line of the watering log", key: id.to_string() }),
            _ => Ok(()),
        }
    }

    /// Writes down an absence; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_away(&self, it: &Away) -> Result<bool, Error> {
        let given = params![it.uid, it.from, it.to, it.words];
        Ok(self.tx.execute(include_str!("away/add.sql"), given)? > 0)
    }

    /// Takes back an absence.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that name and start.
    pub fn remove_away(&self, uid: &str, from: i64) -> Result<(), Error> {
        match self.tx.execute(include_str!("away/remove.sql"), params![uid, from])? {
            0 => Err(Error::Unknown { what: "absence", key: uid.to_string() }),
            _ => Ok(()),
        }
    }

    /// Sets when the rounds are walked; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_round_times(&self, it: &RoundTimes) -> Result<bool, Error> {
        let given = params![it.morning.to_string(), it.evening.to_string()];
        Ok(self.tx.execute(include_str!("round/set.sql"), given)? > 0)
    }
}
