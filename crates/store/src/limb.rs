//! Rows of limbs, calipers, fronts, aims and the rules that are switched off.

use collection::limb::{Aim, Caliper, Front, Limb};
use form::traced::{Clock, TipClass};
use measure::quantity::{Degrees, Millimetre};
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

pub(crate) fn clock(table: &'static str, hour: u8) -> Result<Clock, Error> {
    Clock::new(hour).map_err(|_| row::bad(table, "hour of the clock", &hour.to_string()))
}

impl Reader {
    /// Every limb, tree by tree and by its number.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn limbs(&self) -> Result<Vec<Limb>, Error> {
        row::rows(&self.db, include_str!("limb/all.sql"), [], |row| {
            let since: String = row.get(6)?;
            let hour: Option<u8> = row.get(4)?;
            Ok(Limb {
                tree: row.get(0)?,
                number: row.get(1)?,
                bearer: row.get(2)?,
                name: row.get(3)?,
                clock: hour.map(|hour| clock("limb", hour)).transpose()?,
                tips: row::word_if("limb", "number of tips", row.get(5)?, TipClass::from_key)?,
                since: row::date("limb", &since)?,
                gone: row::date_if("limb", row.get(7)?)?,
            })
        })
    }

    /// Every caliper reading with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn calipers(&self) -> Result<Vec<(i64, Caliper)>, Error> {
        row::rows(&self.db, include_str!("caliper/all.sql"), [], |row| {
            let day: String = row.get(3)?;
            let reading = Caliper {
                tree: row.get(1)?,
                limb: row.get(2)?,
                day: row::date("caliper", &day)?,
                along: Millimetre(row.get(4)?),
                thick: Millimetre(row.get(5)?),
            };
            Ok((row.get(0)?, reading))
        })
    }

    /// Every front, tree by tree, today's first.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn fronts(&self) -> Result<Vec<Front>, Error> {
        row::rows(&self.db, include_str!("front/all.sql"), [], |row| {
            Ok(Front {
                tree: row.get(0)?,
                rank: row.get(1)?,
                clock: clock("front", row.get(2)?)?,
                sideways: Degrees(row.get(3)?),
                forward: Degrees(row.get(4)?),
                why: row.get(5)?,
            })
        })
    }

    /// What the grower is after, tree by tree.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn aims(&self) -> Result<Vec<Aim>, Error> {
        row::rows(&self.db, include_str!("aim/all.sql"), [], |row| {
            let [high, trunk, needles]: [Option<f64>; 3] = [row.get(1)?, row.get(2)?, row.get(4)?];
            let shown: Option<String> = row.get(5)?;
            Ok(Aim {
                tree: row.get(0)?,
                high: high.map(Millimetre),
                trunk: trunk.map(Millimetre),
                needles: needles.map(Millimetre),
                shown: row::date_if("aim", shown)?,
                words: row.get(3)?,
            })
        })
    }

    /// Tree and rule of each rule that is switched off.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn rules_off(&self) -> Result<Vec<(String, String)>, Error> {
        row::rows(&self.db, include_str!("rule_off/all.sql"), [], |row| Ok((row.get(0)?, row.get(1)?)))
    }
}

impl Change<'_> {
    /// Adds a limb, or changes the one of its number; false if it stands so already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when tree or bearer are unknown.
    pub fn set_limb(&self, it: &Limb) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.number,
            it.bearer,
            it.name,
            it.clock.map(Clock::hour),
            it.tips.map(TipClass::key),
            it.since.to_string(),
            it.gone.map(|day| day.to_string())
        ];
        Ok(self.tx.execute(include_str!("limb/set.sql"), given)? > 0)
    }

    /// Writes down that a limb came off, with all it bears; its number is never used again. What was meant for that part ends, and wires
    /// on it are off.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn remove_limb(&self, tree: &str, number: u32, day: jiff::civil::Date) -> Result<(), Error> {
        let day = day.to_string();
        for statement in [
            include_str!("limb/end_wishes.sql"),
            include_str!("limb/end_wires.sql"),
            include_str!("limb/remove.sql"),
        ] {
            self.tx.execute(statement, params![tree, number, day])?;
        }
        self.tx.execute(include_str!("limb/clear_wires.sql"), params![tree, number])?;
        Ok(())
    }

    /// Takes back that a limb came off on a day: it stands again with all it bore, with what was meant for them and the wires on them.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn revive_limb(&self, tree: &str, number: u32, day: jiff::civil::Date) -> Result<(), Error> {
        let day = day.to_string();
        for statement in [
            include_str!("limb/revive.sql"),
            include_str!("limb/reopen_wishes.sql"),
            include_str!("limb/reopen_wires.sql"),
        ] {
            self.tx.execute(statement, params![tree, number, day])?;
        }
        Ok(())
    }

    /// Writes down a caliper reading; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_caliper(&self, it: &Caliper) -> Result<bool, Error> {
        let given = params![it.tree, it.limb, it.day.to_string(), it.along.0, it.thick.0];
        Ok(self.tx.execute(include_str!("caliper/add.sql"), given)? > 0)
    }

    /// Takes back a caliper reading by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_caliper(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("caliper/remove.sql"), [id])?, "caliper reading", id)
    }

    /// Sets a front; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn set_front(&self, it: &Front) -> Result<bool, Error> {
        let given = params![it.tree, it.rank, it.clock.hour(), it.sideways.0, it.forward.0, it.why];
        Ok(self.tx.execute(include_str!("front/set.sql"), given)? > 0)
    }

    /// Drops a front; false if there was none.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn remove_front(&self, tree: &str, rank: u8) -> Result<bool, Error> {
        Ok(self.tx.execute(include_str!("front/remove.sql"), params![tree, rank])? > 0)
    }

    /// Sets what the grower is after; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn set_aim(&self, it: &Aim) -> Result<bool, Error> {
        let mm = |it: Option<Millimetre>| it.map(|mm| mm.0);
        let shown = it.shown.map(|day| day.to_string());
        let given = params![it.tree, mm(it.high), mm(it.trunk), it.words, mm(it.needles), shown];
        Ok(self.tx.execute(include_str!("aim/set.sql"), given)? > 0)
    }

    /// Switches a rule off for a tree, or on again; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the tree is unknown.
    pub fn set_rule(&self, tree: &str, rule: &str, on: bool) -> Result<bool, Error> {
        let statement =
            if on { include_str!("rule_off/remove.sql") } else { include_str!("rule_off/add.sql") };
        Ok(self.tx.execute(statement, [tree, rule])? > 0)
    }
}
