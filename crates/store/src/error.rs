//! What can go wrong with the file of the collection.

use std::path::PathBuf;

use crate::header::Fault;

/// Why the store did not do it; the old state stands whole after every one of these.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// No room left on the disk.
    #[error("the disk is full; nothing was changed")]
    DiskFull,
    /// Someone else changed the record since it was read.
    #[error(
        "“{key}” was changed meanwhile (you started from version {yours}, it is at {stored}); nothing was written"
    )]
    Stale {
        /// Whose record.
        key: String,
        /// The version the edit started from.
        yours: u32,
        /// The version that stands.
        stored: u32,
    },
    /// An act on another page or device changed the record since it was read.
    #[error("changed meanwhile on another device ({words}, {at}); nothing was saved")]
    ChangedMeanwhile {
        /// What kind of record.
        record: &'static str,
        /// When, in UTC.
        at: String,
        /// What was done, as the log says it.
        words: String,
    },
    /// The page was drawn from a collection that has since been put back to an older copy.
    #[error("the collection was restored from a copy since the page was opened; nothing was saved")]
    OtherHistory,
    /// A name that is not in the collection.
    #[error("no {what} in the collection is called “{key}”")]
    Unknown {
        /// Tree, place or look.
        what: &'static str,
        /// The name given.
        key: String,
    },
    /// The pot is held for another tree that season.
    #[error("the pot “{pot}” is held for “{by}” that season; nothing was written")]
    Held {
        /// Which pot.
        pot: String,
        /// The tree that it is held for.
        by: String,
    },
    /// Something else rests on it.
    #[error("the {what} “{key}” cannot go: it is held by {by}; nothing was changed")]
    InUse {
        /// Pot or photo.
        what: &'static str,
        /// The name given.
        key: String,
        /// What rests on it.
        by: String,
    },
    /// A row that cannot be read back as what it should be.
    #[error("a row of {table} holds “{value}”, which is not a {what}")]
    BadRow {
        /// Which table.
        table: &'static str,
        /// What should stand there.
        what: &'static str,
        /// What stands there.
        value: String,
    },
    /// The file was written by a later Budswell.
    #[error("{0} was written by a later version; update first")]
    Newer(PathBuf),
    /// The file could not be opened, made or copied.
    #[error("{path}: {why}")]
    File {
        /// Which file.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// Another process has the collection open.
    #[error("{0} is open in another Budswell; stop that one first")]
    Open(PathBuf),
    /// Another process kept its lock on the file for too long.
    #[error("the file is in use by another program; try again in a moment")]
    Busy,
    /// There is no such file.
    #[error("there is no collection at {0}")]
    Missing(PathBuf),
    /// The file is something else.
    #[error("{path} is no collection: {fault}")]
    NotACollection {
        /// Which file.
        path: PathBuf,
        /// What it is instead.
        fault: Fault,
    },
    /// The file is gone and its log is still there.
    #[error("{0} is missing, but its log is there; put the file back or restore a backup")]
    OnlyLog(PathBuf),
    /// SQLite cannot make sense of the file.
    #[error("the file is damaged ({0}); restore a backup")]
    Damaged(String),
    /// The file or its folder cannot be written.
    #[error(
        "the file or its folder is read-only; `budswell check` can look it over, and `budswell backup --to` can copy it"
    )]
    ReadOnly,
    /// A copy or a backup that is not sound.
    #[error("{path} is not sound: {}", listed(faults))]
    Faulty {
        /// Which file.
        path: PathBuf,
        /// What is wrong with it.
        faults: Vec<String>,
    },
    /// A file of that name is there already.
    #[error("{0} is there already; choose another name")]
    Exists(PathBuf),
    /// A backup that is the collection itself.
    #[error("{0} is the collection itself, not a backup of it")]
    SameFile(PathBuf),
    /// Anything else SQLite says.
    #[error("the store says: {0}")]
    Sqlite(rusqlite::Error),
    /// A migration failed; the backup stands beside the file.
    #[error("the store could not be brought up to date: {0}")]
    Migration(#[from] rusqlite_migration::Error),
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Error {
        use rusqlite::ErrorCode as Code;
        match error.sqlite_error_code() {
            Some(Code::DiskFull) => Error::DiskFull,
            Some(Code::DatabaseCorrupt | Code::NotADatabase) => Error::Damaged(error.to_string()),
            Some(Code::ReadOnly) => Error::ReadOnly,
            Some(Code::DatabaseBusy | Code::DatabaseLocked) => Error::Busy,
            _ => Error::Sqlite(error),
        }
    }
}

/// The first few of a list, and how many more there are.
fn listed(faults: &[String]) -> String {
    const SHOWN: usize = 5;

    let shown = faults.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join("; ");
    match faults.len().saturating_sub(SHOWN) {
        0 => shown,
        more => format!("{shown}; and {more} more"),
    }
}
