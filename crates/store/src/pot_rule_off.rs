//! Rows of the rules about pots that are switched off.

use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// The rules about pots that are switched off, by their names.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn pot_rules_off(&self) -> Result<Vec<String>, Error> {
        row::rows(&self.db, include_str!("pot_rule_off/all.sql"), [], |row| Ok(row.get(0)?))
    }
}

impl Change<'_> {
    /// Switches a rule about pots off, or on again; false if it stood so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn switch_pot_rule(&self, rule: &str, off: bool) -> Result<bool, Error> {
        let words =
            if off { include_str!("pot_rule_off/add.sql") } else { include_str!("pot_rule_off/remove.sql") };
        Ok(self.tx.execute(words, params![rule])? > 0)
    }
}
