//! The collection's file: opened, brought up to date, changed one act at a time.

use std::{
    fs,
    path::{Path, PathBuf},
    sync::atomic::{AtomicU64, Ordering},
    time::Duration,
};

use jiff::{Timestamp, tz::TimeZone};
use rusqlite::{Connection, OpenFlags, Transaction};
use rusqlite_migration::M;

use crate::{
    change::Change,
    copies::{Copies, Occasion},
    error::Error,
    header::Fault,
    layout,
    lock::Lock,
    read_only::{ReadOnly, beside, not_another_file},
    reader::Reader,
    sums::Tally,
    version::Start,
};

/// Number of today's layout.
pub const LAYOUT: usize = 16;

/// Every step from an empty file to today's layout, in order; only ever added to.
pub(crate) const STEPS: [M<'_>; LAYOUT] = [
    M::up(include_str!("../migrations/0001_house.sql")),
    M::up(include_str!("../migrations/0002_days_of_a_model.sql")),
    M::up(include_str!("../migrations/0003_typical_year.sql")),
    M::up(include_str!("../migrations/0004_pots_and_water.sql")),
    M::up(include_str!("../migrations/0005_sensors.sql")),
    M::up(include_str!("../migrations/0006_limbs.sql")),
    M::up(include_str!("../migrations/0007_shelf.sql")),
    M::up(include_str!("../migrations/0008_versions.sql")),
    M::up(include_str!("../migrations/0009_elements_of_weather.sql")),
    M::up(include_str!("../migrations/0010_sums.sql")),
    M::up(include_str!("../migrations/0011_roots_of_work.sql")),
    M::up(include_str!("../migrations/0012_leaves.sql")),
    M::up(include_str!("../migrations/0013_candidates.sql")),
    M::up(include_str!("../migrations/0014_sensors_of_a_place.sql")),
    M::up(include_str!("../migrations/0015_incidents.sql")),
    M::up(include_str!("../migrations/0016_aims.sql")),
];

/// Name of the file in the collection's folder.
pub const FILE: &str = "budswell.db";

/// How long one connection waits for another.
pub(crate) const PATIENCE: Duration = Duration::from_secs(5);

/// What a change is, in the grower's words; it stands in the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    /// The site was set or changed.
    SetSite,
    /// A place was added.
    AddPlace(String),
    /// A tree was added.
    AddTree(String),
    /// A tree's record was changed.
    EditTree(String),
    /// Trees were moved.
    Move(Vec<String>),
    /// Buds were looked at.
    Look(String),
    /// Leaves were looked at, of this tree or these.
    LeafLook(Vec<String>),
    /// A line of a tree's diary was taken back.
    TakeBack(String),
    /// Work was written down.
    Work(String),
    /// A pot was added.
    AddPot(String),
    /// A mix was added.
    AddMix(String),
    /// A mix was put to the bucket test.
    TestMix(String),
    /// A rule about pots was switched off or on.
    PotRule(String),
    /// A tree was put in a pot.
    Pot(String),
    /// A crown was measured.
    Crown(String),
    /// A photo of a tree was kept, changed or taken back.
    Photo(String),
    /// Limbs were traced or their records changed.
    Trace(String),
    /// Limbs were measured.
    Measure(String),
    /// A front was chosen or dropped, or what the grower is after was told.
    Front(String),
    /// A rule was switched off or on for a tree.
    Rule(String),
    /// Something was meant for a limb, or no longer.
    Intend(String),
    /// A limb was cut.
    Cut(String),
    /// A wire was put on, looked at or taken off.
    Wire(String),
    /// The wire on the shelf was weighed.
    Coil,
    /// A layer was begun, looked at or cut off.
    Layer(String),
    /// A wound was written down, sealed or has closed.
    Wound(String),
    /// A pot's record was changed.
    EditPot(String),
    /// A pot was deleted.
    DropPot(String),
    /// A photo of a pot was kept or taken back.
    PotPhoto(String),
    /// The colour of a pot was read off its photo.
    ReadGlaze(String),
    /// A pot went, broke or came back.
    Whereabouts(String),
    /// Something was said of a pot and a tree.
    Reserve(String),
    /// What was said of a pot and a tree was taken back.
    Unreserve(String),
    /// One pot was liked better than another.
    Like(String),
    /// How a tree is grown was told.
    Grown(String),
    /// A tree's height and trunk were measured.
    Stature(String),
    /// A colour of a tree was told.
    Tint(String),
    /// A tree's strength was judged.
    Vigour(String),
    /// What is meant for a tree this season was told.
    Mean(String),
    /// A tree was looked at in its pot.
    PotLook(String),
    /// A tree was repotted.
    Repot(String),
    /// Something that a tree had to bear was written down.
    Toll(String),
    /// The shed was counted.
    Stock(String),
    /// What a mix is made of was told.
    Blend(String),
    /// A round was walked, or part of it: how many pots.
    Round(usize),
    /// An absence was written down or taken back.
    Away(String),
    /// The times of the rounds were set.
    SetRounds,
    /// A file was imported.
    Import(String),
    /// A forecast was fetched.
    Fetch,
    /// A sensor was given a token.
    GiveToken(String),
    /// A sensor's token was taken away.
    TakeToken(String),
    /// A bad day of a place was kept, or this was undone.
    Incident(String),
    /// A sensor of a place was held in ice water, or this was undone.
    IceCheck(String),
    /// A backup of this name was put in the place of everything.
    Restore(String),
    /// A sensor sent readings; noted once a day, or the log would hold nothing else.
    Readings(String),
}

impl Act {
    /// The act in a few words.
    pub fn words(&self) -> String {
        match self {
            Act::SetSite => "set the site".into(),
            Act::AddPlace(key) => format!("added the place {key}"),
            Act::AddTree(key) => format!("added the tree {key}"),
            Act::EditTree(key) => format!("changed the record of {key}"),
            Act::Move(keys) => format!("moved {}", keys.join(", ")),
            Act::Look(key) => format!("looked at the buds of {key}"),
            Act::LeafLook(keys) => format!("looked at the leaves of {}", keys.join(", ")),
            Act::TakeBack(key) => format!("took back a line in the diary of {key}"),
            Act::Work(key) => format!("wrote down work on {key}"),
            Act::AddPot(key) => format!("added the pot {key}"),
            Act::AddMix(key) => format!("added the mix {key}"),
            Act::TestMix(key) => format!("put the mix {key} to the bucket test"),
            Act::PotRule(rule) => format!("switched the rule about pots {rule}"),
            Act::Pot(key) => format!("wrote down the pot of {key}"),
            Act::Crown(key) => format!("measured the crown of {key}"),
            Act::Photo(key) => format!("changed the photos of {key}"),
            Act::Trace(key) => format!("traced the limbs of {key}"),
            Act::Measure(key) => format!("measured limbs of {key}"),
            Act::Front(key) => format!("changed front or aim of {key}"),
            Act::Rule(key) => format!("changed which rules hold for {key}"),
            Act::Intend(key) => format!("changed what is meant for a limb of {key}"),
            Act::Cut(key) => format!("wrote down a cut on {key}"),
            Act::Wire(key) => format!("wrote down a wire on {key}"),
            Act::Coil => "weighed the wire on the shelf".into(),
            Act::Layer(key) => format!("wrote down a layer on {key}"),
            Act::Wound(key) => format!("wrote down a wound on {key}"),
            Act::EditPot(key) => format!("changed the record of the pot {key}"),
            Act::DropPot(key) => format!("deleted the pot {key}"),
            Act::PotPhoto(key) => format!("changed the photos of the pot {key}"),
            Act::ReadGlaze(key) => format!("read the colour of the pot {key} off a photo"),
            Act::Whereabouts(key) => format!("wrote down where the pot {key} is"),
            Act::Reserve(key) => format!("said which tree the pot {key} is for"),
            Act::Unreserve(key) => format!("took back what was said of the pot {key}"),
            Act::Like(key) => format!("held two pots against {key}"),
            Act::Grown(key) => format!("told how {key} is grown"),
            Act::Stature(key) => format!("measured height and trunk of {key}"),
            Act::Tint(key) => format!("told a colour of {key}"),
            Act::Vigour(key) => format!("judged the strength of {key}"),
            Act::Mean(key) => format!("changed what is meant for {key} this season"),
            Act::PotLook(key) => format!("looked at {key} in its pot"),
            Act::Repot(key) => format!("repotted {key}"),
            Act::Toll(key) => format!("wrote down what {key} had to bear"),
            Act::Stock(key) => format!("counted the {key} in the shed"),
            Act::Blend(key) => format!("told what the mix {key} is made of"),
            Act::Round(1) => "wrote down one pot of a round".into(),
            Act::Round(pots) => format!("wrote down a round of {pots} pots"),
            Act::Away(words) => format!("changed an absence, {words}"),
            Act::SetRounds => "set the times of the rounds".into(),
            Act::Import(name) => format!("imported {name}"),
            Act::Fetch => "fetched a forecast".into(),
            Act::GiveToken(name) => format!("let the sensor {name} send readings"),
            Act::TakeToken(name) => format!("no longer lets the sensor {name} send readings"),
            Act::Incident(place) => format!("changed the bad days of {place}"),
            Act::IceCheck(place) => format!("changed the ice-water checks of {place}"),
            Act::Restore(name) => format!("restored the backup {name}"),
            Act::Readings(name) => format!("the sensor {name} sent readings"),
        }
    }

    fn note(&self) -> &'static str {
        match self {
            Act::Readings(_) => include_str!("act/add_once_a_day.sql"),
            _ => include_str!("act/add.sql"),
        }
    }
}

/// The one writer of a collection.
#[derive(Debug)]
pub struct Store {
    pub(crate) db: Connection,
    pub(crate) home: Home,
    pub(crate) tally: Tally,
    /// What the edit at hand starts from.
    pub(crate) start: Option<Start>,
    /// Held so that nobody replaces the file meanwhile.
    _lock: Option<Lock>,
}

/// Where the file lives.
#[derive(Clone, Debug)]
pub(crate) enum Home {
    Disk(PathBuf),
    Memory(String),
}

static MEMORIES: AtomicU64 = AtomicU64::new(0);

impl Store {
    /// Opens the collection in a folder, making both when they are not there.
    ///
    /// Before a migration of a file that holds something, a checked copy is left in the folder's `backups`.
    ///
    /// # Errors
    ///
    /// [`Error`] when the folder cannot be made, the file is no collection, or it is from a later version.
    pub fn open(folder: &Path) -> Result<Store, Error> {
        fs::create_dir_all(folder).map_err(|why| Error::File { path: folder.to_path_buf(), why })?;
        let path = folder.join(FILE);
        let lock = Lock::shared(folder)?;
        let has_log = fs::metadata(beside(&path, "-wal")).is_ok_and(|log| log.len() > 0);
        if path.exists() {
            not_another_file(&path, has_log)?;
        } else if has_log {
            return Err(Error::OnlyLog(path)); // SQLite would delete the log
        }
        let db = Connection::open(&path)?;
        db.busy_timeout(PATIENCE)?;
        let layout = match layout::identified(&db, &path) {
            Err(Error::NotACollection { fault: Fault::Bare, .. }) => 0,
            told => told?,
        };
        if 0 < layout && layout < layout::NEWEST {
            let now = TimeZone::system().to_datetime(Timestamp::now());
            let occasion = Occasion::BeforeLayout(layout::NEWEST);
            Copies::of_collection(folder).add(&ReadOnly::open(&path)?, now, &occasion)?;
        }
        Store::prepared(db, Home::Disk(path), Some(lock))
    }

    /// A collection that lives as long as the process; used by tests and by the demo.
    ///
    /// # Errors
    ///
    /// [`Error`] when SQLite cannot start.
    ///
    /// ```
    /// let store = store::store::Store::in_memory()?;
    /// assert!(store.reader()?.trees()?.is_empty());
    /// # Ok::<(), store::error::Error>(())
    /// ```
    pub fn in_memory() -> Result<Store, Error> {
        let number = MEMORIES.fetch_add(1, Ordering::Relaxed);
        let name = format!("file:budswell-{number}?mode=memory&cache=shared");
        let db = Connection::open_with_flags(&name, memory_flags())?;
        db.busy_timeout(PATIENCE)?;
        Store::prepared(db, Home::Memory(name), None)
    }

    /// Sets the writer up. Each act is on the disk before it is acknowledged, readings as well as the grower's own: the log is
    /// waited for at every commit.
    fn prepared(mut db: Connection, home: Home, lock: Option<Lock>) -> Result<Store, Error> {
        db.pragma_update(None, "journal_mode", "WAL")?;
        db.pragma_update(None, "synchronous", "FULL")?;
        db.pragma_update(None, "foreign_keys", true)?;
        layout::bring_up_to_date(&mut db)?;
        let tally = Tally::on(&db)?;
        Ok(Store { db, home, tally, start: None, _lock: lock })
    }

    /// The folder that the collection lives in; none for one in memory.
    pub fn home(&self) -> Option<&Path> {
        match &self.home {
            Home::Disk(path) => path.parent(),
            Home::Memory(_) => None,
        }
    }

    /// A handle that can only read.
    ///
    /// # Errors
    ///
    /// [`Error`] when the file cannot be opened again.
    pub fn reader(&self) -> Result<Reader, Error> {
        let db = match &self.home {
            Home::Disk(path) => Connection::open_with_flags(
                path,
                OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
            )?,
            Home::Memory(name) => Connection::open_with_flags(name, memory_flags())?,
        };
        db.busy_timeout(PATIENCE)?;
        db.pragma_update(None, "query_only", true)?;
        if matches!(self.home, Home::Memory(_)) {
            // Handles on one memory lock each other's tables, and would be refused instead of waiting.
            db.pragma_update(None, "read_uncommitted", true)?;
        }
        Ok(Reader { db })
    }

    /// Runs `change` whole or not at all, and notes `act` in the log if anything changed. An edit begun by [`Store::starting_from`] is
    /// refused before it if what it edits has changed.
    ///
    /// # Errors
    ///
    /// What `change` returns, or [`Error`] from the store; then nothing was written.
    pub fn transact<T, E: From<Error>>(
        &mut self,
        act: &Act,
        change: impl FnOnce(&Change<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        self.note_open_first()?;
        let (tally, start) = (&self.tally, self.start.take());
        let is_file = matches!(self.home, Home::Disk(_));
        write(&mut self.db, tally, |tx| {
            if is_file {
                // Another process may have folded the log in since.
                let mut note =
                    tx.prepare_cached(include_str!("file_state/set_open.sql")).map_err(Error::from)?;
                note.execute([true]).map_err(Error::from)?;
            }
            let before = tx.total_changes();
            let change_of = Change { tx, tally };
            if let Some(start) = start {
                change_of.stands_since(&start)?;
            }
            let done = change(&change_of)?;
            if tx.total_changes() > before {
                let mut note = tx.prepare_cached(act.note()).map_err(Error::from)?;
                note.execute([act.words()]).map_err(Error::from)?;
            }
            Ok(done)
        })
    }
}

/// Runs `change` in one transaction and keeps the sums over the rows true.
pub(crate) fn write<T, E: From<Error>>(
    db: &mut Connection,
    tally: &Tally,
    change: impl FnOnce(&Transaction<'_>) -> Result<T, E>,
) -> Result<T, E> {
    let tx = db.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate).map_err(Error::from)?;
    tally.begin();
    let before = tx.total_changes();
    let done = change(&tx)?;
    tally.settle(&tx, tx.total_changes() - before)?;
    tx.commit().map_err(Error::from)?;
    Ok(done)
}

fn memory_flags() -> OpenFlags {
    OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_URI
        | OpenFlags::SQLITE_OPEN_NO_MUTEX
}

#[cfg(test)]
mod tests {
    use super::*;
    use climate::record::HourMean;
    use rusqlite_migration::Migrations;

    fn hours(count: i64) -> Vec<HourMean> {
        (0..count).map(|hour| HourMean { at: hour * 3600, temperature: 4.0, filled: false }).collect()
    }

    #[test]
    fn a_full_disk_is_named_and_leaves_the_old_state() {
        let mut store = Store::in_memory().unwrap();
        let few = hours(10);
        store.transact(&Act::Import("few".into()), |change| change.add_station_hours(&few)).unwrap();
        let pages: i64 = store.db.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
        store.db.pragma_update(None, "max_page_count", pages + 1).unwrap();
        let many = hours(100_000);
        let refused = store.transact(&Act::Import("many".into()), |change| change.add_station_hours(&many));
        assert!(matches!(refused, Err(Error::DiskFull)), "{refused:?}");
        assert_eq!(store.reader().unwrap().station_hours().unwrap().len(), 10);
    }

    #[test]
    fn an_act_that_changes_nothing_is_not_noted() {
        let mut store = Store::in_memory().unwrap();
        let hours = hours(3);
        for _ in 0..2 {
            store.transact(&Act::Import("same".into()), |change| change.add_station_hours(&hours)).unwrap();
        }
        assert_eq!(store.reader().unwrap().last_act().unwrap(), 1);
    }

    #[test]
    fn a_file_from_a_later_version_is_left_alone() {
        let folder = std::env::temp_dir().join(format!("budswell-newer-{}", std::process::id()));
        Store::open(&folder).unwrap().db.pragma_update(None, "user_version", 99).unwrap();
        assert!(matches!(Store::open(&folder), Err(Error::Newer(_))));
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn a_reader_cannot_write() {
        let store = Store::in_memory().unwrap();
        assert!(store.reader().unwrap().db.execute("DELETE FROM tree", []).is_err());
    }

    #[test]
    fn every_commit_waits_for_the_disk() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let text: String = store.db.pragma_query_value(None, "journal_mode", |row| row.get(0)).unwrap();
        let full: i64 = store.db.pragma_query_value(None, "synchronous", |row| row.get(0)).unwrap();
        assert_eq!((text.as_str(), full), ("wal", 2));
    }

    #[test]
    fn a_statement_that_fails_leaves_the_sums_true() {
        let mut store = Store::in_memory().unwrap();
        let act = Act::Import("one good, one bad".into());
        store
            .transact(&act, |change| {
                change.add_station_hours(&hours(2))?;
                change
                    .tx
                    .execute("INSERT INTO move (tree, day, place) VALUES ('no', '2026-01-01', 'no')", [])
                    .unwrap_err();
                Ok::<_, Error>(())
            })
            .unwrap();
        assert_eq!(store.reader().unwrap().faults().unwrap(), [""; 0]);
        let refused = store.transact(&act, |change| {
            change.add_station_hours(&hours(9))?;
            Err::<(), _>(Error::DiskFull)
        });
        assert!(refused.is_err());
        store.transact(&act, |change| change.add_station_hours(&hours(3))).unwrap();
        let reader = store.reader().unwrap();
        assert_eq!((reader.faults().unwrap(), reader.station_hours().unwrap().len()), (vec![], 3));
    }

    #[test]
    fn every_migration_is_valid() {
        Migrations::from_slice(&STEPS).validate().unwrap();
    }
}
