//! Handles that only read, lent to whoever makes a page and taken back after it.

use std::{
    ops::Deref,
    sync::{Condvar, Mutex, MutexGuard, PoisonError},
};

use store::{error::Error, reader::Reader, store::Store};

/// Handles kept open: more than the lanes let requests be worked on at once, twice over, since a page may hold two.
const KEPT: usize = 32;

/// Takes a lock that a panic may have left behind: what our locks guard is whole between any two lines that change it.
pub fn hold<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Handles to lend.
#[derive(Debug)]
pub struct Readers {
    free: Mutex<Vec<Reader>>,
    came_back: Condvar,
}

impl Readers {
    /// Handles on a collection.
    ///
    /// # Errors
    ///
    /// [`Error`] when its file cannot be opened so often.
    pub fn new(store: &Store) -> Result<Readers, Error> {
        let free = (0..KEPT).map(|_| store.reader()).collect::<Result<_, _>>()?;
        Ok(Readers { free: Mutex::new(free), came_back: Condvar::new() })
    }

    /// A handle, for as long as it is held; waits while all are lent.
    pub fn lend(&self) -> Lent<'_> {
        let mut free = hold(&self.free);
        loop {
            match free.pop() {
                Some(reader) => return Lent { home: self, reader: Some(reader) },
                None => free = self.came_back.wait(free).unwrap_or_else(PoisonError::into_inner),
            }
        }
    }
}

/// A handle that goes back when it is dropped.
#[derive(Debug)]
pub struct Lent<'a> {
    home: &'a Readers,
    /// Empty only while it goes back.
    reader: Option<Reader>,
}

impl Deref for Lent<'_> {
    type Target = Reader;

    fn deref(&self) -> &Reader {
        self.reader.as_ref().expect("it is here until it goes back")
    }
}

impl Drop for Lent<'_> {
    fn drop(&mut self) {
        hold(&self.home.free).extend(self.reader.take());
        self.home.came_back.notify_one();
    }
}
