//! Rows of what a repot put an end to: the front that stood before it, and the promises that it fulfilled.

use collection::{limb::Front, reserve::Reservation};
use jiff::civil::Date;
use measure::quantity::Degrees;
use rusqlite::{Row, params};

use crate::{change::Change, error::Error, limb::clock, reserve::reservation, row};

/// The front that a repot set, and the one that it found.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontBefore {
    /// The day of the repot.
    pub day: Date,
    /// The front that stood before; none where there was none.
    pub before: Option<Front>,
    /// The front that the repot set.
    pub set: Front,
}

/// Today's front of a tree at an hour, with tilt and why from a column on.
fn front(tree: &str, hour: u8, row: &Row<'_>, at: usize) -> Result<Front, Error> {
    Ok(Front {
        tree: tree.to_string(),
        rank: 0,
        clock: clock("front_before", hour)?,
        sideways: Degrees(row.get(at)?),
        forward: Degrees(row.get(at + 1)?),
        why: row.get(at + 2)?,
    })
}

impl Change<'_> {
    /// Keeps which front stood before a repot that set another.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when there is no such repot.
    pub fn set_front_before(&self, it: &FrontBefore) -> Result<(), Error> {
        let (set, before) = (&it.set, it.before.as_ref());
        let given = params![
            set.tree,
            it.day.to_string(),
            before.map(|front| front.clock.hour()),
            before.map(|front| front.sideways.0),
            before.map(|front| front.forward.0),
            before.map(|front| &front.why),
            set.clock.hour(),
            set.sideways.0,
            set.forward.0,
            set.why
        ];
        self.tx.execute(include_str!("front_before/set.sql"), given)?;
        Ok(())
    }

    /// The front that stood before each repot of a tree that set another, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn fronts_before(&self, tree: &str) -> Result<Vec<FrontBefore>, Error> {
        row::rows(self.tx, include_str!("front_before/of_tree.sql"), [tree], |row| {
            let day: String = row.get(0)?;
            let before: Option<u8> = row.get(5)?;
            Ok(FrontBefore {
                day: row::date("front_before", &day)?,
                before: before.map(|hour| front(tree, hour, row, 6)).transpose()?,
                set: front(tree, row.get(1)?, row, 2)?,
            })
        })
    }

    /// Keeps a promise that a repot of its tree ended.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when there is no such repot.
    pub fn add_promise_before(&self, day: Date, it: &Reservation) -> Result<(), Error> {
        let given =
            params![it.tree, day.to_string(), it.pot, it.season, it.said.key(), it.why, it.made.to_string()];
        self.tx.execute(include_str!("promise_before/add.sql"), given)?;
        Ok(())
    }

    /// The promises that a repot ended.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn promises_before(&self, tree: &str, day: Date) -> Result<Vec<Reservation>, Error> {
        let given = params![tree, day.to_string()];
        row::rows(self.tx, include_str!("promise_before/of_repot.sql"), given, reservation)
    }

    /// Forgets what a repot put an end to.
    pub(crate) fn forget_before(&self, tree: &str, day: Date) -> Result<(), Error> {
        let statements = [include_str!("front_before/remove.sql"), include_str!("promise_before/remove.sql")];
        for statement in statements {
            self.tx.execute(statement, params![tree, day.to_string()])?;
        }
        Ok(())
    }
}
