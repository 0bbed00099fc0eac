//! Rows of the bad days of places, and of what they cost each tree.

use collection::incident::{Cause, Cost, Incident, Part, Said, Under};
use measure::quantity::Celsius;
use rusqlite::params;

use crate::{change::Change, error::Error, reader::Reader, row};

impl Reader {
    /// Every bad day that was kept with its number, by time.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn incidents(&self) -> Result<Vec<(i64, Incident)>, Error> {
        let mut incidents = row::rows(&self.db, include_str!("incident/all.sql"), [], |row| {
            let [cause, said, day] = [row.get::<_, String>(2)?, row.get(3)?, row.get(11)?];
            let expected: Option<f64> = row.get(10)?;
            let incident = Incident {
                place: row.get(1)?,
                cause: row::word("incident", "cause", &cause, Cause::from_key)?,
                said: row::word("incident", "answer", &said, Said::from_key)?,
                sensor: row.get(4)?,
                span: [row.get(5)?, row.get(6)?],
                hours: row.get(7)?,
                lowest: Celsius(row.get(8)?),
                highest: Celsius(row.get(9)?),
                expected: expected.map(Celsius),
                day: row::date("incident", &day)?,
                trees: Vec::new(),
            };
            Ok((row.get::<_, i64>(0)?, incident))
        })?;
        for (incident, cost) in self.costs()? {
            if let Some((_, it)) = incidents.iter_mut().find(|(id, _)| *id == incident) {
                it.trees.push(cost);
            }
        }
        Ok(incidents)
    }

    fn costs(&self) -> Result<Vec<(i64, Cost)>, Error> {
        row::rows(&self.db, include_str!("incident_tree/all.sql"), [], |row| {
            let part = row::word_if("incident_tree", "part", row.get(4)?, Part::from_key)?;
            let (line, reached): (Option<f64>, Option<f64>) = (row.get(5)?, row.get(6)?);
            let under = part.zip(line.zip(reached)).map(|(part, (line, reached))| Under {
                part,
                line: Celsius(line),
                reached: Celsius(reached),
            });
            Ok((row.get(0)?, Cost { tree: row.get(1)?, cold: row.get(2)?, later: row.get(3)?, under }))
        })
    }
}

impl Change<'_> {
    /// Keeps a bad day with its trees; false if the same stands already. One that happened takes the place of those it overlaps, for it has
    /// gone on since.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store, also when the place or a tree is unknown.
    pub fn add_incident(&self, it: &Incident) -> Result<bool, Error> {
        let [since, until] = it.span;
        let given = params![
            it.place,
            it.cause.key(),
            it.said.key(),
            it.sensor,
            since,
            until,
            it.hours,
            it.lowest.0,
            it.highest.0,
            it.expected.map(|it| it.0),
            it.day.to_string()
        ];
        let overlapped: Vec<i64> = row::rows(
            self.tx,
            include_str!("incident/overlapping.sql"),
            params![it.place, since, until],
            |row| Ok(row.get(0)?),
        )?;
        if self.tx.execute(include_str!("incident/add.sql"), given)? == 0 {
            return Ok(false);
        }
        let id = self.tx.last_insert_rowid();
        overlapped.into_iter().try_for_each(|id| self.remove_incident(id))?;
        let mut add = self.tx.prepare_cached(include_str!("incident_tree/add.sql"))?;
        for (rank, cost) in (1..).zip(&it.trees) {
            let under = cost.under;
            add.execute(params![
                id,
                rank,
                cost.tree,
                cost.cold,
                cost.later,
                under.map(|it| it.part.key()),
                under.map(|it| it.line.0),
                under.map(|it| it.reached.0)
            ])?;
        }
        Ok(true)
    }

    /// Undoes the keeping of a bad day by its number.
    ///
    /// # Errors
    ///
    /// [`Error::Unknown`] when there is none of that number.
    pub fn remove_incident(&self, id: i64) -> Result<(), Error> {
        self.tx.execute(include_str!("incident_tree/remove.sql"), [id])?;
        row::changed(self.tx.execute(include_str!("incident/remove.sql"), [id])?, "bad day", id)
    }
}
