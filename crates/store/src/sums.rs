//! Sums over the rows of every table, so that a byte that flipped on the disk is found.
//!
//! The rows of a table are spread over [`BUCKETS`] sums by the hash of their primary key. A sum is the wrapping total of the
//! rows' hashes, so a changed row moves it by the difference of two hashes and nothing else is read again. The tables, their
//! columns and their keys are read from the file's own schema each time it is opened, so a new table is covered unasked.

mod check;
mod tally;

use rusqlite::{Connection, params, types::ValueRef};
use xxhash_rust::xxh3::xxh3_64;

use crate::{error::Error, row};

pub(crate) use check::faults;
pub(crate) use tally::Tally;

/// Sums per table; where a table has fewer rows than this, most rows have a sum of their own.
const BUCKETS: u64 = 1024;

/// Longer texts and blobs are hashed first, so that a row is put together in little memory.
const LONG: usize = 256;

/// A table as the schema tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Table {
    name: String,
    columns: Vec<String>,
    /// Which columns make the primary key; all when there is none.
    key: Vec<usize>,
}

impl Table {
    fn all(db: &Connection) -> Result<Vec<Table>, Error> {
        let names: Vec<String> = row::rows(db, include_str!("schema/tables.sql"), [], |row| Ok(row.get(0)?))?;
        names.into_iter().map(|name| Table::read(db, name)).collect()
    }

    fn read(db: &Connection, name: String) -> Result<Table, Error> {
        let columns: Vec<(String, i64)> =
            row::rows(db, include_str!("schema/columns.sql"), [&name], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let mut key: Vec<usize> = (0..columns.len()).filter(|&at| columns[at].1 > 0).collect();
        if key.is_empty() {
            key = (0..columns.len()).collect();
        }
        Ok(Table { name, columns: columns.into_iter().map(|(name, _)| name).collect(), key })
    }

    fn select(&self) -> String {
        let columns: Vec<String> = self.columns.iter().map(|name| quoted(name)).collect();
        format!("SELECT {} FROM {}", columns.join(", "), quoted(&self.name))
    }
}

fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

/// A row's hash and the number of its sum.
fn hashed<'a>(table: &Table, buffer: &mut Vec<u8>, cell: impl Fn(usize) -> ValueRef<'a>) -> (u64, u64) {
    buffer.clear();
    table.key.iter().for_each(|&at| put(buffer, cell(at)));
    let bucket = xxh3_64(buffer) % BUCKETS;
    buffer.clear();
    (0..table.columns.len()).for_each(|at| put(buffer, cell(at)));
    (xxh3_64(buffer), bucket)
}

/// A value in bytes. A whole number is the same whether SQLite hands it over as an integer or as a real.
fn put(buffer: &mut Vec<u8>, value: ValueRef<'_>) {
    const EXACT: f64 = 9_007_199_254_740_992.0; // 2^53

    let long = |buffer: &mut Vec<u8>, tag: u8, bytes: &[u8]| {
        buffer.push(tag);
        buffer.extend_from_slice(&(bytes.len() as u64).to_le_bytes());
        if bytes.len() > LONG {
            buffer.extend_from_slice(&xxh3_64(bytes).to_le_bytes());
        } else {
            buffer.extend_from_slice(bytes);
        }
    };
    let whole = |buffer: &mut Vec<u8>, number: i64| {
        buffer.push(1);
        buffer.extend_from_slice(&number.to_le_bytes());
    };
    match value {
        ValueRef::Null => buffer.push(0),
        ValueRef::Integer(number) => whole(buffer, number),
        ValueRef::Real(number) if number.fract() == 0.0 && number.abs() < EXACT => {
            whole(buffer, number as i64)
        }
        ValueRef::Real(number) => {
            buffer.push(2);
            buffer.extend_from_slice(&number.to_bits().to_le_bytes());
        }
        ValueRef::Text(text) => long(buffer, 3, text),
        ValueRef::Blob(bytes) => long(buffer, 4, bytes),
    }
}

/// Rows of a sum, and their total.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Sum {
    count: i64,
    total: u64,
}

impl Sum {
    fn add(&mut self, count: i64, hash: u64) {
        self.count += count;
        self.total = self.total.wrapping_add(hash);
    }
}

/// The sums of a table as its rows are now, by bucket.
fn summed(db: &Connection, table: &Table) -> Result<Vec<Sum>, Error> {
    let mut sums = vec![Sum::default(); BUCKETS as usize];
    let mut query = db.prepare(&table.select())?;
    let mut rows = query.query([])?;
    let mut buffer = Vec::new();
    while let Some(row) = rows.next()? {
        let cells: Vec<ValueRef<'_>> =
            (0..table.columns.len()).map(|at| row.get_ref(at)).collect::<Result<_, _>>()?;
        let (hash, bucket) = hashed(table, &mut buffer, |at| cells[at]);
        sums[bucket as usize].add(1, hash);
    }
    Ok(sums)
}

fn set(db: &Connection, table: &str, bucket: u64, sum: Sum) -> Result<(), Error> {
    if sum.count == 0 && sum.total == 0 {
        db.prepare_cached(include_str!("row_sum/remove.sql"))?.execute(params![table, bucket as i64])?;
        return Ok(());
    }
    let given = params![table, bucket as i64, sum.count, sum.total.cast_signed()];
    db.prepare_cached(include_str!("row_sum/set.sql"))?.execute(given)?;
    Ok(())
}

/// Takes all sums of a table anew.
fn sum_again(db: &Connection, table: &Table) -> Result<(), Error> {
    db.execute(include_str!("row_sum/remove_table.sql"), [&table.name])?;
    for (bucket, sum) in (0..).zip(summed(db, table)?) {
        if sum.count > 0 {
            set(db, &table.name, bucket, sum)?;
        }
    }
    Ok(())
}

/// Takes the sums of all tables anew and notes for which layout; done after a migration, in one transaction.
pub(crate) fn sum_all(db: &mut Connection, layout: i64) -> Result<(), Error> {
    let tx = db.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
    tx.execute(include_str!("row_sum/clear.sql"), [])?;
    tx.execute(include_str!("file_state/set_summed_layout.sql"), [layout])?;
    for table in Table::all(&tx)? {
        sum_again(&tx, &table)?;
    }
    tx.commit()?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_of_each_kind_are_told_apart_and_a_whole_real_is_an_integer() {
        let bytes = |value: ValueRef<'_>| {
            let mut buffer = Vec::new();
            put(&mut buffer, value);
            buffer
        };
        assert_eq!(bytes(ValueRef::Real(3.0)), bytes(ValueRef::Integer(3)));
        assert_eq!(bytes(ValueRef::Real(-0.0)), bytes(ValueRef::Integer(0)));
        assert_ne!(bytes(ValueRef::Real(3.5)), bytes(ValueRef::Integer(3)));
        assert_ne!(bytes(ValueRef::Null), bytes(ValueRef::Integer(0)));
        assert_ne!(bytes(ValueRef::Text(b"3")), bytes(ValueRef::Blob(b"3")));
        let mut long = vec![7; LONG + 1];
        let before = bytes(ValueRef::Blob(&long));
        long[LONG] = 8;
        assert_ne!(bytes(ValueRef::Blob(&long)), before);
        assert_eq!(before.len(), 17);
    }
}
