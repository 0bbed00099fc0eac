//! Which layout a file has, whether it is a collection at all, and the way to today's layout.

use std::path::Path;

use rusqlite::Connection;
use rusqlite_migration::Migrations;

use crate::{
    error::Error,
    header::{APPLICATION_ID, Fault},
    row,
    store::{LAYOUT, STEPS},
    sums,
};

/// Today's layout.
pub(crate) const NEWEST: i64 = LAYOUT as i64;

/// The first layout with sums over its rows, a number of its own in the header, and a note whether it is open.
pub(crate) const SUMMED: i64 = 10;

/// Tables that every collection has had since the first layout.
const OLDEST_TABLES: i64 = 5;

/// The layout of a file, 0 for one without any table.
pub(crate) fn of(db: &Connection) -> Result<i64, Error> {
    Ok(db.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

/// The layout of a file that must be a collection.
pub(crate) fn identified(db: &Connection, path: &Path) -> Result<i64, Error> {
    let count = |sql| db.query_row(sql, [], |row| row.get::<_, i64>(0));
    let not = |fault| Err(Error::NotACollection { path: path.to_path_buf(), fault });
    let (version, id): (i64, i64) =
        (of(db)?, db.pragma_query_value(None, "application_id", |row| row.get(0))?);
    if id == APPLICATION_ID && version > NEWEST {
        return Err(Error::Newer(path.to_path_buf()));
    }
    if id == 0 && version == 0 && count(include_str!("schema/count.sql"))? == 0 {
        return not(Fault::Bare);
    }
    let known = match id {
        APPLICATION_ID => SUMMED <= version,
        0 => (1..SUMMED).contains(&version),
        _ => false,
    };
    if !known || count(include_str!("schema/own.sql"))? != OLDEST_TABLES {
        return not(Fault::Foreign);
    }
    Ok(version)
}

/// Takes a file to today's layout and sums its rows.
pub(crate) fn bring_up_to_date(db: &mut Connection) -> Result<(), Error> {
    Migrations::from_slice(&STEPS).to_latest(db)?;
    let summed: i64 = db.query_row(include_str!("file_state/summed_layout.sql"), [], |row| row.get(0))?;
    if summed != NEWEST {
        sums::sum_all(db, NEWEST)?;
    }
    Ok(())
}

/// The plan of a file: its tables and indexes, each with the words that made it.
fn plan(db: &Connection) -> Result<Vec<(String, String)>, Error> {
    row::rows(db, include_str!("schema/all.sql"), [], |row| Ok((row.get(0)?, row.get(1)?)))
}

/// Where the plan of a file is not the one of its layout.
pub(crate) fn faults(db: &Connection) -> Result<Vec<String>, Error> {
    let mut fresh = Connection::open_in_memory()?;
    let version = usize::try_from(of(db)?).unwrap_or(LAYOUT);
    Migrations::from_slice(&STEPS).to_version(&mut fresh, version)?;
    let (ours, theirs) = (plan(&fresh)?, plan(db)?);
    let lacking = ours.iter().filter(|it| !theirs.contains(it)).map(|(name, _)| name);
    let strange = theirs.iter().filter(|it| !ours.contains(it)).map(|(name, _)| name);
    let mut names: Vec<&String> = lacking.chain(strange).collect();
    names.sort_unstable();
    names.dedup();
    Ok(names
        .into_iter()
        .map(|name| format!("the plan of {name} is not the one of layout {version}"))
        .collect())
}
