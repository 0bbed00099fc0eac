//! Notes of the rows that a transaction changes, added to the sums before it is committed.
//!
//! Temporary triggers, which live with the connection and not in the file, call a function for each row. A statement that fails
//! halfway is undone by SQLite but not in these notes; so the notes are counted against SQLite's own count of changes, and the
//! tables noted are summed anew if the two differ.

use std::sync::{Arc, Mutex, PoisonError};

use rusqlite::{Connection, OptionalExtension, Transaction, functions::FunctionFlags, params};

use super::{Sum, Table, hashed, quoted, set, sum_again};
use crate::error::Error;

/// One change of a row, as the triggers name it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Noted {
    Added = 1,
    Removed = 2,
    Before = 3,
    After = 4,
}

#[derive(Debug)]
struct Note {
    table: usize,
    bucket: u64,
    count: i64,
    hash: u64,
}

#[derive(Debug, Default)]
struct Notes {
    list: Vec<Note>,
    changes: u64,
    buffer: Vec<u8>,
}

/// What the triggers of one connection have noted.
#[derive(Clone, Debug)]
pub(crate) struct Tally {
    tables: Arc<[Table]>,
    notes: Arc<Mutex<Notes>>,
}

/// How far the notes went at a moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mark {
    length: usize,
    changes: u64,
}

impl Tally {
    /// Sets the triggers up on a connection that will write.
    pub(crate) fn on(db: &Connection) -> Result<Tally, Error> {
        let tally = Tally { tables: Table::all(db)?.into(), notes: Arc::default() };
        let note = tally.clone();
        db.create_scalar_function("note_row", -1, FunctionFlags::SQLITE_UTF8, move |call| {
            note.note(call);
            Ok(rusqlite::types::Null)
        })?;
        for (number, table) in tally.tables.iter().enumerate() {
            db.execute_batch(&triggers(number, table))?;
        }
        Ok(tally)
    }

    fn with<T>(&self, act: impl FnOnce(&mut Notes) -> T) -> T {
        act(&mut self.notes.lock().unwrap_or_else(PoisonError::into_inner))
    }

    fn note(&self, call: &rusqlite::functions::Context<'_>) {
        let number = |at| call.get_raw(at).as_i64().unwrap_or_default();
        let (table, what) = (number(0) as usize, number(1));
        self.with(|notes| {
            let mut buffer = std::mem::take(&mut notes.buffer);
            let (hash, bucket) = hashed(&self.tables[table], &mut buffer, |at| call.get_raw(at + 2));
            let gone = what == Noted::Removed as i64 || what == Noted::Before as i64;
            let (count, hash) = if gone { (-1, hash.wrapping_neg()) } else { (1, hash) };
            notes.buffer = buffer;
            notes.list.push(Note { table, bucket, count, hash });
            notes.changes += u64::from(what != Noted::Before as i64);
        });
    }

    /// Forgets all notes; a transaction begins.
    pub(crate) fn begin(&self) {
        self.rewind(Mark { length: 0, changes: 0 });
    }

    /// How far the notes have come; to go back to when a statement fails.
    pub(crate) fn mark(&self) -> Mark {
        self.with(|notes| Mark { length: notes.list.len(), changes: notes.changes })
    }

    /// Forgets what was noted after a mark.
    pub(crate) fn rewind(&self, mark: Mark) {
        self.with(|notes| {
            notes.list.truncate(mark.length);
            notes.changes = mark.changes;
        });
    }

    /// Adds what was noted to the sums; SQLite counted `changes` since the transaction began.
    pub(crate) fn settle(&self, tx: &Transaction<'_>, changes: u64) -> Result<(), Error> {
        let (mut list, noted) = self.with(|notes| (std::mem::take(&mut notes.list), notes.changes));
        list.sort_unstable_by_key(|note| (note.table, note.bucket));
        if noted == changes {
            for same in list.chunk_by(|a, b| (a.table, a.bucket) == (b.table, b.bucket)) {
                let table = &self.tables[same[0].table].name;
                let mut sum = get(tx, table, same[0].bucket)?;
                same.iter().for_each(|note| sum.add(note.count, note.hash));
                set(tx, table, same[0].bucket, sum)?;
            }
        } else {
            for same in list.chunk_by(|a, b| a.table == b.table) {
                sum_again(tx, &self.tables[same[0].table])?;
            }
        }
        // Changed rows of the sums are not told by the triggers; nothing else is left to note.
        list.clear();
        self.with(|notes| notes.list = list);
        Ok(())
    }
}

fn get(tx: &Transaction<'_>, table: &str, bucket: u64) -> Result<Sum, Error> {
    let mut query = tx.prepare_cached(include_str!("../row_sum/get.sql"))?;
    let found = query.query_row(params![table, bucket as i64], |row| {
        Ok(Sum { count: row.get(0)?, total: row.get::<_, i64>(1)?.cast_unsigned() })
    });
    Ok(found.optional()?.unwrap_or_default())
}

fn triggers(number: usize, table: &Table) -> String {
    let call = |what: Noted, row: &str| {
        let cells: Vec<String> = table.columns.iter().map(|name| format!("{row}.{}", quoted(name))).collect();
        format!("note_row({number}, {}, {})", what as i64, cells.join(", "))
    };
    let name = quoted(&table.name);
    let (added, removed) = (call(Noted::Added, "NEW"), call(Noted::Removed, "OLD"));
    let changed = format!("{}, {}", call(Noted::Before, "OLD"), call(Noted::After, "NEW"));
    format!(
        "CREATE TEMP TRIGGER sum_added_{number} AFTER INSERT ON main.{name} BEGIN SELECT {added}; END;
         CREATE TEMP TRIGGER sum_removed_{number} AFTER DELETE ON main.{name} BEGIN SELECT {removed}; END;
         CREATE TEMP TRIGGER sum_changed_{number} AFTER UPDATE ON main.{name} BEGIN SELECT {changed}; END;"
    )
}
