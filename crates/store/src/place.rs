//! Rows of places.

use collection::place::{Facing, Lamp, Place};
use measure::{
    quantity::{Hours, PhotonFlux},
    shelter::Shelter,
};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every place, in the order they were added.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn places(&self) -> Result<Vec<Place>, Error> {
        row::rows(&self.db, include_str!("place/all.sql"), [], |row| {
            let (shelter, facing): (String, Option<String>) = (row.get(2)?, row.get(3)?);
            let lamp: (Option<f64>, Option<f64>) = (row.get(4)?, row.get(5)?);
            let facing = facing.map(|word| row::word("place", "way to face", &word, Facing::from_key));
            Ok(Place {
                key: row.get(0)?,
                name: row.get(1)?,
                shelter: row::word("place", "shelter", &shelter, Shelter::from_key)?,
                facing: facing.transpose()?,
                lamp: lamp
                    .0
                    .zip(lamp.1)
                    .map(|(flux, hours)| Lamp { flux: PhotonFlux(flux), hours: Hours(hours) }),
                capacity: row.get(6)?,
            })
        })
    }
}

impl Change<'_> {
    /// Adds a place; false if one of that key stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_place(&self, place: &Place) -> Result<bool, Error> {
        self.put_place(include_str!("place/add.sql"), place)
    }

    /// Changes a place's record; false if there is none of that key.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn edit_place(&self, place: &Place) -> Result<bool, Error> {
        self.put_place(include_str!("place/edit.sql"), place)
    }

    fn put_place(&self, statement: &str, place: &Place) -> Result<bool, Error> {
        let given = params![
            place.key,
            place.name,
            place.shelter.key(),
            place.facing.map(Facing::key),
            place.lamp.map(|lamp| lamp.flux.0),
            place.lamp.map(|lamp| lamp.hours.0),
            place.capacity
        ];
        Ok(self.tx.execute(statement, given)? > 0)
    }
}
