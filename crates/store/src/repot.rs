//! Rows of repots: what is meant, what was seen in the pot, what was done, and what a tree had to bear.

use collection::{
    event::Work,
    potting::Potted,
    repot::{Meant, PotLook, Repot, Toll},
    toll,
};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Degrees, Millimetre, Minutes, Seconds, Share};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

/// A toll's word, with its number where it has one.
fn told((what, amount): (&str, Option<f64>)) -> String {
    amount.map_or_else(|| what.to_string(), |amount| format!("{what} {amount}"))
}

impl Reader {
    /// What is meant for each tree, season by season.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn meant(&self) -> Result<Vec<Meant>, Error> {
        row::rows(&self.db, include_str!("meant/all.sql"), [], |row| {
            Ok(Meant {
                tree: row.get(0)?,
                season: row.get(1)?,
                repot: row.get(2)?,
                cut: row.get::<_, Option<f64>>(3)?.map(Share),
                mix: row.get(4)?,
                show: row.get(5)?,
                why: row.get(6)?,
            })
        })
    }

    /// What was seen of each tree in its pot, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pot_looks(&self) -> Result<Vec<PotLook>, Error> {
        row::rows(&self.db, include_str!("pot_look/all.sql"), [], |row| {
            let day: String = row.get(1)?;
            Ok(PotLook {
                tree: row.get(0)?,
                day: row::date("pot_look", &day)?,
                drained: row.get::<_, Option<f64>>(2)?.map(Seconds),
                twice_a_day: row.get(3)?,
                rocks: row.get(4)?,
                roots: row.get(5)?,
                crumbled: row.get(6)?,
                falling: row.get(7)?,
                note: row.get(8)?,
            })
        })
    }

    /// Every repot, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn repots(&self) -> Result<Vec<Repot>, Error> {
        row::rows(&self.db, include_str!("repot/all.sql"), [], |row| {
            let day: String = row.get(1)?;
            let (proud, took): (Option<f64>, Option<f64>) = (row.get(7)?, row.get(15)?);
            let lean: (Option<f64>, Option<f64>) = (row.get(9)?, row.get(10)?);
            let pad: [Option<f64>; 3] = [row.get(11)?, row.get(12)?, row.get(13)?];
            Ok(Repot {
                tree: row.get(0)?,
                day: row::date("repot", &day)?,
                pot: row.get(2)?,
                mix: row.get(3)?,
                cut: Share(row.get(4)?),
                bare: row.get(5)?,
                found: row.get(6)?,
                proud: proud.map(Millimetre),
                clock: row.get(8)?,
                lean: lean.0.zip(lean.1).map(|(sideways, forward)| [Degrees(sideways), Degrees(forward)]),
                pad: match pad {
                    [Some(length), Some(width), Some(depth)] => Some([length, width, depth].map(Centimetre)),
                    _ => None,
                },
                photo: row.get(14)?,
                took: took.map(Minutes),
                note: row.get(16)?,
            })
        })
    }

    /// Every toll with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn tolls(&self) -> Result<Vec<(i64, Toll)>, Error> {
        row::rows(&self.db, include_str!("toll/all.sql"), [], |row| {
            let (day, what): (String, String) = (row.get(2)?, row.get(3)?);
            let amount: Option<f64> = row.get(4)?;
            let toll = Toll {
                tree: row.get(1)?,
                day: row::date("toll", &day)?,
                what: toll::insult(&what, amount)
                    .ok_or_else(|| row::bad("toll", "toll with its number", &told((&what, amount))))?,
                note: row.get(5)?,
            };
            Ok((row.get(0)?, toll))
        })
    }
}

impl Change<'_> {
    /// Sets what is meant for a tree in a season; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when tree or mix are unknown.
    pub fn set_meant(&self, it: &Meant) -> Result<bool, Error> {
        let cut = it.cut.map(|share| share.0);
        let given = params![it.tree, it.season, it.repot, cut, it.mix, it.show, it.why];
        Ok(self.tx.execute(include_str!("meant/set.sql"), given)? > 0)
    }

    /// Drops what is meant for a tree in a season; false if nothing was.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn clear_meant(&self, tree: &str, season: i16) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("meant/remove.sql"), params![tree, season])? > 0)
    }

    /// Writes down a look at a tree in its pot; false if that was known. A second one on one day replaces the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_pot_look(&self, it: &PotLook) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.day.to_string(),
            it.drained.map(|seconds| seconds.0),
            it.twice_a_day,
            it.rocks,
            it.roots,
            it.crumbled,
            it.falling,
            it.note
        ];
        Ok(self.tx.execute(include_str!("pot_look/add.sql"), given)? > 0)
    }

    /// Takes back a look at a tree in its pot.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none.
    pub fn remove_pot_look(&self, tree: &str, day: Date) -> Result<(), Error> {
        self.remove_of_day(include_str!("pot_look/remove.sql"), "look at the pot", tree, day)
    }

    /// Writes down a repot; false if one of that tree and day stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when tree, pot, mix or photo are unknown.
    pub fn add_repot(&self, it: &Repot) -> Result<bool, Error> {
        let pad = it.pad.map(|pad| pad.map(|cm| cm.0));
        let given = params![
            it.tree,
            it.day.to_string(),
            it.pot,
            it.mix,
            it.cut.0,
            it.bare,
            it.found,
            it.proud.map(|mm| mm.0),
            it.clock,
            it.lean.map(|[sideways, _]| sideways.0),
            it.lean.map(|[_, forward]| forward.0),
            pad.map(|[length, ..]| length),
            pad.map(|[_, width, _]| width),
            pad.map(|[.., depth]| depth),
            it.photo,
            it.took.map(|minutes| minutes.0),
            it.note
        ];
        Ok(self.tx.execute(include_str!("repot/add.sql"), given)? > 0)
    }

    /// Takes back a repot of a day, and forgets what it put an end to; what stands in which pot is not touched.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none.
    pub fn remove_repot(&self, tree: &str, day: Date) -> Result<(), Error> {
        self.forget_before(tree, day)?;
        self.remove_of_day(include_str!("repot/remove.sql"), "repot", tree, day)
    }

    /// Takes back that a tree was put in a pot on a day.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when it was not.
    pub fn remove_potted(&self, tree: &str, day: Date) -> Result<(), Error> {
        self.remove_of_day(include_str!("potted/remove.sql"), "potting", tree, day)
    }

    /// Takes in out of a sheet that a tree was put in a pot; false if it was put in any that day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree, the pot or the mix is unknown.
    pub fn bring_potted(&self, it: &Potted) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.pot, it.mix];
        Ok(self.tx.execute(include_str!("potted/bring.sql"), given)? > 0)
    }

    /// Takes in root work that a repot tells of; false if a repot or a slip-pot of that day is written down.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn bring_root_work(&self, it: &Work) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.kind.key(), it.note];
        Ok(self.tx.execute(include_str!("work/bring_root.sql"), given)? > 0)
    }

    /// The trees that stand in a pot, each by its last potting.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn sitting(&self, pot: &str) -> Result<Vec<Potted>, Error> {
        row::rows(self.tx, include_str!("potted/sitting.sql"), [pot], |row| {
            let day: String = row.get(1)?;
            Ok(Potted {
                tree: row.get(0)?,
                day: row::date("potted", &day)?,
                pot: row.get(2)?,
                mix: row.get(3)?,
            })
        })
    }

    /// Writes down a toll; false if the very same stands already.
    ///
    /// # Errors
    ///
    /// [`Error::BadRow`] for an insult that has a record of its own, [`Error`] from the store when the tree is unknown.
    pub fn add_toll(&self, it: &Toll) -> Result<bool, Error> {
        let (what, amount) = toll::key(it.what)
            .ok_or_else(|| row::bad("toll", "toll to be written down", &format!("{:?}", it.what)))?;
        let given = params![it.tree, it.day.to_string(), what, amount, it.note];
        Ok(self.tx.execute(include_str!("toll/add.sql"), given)? > 0)
    }

    /// Takes back a toll by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_toll(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("toll/remove.sql"), [id])?, "toll", id)
    }
}
