//! Rows of how a tree is grown, how large and strong it is, and which colours it shows.

use collection::standing::{Grown, Stature, Tint, Vigour};
use jiff::civil::Date;
use measure::quantity::Centimetre;
use pot::{
    colour::{score::Season, space::Lab},
    fit::{
        frame::Feel,
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
};
use rusqlite::params;

use crate::{
    change::Change,
    error::Error,
    reader::Reader,
    row,
    ware::{money, money_cells},
};

impl Reader {
    /// How each tree is grown, where the grower said anything of it.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn grown(&self) -> Result<Vec<Grown>, Error> {
        row::rows(&self.db, include_str!("grown/all.sql"), [], |row| {
            Ok(Grown {
                tree: row.get(0)?,
                style: row::word_if("grown", "style", row.get(1)?, Style::from_key)?,
                kind: row::word_if("grown", "kind of tree", row.get(2)?, Kind::from_key)?,
                feel: row::word_if("grown", "look", row.get(3)?, Feel::from_key)?,
                age: row::word_if("grown", "age", row.get(4)?, Age::from_key)?,
                shown: row::word_if("grown", "season", row.get(5)?, Season::from_key)?,
                asked: money("grown", row.get(6)?, row.get(7)?)?,
            })
        })
    }

    /// Every measured height and trunk, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn statures(&self) -> Result<Vec<Stature>, Error> {
        row::rows(&self.db, include_str!("stature/all.sql"), [], |row| {
            let day: String = row.get(1)?;
            Ok(Stature {
                tree: row.get(0)?,
                day: row::date("stature", &day)?,
                height: Centimetre(row.get(2)?),
                trunk: Centimetre(row.get(3)?),
            })
        })
    }

    /// Every colour of a tree.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn tints(&self) -> Result<Vec<Tint>, Error> {
        row::rows(&self.db, include_str!("tint/all.sql"), [], |row| {
            let season: String = row.get(1)?;
            Ok(Tint {
                tree: row.get(0)?,
                season: row::word("tint", "season", &season, Season::from_key)?,
                colour: Lab { l: row.get(2)?, a: row.get(3)?, b: row.get(4)? },
                measured: row.get(5)?,
            })
        })
    }

    /// How strong each tree was judged, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn vigours(&self) -> Result<Vec<Vigour>, Error> {
        row::rows(&self.db, include_str!("vigour/all.sql"), [], |row| {
            let (day, strength): (String, String) = (row.get(1)?, row.get(2)?);
            Ok(Vigour {
                tree: row.get(0)?,
                day: row::date("vigour", &day)?,
                strength: row::word("vigour", "strength", &strength, Strength::from_key)?,
                why: row.get(3)?,
            })
        })
    }
}

impl Change<'_> {
    /// Sets how a tree is grown; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn set_grown(&self, it: &Grown) -> Result<bool, Error> {
        let (coins, currency) = money_cells(it.asked);
        let given = params![
            it.tree,
            it.style.map(Style::key),
            it.kind.map(Kind::key),
            it.feel.map(Feel::key),
            it.age.map(Age::key),
            it.shown.map(Season::key),
            coins,
            currency
        ];
        Ok(self.tx.execute(include_str!("grown/set.sql"), given)? > 0)
    }

    /// Writes down a tree's size; false if that was known. A second one on one day replaces the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_stature(&self, it: &Stature) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.height.0, it.trunk.0];
        Ok(self.tx.execute(include_str!("stature/add.sql"), given)? > 0)
    }

    /// Takes back a tree's size of a day.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none.
    pub fn remove_stature(&self, tree: &str, day: Date) -> Result<(), Error> {
        self.remove_of_day(include_str!("stature/remove.sql"), "measured size", tree, day)
    }

    /// Sets a colour of a tree; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn set_tint(&self, it: &Tint) -> Result<bool, Error> {
        let Lab { l, a, b } = it.colour;
        let given = params![it.tree, it.season.key(), l, a, b, it.measured];
        Ok(self.tx.execute(include_str!("tint/set.sql"), given)? > 0)
    }

    /// Writes down how strong a tree was judged; false if that was known. A second one on one day replaces the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_vigour(&self, it: &Vigour) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.strength.key(), it.why];
        Ok(self.tx.execute(include_str!("vigour/add.sql"), given)? > 0)
    }

    /// Takes back how strong a tree was judged on a day.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none.
    pub fn remove_vigour(&self, tree: &str, day: Date) -> Result<(), Error> {
        self.remove_of_day(include_str!("vigour/remove.sql"), "judgement of strength", tree, day)
    }

    /// Takes back a tree's row of a day.
    pub(crate) fn remove_of_day(
        &self,
        statement: &str,
        what: &'static str,
        tree: &str,
        day: Date,
    ) -> Result<(), Error> {
        match self.tx.execute(statement, params![tree, day.to_string()])? {
            0 => Err(Error::Unknown { what, key: format!("{tree} on {day}") }),
            _ => Ok(()),
        }
    }
}
