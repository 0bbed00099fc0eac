//! Rows of photos of pots, and of their pictures.

use collection::ware::{PotPhoto, PotSide};
use rusqlite::{OptionalExtension, params};

use crate::{change::Change, error::Error, photo::Size, reader::Reader, row};

impl Reader {
    /// Every photo of a pot, pot by pot and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pot_photos(&self) -> Result<Vec<PotPhoto>, Error> {
        row::rows(&self.db, include_str!("pot_photo/all.sql"), [], |row| {
            let (day, side): (String, String) = (row.get(2)?, row.get(3)?);
            Ok(PotPhoto {
                key: row.get(0)?,
                pot: row.get(1)?,
                day: row::date("pot_photo", &day)?,
                side: row::word("pot_photo", "side of a pot", &side, PotSide::from_key)?,
                wide: row.get(4)?,
                high: row.get(5)?,
            })
        })
    }

    /// The picture of a pot's photo, as a JPEG.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pot_picture(&self, photo: &str, size: Size) -> Result<Option<Vec<u8>>, Error> {
        let mut query = self.db.prepare_cached(include_str!("pot_picture/get.sql"))?;
        Ok(query.query_row(params![photo, size.key()], |row| row.get(0)).optional()?)
    }
}

impl Change<'_> {
    /// Keeps a photo of a pot with its pictures, full and small; false if the pot has the very same photo already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the pot is unknown.
    pub fn add_pot_photo(&self, it: &PotPhoto, hash: &str, pictures: [&[u8]; 2]) -> Result<bool, Error> {
        let given = params![it.key, it.pot, it.day.to_string(), it.side.key(), it.wide, it.high, hash];
        if self.tx.execute(include_str!("pot_photo/add.sql"), given)? == 0 {
            return Ok(false);
        }
        for (size, bytes) in [Size::Full, Size::Small].into_iter().zip(pictures) {
            self.tx.execute(include_str!("pot_picture/add.sql"), params![it.key, size.key(), bytes])?;
        }
        Ok(true)
    }

    /// The names of a pot's photos.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pot_photo_keys(&self, pot: &str) -> Result<Vec<String>, Error> {
        row::rows(self.tx, include_str!("pot_photo/keys.sql"), [pot], |row| Ok(row.get(0)?))
    }

    /// Takes a photo of a pot back, with its pictures.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is no such photo.
    pub fn remove_pot_photo(&self, photo: &str) -> Result<(), Error> {
        self.tx.execute(include_str!("pot_picture/remove.sql"), [photo])?;
        match self.tx.execute(include_str!("pot_photo/remove.sql"), [photo])? {
            0 => Err(Error::Unknown { what: "photo of a pot", key: photo.to_string() }),
            _ => Ok(()),
        }
    }

    pub(crate) fn remove_pot_photos(&self, pot: &str) -> Result<(), Error> {
        self.pot_photo_keys(pot)?.iter().try_for_each(|photo| self.remove_pot_photo(photo))
    }
}
