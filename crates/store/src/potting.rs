//! Rows of pots, mixes, what stands in them, and crowns.

use collection::potting::{BucketTest, Crown, Mix, Pot, Potted, Wall};
use measure::quantity::{Centimetre, Gram, Litre, Millimetre, Share};
use pot::{outline::Outline, vessel::Vessel};
use rusqlite::{Row, params};

use crate::{change::Change, error::Error, reader::Reader, row};

/// The outline that goes by this word, with its sizes in cm and what rounds it.
fn outline(word: &str, length: f64, width: f64, shape: Option<f64>) -> Result<Outline, Error> {
    Outline::from_key(word, Centimetre(length), Centimetre(width), shape)
        .ok_or_else(|| row::bad("pot", "outline", word))
}

pub(crate) fn pot(row: &Row<'_>) -> Result<Pot, Error> {
    let (word, shape): (String, Option<f64>) = (row.get(2)?, row.get(5)?);
    let middle: (Option<f64>, Option<f64>) = (row.get(6)?, row.get(7)?);
    let wall: String = row.get(17)?;
    Ok(Pot {
        key: row.get(0)?,
        name: row.get(1)?,
        vessel: Vessel {
            top: outline(&word, row.get(3)?, row.get(4)?, shape)?,
            middle: match middle {
                (Some(length), Some(width)) => Some(outline(&word, length, width, shape)?),
                _ => None,
            },
            bottom: outline(&word, row.get(8)?, row.get(9)?, shape)?,
            height: Centimetre(row.get(10)?),
            feet: Centimetre(row.get(11)?),
            floor: Centimetre(row.get(12)?),
            wall: Centimetre(row.get(13)?),
            lip: Centimetre(row.get(14)?),
            gap: Centimetre(row.get(15)?),
            measured: row.get::<_, Option<f64>>(16)?.map(Litre),
        },
        wall: row::word("pot", "wall", &wall, Wall::from_key)?,
    })
}

fn mix(row: &Row<'_>) -> Result<Mix, Error> {
    let weighed: [Option<f64>; 5] = [row.get(4)?, row.get(5)?, row.get(6)?, row.get(7)?, row.get(8)?];
    let tested = match weighed {
        [Some(height), Some(volume), Some(dry), Some(flooded), Some(drained)] => Some(BucketTest {
            height: Centimetre(height),
            volume: Litre(volume),
            dry: Gram(dry),
            flooded: Gram(flooded),
            drained: Gram(drained),
            inside: row.get::<_, Option<f64>>(9)?.map(Share),
        }),
        _ => None,
    };
    Ok(Mix {
        key: row.get(0)?,
        name: row.get(1)?,
        grain: [Millimetre(row.get(2)?), Millimetre(row.get(3)?)],
        tested,
    })
}

impl Reader {
    /// Every pot, in the order they were added.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pots(&self) -> Result<Vec<Pot>, Error> {
        row::rows(&self.db, include_str!("pot/all.sql"), [], pot)
    }

    /// Every mix, in the order they were added.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn mixes(&self) -> Result<Vec<Mix>, Error> {
        row::rows(&self.db, include_str!("mix/all.sql"), [], mix)
    }

    /// What stood in which pot from which day on, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn potted(&self) -> Result<Vec<Potted>, Error> {
        row::rows(&self.db, include_str!("potted/all.sql"), [], |row| {
            let day: String = row.get(1)?;
            Ok(Potted {
                tree: row.get(0)?,
                day: row::date("potted", &day)?,
                pot: row.get(2)?,
                mix: row.get(3)?,
            })
        })
    }

    /// Every measured crown, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn crowns(&self) -> Result<Vec<Crown>, Error> {
        row::rows(&self.db, include_str!("crown/all.sql"), [], |row| {
            let day: String = row.get(1)?;
            Ok(Crown {
                tree: row.get(0)?,
                day: row::date("crown", &day)?,
                length: Centimetre(row.get(2)?),
                width: Centimetre(row.get(3)?),
            })
        })
    }
}

impl Change<'_> {
    /// Adds a pot; false if one of that key stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_pot(&self, pot: &Pot) -> Result<bool, Error> {
        self.put_pot(include_str!("pot/add.sql"), pot)
    }

    pub(crate) fn put_pot(&self, statement: &str, pot: &Pot) -> Result<bool, Error> {
        let vessel = &pot.vessel;
        let (word, [length, width], shape) = vessel.top.key();
        let middle = vessel.middle.map(|middle| middle.key().1);
        let [bottom_length, bottom_width] = vessel.bottom.key().1;
        let given = params![
            pot.key,
            pot.name,
            word,
            length.0,
            width.0,
            shape,
            middle.map(|[length, _]| length.0),
            middle.map(|[_, width]| width.0),
            bottom_length.0,
            bottom_width.0,
            vessel.height.0,
            vessel.feet.0,
            vessel.floor.0,
            vessel.wall.0,
            vessel.lip.0,
            vessel.gap.0,
            vessel.measured.map(|volume| volume.0),
            pot.wall.key()
        ];
        Ok(self.tx.execute(statement, given)? > 0)
    }

    /// Adds a mix; false if one of that key stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_mix(&self, mix: &Mix) -> Result<bool, Error> {
        let tested = mix.tested;
        let given = params![
            mix.key,
            mix.name,
            mix.grain[0].0,
            mix.grain[1].0,
            tested.map(|test| test.height.0),
            tested.map(|test| test.volume.0),
            tested.map(|test| test.dry.0),
            tested.map(|test| test.flooded.0),
            tested.map(|test| test.drained.0),
            tested.and_then(|test| test.inside).map(|share| share.0)
        ];
        Ok(self.tx.execute(include_str!("mix/add.sql"), given)? > 0)
    }

    /// Gives a mix the numbers of a bucket test, in place of any before.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is no such mix.
    pub fn test_mix(&self, key: &str, test: &BucketTest) -> Result<(), Error> {
        let given = params![
            key,
            test.height.0,
            test.volume.0,
            test.dry.0,
            test.flooded.0,
            test.drained.0,
            test.inside.map(|share| share.0)
        ];
        match self.tx.execute(include_str!("mix/test.sql"), given)? {
            0 => Err(Error::Unknown { what: "mix", key: key.to_string() }),
            _ => Ok(()),
        }
    }

    /// Writes down that a tree stands in a pot; false if that was known. A second one on one day replaces the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree, the pot or the mix is unknown.
    pub fn add_potted(&self, it: &Potted) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.pot, it.mix];
        Ok(self.tx.execute(include_str!("potted/add.sql"), given)? > 0)
    }

    /// Writes down a crown; false if that was known. A second one on one day replaces the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_crown(&self, it: &Crown) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.length.0, it.width.0];
        Ok(self.tx.execute(include_str!("crown/add.sql"), given)? > 0)
    }
}
