//! Cells turned into words of the trade, and a clear name for each one that cannot be.

use jiff::civil::Date;
use rusqlite::Row;

use crate::error::Error;

/// A date cell.
pub(crate) fn date(table: &'static str, text: &str) -> Result<Date, Error> {
    text.parse().map_err(|_| bad(table, "date", text))
}

/// A date cell that may be empty.
pub(crate) fn date_if(table: &'static str, text: Option<String>) -> Result<Option<Date>, Error> {
    text.map(|text| date(table, &text)).transpose()
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

/// A word from a short list, in a cell that may be empty.
pub(crate) fn word_if<T>(
    table: &'static str,
    what: &'static str,
    text: Option<String>,
    from: impl Fn(&str) -> Option<T>,
) -> Result<Option<T>, Error> {
    text.map(|text| word(table, what, &text, from)).transpose()
}

/// Nothing changed: there is no row of that number.
pub(crate) fn changed(rows: usize, what: &'static str, id: i64) -> Result<(), Error> {
    match rows {
        0 => Err(Error::Unknown { what, key: id.to_string() }),
        _ => Ok(()),
    }
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
