//! Rows of what stands in the shed, and of what mixes are made of.

use collection::stock::{Blend, Item, Stock};
use pot::table::Component;
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

fn component(word: &str) -> Result<Component, Error> {
    row::word("mix_part", "component", word, Component::from_key)
}

impl Reader {
    /// What stands in the shed.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn stock(&self) -> Result<Vec<Stock>, Error> {
        row::rows(&self.db, include_str!("stock/all.sql"), [], |row| {
            let (item, day): (String, String) = (row.get(0)?, row.get(4)?);
            Ok(Stock {
                item: row::word("stock", "thing that a repot uses", &item, Item::from_key)?,
                left: row.get(1)?,
                pack: row.get(2)?,
                delivery: row.get(3)?,
                day: row::date("stock", &day)?,
            })
        })
    }

    /// What each mix is made of, where the grower said so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn blends(&self) -> Result<Vec<Blend>, Error> {
        let parts = row::rows(&self.db, include_str!("mix_part/all.sql"), [], |row| {
            let (mix, word): (String, String) = (row.get(0)?, row.get(1)?);
            Ok((mix, component(&word)?, row.get::<_, f64>(2)?))
        })?;
        let of_one_mix = |mix: &[(String, Component, f64)]| Blend {
            mix: mix[0].0.clone(),
            parts: mix.iter().map(|(_, component, parts)| (*component, *parts)).collect(),
        };
        Ok(parts.chunk_by(|a, b| a.0 == b.0).map(of_one_mix).collect())
    }
}

impl Change<'_> {
    /// Sets what stands in the shed of an item; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn set_stock(&self, it: &Stock) -> Result<bool, Error> {
        let given = params![it.item.key(), it.left, it.pack, it.delivery, it.day.to_string()];
        Ok(self.tx.execute(include_str!("stock/set.sql"), given)? > 0)
    }

    /// Sets what a mix is made of, in place of what was said before; false if that was so.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the mix is unknown.
    pub fn set_blend(&self, it: &Blend) -> Result<bool, Error> {
        let stored = row::rows(self.tx, include_str!("mix_part/of_mix.sql"), [&it.mix], |row| {
            let word: String = row.get(0)?;
            Ok((component(&word)?, row.get::<_, f64>(1)?))
        })?;
        if stored == it.parts {
            return Ok(false);
        }
        self.tx.execute(include_str!("mix_part/remove.sql"), [&it.mix])?;
        for (component, parts) in &it.parts {
            let given = params![it.mix, component.key(), parts];
            self.tx.execute(include_str!("mix_part/add.sql"), given)?;
        }
        Ok(true)
    }
}
