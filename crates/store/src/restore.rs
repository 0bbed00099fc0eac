//! A backup put in a collection's place, and what stood there kept beside it.

use std::{
    fs,
    path::{Path, PathBuf},
};

use jiff::{ToSpan, civil::DateTime};
use rusqlite::{Connection, OpenFlags};
use tempfile::TempDir;

use crate::{
    copy::{Unfinished, copy_pages, finish, sync_folder, write_copy},
    error::Error,
    lock::Lock,
    read_only::{Log, ReadOnly, Summary, beside, not_another_file},
    store::{Act, FILE, Store},
};

/// What a restore came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restored {
    /// What the collection holds now.
    pub now: Summary,
    /// Whether the log of the backup was there.
    pub log: Log,
    /// Where the collection that stood there before is kept.
    pub kept: Option<PathBuf>,
}

/// Copies a backup to a new file after looking it over; nothing is left when it is not sound.
fn candidate(from: &Path, part: &Path) -> Result<(Summary, Log), Error> {
    let source = ReadOnly::open(from)?;
    let faults = write_copy(&source, part)?;
    if !faults.is_empty() {
        return Err(Error::Faulty { path: from.to_path_buf(), faults });
    }
    Ok((source.summary()?, source.log()))
}

/// Puts a backup into a folder: as a new collection, or in the place of the one that is there, which is kept under a dated name.
///
/// The old log is folded into the old file first, or kept beside it under the same name where that cannot be done, so that it
/// can never be applied to the new file.
///
/// # Errors
///
/// [`Error::NotACollection`], [`Error::Faulty`] or [`Error::Newer`] when the backup will not do, [`Error::Open`] while another
/// process has the collection open, [`Error::SameFile`] for the collection itself; then nothing has changed.
pub fn restore(folder: &Path, from: &Path, at: DateTime) -> Result<Restored, Error> {
    let failed = |why| Error::File { path: folder.to_path_buf(), why };
    let file = folder.join(FILE);
    let same = |a: &Path, b: &Path| matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b);
    if same(from, &file) || same(from, folder) {
        return Err(Error::SameFile(from.to_path_buf()));
    }
    ReadOnly::open(from)?; // refused before anything is made
    fs::create_dir_all(folder).map_err(failed)?;
    let _served = Lock::serving(folder)?;
    let _open = Lock::alone(folder)?;
    let part = folder.join(format!("{FILE}.restoring"));
    let unfinished = Unfinished(&part);
    let (now, log) = candidate(from, &part)?;
    let kept =
        if file.exists() || beside(&file, "-wal").exists() { Some(set_aside(&file, at)?) } else { None };
    finish(unfinished, &file)?;
    Ok(Restored { now, log, kept })
}

/// Gives a collection's file, and its log where it could not be folded in, a dated name that is not taken.
fn set_aside(file: &Path, mut at: DateTime) -> Result<PathBuf, Error> {
    let name = |at: DateTime| beside(file, &at.strftime(".replaced-%Y-%m-%d-%H%M%S").to_string());
    while name(at).exists() || beside(&name(at), "-wal").exists() {
        at = at.saturating_add(1.second());
    }
    let kept = name(at);
    fold_whole(file);
    for ending in ["-wal", "-shm", "-journal", ""] {
        let from = beside(file, ending);
        if from.exists() {
            fs::rename(&from, beside(&kept, ending)).map_err(|why| Error::File { path: from, why })?;
        }
    }
    sync_folder(file.parent().unwrap_or(Path::new(".")))?;
    Ok(kept)
}

/// Folds the log into a file that is a database and leaves it without one; a damaged file keeps its log.
fn fold_whole(file: &Path) {
    if not_another_file(file, true).is_ok()
        && let Ok(db) = Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_WRITE)
    {
        let _: Result<String, _> =
            db.pragma_update_and_check(None, "journal_mode", "DELETE", |row| row.get(0));
    }
}

impl Store {
    /// Takes over everything a backup holds in one transaction, in place of all that is here, and notes the act. Open readers
    /// see it at once, and the count of changes moves on.
    ///
    /// # Errors
    ///
    /// As [`restore`]; then nothing has changed.
    pub fn take_over(&mut self, from: &Path, name: &str) -> Result<Summary, Error> {
        let folder =
            TempDir::with_prefix("budswell-").map_err(|why| Error::File { path: from.into(), why })?;
        let file = folder.path().join(FILE);
        let (summary, _) = candidate(from, &file)?;
        drop(Store::open(folder.path())?); // at today's layout
        let source = Connection::open_with_flags(&file, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
        self.note_open_first()?;
        let was = self.changes()?;
        copy_pages(&source, &mut self.db)?;
        let behind = (was - self.changes()?).max(0);
        self.transact(&Act::Restore(name.into()), |change| {
            Ok::<_, Error>(change.tx.execute(include_str!("file_state/add_restored.sql"), [behind + 1])?)
        })?;
        Ok(summary)
    }

    fn changes(&self) -> Result<i64, Error> {
        Ok(self.db.query_row(include_str!("act/changes.sql"), [], |row| row.get(0))?)
    }
}
