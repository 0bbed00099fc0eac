//! Rows of wires and of the coils on the shelf.

use collection::wire::{Coil, Outcome, Wire};
use form::wire::metal::Metal;
use measure::quantity::{Gram, Millimetre};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every wire with its number, by the day it was put on.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn wires(&self) -> Result<Vec<(i64, Wire)>, Error> {
        row::rows(&self.db, include_str!("wire/all.sql"), [], |row| {
            let (on, metal): (String, String) = (row.get(3)?, row.get(4)?);
            let (thick, bend): (Option<f64>, Option<f64>) = (row.get(7)?, row.get(8)?);
            let wire = Wire {
                tree: row.get(1)?,
                limb: row.get(2)?,
                on: row::date("wire", &on)?,
                metal: row::word("wire", "metal", &metal, Metal::from_key)?,
                gauge: Millimetre(row.get(5)?),
                strands: row.get(6)?,
                thick: thick.map(Millimetre),
                bend: bend.map(Millimetre),
                seen: row::date_if("wire", row.get(9)?)?,
                off: row::date_if("wire", row.get(10)?)?,
                outcome: row::word_if("wire", "outcome", row.get(11)?, Outcome::from_key)?,
                grown_in: row.get(12)?,
                photo: row.get(13)?,
                note: row.get(14)?,
            };
            Ok((row.get(0)?, wire))
        })
    }

    /// The wire on the shelf.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn coils(&self) -> Result<Vec<Coil>, Error> {
        row::rows(&self.db, include_str!("coil/all.sql"), [], |row| {
            let metal: String = row.get(0)?;
            Ok(Coil {
                metal: row::word("coil", "metal", &metal, Metal::from_key)?,
                gauge: Millimetre(row.get(1)?),
                left: Gram(row.get(2)?),
            })
        })
    }
}

impl Change<'_> {
    /// Writes down a wire; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_wire(&self, it: &Wire) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.limb,
            it.on.to_string(),
            it.metal.key(),
            it.gauge.0,
            it.strands,
            it.thick.map(|mm| mm.0),
            it.bend.map(|mm| mm.0),
            it.seen.map(|day| day.to_string()),
            it.off.map(|day| day.to_string()),
            it.outcome.map(Outcome::key),
            it.grown_in,
            it.photo,
            it.note
        ];
        Ok(self.tx.execute(include_str!("wire/add.sql"), given)? > 0)
    }

    /// Writes down what was seen on a wire, or that it came off.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn change_wire(&self, id: i64, it: &Wire) -> Result<(), Error> {
        let given = params![
            id,
            it.seen.map(|day| day.to_string()),
            it.off.map(|day| day.to_string()),
            it.outcome.map(Outcome::key),
            it.grown_in,
            it.photo,
            it.note
        ];
        row::changed(self.tx.execute(include_str!("wire/change.sql"), given)?, "wire", id)
    }

    /// Takes back a wire by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_wire(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("wire/remove.sql"), [id])?, "wire", id)
    }

    /// Sets how much wire of a gauge is on the shelf; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_coil(&self, it: &Coil) -> Result<bool, Error> {
        let given = params![it.metal.key(), it.gauge.0, it.left.0];
        Ok(self.tx.execute(include_str!("coil/set.sql"), given)? > 0)
    }
}
