//! Cells turned into words of the trade, and a clear name for each one that cannot be.

use jiff::civil::Date;
use rusqlite::Row;

use crate::error::Error;

/// A date cell.
pub(crate) fn date(table: &'static str, text: &str) -> Result<Date, Error> {
    text.parse().map_err(|_| bad(table, "date", text))
}

/// A word from a short list.
pub(crate) fn word<T>(
    table: &'static str,
    what: &'static str,
    text: &str,
    from: impl Fn(&str) -> Option<T>,
) -> Result<T, Error> {
    from(text).ok_or_else(|| bad(table, what, text))
}

/// The error for a cell that is not what it should be.
pub(crate) fn bad(table: &'static str, what: &'static str, value: &str) -> Error {
    Error::BadRow { table, what, value: value.to_string() }
}

/// All rows of a query, each turned by `take`.
pub(crate) fn rows<T>(
    db: &rusqlite::Connection,
    sql: &str,
    given: impl rusqlite::Params,
    mut take: impl FnMut(&Row<'_>) -> Result<T, Error>,
) -> Result<Vec<T>, Error> {
    let mut query = db.prepare_cached(sql)?;
    let mut rows = query.query(given)?;
    let mut taken = Vec::new();
    while let Some(row) = rows.next()? {
        taken.push(take(row)?);
    }
    Ok(taken)
}
