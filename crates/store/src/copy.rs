//! One whole, checked copy of a collection in one file.

use std::{
    fs::{self, File},
    path::Path,
    thread,
    time::{Duration, Instant},
};

use rusqlite::{
    Connection,
    backup::{Backup, StepResult},
};

use crate::{
    error::Error,
    fold::is_open,
    layout,
    read_only::{ReadOnly, beside},
    store::{PATIENCE, write},
    sums::Tally,
};

/// Copies every page of one database over another in one go, so that it is one moment's state.
pub(crate) fn copy_pages(from: &Connection, to: &mut Connection) -> Result<(), Error> {
    let backup = Backup::new(from, to)?;
    let begun = Instant::now();
    loop {
        match backup.step(-1)? {
            StepResult::Done => return Ok(()),
            _ if begun.elapsed() < PATIENCE => thread::sleep(Duration::from_millis(20)),
            _ => return Err(Error::Busy),
        }
    }
}

/// A copy under way; unless it was finished its file is deleted.
#[derive(Debug)]
pub(crate) struct Unfinished<'a>(pub(crate) &'a Path);

impl Drop for Unfinished<'_> {
    fn drop(&mut self) {
        for ending in ["", "-journal", "-wal", "-shm"] {
            let _ = fs::remove_file(beside(self.0, ending));
        }
    }
}

/// Writes a copy that needs no log, waits until the disk has it, opens it again and looks it over; returns the faults found.
pub(crate) fn write_copy(from: &ReadOnly, to: &Path) -> Result<Vec<String>, Error> {
    let mut copy = Connection::open(to)?;
    copy.pragma_update(None, "synchronous", "FULL")?;
    copy_pages(from.file(), &mut copy)?;
    let mode: String = copy.pragma_update_and_check(None, "journal_mode", "DELETE", |row| row.get(0))?;
    debug_assert_eq!(mode, "delete");
    if layout::of(&copy)? >= layout::SUMMED && is_open(&copy)? {
        let tally = Tally::on(&copy)?;
        write(&mut copy, &tally, |tx| {
            Ok::<_, Error>(tx.execute(include_str!("file_state/set_open.sql"), [false])?)
        })?;
    }
    copy.close().map_err(|(_, why)| why)?;
    File::open(to)
        .and_then(|file| file.sync_all())
        .map_err(|why| Error::File { path: to.to_path_buf(), why })?;
    ReadOnly::open(to)?.faults()
}

/// Waits until the disk has the names in a folder.
pub(crate) fn sync_folder(folder: &Path) -> Result<(), Error> {
    let failed = |why| Error::File { path: folder.to_path_buf(), why };
    File::open(folder).and_then(|folder| folder.sync_all()).map_err(failed)
}

/// Leaves a checked copy of a collection under a name of the grower's own.
///
/// # Errors
///
/// [`Error::Exists`] when the name is taken, [`Error::Faulty`] when the copy is not sound; then there is no copy.
pub fn copy_to_file(from: &ReadOnly, to: &Path) -> Result<(), Error> {
    if to.exists() {
        return Err(Error::Exists(to.to_path_buf()));
    }
    let part = beside(to, ".part");
    let unfinished = Unfinished(&part);
    let faults = write_copy(from, &part)?;
    if !faults.is_empty() {
        return Err(Error::Faulty { path: to.to_path_buf(), faults });
    }
    finish(unfinished, to)
}

/// Gives a finished copy its name.
pub(crate) fn finish(part: Unfinished<'_>, to: &Path) -> Result<(), Error> {
    fs::rename(part.0, to).map_err(|why| Error::File { path: to.to_path_buf(), why })?;
    drop(part);
    sync_folder(to.parent().unwrap_or(Path::new(".")))
}
