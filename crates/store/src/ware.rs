//! Rows of what is known of a pot beyond its measures; an edit names the version it started from.

use collection::{
    money::{Currency, Money},
    potting::Pot,
    reserve::Reservation,
    ware::{Glaze, Told, Ware, Whereabouts},
};
use measure::quantity::{Gram, Millimetre};
use pot::{
    colour::space::Lab,
    fit::frame::{Coins, Feel, Finish, Fired, Shape},
};
use rusqlite::{OptionalExtension, Row, ToSql, params};

use crate::{change::Change, error::Error, potting, reader::Reader, row};

/// Money in two cells: the coins and the currency.
pub(crate) fn money(
    table: &'static str,
    coins: Option<i64>,
    currency: Option<String>,
) -> Result<Option<Money>, Error> {
    let Some((coins, currency)) = coins.zip(currency) else { return Ok(None) };
    let currency = row::word(table, "currency", &currency, Currency::from_key)?;
    let coins = u64::try_from(coins).map_err(|_| row::bad(table, "number of coins", &coins.to_string()))?;
    Ok(Some(Money { coins: Coins(coins), currency }))
}

/// The two cells of money.
pub(crate) fn money_cells(money: Option<Money>) -> (Option<i64>, Option<String>) {
    match money {
        None => (None, None),
        // More than any column holds is kept at the most it holds; `Money::MOST` is far below.
        Some(Money { coins: Coins(coins), currency }) => {
            (Some(i64::try_from(coins).unwrap_or(i64::MAX)), Some(currency.key().to_string()))
        }
    }
}

fn glaze(row: &Row<'_>) -> Result<Option<Glaze>, Error> {
    let lab: [Option<f64>; 3] = [row.get(11)?, row.get(12)?, row.get(13)?];
    let spread: Option<f64> = row.get(14)?;
    let [Some(l), Some(a), Some(b)] = lab else { return Ok(None) };
    let told = spread.map_or(Told::Picked, |spread| Told::Measured { spread });
    Ok(Some(Glaze { colour: Lab { l, a, b }, told }))
}

fn ware(row: &Row<'_>) -> Result<Ware, Error> {
    let words: [String; 4] = [row.get(3)?, row.get(4)?, row.get(5)?, row.get(29)?];
    let (hole, empty): (Option<f64>, Option<f64>) = (row.get(7)?, row.get(15)?);
    let worth = money("ware", row.get(26)?, row.get(27)?)?;
    Ok(Ware {
        pot: row.get(0)?,
        training: row.get(1)?,
        count: row.get(2)?,
        shape: row::word("ware", "shape", &words[0], Shape::from_key)?,
        finish: row::word("ware", "finish", &words[1], Finish::from_key)?,
        fired: row::word("ware", "firing", &words[2], Fired::from_key)?,
        drain_holes: row.get(6)?,
        hole: hole.map(Millimetre),
        tie_holes: row.get(8)?,
        feel: row::word_if("ware", "look", row.get(9)?, Feel::from_key)?,
        features: row.get(10)?,
        glaze: glaze(row)?,
        empty: empty.map(Gram),
        maker: row.get(16)?,
        mark: row.get(17)?,
        kiln: row.get(18)?,
        origin: row.get(19)?,
        era: row.get(20)?,
        bought: row::date_if("ware", row.get(21)?)?,
        paid: money("ware", row.get(22)?, row.get(23)?)?,
        seller: row.get(24)?,
        condition: row.get(25)?,
        worth: worth.zip(row::date_if("ware", row.get(28)?)?),
        whereabouts: row::word("ware", "whereabouts", &words[3], Whereabouts::from_key)?,
        spot: row.get(30)?,
        note: row.get(31)?,
        revision: row.get(32)?,
    })
}

impl Reader {
    /// What is known of each pot of which anything is known, in the order it was written down.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn wares(&self) -> Result<Vec<Ware>, Error> {
        row::rows(&self.db, include_str!("ware/all.sql"), [], ware)
    }
}

impl Change<'_> {
    /// Adds what is known of a pot; false if anything is known of it already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when there is no such pot.
    pub fn add_ware(&self, it: &Ware) -> Result<bool, Error> {
        self.put(include_str!("ware/add.sql"), it, None)
    }

    /// Sets what is known of a pot, starting from the version in `it.revision`; 0 where nothing was known.
    ///
    /// # Errors
    ///
    /// [`Error::Stale`] when the record has moved on.
    pub fn set_ware(&self, it: &Ware) -> Result<(), Error> {
        self.same_revision(&it.pot, it.revision)?;
        if it.revision == 0 {
            self.add_ware(it)?;
        } else {
            self.put(include_str!("ware/set.sql"), it, Some(it.revision))?;
        }
        Ok(())
    }

    /// The version that stands; 0 where nothing is known of the pot.
    fn ware_revision(&self, pot: &str) -> Result<u32, Error> {
        let stored: Option<u32> =
            self.tx.query_row(include_str!("ware/revision.sql"), [pot], |row| row.get(0)).optional()?;
        Ok(stored.unwrap_or(0))
    }

    /// Refuses an edit that started from another version than the one that stands.
    pub(crate) fn same_revision(&self, pot: &str, yours: u32) -> Result<(), Error> {
        match self.ware_revision(pot)? {
            stored if stored == yours => Ok(()),
            stored => Err(Error::Stale { key: pot.to_string(), yours, stored }),
        }
    }

    /// Counts a change to what is said of a pot, so that an edit begun before it is refused.
    pub(crate) fn bump(&self, pot: &str) -> Result<(), Error> {
        if self.tx.execute(include_str!("ware/bump.sql"), [pot])? == 0 {
            self.add_ware(&Ware::unknown(&self.pot(pot)?))?;
        }
        Ok(())
    }

    fn pot(&self, key: &str) -> Result<Pot, Error> {
        let found = row::rows(self.tx, include_str!("pot/get.sql"), [key], potting::pot)?.pop();
        found.ok_or_else(|| Error::Unknown { what: "pot", key: key.to_string() })
    }

    fn put(&self, statement: &str, it: &Ware, revision: Option<u32>) -> Result<bool, Error> {
        let lab = it.glaze.map(|glaze| glaze.colour);
        let spread = it.glaze.and_then(|glaze| match glaze.told {
            Told::Measured { spread } => Some(spread),
            Told::Picked => None,
        });
        let (paid, worth) = (money_cells(it.paid), money_cells(it.worth.map(|(money, _)| money)));
        let mut given: Vec<Box<dyn ToSql>> = Vec::with_capacity(33);
        macro_rules! cells {
            ($($cell:expr),+ $(,)?) => { $(given.push(Box::new($cell));)+ };
        }
        cells![it.pot.clone(), it.training, it.count, it.shape.key(), it.finish.key(), it.fired.key()];
        cells![it.drain_holes, it.hole.map(|mm| mm.0), it.tie_holes, it.feel.map(Feel::key), it.features];
        cells![lab.map(|lab| lab.l), lab.map(|lab| lab.a), lab.map(|lab| lab.b), spread];
        cells![it.empty.map(|grams| grams.0), it.maker.clone(), it.mark.clone(), it.kiln.clone()];
        cells![it.origin.clone(), it.era.clone(), it.bought.map(|day| day.to_string()), paid.0, paid.1];
        cells![it.seller.clone(), it.condition.clone(), worth.0, worth.1];
        cells![it.worth.map(|(_, day)| day.to_string()), it.whereabouts.key(), it.spot.clone()];
        cells![it.note.clone()];
        if let Some(revision) = revision {
            cells![revision];
        }
        Ok(self.tx.execute(statement, rusqlite::params_from_iter(given))? > 0)
    }

    /// Changes a pot's name and measures.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is no such pot.
    pub fn edit_pot(&self, pot: &Pot) -> Result<(), Error> {
        match self.put_pot(include_str!("pot/edit.sql"), pot)? {
            false => Err(Error::Unknown { what: "pot", key: pot.key.clone() }),
            true => Ok(()),
        }
    }

    /// Removes a pot with all that is known of it and its photos, starting from a version of its record (0 where nothing is known of
    /// it), and returns what was said of it and any tree.
    ///
    /// # Errors
    ///
    /// [`Error::Stale`] when the record has moved on, [`Error::InUse`] when a tree stands or stood in it, [`Error::Unknown`] when there is
    /// no such pot.
    pub fn remove_pot(&self, pot: &str, revision: u32) -> Result<Vec<Reservation>, Error> {
        self.same_revision(pot, revision)?;
        let users = row::rows(self.tx, include_str!("pot/users.sql"), [pot], |row| {
            let (tree, day): (String, String) = (row.get(0)?, row.get(1)?);
            Ok(format!("{tree}, which was put in it on {day}"))
        })?;
        if let Some(by) = users.into_iter().next() {
            return Err(Error::InUse { what: "pot", key: pot.to_string(), by });
        }
        let ended = self.end_reservations(pot)?;
        self.tx.execute(include_str!("promise_before/remove_pot.sql"), [pot])?;
        self.remove_pot_photos(pot)?;
        self.tx.execute(include_str!("liking/remove.sql"), [pot])?;
        self.tx.execute(include_str!("ware/remove.sql"), [pot])?;
        match self.tx.execute(include_str!("pot/remove.sql"), params![pot])? {
            0 => Err(Error::Unknown { what: "pot", key: pot.to_string() }),
            _ => Ok(ended),
        }
    }
}

#[cfg(test)]
mod tests;
