//! A backup that takes the place of a collection while its pages are open.

use jiff::civil::DateTime;
use store::{
    copies::{Copies, Copy, Occasion},
    error::Error,
    read_only::{ReadOnly, Summary},
    store::Store,
};

/// Keeps a copy of the present state, and then takes over everything that a backup holds; returns what the collection holds now,
/// and the copy that was kept.
///
/// # Errors
///
/// [`Error::Unknown`] when there is no such backup, [`Error::Faulty`] when it is not sound, [`Error::Missing`] for a collection
/// that lives in memory, [`Error::DiskFull`]; then nothing has changed.
pub fn restore(
    store: &mut Store,
    copies: &Copies,
    name: &str,
    at: DateTime,
) -> Result<(Summary, Copy), Error> {
    let copy = copies.find(name)?;
    let home = store.home().unwrap_or(copies.folder()).to_path_buf();
    let kept = copies.add(&ReadOnly::open(&home)?, at, &Occasion::BeforeRestore)?;
    let now = store.take_over(&copy.path, name)?;
    Ok((now, kept))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::token::make;
    use jiff::civil::date;
    use store::reader::Reader;

    #[test]
    fn the_present_state_is_kept_before_a_backup_takes_its_place() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = Store::open(folder.path()).unwrap();
        make(&mut store, "hut", 0).unwrap();
        let copies = Copies::of_collection(folder.path());
        let at = date(2026, 11, 30).at(20, 0, 0, 0);
        let copy = copies.add(&ReadOnly::open(folder.path()).unwrap(), at, &Occasion::Day).unwrap();
        make(&mut store, "sill", 0).unwrap();
        assert!(matches!(restore(&mut store, &copies, "no.db", at), Err(Error::Unknown { .. })));
        let (now, kept) = restore(&mut store, &copies, &copy.name, at).unwrap();
        assert_eq!((now.acts, kept.occasion.as_str()), (1, "before-restore"));
        let names =
            |reader: &Reader| reader.senders().unwrap().into_iter().map(|it| it.name).collect::<Vec<_>>();
        assert_eq!(names(&store.reader().unwrap()), ["hut"]);
        assert_eq!(names(ReadOnly::open(&kept.path).unwrap().reader()), ["hut", "sill"]);
    }
}
