//! Rows of what was said of a pot and a tree in a season, and of pairings that were liked.

use collection::reserve::{Liking, Reservation, Said};
use rusqlite::{OptionalExtension, Row, params};

use crate::{change::Change, error::Error, reader::Reader, row};

pub(crate) fn reservation(row: &Row<'_>) -> Result<Reservation, Error> {
    let (said, made): (String, String) = (row.get(3)?, row.get(5)?);
    Ok(Reservation {
        pot: row.get(0)?,
        tree: row.get(1)?,
        season: row.get(2)?,
        said: row::word("reservation", "word on a pot", &said, Said::from_key)?,
        why: row.get(4)?,
        made: row::date("reservation", &made)?,
    })
}

impl Reader {
    /// Every word on a pot and a tree, season by season.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn reservations(&self) -> Result<Vec<Reservation>, Error> {
        row::rows(&self.db, include_str!("reservation/all.sql"), [], reservation)
    }

    /// Every pairing that was liked better than another, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn likings(&self) -> Result<Vec<Liking>, Error> {
        row::rows(&self.db, include_str!("liking/all.sql"), [], |row| {
            let day: String = row.get(3)?;
            Ok(Liking {
                tree: row.get(0)?,
                liked: row.get(1)?,
                over: row.get(2)?,
                day: row::date("liking", &day)?,
            })
        })
    }
}

impl Change<'_> {
    /// Says something of a pot and a tree in place of what was said of the two that season, starting from a version of the pot's record;
    /// 0 where nothing is known of the pot.
    ///
    /// # Errors
    ///
    /// [`Error::Stale`] when the pot's record has moved on, [`Error::Held`] when the pot is held for another tree that season.
    pub fn reserve(&self, it: &Reservation, revision: u32) -> Result<(), Error> {
        self.same_revision(&it.pot, revision)?;
        self.put_reservation(it)
    }

    /// Takes in a word on a pot and a tree out of a sheet; false if anything was said of the two that season.
    ///
    /// # Errors
    ///
    /// [`Error::Held`] when the pot is held for another tree that season.
    pub fn bring_reservation(&self, it: &Reservation) -> Result<bool, Error> {
        let has = self
            .tx
            .query_row(include_str!("reservation/has.sql"), params![it.pot, it.tree, it.season], |_| Ok(()))
            .optional()?;
        if has.is_some() {
            return Ok(false);
        }
        self.put_reservation(it)?;
        Ok(true)
    }

    /// Brings a word back that a repot ended; false where another word on the two stands by now, the pot is held for another tree, or it
    /// is no longer there to be promised.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when tree or pot are unknown.
    pub fn bring_back_reservation(&self, it: &Reservation) -> Result<bool, Error> {
        let given = params![it.pot, it.tree, it.season, it.said.key(), it.why, it.made.to_string()];
        let is_back = self.tx.execute(include_str!("reservation/bring_back.sql"), given)? > 0;
        if is_back {
            self.bump(&it.pot)?;
        }
        Ok(is_back)
    }

    fn put_reservation(&self, it: &Reservation) -> Result<(), Error> {
        if it.said.holds() {
            let given = params![it.pot, it.season, it.tree];
            let holder = include_str!("reservation/holder.sql");
            let by: Option<String> = self.tx.query_row(holder, given, |row| row.get(0)).optional()?;
            if let Some(by) = by {
                return Err(Error::Held { pot: it.pot.clone(), by });
            }
        }
        let given = params![it.pot, it.tree, it.season, it.said.key(), it.why, it.made.to_string()];
        self.tx.execute(include_str!("reservation/set.sql"), given)?;
        self.bump(&it.pot)
    }

    /// Takes back what was said of a pot and a tree in a season, starting from a version of the pot's record.
    ///
    /// # Errors
    ///
    /// [`Error::Stale`] when the pot's record has moved on, [`Error::Unknown`] when nothing was said.
    pub fn unreserve(&self, pot: &str, tree: &str, season: i16, revision: u32) -> Result<(), Error> {
        self.same_revision(pot, revision)?;
        let given = params![pot, tree, season];
        match self.tx.execute(include_str!("reservation/remove.sql"), given)? {
            0 => Err(Error::Unknown { what: "reservation", key: format!("{pot} for {tree} in {season}") }),
            _ => self.bump(pot),
        }
    }

    /// Ends all that was said of a pot, and returns it.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn end_reservations(&self, pot: &str) -> Result<Vec<Reservation>, Error> {
        let ended = row::rows(self.tx, include_str!("reservation/of_pot.sql"), [pot], reservation)?;
        self.end(&ended)?;
        Ok(ended)
    }

    /// Ends every pot's promise to a tree in a season, also second choices, and returns them; what it is never to have stays.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn end_reservations_for(&self, tree: &str, season: i16) -> Result<Vec<Reservation>, Error> {
        let given = params![tree, season];
        let ended = row::rows(self.tx, include_str!("reservation/wanted.sql"), given, reservation)?;
        self.end(&ended)?;
        Ok(ended)
    }

    fn end(&self, reservations: &[Reservation]) -> Result<(), Error> {
        for it in reservations {
            let given = params![it.pot, it.tree, it.season];
            self.tx.execute(include_str!("reservation/remove.sql"), given)?;
            self.bump(&it.pot)?;
        }
        Ok(())
    }

    /// Writes down that one pot was liked better than another; false if that was said that day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree or a pot is unknown.
    pub fn add_liking(&self, it: &Liking) -> Result<bool, Error> {
        let given = params![it.tree, it.liked, it.over, it.day.to_string()];
        Ok(self.tx.execute(include_str!("liking/add.sql"), given)? > 0)
    }
}
