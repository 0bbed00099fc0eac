//! The log folded into the one file, and the note in the file whether acts may still be in the log.
//!
//! SQLite writes each act to a log beside the file and moves it into the file later. A copy of the file alone lacks what is still
//! in the log, and looks sound. So the file notes that it is open before the first act goes to the log, and that it is closed
//! once everything has been moved: a copy that is noted as open and has no log beside it may lack acts, and can be told so.

use std::{
    fs,
    path::PathBuf,
    thread,
    time::{Duration, UNIX_EPOCH},
};

use rusqlite::Connection;

use crate::{
    error::Error,
    read_only::beside,
    store::{Home, PATIENCE, Store, write},
};

/// How often, and how far apart, the note is tried to be moved into the file before the first act.
const TRIES: u32 = 5;
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

/// What SQLite did of a log.
#[derive(Clone, Copy, Debug)]
struct Moved {
    busy: bool,
    pages: i64,
    moved: i64,
}

impl Moved {
    fn is_whole(self) -> bool {
        !self.busy && self.pages == self.moved
    }
}

/// Whether acts may be in a log beside the file.
pub(crate) fn is_open(db: &Connection) -> Result<bool, Error> {
    Ok(db.prepare_cached(include_str!("file_state/is_open.sql"))?.query_row([], |row| row.get(0))?)
}

fn checkpoint(db: &Connection, sql: &str) -> Result<Moved, Error> {
    Ok(db.query_row(sql, [], |row| Ok(Moved { busy: row.get(0)?, pages: row.get(1)?, moved: row.get(2)? }))?)
}

/// A connection that moves the log into the file beside the writer, which need not wait.
#[derive(Debug)]
pub struct Folder {
    db: Connection,
    path: PathBuf,
}

impl Folder {
    /// A number that changes with the log: its bytes and when they were last written.
    pub fn log_stamp(&self) -> u64 {
        let Ok(log) = fs::metadata(beside(&self.path, "-wal")) else { return 0 };
        let at = log.modified().ok().and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        log.len().wrapping_add(at.map_or(0, |at| at.as_nanos() as u64))
    }

    /// Moves as much of the log as can be moved without making anyone wait; whether that was all.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn fold(&self) -> Result<bool, Error> {
        Ok(checkpoint(&self.db, include_str!("log/passive.sql"))?.is_whole())
    }
}

impl Store {
    /// A second connection that folds the log in while the writer goes on; none for a collection in memory.
    ///
    /// # Errors
    ///
    /// [`Error`] when the file cannot be opened again.
    pub fn folder(&self) -> Result<Option<Folder>, Error> {
        let Home::Disk(path) = &self.home else { return Ok(None) };
        let db = Connection::open(path)?;
        db.busy_timeout(PATIENCE)?;
        db.pragma_update(None, "synchronous", "FULL")?;
        Ok(Some(Folder { db, path: path.clone() }))
    }

    /// Bytes in the log.
    pub fn log_bytes(&self) -> u64 {
        match &self.home {
            Home::Disk(path) => fs::metadata(beside(path, "-wal")).map_or(0, |log| log.len()),
            Home::Memory(_) => 0,
        }
    }

    /// Moves the whole log into the file, notes that the file is closed and empties the log; false while someone who reads
    /// stands in the way, and then nothing is lost and it can be tried again.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn fold(&mut self) -> Result<bool, Error> {
        if matches!(self.home, Home::Memory(_)) || (self.log_bytes() == 0 && !is_open(&self.db)?) {
            return Ok(true);
        }
        if !checkpoint(&self.db, include_str!("log/passive.sql"))?.is_whole() {
            return Ok(false);
        }
        self.note_open(false)?;
        self.db.busy_timeout(Duration::ZERO)?;
        let emptied = checkpoint(&self.db, include_str!("log/truncate.sql"));
        self.db.busy_timeout(PATIENCE)?;
        Ok(emptied?.is_whole())
    }

    /// Notes in the file itself, before an act goes to the log, that the file is open.
    pub(crate) fn note_open_first(&mut self) -> Result<(), Error> {
        if matches!(self.home, Home::Memory(_)) || is_open(&self.db)? {
            return Ok(());
        }
        self.note_open(true)?;
        for _ in 0..TRIES {
            if checkpoint(&self.db, include_str!("log/passive.sql"))?.is_whole() {
                break;
            }
            thread::sleep(BETWEEN_TRIES); // a reader stands in the way; the act must not wait long for the note
        }
        Ok(())
    }

    fn note_open(&mut self, open: bool) -> Result<(), Error> {
        write(&mut self.db, &self.tally, |tx| {
            tx.execute(include_str!("file_state/set_open.sql"), [open])?;
            Ok(())
        })
    }
}

impl Drop for Store {
    fn drop(&mut self) {
        // What stays in the log is read from there the next time.
        let _ = self.fold();
    }
}
