//! Rows of photos, of their pictures, and of the limbs traced on them.

use collection::photo::{Photo, Scale, Stroke, Subject, Trace, path, path_key, strokes, strokes_key};
use rusqlite::{OptionalExtension, params};

use crate::{change::Change, error::Error, reader::Reader, row};

/// Which of a photo's pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// As large as it is kept.
    Full,
    /// For lists.
    Small,
}

impl Size {
    pub(crate) fn key(self) -> &'static str {
        match self {
            Size::Full => "full",
            Size::Small => "small",
        }
    }
}

impl Reader {
    /// Every photo, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn photos(&self) -> Result<Vec<Photo>, Error> {
        row::rows(&self.db, include_str!("photo/all.sql"), [], |row| {
            let (day, subject): (String, String) = (row.get(2)?, row.get(4)?);
            Ok(Photo {
                key: row.get(0)?,
                tree: row.get(1)?,
                day: row::date("photo", &day)?,
                day_told: row.get(3)?,
                subject: row::word("photo", "subject", &subject, Subject::from_key)?,
                clock: row.get(5)?,
                wide: row.get(6)?,
                high: row.get(7)?,
                scale: row::word_if("photo", "scale", row.get(8)?, Scale::from_key)?,
                soil: row.get(9)?,
                note: row.get(10)?,
            })
        })
    }

    /// A photo's picture, as a JPEG.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn picture(&self, photo: &str, size: Size) -> Result<Option<Vec<u8>>, Error> {
        let mut query = self.db.prepare_cached(include_str!("picture/get.sql"))?;
        Ok(query.query_row(params![photo, size.key()], |row| row.get(0)).optional()?)
    }

    /// Every line traced on a photo.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn traces(&self) -> Result<Vec<Trace>, Error> {
        row::rows(&self.db, include_str!("trace/all.sql"), [], |row| {
            let points: String = row.get(2)?;
            Ok(Trace {
                photo: row.get(0)?,
                limb: row.get(1)?,
                points: row::word("trace", "line", &points, path)?,
            })
        })
    }

    /// The strokes that mend the outline on each photo.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn brushes(&self) -> Result<Vec<(String, Vec<Stroke>)>, Error> {
        row::rows(&self.db, include_str!("brush/all.sql"), [], |row| {
            let kept: String = row.get(1)?;
            Ok((row.get(0)?, row::word("brush", "line of strokes", &kept, strokes)?))
        })
    }
}

impl Change<'_> {
    /// Keeps a photo with its pictures, full and small; false if the tree has the very same photo already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_photo(&self, it: &Photo, hash: &str, pictures: [&[u8]; 2]) -> Result<bool, Error> {
        let given = params![
            it.key,
            it.tree,
            it.day.to_string(),
            it.day_told,
            it.subject.key(),
            it.clock,
            it.wide,
            it.high,
            it.scale.map(|scale| scale.key()),
            it.soil,
            it.note,
            hash
        ];
        if self.tx.execute(include_str!("photo/add.sql"), given)? == 0 {
            return Ok(false);
        }
        for (size, bytes) in [Size::Full, Size::Small].into_iter().zip(pictures) {
            self.tx.execute(include_str!("picture/add.sql"), params![it.key, size.key(), bytes])?;
        }
        Ok(true)
    }

    /// The names of a tree's photos.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn photo_keys(&self, tree: &str) -> Result<Vec<String>, Error> {
        row::rows(self.tx, include_str!("photo/keys.sql"), [tree], |row| Ok(row.get(0)?))
    }

    /// Sets what is of known size on a photo, and where the soil is; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_scale(&self, photo: &str, scale: Option<Scale>, soil: Option<f64>) -> Result<bool, Error> {
        let given = params![photo, scale.map(|scale| scale.key()), soil];
        Ok(self.tx.execute(include_str!("photo/scale.sql"), given)? > 0)
    }

    /// Sets the strokes that mend the outline on a photo; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when there is no such photo.
    pub fn set_brush(&self, photo: &str, it: &[Stroke]) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("brush/set.sql"), params![photo, strokes_key(it)])? > 0)
    }

    /// Takes a photo back, with its pictures and the lines on it.
    ///
    /// # Errors
    ///
    /// [`Error::InUse`] when a wire's or a repot's record holds it, [`Error::Unknown`] when there is no such photo.
    pub fn remove_photo(&self, photo: &str) -> Result<(), Error> {
        let holders = row::rows(self.tx, include_str!("photo/holders.sql"), [photo], |row| {
            let (tree, what): (String, String) = (row.get(0)?, row.get(1)?);
            Ok(format!("{what} of {tree}"))
        })?;
        if let Some(by) = holders.into_iter().next() {
            return Err(Error::InUse { what: "photo", key: photo.to_string(), by });
        }
        self.tx.execute(include_str!("trace/remove.sql"), [photo])?;
        self.tx.execute(include_str!("brush/remove.sql"), [photo])?;
        self.tx.execute(include_str!("picture/remove.sql"), [photo])?;
        match self.tx.execute(include_str!("photo/remove.sql"), [photo])? {
            0 => Err(Error::Unknown { what: "photo", key: photo.to_string() }),
            _ => Ok(()),
        }
    }

    /// Takes a photo back if nothing rests on it: no wire, no repot, no line, no stroke and no scale; false if something does.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is no such photo.
    pub fn drop_photo(&self, photo: &str) -> Result<bool, Error> {
        let rests: bool = self.tx.query_row(include_str!("photo/rests.sql"), [photo], |row| row.get(0))?;
        if !rests {
            self.remove_photo(photo)?;
        }
        Ok(!rests)
    }

    /// Sets a limb's line on a photo; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when photo or limb are unknown.
    pub fn set_trace(&self, it: &Trace) -> Result<bool, Error> {
        let given = params![it.photo, it.limb, path_key(&it.points)];
        Ok(self.tx.execute(include_str!("trace/set.sql"), given)? > 0)
    }

    /// Takes a limb's line off a photo; false if there was none.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn remove_trace(&self, photo: &str, limb: u32) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("trace/remove_one.sql"), params![photo, limb])? > 0)
    }
}
