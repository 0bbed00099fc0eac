//! What can go wrong with the file of the collection.

use std::path::PathBuf;

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
    /// Anything else SQLite says.
    #[error("the store says: {0}")]
    Sqlite(rusqlite::Error),
    /// A migration failed; the backup stands beside the file.
    #[error("the store could not be brought up to date: {0}")]
    Migration(#[from] rusqlite_migration::Error),
}

impl From<rusqlite::Error> for Error {
    fn from(error: rusqlite::Error) -> Error {
        if error.sqlite_error_code() == Some(rusqlite::ErrorCode::DiskFull) {
            return Error::DiskFull;
        }
        Error::Sqlite(error)
    }
}
