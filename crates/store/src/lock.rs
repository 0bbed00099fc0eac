//! Who has a collection open: a shared lock for each writer, and one that only a single server can hold.

use std::{
    fs::{self, File, TryLockError},
    path::{Path, PathBuf},
    thread,
    time::{Duration, Instant},
};

use crate::error::Error;

/// Locked together by every process that has the collection open for writing, and alone by a restore.
const OPEN: &str = "budswell.lock";

/// Locked by the one process that serves the collection.
const SERVED: &str = "budswell.serving";

/// How long to wait for someone who only looks whether the lock is free.
const PATIENCE: Duration = Duration::from_secs(1);

/// A lock that ends when it is dropped or when its process ends, however it ends.
#[derive(Debug)]
pub struct Lock {
    _file: File,
}

impl Lock {
    /// The lock of the one server of a folder.
    ///
    /// # Errors
    ///
    /// [`Error::Open`] when the folder is being served, [`Error::File`] when the lock cannot
    /// be made.
    pub fn serving(folder: &Path) -> Result<Lock, Error> {
        take(folder, SERVED, File::try_lock)
    }

    /// The lock of one writer among others.
    pub(crate) fn shared(folder: &Path) -> Result<Lock, Error> {
        take(folder, OPEN, File::try_lock_shared)
    }

    /// The lock of one who replaces the file, while nobody has it open.
    pub(crate) fn alone(folder: &Path) -> Result<Lock, Error> {
        take(folder, OPEN, File::try_lock)
    }
}

/// Whether a process has the collection of a folder open for writing; nothing is made and nothing is written.
pub(crate) fn is_open(folder: &Path) -> bool {
    let Ok(file) = File::open(folder.join(OPEN)) else { return false };
    matches!(file.try_lock(), Err(TryLockError::WouldBlock))
}

fn take(folder: &Path, name: &str, lock: fn(&File) -> Result<(), TryLockError>) -> Result<Lock, Error> {
    let path: PathBuf = folder.join(name);
    let failed = |why| Error::File { path: path.clone(), why };
    let file = fs::OpenOptions::new()
        .create(true)
        .truncate(false)
        .read(true)
        .write(true)
        .open(&path)
        .map_err(failed)?;
    let begun = Instant::now();
    loop {
        match lock(&file) {
            Ok(()) => return Ok(Lock { _file: file }),
            Err(TryLockError::WouldBlock) if begun.elapsed() < PATIENCE => {
                thread::sleep(Duration::from_millis(20));
            }
            Err(TryLockError::WouldBlock) => return Err(Error::Open(folder.to_path_buf())),
            Err(TryLockError::Error(why)) => return Err(failed(why)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writers_share_a_server_and_a_restore_do_not() {
        let folder = tempfile::tempdir().unwrap();
        assert!(!is_open(folder.path()));
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0, "looking made a file");
        let writers = [Lock::shared(folder.path()).unwrap(), Lock::shared(folder.path()).unwrap()];
        assert!(is_open(folder.path()));
        assert!(matches!(Lock::alone(folder.path()), Err(Error::Open(_))));
        drop(writers);
        assert!(!is_open(folder.path()));
        let server = Lock::serving(folder.path()).unwrap();
        assert!(matches!(Lock::serving(folder.path()), Err(Error::Open(_))));
        drop(server);
        Lock::serving(folder.path()).unwrap();
    }
}
