//! The backups of a collection, and what would change if one took its place.

use jiff::civil::DateTime;
use store::{
    copies::{Copies, Copy},
    error::Error,
    read_only::{ReadOnly, Summary},
    reader::Reader,
};

use crate::words::count;

/// A backup in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BackupRow {
    /// Its name in the folder.
    pub name: String,
    /// When it was made.
    pub at: String,
    /// Why, where it was not the day's.
    pub why: String,
    /// Its size.
    pub size: String,
}

/// The page of backups.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backups {
    /// Where they are.
    pub folder: String,
    /// When the last one was made, and how long ago.
    pub last: String,
    /// Every backup, newest first.
    pub rows: Vec<BackupRow>,
}

/// Lists the backups of a folder.
///
/// # Errors
///
/// [`Error`] when the folder cannot be read.
pub fn backups(copies: &Copies, now: DateTime) -> Result<Backups, Error> {
    let list = copies.list()?;
    let last = match list.first() {
        None => "No backup yet".to_string(),
        Some(copy) => {
            let ago = match (now.date() - copy.at.date()).get_days() {
                ..=0 => "today".to_string(),
                1 => "yesterday".to_string(),
                days => format!("{days} days ago"),
            };
            format!("Last backup {ago}, {}", moment(copy.at))
        }
    };
    let folder = copies.folder().display().to_string();
    Ok(Backups { folder, last, rows: list.into_iter().map(row).collect() })
}

fn row(copy: Copy) -> BackupRow {
    let why = copy.occasion.replace('-', " ");
    BackupRow { at: moment(copy.at), why, size: size(copy.bytes), name: copy.name }
}

fn moment(at: DateTime) -> String {
    at.strftime("%Y-%m-%d %H:%M").to_string()
}

fn size(bytes: u64) -> String {
    const MEGA: f64 = 1_000_000.0;

    match bytes as f64 / MEGA {
        few if few < 0.1 => format!("{:.0} kB", few * 1000.0),
        many => format!("{many:.2} MB"),
    }
}

/// One side of a comparison.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Side {
    /// Changes in the log.
    pub acts: i64,
    /// The last of them, in UTC.
    pub last: String,
    /// Trees.
    pub trees: usize,
}

/// What restoring a backup would change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Comparison {
    /// The backup's name.
    pub name: String,
    /// When it was made.
    pub at: String,
    /// What the collection holds now.
    pub now: Side,
    /// What the backup holds.
    pub then: Side,
    /// What that means.
    pub words: String,
    /// The newest of the changes that would go, newest first.
    pub gone: Vec<(String, String)>,
}

/// Most changes listed one by one.
const LISTED: u32 = 20;

/// Holds a backup against the collection as it is.
///
/// # Errors
///
/// [`Error`] when the backup cannot be read or is no collection.
pub fn compare(reader: &Reader, copy: &Copy) -> Result<Comparison, Error> {
    let backup = ReadOnly::open(&copy.path)?;
    let then = backup.summary()?;
    let last = reader.latest_acts(1)?.into_iter().next().map(|act| act.at);
    let now = Summary { acts: reader.last_act()?, last, trees: reader.trees()?.len(), layout: then.layout };
    let common = then.acts <= now.acts && reader.act(then.acts)? == backup.reader().act(then.acts)?;
    let later = now.acts - then.acts;
    let words = match (common, later) {
        (true, 0) => "Nothing was changed since this backup, except readings of sensors.".to_string(),
        (true, _) => {
            let changes = count(later, "change", "changes");
            format!("{changes} made since this backup will no longer be in the collection.")
        }
        (false, _) => "This backup has a history of its own: it is not an earlier state of this collection. \
                       Everything that is here now will be replaced."
            .to_string(),
    };
    let most = if common { u32::try_from(later).unwrap_or(u32::MAX).min(LISTED) } else { 0 };
    let gone = reader.latest_acts(most)?.into_iter().map(|act| (act.at, act.words)).collect();
    let (name, at) = (copy.name.clone(), moment(copy.at));
    Ok(Comparison { name, at, now: side(now), then: side(then), words, gone })
}

fn side(it: Summary) -> Side {
    Side { acts: it.acts, last: it.last.unwrap_or_else(|| "none".into()), trees: it.trees }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use store::{
        copies::Occasion,
        store::{Act, Store},
    };

    fn give(store: &mut Store, name: &str) {
        store.transact(&Act::GiveToken(name.into()), |change| change.add_token(name, name, 0)).unwrap();
    }

    #[test]
    fn a_backup_is_held_against_what_is_there_now() {
        let folder = tempfile::tempdir().unwrap();
        let mut store = Store::open(folder.path()).unwrap();
        give(&mut store, "one");
        let copies = Copies::of_collection(folder.path());
        let at = date(2026, 11, 28).at(20, 30, 5, 0);
        let copy = copies.add(&ReadOnly::open(folder.path()).unwrap(), at, &Occasion::Day).unwrap();
        let reader = store.reader().unwrap();
        assert!(compare(&reader, &copy).unwrap().words.starts_with("Nothing was changed"));
        give(&mut store, "two");
        give(&mut store, "three");
        let told = compare(&reader, &copy).unwrap();
        assert_eq!((told.now.acts, told.then.acts, told.at.as_str()), (3, 1, "2026-11-28 20:30"));
        let gone: Vec<&str> = told.gone.iter().map(|(_, words)| words.as_str()).collect();
        assert_eq!(gone, ["let the sensor three send readings", "let the sensor two send readings"]);
        assert!(told.words.starts_with("2 changes"), "{}", told.words);

        let other = Store::in_memory().unwrap();
        assert!(compare(&other.reader().unwrap(), &copy).unwrap().words.contains("a history of its own"));
        let page = backups(&copies, date(2026, 11, 30).at(9, 0, 0, 0)).unwrap();
        assert_eq!(page.last, "Last backup 2 days ago, 2026-11-28 20:30");
        assert_eq!((page.rows.len(), page.rows[0].name.as_str()), (1, copy.name.as_str()));
        assert_eq!([size(99_000), size(150_000), size(12_340_000)], ["99 kB", "0.15 MB", "12.34 MB"]);
    }
}
