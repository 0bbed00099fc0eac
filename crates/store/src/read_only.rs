//! A collection opened for looking alone: nothing is written beside it, whatever state it is in.
//!
//! A file without a log is read as it lies. A file with a log that nobody has open is read from a copy in the folder for
//! temporary files, since SQLite writes when it reads a log in. A file that another process has open is read through SQLite's
//! own locks. One of an earlier layout is brought up to date in memory.

use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};

use rusqlite::{Connection, OpenFlags};
use tempfile::TempDir;

use crate::{check, copy::copy_pages, error::Error, fold, header, layout, lock, reader::Reader, store::FILE};

/// Whether the log that belongs to a file was there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Log {
    /// Nothing is missing: the log was there, or was folded in before the file was last left.
    Whole,
    /// The file was open when it was copied and its log is not beside it: the latest acts may be missing.
    MayLack,
    /// The file has no log beside it and is from a version that did not note whether it was open.
    Unknown,
}

/// What a collection holds, in short.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// Number of the last act.
    pub acts: i64,
    /// When the last act was, in UTC, as written.
    pub last: Option<String>,
    /// Trees.
    pub trees: usize,
    /// Its layout.
    pub layout: i64,
}

/// A collection that can only be looked at.
#[derive(Debug)]
pub struct ReadOnly {
    reader: Reader,
    /// The file as it is, where `reader` stands on a newer layout of it in memory.
    earlier: Option<Connection>,
    layout: i64,
    log: Log,
    _copy: Option<TempDir>,
}

impl ReadOnly {
    /// Opens a folder's collection, or a file by its own path.
    ///
    /// # Errors
    ///
    /// [`Error::Missing`] when nothing is there, [`Error::NotACollection`] when it is something else, [`Error::Newer`] when
    /// it is from a later version, else what SQLite says.
    pub fn open(path: &Path) -> Result<ReadOnly, Error> {
        let path = file_of(path);
        if !path.is_file() {
            return Err(Error::Missing(path));
        }
        let live = path.ends_with(FILE) && path.parent().is_some_and(lock::is_open);
        let log = beside(&path, "-wal");
        let has_log = fs::metadata(&log).is_ok_and(|log| log.len() > 0);
        not_another_file(&path, has_log || live)?;
        let (file, copy) = match (live, has_log) {
            (true, _) => (Connection::open_with_flags(&path, reading())?, None),
            (false, true) => opened_copy(&path, &log)?,
            (false, false) => (Connection::open_with_flags(immutable(&path), reading())?, None),
        };
        file.busy_timeout(PATIENCE)?;
        let layout = layout::identified(&file, &path)?;
        let log = match layout {
            _ if has_log || live => Log::Whole,
            ..layout::SUMMED => Log::Unknown,
            _ if fold::is_open(&file)? => Log::MayLack,
            _ => Log::Whole,
        };
        let (reader, earlier) = if layout < layout::NEWEST {
            let mut memory = Connection::open_in_memory()?;
            copy_pages(&file, &mut memory)?;
            layout::bring_up_to_date(&mut memory)?;
            (Reader { db: memory }, Some(file))
        } else {
            (Reader { db: file }, None)
        };
        Ok(ReadOnly { reader, earlier, layout, log, _copy: copy })
    }

    /// The collection at today's layout.
    pub fn reader(&self) -> &Reader {
        &self.reader
    }

    /// Whether its log was there.
    pub fn log(&self) -> Log {
        self.log
    }

    /// The file as it is.
    pub(crate) fn file(&self) -> &Connection {
        self.earlier.as_ref().unwrap_or(&self.reader.db)
    }

    /// What it holds, in short.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn summary(&self) -> Result<Summary, Error> {
        let last = self.reader.latest_acts(1)?.into_iter().next().map(|act| act.at);
        let (acts, trees) = (self.reader.last_act()?, self.reader.trees()?.len());
        Ok(Summary { acts, last, trees, layout: self.layout })
    }

    /// Looks over the whole file: its pages, its references, its plan and the sums over its rows, and that each row reads back
    /// as what it is.
    ///
    /// # Errors
    ///
    /// [`Error`] only when the file cannot be read at all; faults found are the answer.
    pub fn faults(&self) -> Result<Vec<String>, Error> {
        let mut faults = check::of_file(self.file())?;
        faults.extend(self.reader.unreadable());
        Ok(faults)
    }
}

const PATIENCE: Duration = Duration::from_secs(5);

fn file_of(path: &Path) -> PathBuf {
    if path.is_dir() { path.join(FILE) } else { path.to_path_buf() }
}

/// The path of a file that SQLite keeps beside another.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// Refuses a file that is no database by its first bytes.
pub(crate) fn not_another_file(path: &Path, has_log: bool) -> Result<(), Error> {
    let failed = |why| Error::File { path: path.to_path_buf(), why };
    match header::fault(path, has_log).map_err(failed)? {
        Some(fault) => Err(Error::NotACollection { path: path.to_path_buf(), fault }),
        None => Ok(()),
    }
}

fn reading() -> OpenFlags {
    OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX
}

/// The address by which SQLite reads a file without locks, log or any file of its own beside it.
fn immutable(path: &Path) -> String {
    let mut address = String::from("file:");
    for byte in path.as_os_str().as_encoded_bytes() {
        match byte {
            b'?' | b'#' | b'%' => address.push_str(&format!("%{byte:02X}")),
            byte if byte.is_ascii_graphic() || *byte == b' ' => address.push(char::from(*byte)),
            byte => address.push_str(&format!("%{byte:02X}")),
        }
    }
    address.push_str("?immutable=1");
    address
}

fn opened_copy(path: &Path, log: &Path) -> Result<(Connection, Option<TempDir>), Error> {
    let failed = |why| Error::File { path: path.to_path_buf(), why };
    let folder = TempDir::with_prefix("budswell-").map_err(failed)?;
    let copy = folder.path().join(FILE);
    fs::copy(path, &copy).map_err(failed)?;
    fs::copy(log, beside(&copy, "-wal")).map_err(failed)?;
    writable(&copy).and_then(|()| writable(&beside(&copy, "-wal"))).map_err(failed)?;
    let db = Connection::open(&copy)?;
    Ok((db, Some(folder)))
}

/// A copy of a file that was read-only would be read-only too.
fn writable(path: &Path) -> std::io::Result<()> {
    let mut rights = fs::metadata(path)?.permissions();
    #[expect(
        clippy::permissions_set_readonly_false,
        reason = "the copy lies in a folder that only its owner can enter"
    )]
    rights.set_readonly(false);
    fs::set_permissions(path, rights)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_odd_path_is_one_address() {
        assert_eq!(immutable(Path::new("/a b/50%?#é.db")), "file:/a b/50%25%3F%23%C3%A9.db?immutable=1");
    }
}
