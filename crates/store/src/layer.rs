//! Rows of layers and wounds.

use collection::layer::{Layer, Way, Wound};
use form::layer::Roots;
use measure::quantity::{Degrees, Millimetre};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every layer and cutting with its number, by the day it was begun.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn layers(&self) -> Result<Vec<(i64, Layer)>, Error> {
        row::rows(&self.db, include_str!("layer/all.sql"), [], |row| {
            let (way, day): (String, String) = (row.get(3)?, row.get(4)?);
            let lean: Option<f64> = row.get(9)?;
            let layer = Layer {
                tree: row.get(1)?,
                limb: row.get(2)?,
                way: row::word("layer", "way", &way, Way::from_key)?,
                day: row::date("layer", &day)?,
                seen: row::date_if("layer", row.get(5)?)?,
                roots: row::word_if("layer", "state of roots", row.get(6)?, Roots::from_key)?,
                apart: row::date_if("layer", row.get(7)?)?,
                child: row.get(8)?,
                lean: lean.map(Degrees),
                note: row.get(10)?,
            };
            Ok((row.get(0)?, layer))
        })
    }

    /// Every wound with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn wounds(&self) -> Result<Vec<(i64, Wound)>, Error> {
        row::rows(&self.db, include_str!("wound/all.sql"), [], |row| {
            let day: String = row.get(3)?;
            let wound = Wound {
                tree: row.get(1)?,
                limb: row.get(2)?,
                day: row::date("wound", &day)?,
                wide: Millimetre(row.get(4)?),
                sealed: row.get(5)?,
                closed: row::date_if("wound", row.get(6)?)?,
                note: row.get(7)?,
            };
            Ok((row.get(0)?, wound))
        })
    }
}

impl Change<'_> {
    /// Writes down a layer or cutting; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_layer(&self, it: &Layer) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.limb,
            it.way.key(),
            it.day.to_string(),
            it.seen.map(|day| day.to_string()),
            it.roots.map(Roots::key),
            it.apart.map(|day| day.to_string()),
            it.child,
            it.lean.map(|lean| lean.0),
            it.note
        ];
        Ok(self.tx.execute(include_str!("layer/add.sql"), given)? > 0)
    }

    /// Writes down what was seen of a layer, or that it was cut off.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn change_layer(&self, id: i64, it: &Layer) -> Result<(), Error> {
        let given = params![
            id,
            it.seen.map(|day| day.to_string()),
            it.roots.map(Roots::key),
            it.apart.map(|day| day.to_string()),
            it.child,
            it.lean.map(|lean| lean.0),
            it.note
        ];
        row::changed(self.tx.execute(include_str!("layer/change.sql"), given)?, "layer", id)
    }

    /// Takes back a layer by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_layer(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("layer/remove.sql"), [id])?, "layer", id)
    }

    /// Writes down a wound; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_wound(&self, it: &Wound) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.limb,
            it.day.to_string(),
            it.wide.0,
            it.sealed,
            it.closed.map(|day| day.to_string()),
            it.note
        ];
        Ok(self.tx.execute(include_str!("wound/add.sql"), given)? > 0)
    }

    /// Writes down that a wound was sealed or has closed.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn change_wound(&self, id: i64, it: &Wound) -> Result<(), Error> {
        let given = params![id, it.sealed, it.closed.map(|day| day.to_string()), it.note];
        row::changed(self.tx.execute(include_str!("wound/change.sql"), given)?, "wound", id)
    }

    /// Takes back a wound by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_wound(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("wound/remove.sql"), [id])?, "wound", id)
    }
}
