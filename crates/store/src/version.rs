//! The version an edit starts from: the act its page was drawn after, held against the act that last changed the record.

use std::fmt;

use jiff::civil::Date;
use rusqlite::{Connection, OptionalExtension, params};

use crate::{change::Change, error::Error, reader::Reader, store::Store};

/// How far the collection had come when a page was drawn: its last act, and when that was.
///
/// The moment is held too, since a collection brought back from a copy counts its acts anew.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Version {
    act: i64,
    at: String,
}

impl Version {
    /// Reads a version as [`fmt::Display`] writes it; none where it is none.
    ///
    /// ```
    /// use store::version::Version;
    ///
    /// let read = Version::read("57-2026-03-20T12:00:00Z").expect("an act and its moment");
    /// assert_eq!(read.to_string(), "57-2026-03-20T12:00:00Z");
    /// assert!(Version::read("").is_none() && Version::read("57").is_none() && Version::read("soon-now").is_none());
    /// ```
    pub fn read(typed: &str) -> Option<Version> {
        let (act, at) = typed.trim().split_once('-')?;
        Some(Version { act: act.parse().ok()?, at: at.to_string() })
    }
}

impl fmt::Display for Version {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.act, self.at)
    }
}

/// One record that an edit changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    kind: &'static str,
    key: String,
}

/// Lines that have a number and are changed or deleted by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Numbered {
    Intention,
    Cut,
    Wire,
    Layer,
    Wound,
    Caliper,
    Look,
    Work,
    Drink,
    Toll,
    Incident,
    IceCheck,
}

/// Lines of a tree of which each day has one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Daily {
    Vigour,
    Stature,
    PotLook,
    Crown,
    Potted,
    Move,
    Repot,
}

impl Record {
    fn of(kind: &'static str, key: impl ToString) -> Record {
        Record { kind, key: key.to_string() }
    }

    /// A line of a tree by a number as typed.
    fn of_tree(kind: &'static str, tree: &str, number: &str) -> Record {
        let typed = number.trim();
        let number = typed.parse::<i64>().map_or_else(|_| typed.to_string(), |number| number.to_string());
        Record::of(kind, format!("{tree}/{number}"))
    }

    /// The site and its units.
    pub fn site() -> Record {
        Record::of("site", "")
    }

    /// The times of the rounds.
    pub fn rounds() -> Record {
        Record::of("round", "")
    }

    /// A limb.
    pub fn limb(tree: &str, number: &str) -> Record {
        Record::of_tree("limb", tree, number)
    }

    /// All limbs of a tree.
    pub fn limbs(tree: &str) -> Record {
        Record::of("limbs", tree)
    }

    /// What is left of a thing in the shed.
    pub fn stock(item: &str) -> Record {
        Record::of("stock", item.trim())
    }

    /// What a mix is made of.
    pub fn blend(mix: &str) -> Record {
        Record::of("blend", mix)
    }

    /// A mix and its bucket test.
    pub fn mix(key: &str) -> Record {
        Record::of("mix", key)
    }

    /// How a tree is grown.
    pub fn grown(tree: &str) -> Record {
        Record::of("grown", tree)
    }

    /// A colour of a tree.
    pub fn tint(tree: &str, season: &str) -> Record {
        Record::of("tint", format!("{tree}/{}", season.trim()))
    }

    /// What is meant for a tree in a season.
    pub fn meant(tree: &str, season: &str) -> Record {
        Record::of_tree("meant", tree, season)
    }

    /// What is meant for a limb.
    pub fn wish(tree: &str, limb: &str) -> Record {
        Record::of_tree("wish", tree, limb)
    }

    /// What a tree shall become.
    pub fn aim(tree: &str) -> Record {
        Record::of("aim", tree)
    }

    /// A front of a tree.
    pub fn front(tree: &str, rank: &str) -> Record {
        Record::of_tree("front", tree, rank)
    }

    /// The wire of a gauge on the shelf; the gauge in millimetres.
    pub fn coil(metal: &str, gauge: f64) -> Record {
        Record::of("coil", format!("{metal}/{}", (gauge * 100.0).round() as i64))
    }

    /// A photo of a tree, with the lines traced on it and the paint over its outline.
    pub fn photo(key: &str) -> [Record; 3] {
        ["photo", "trace", "brush"].map(|kind| Record::of(kind, key))
    }

    /// A photo of a pot.
    pub fn pot_photo(key: &str) -> Record {
        Record::of("pot_photo", key)
    }

    /// An absence.
    pub fn away(uid: &str, start: &str) -> Record {
        Record::of("away", format!("{uid}/{}", start.trim()))
    }

    /// A line by its number.
    pub fn numbered(kind: Numbered, id: i64) -> Record {
        let kind = match kind {
            Numbered::Intention => "intention",
            Numbered::Cut => "cut",
            Numbered::Wire => "wire",
            Numbered::Layer => "layer",
            Numbered::Wound => "wound",
            Numbered::Caliper => "caliper",
            Numbered::Look => "look",
            Numbered::Work => "work",
            Numbered::Drink => "drink",
            Numbered::Toll => "toll",
            Numbered::Incident => "incident",
            Numbered::IceCheck => "ice_check",
        };
        Record::of(kind, id)
    }

    /// A tree's line of a day.
    pub fn daily(kind: Daily, tree: &str, day: Date) -> Record {
        let kind = match kind {
            Daily::Vigour => "vigour",
            Daily::Stature => "stature",
            Daily::PotLook => "pot_look",
            Daily::Crown => "crown",
            Daily::Potted => "potted",
            Daily::Move => "move",
            Daily::Repot => "repot",
        };
        Record::of(kind, format!("{tree}/{day}"))
    }
}

/// What an edit starts from: its version, and the records that must not have changed since.
#[derive(Clone, Debug)]
pub(crate) struct Start {
    from: Version,
    records: Vec<Record>,
}

impl Reader {
    /// How far the collection has come. Read before what a page shows, so that a page is never newer than its version.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn version(&self) -> Result<Version, Error> {
        let newest = self.db.query_row(include_str!("version/newest.sql"), [], |row| {
            Ok(Version { act: row.get(0)?, at: row.get(1)? })
        });
        Ok(newest.optional()?.unwrap_or_default())
    }
}

impl Change<'_> {
    /// Refuses where one of the records changed after the version.
    ///
    /// # Errors
    ///
    /// [`Error::ChangedMeanwhile`] with the act that changed it.
    pub(crate) fn stands_since(&self, start: &Start) -> Result<(), Error> {
        start.stands_in(self.tx)
    }
}

impl Start {
    fn stands_in(&self, db: &Connection) -> Result<(), Error> {
        let Start { from, records } = self;
        let at: Option<String> =
            db.query_row(include_str!("version/at.sql"), [from.act], |row| row.get(0)).optional()?;
        if at.unwrap_or_default() != from.at {
            return Err(Error::OtherHistory);
        }
        for record in records {
            let given = params![record.kind, record.key];
            let changed: Option<i64> =
                db.query_row(include_str!("version/changed.sql"), given, |row| row.get(0)).optional()?;
            let Some(act) = changed.filter(|act| *act > from.act) else { continue };
            let told =
                db.query_row(include_str!("version/act.sql"), [act], |row| Ok((row.get(0)?, row.get(1)?)));
            let (at, words) = told.optional()?.unwrap_or_default();
            return Err(Error::ChangedMeanwhile { record: record.kind, at, words });
        }
        Ok(())
    }
}

impl Store {
    /// Runs an edit whose first transaction is refused, with nothing written, if one of the records changed after the version. It is looked
    /// at before too, since what the edit says of a record that has moved on is beside the point.
    ///
    /// # Errors
    ///
    /// [`Error::ChangedMeanwhile`] or [`Error::OtherHistory`], or what the edit returns.
    pub fn starting_from<T, E: From<Error>>(
        &mut self,
        from: Version,
        records: Vec<Record>,
        edit: impl FnOnce(&mut Store) -> Result<T, E>,
    ) -> Result<T, E> {
        let start = Start { from, records };
        start.stands_in(&self.db)?;
        self.start = Some(start);
        let done = edit(self);
        self.start = None;
        done
    }
}

#[cfg(test)]
mod tests;
