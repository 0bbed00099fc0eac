//! Rows of moves, bud looks and work.

use collection::event::{LeafLook, Look, Move, Sureness, Work, WorkKind};
use jiff::civil::Date;
use measure::{leaf::Leaf, quantity::Share, stage::Stage};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every move, tree by tree and day by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn moves(&self) -> Result<Vec<Move>, Error> {
        row::rows(&self.db, include_str!("move/all.sql"), [], |row| {
            let day: String = row.get(2)?;
            Ok(Move { tree: row.get(0)?, place: row.get(1)?, day: row::date("move", &day)? })
        })
    }

    /// Every bud look with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn looks(&self) -> Result<Vec<(i64, Look)>, Error> {
        row::rows(&self.db, include_str!("look/all.sql"), [], |row| {
            let (day, code, sureness): (String, u8, String) = (row.get(2)?, row.get(3)?, row.get(4)?);
            let look = Look {
                tree: row.get(1)?,
                day: row::date("look", &day)?,
                stage: Stage::from_code(code)
                    .ok_or_else(|| row::bad("look", "bud stage", &code.to_string()))?,
                sureness: row::word("look", "sureness", &sureness, Sureness::from_key)?,
                note: row.get(5)?,
            };
            Ok((row.get(0)?, look))
        })
    }

    /// Every look at leaves with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn leaf_looks(&self) -> Result<Vec<(i64, LeafLook)>, Error> {
        row::rows(&self.db, include_str!("look/leaves.sql"), [], |row| {
            let (day, code, sureness): (String, u8, String) = (row.get(2)?, row.get(3)?, row.get(4)?);
            let look = LeafLook {
                tree: row.get(1)?,
                day: row::date("look", &day)?,
                leaf: Leaf::from_code(code)
                    .ok_or_else(|| row::bad("look", "state of leaves", &code.to_string()))?,
                sureness: row::word("look", "sureness", &sureness, Sureness::from_key)?,
                note: row.get(5)?,
            };
            Ok((row.get(0)?, look))
        })
    }

    /// Every piece of work with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn works(&self) -> Result<Vec<(i64, Work)>, Error> {
        row::rows(&self.db, include_str!("work/all.sql"), [], |row| {
            let (day, kind): (String, String) = (row.get(2)?, row.get(3)?);
            let work = Work {
                tree: row.get(1)?,
                day: row::date("work", &day)?,
                kind: row::word("work", "kind of work", &kind, WorkKind::from_key)?,
                roots: row.get::<_, Option<f64>>(4)?.map(Share),
                note: row.get(5)?,
            };
            Ok((row.get(0)?, work))
        })
    }
}

impl Change<'_> {
    /// Writes down a move; false if the tree stood there already that day. A second move on one day replaces
    /// the first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree or the place is unknown.
    pub fn add_move(&self, it: &Move) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("move/add.sql"), params![it.tree, it.place, it.day.to_string()])? > 0)
    }

    /// Writes down a bud look; false if the very same one stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_look(&self, it: &Look) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.stage.code(), it.sureness.key(), it.note];
        Ok(self.tx.execute(include_str!("look/add.sql"), given)? > 0)
    }

    /// Writes down a look at leaves; false if the very same one stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_leaf_look(&self, it: &LeafLook) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.leaf.code(), it.sureness.key(), it.note];
        Ok(self.tx.execute(include_str!("look/add.sql"), given)? > 0)
    }

    /// Takes back a look at buds or leaves by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_look(&self, id: i64) -> Result<(), Error> {
        match self.tx.execute(include_str!("look/remove.sql"), [id])? {
            0 => Err(Error::Unknown { what: "look", key: id.to_string() }),
            _ => Ok(()),
        }
    }

    /// Takes back a tree's move of a day.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none.
    pub fn remove_move(&self, tree: &str, day: Date) -> Result<(), Error> {
        match self.tx.execute(include_str!("move/remove.sql"), params![tree, day.to_string()])? {
            0 => Err(Error::Unknown { what: "move", key: format!("{tree} on {day}") }),
            _ => Ok(()),
        }
    }

    /// Takes back a piece of work by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_work(&self, id: i64) -> Result<(), Error> {
        match self.tx.execute(include_str!("work/remove.sql"), [id])? {
            0 => Err(Error::Unknown { what: "work", key: id.to_string() }),
            _ => Ok(()),
        }
    }

    /// Adds work; false if the very same stands already. Where only the share of roots is new, that is set.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn add_work(&self, it: &Work) -> Result<bool, Error> {
        let given = params![it.tree, it.day.to_string(), it.kind.key(), it.roots.map(|it| it.0), it.note];
        Ok(self.tx.execute(include_str!("work/add.sql"), given)? > 0)
    }
}
