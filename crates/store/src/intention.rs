//! Rows of intentions and cuts.

use collection::intention::{Cut, CutKind, Intention, Wish};
use jiff::civil::Date;
use measure::quantity::Millimetre;
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every intention with its number, by the day it was made.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn intentions(&self) -> Result<Vec<(i64, Intention)>, Error> {
        row::rows(&self.db, include_str!("intention/all.sql"), [], |row| {
            let (wish, made): (String, String) = (row.get(4)?, row.get(10)?);
            let until: Option<f64> = row.get(5)?;
            let intention = Intention {
                tree: row.get(1)?,
                limb: row.get(2)?,
                season: row.get(3)?,
                wish: row::word("intention", "wish", &wish, Wish::from_key)?,
                until: until.map(Millimetre),
                nodes: row.get(6)?,
                by: row::date_if("intention", row.get(7)?)?,
                which: row.get(8)?,
                why: row.get(9)?,
                made: row::date("intention", &made)?,
                ended: row::date_if("intention", row.get(11)?)?,
                end: row.get(12)?,
            };
            Ok((row.get(0)?, intention))
        })
    }

    /// Every cut with its number, by day.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn cuts(&self) -> Result<Vec<(i64, Cut)>, Error> {
        row::rows(&self.db, include_str!("cut/all.sql"), [], |row| {
            let (day, kind): (String, String) = (row.get(3)?, row.get(4)?);
            let counted: (Option<u8>, Option<u8>) = (row.get(6)?, row.get(7)?);
            let cut = Cut {
                tree: row.get(1)?,
                limb: row.get(2)?,
                day: row::date("cut", &day)?,
                kind: row::word("cut", "kind of cut", &kind, CutKind::from_key)?,
                nodes: row.get(5)?,
                broke: counted.0.zip(counted.1).map(|(broke, buds)| [broke, buds]),
                despite: row.get(8)?,
                note: row.get(9)?,
            };
            Ok((row.get(0)?, cut))
        })
    }
}

impl Change<'_> {
    /// Writes down what is meant from a day on; what stood open for the limb ends on that day. False if the very same stands open.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_intention(&self, it: &Intention) -> Result<bool, Error> {
        if self.has_intention(it, None)? {
            return Ok(false);
        }
        self.end_intention_of(&it.tree, it.limb, it.made, "another was made")?;
        self.put_intention(it)
    }

    /// Takes in an intention of a sheet. False if it was made already, whatever became of it; an open one that another has followed
    /// since comes in as ended by that.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn bring_intention(&self, it: &Intention) -> Result<bool, Error> {
        let made = it.made.to_string();
        if self.has_intention(it, Some(&made))? {
            return Ok(false);
        }
        if it.ended.is_some() {
            return self.put_intention(it);
        }
        let later: Option<String> = self.tx.query_row(
            include_str!("intention/later.sql"),
            params![it.tree, it.limb, made],
            |row| row.get(0),
        )?;
        match later {
            None => {
                self.end_intention_of(&it.tree, it.limb, it.made, "another was made")?;
                self.put_intention(it)
            }
            Some(day) => {
                let ended = Some(row::date("intention", &day)?);
                self.put_intention(&Intention { ended, end: "another was made".into(), ..it.clone() })
            }
        }
    }

    /// Whether the same is meant already: open, or made on this day.
    fn has_intention(&self, it: &Intention, made: Option<&String>) -> Result<bool, Error> {
        let (until, by) = (it.until.map(|mm| mm.0), it.by.map(|day| day.to_string()));
        let wish = it.wish.key();
        let found = match made {
            None => self.tx.query_row(
                include_str!("intention/open_same.sql"),
                params![it.tree, it.limb, it.season, wish, until, it.nodes, by, it.which, it.why],
                |row| row.get(0),
            ),
            Some(made) => self.tx.query_row(
                include_str!("intention/same.sql"),
                params![it.tree, it.limb, it.season, wish, until, it.nodes, by, it.which, it.why, made],
                |row| row.get(0),
            ),
        };
        Ok(found?)
    }

    fn put_intention(&self, it: &Intention) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.limb,
            it.season,
            it.wish.key(),
            it.until.map(|mm| mm.0),
            it.nodes,
            it.by.map(|day| day.to_string()),
            it.which,
            it.why,
            it.made.to_string(),
            it.ended.map(|day| day.to_string()),
            it.end
        ];
        Ok(self.tx.execute(include_str!("intention/add.sql"), given)? > 0)
    }

    /// Ends whatever is meant for a limb; false if nothing was.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn end_intention_of(&self, tree: &str, limb: u32, day: Date, how: &str) -> Result<bool, Error> {
        let given = params![tree, limb, day.to_string(), how];
        Ok(self.tx.execute(include_str!("intention/end_of.sql"), given)? > 0)
    }

    /// Ends an intention by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when none of that number is open.
    pub fn end_intention(&self, id: i64, day: Date, how: &str) -> Result<(), Error> {
        let given = params![id, day.to_string(), how];
        row::changed(self.tx.execute(include_str!("intention/end.sql"), given)?, "open intention", id)
    }

    /// Takes an intention back by its number, as if it had never been made.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_intention(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("intention/remove.sql"), [id])?, "intention", id)
    }

    /// Writes down a cut; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the limb is unknown.
    pub fn add_cut(&self, it: &Cut) -> Result<bool, Error> {
        let given = params![
            it.tree,
            it.limb,
            it.day.to_string(),
            it.kind.key(),
            it.nodes,
            it.broke.map(|[broke, _]| broke),
            it.broke.map(|[_, buds]| buds),
            it.despite,
            it.note
        ];
        Ok(self.tx.execute(include_str!("cut/add.sql"), given)? > 0)
    }

    /// Writes down how many buds broke behind a cut, of how many.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is no cut of that number.
    pub fn count_buds(&self, id: i64, [broke, buds]: [u8; 2]) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("cut/count.sql"), params![id, broke, buds])?, "cut", id)
    }

    /// Opens the wish of a limb again that ended so on a day; false if there is none, or another is open by now.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn reopen_intention(&self, tree: &str, limb: u32, day: Date, how: &str) -> Result<bool, Error> {
        let given = params![tree, limb, day.to_string(), how];
        Ok(self.tx.execute(include_str!("intention/reopen.sql"), given)? > 0)
    }

    /// Takes back a cut by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_cut(&self, id: i64) -> Result<(), Error> {
        row::changed(self.tx.execute(include_str!("cut/remove.sql"), [id])?, "cut", id)
    }
}
