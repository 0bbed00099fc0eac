//! What can be wrong with a file as SQLite and its sums see it.

use climate::record::WeatherOrigin;
use rusqlite::Connection;

use crate::{error::Error, layout, reader::Reader, row, sums};

/// Faults of pages, references, plan and sums.
pub(crate) fn of_file(db: &Connection) -> Result<Vec<String>, Error> {
    let mut faults = Vec::new();
    let version = layout::of(db)?;
    let mut take = |found: Result<Vec<String>, Error>| match found {
        Ok(found) => faults.extend(found),
        Err(why) => faults.push(why.to_string()),
    };
    take(pages(db));
    take(references(db));
    take(layout::faults(db));
    if version >= layout::SUMMED {
        let summed =
            db.query_row(include_str!("file_state/summed_layout.sql"), [], |row| row.get::<_, i64>(0));
        match summed {
            Ok(summed) if summed == version => take(sums::faults(db)),
            Ok(summed) => take(Ok(vec![format!(
                "file_state: the sums are those of layout {summed} and the file has layout {version}; open the collection once"
            )])),
            Err(why) => take(Err(why.into())),
        }
    }
    Ok(faults)
}

fn pages(db: &Connection) -> Result<Vec<String>, Error> {
    let mut lines: Vec<String> =
        row::rows(db, include_str!("check/integrity.sql"), [], |row| Ok(row.get::<_, String>(0)?))?;
    lines.retain(|line| line != "ok");
    Ok(lines)
}

fn references(db: &Connection) -> Result<Vec<String>, Error> {
    row::rows(db, include_str!("check/foreign_keys.sql"), [], |row| {
        let (table, parent): (String, String) = (row.get(0)?, row.get(2)?);
        Ok(format!("a row of {table} names a {parent} that is not there"))
    })
}

impl Reader {
    /// Rows that cannot be read back as what they are.
    pub(crate) fn unreadable(&self) -> Vec<String> {
        let reads: [Result<(), Error>; 50] = [
            self.site().map(drop),
            self.places().map(drop),
            self.trees().map(drop),
            self.moves().map(drop),
            self.looks().map(drop),
            self.works().map(drop),
            self.pots().map(drop),
            self.mixes().map(drop),
            self.potted().map(drop),
            self.crowns().map(drop),
            self.drinks().map(drop),
            self.photos().map(drop),
            self.traces().map(drop),
            self.brushes().map(drop),
            self.limbs().map(drop),
            self.calipers().map(drop),
            self.fronts().map(drop),
            self.aims().map(drop),
            self.intentions().map(drop),
            self.cuts().map(drop),
            self.wires().map(drop),
            self.coils().map(drop),
            self.layers().map(drop),
            self.wounds().map(drop),
            self.aways().map(drop),
            self.round_times().map(drop),
            self.station_days().map(drop),
            self.station_hours().map(drop),
            self.weather_days().map(drop),
            self.weather_hours(WeatherOrigin::Station).map(drop),
            self.weather_hours(WeatherOrigin::Reanalysis).map(drop),
            self.weather_hours(WeatherOrigin::Forecast).map(drop),
            self.weather_hours(WeatherOrigin::Typical).map(drop),
            self.weather_kept().map(drop),
            self.senders().map(drop),
            self.wares().map(drop),
            self.pot_photos().map(drop),
            self.reservations().map(drop),
            self.likings().map(drop),
            self.grown().map(drop),
            self.statures().map(drop),
            self.tints().map(drop),
            self.vigours().map(drop),
            self.meant().map(drop),
            self.pot_looks().map(drop),
            self.repots().map(drop),
            self.tolls().map(drop),
            self.stock().map(drop),
            self.blends().map(drop),
            self.rules_off().map(drop),
        ];
        reads.into_iter().filter_map(Result::err).map(|fault| fault.to_string()).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::{fs, path::Path};

    use rusqlite::{Connection, types::Value};

    use super::*;
    use crate::{
        error::Error,
        store::{FILE, Store, write},
    };

    /// A value that stands nowhere else in the file, and the bytes by which it is found there.
    fn marker(kind: &str, number: u64) -> (Value, Vec<u8>) {
        match kind {
            "INTEGER" => {
                let value = 0x4a5b_6c7d_0000_0000 + number as i64;
                (Value::Integer(value), value.to_be_bytes().to_vec())
            }
            "REAL" => {
                let value = f64::from_bits(0x4059_1a2b_3c00_0000 + number);
                (Value::Real(value), value.to_bits().to_be_bytes().to_vec())
            }
            "BLOB" => (Value::Blob(format!("blob{number:08}").into()), format!("blob{number:08}").into()),
            _ => (Value::Text(format!("mark{number:08}")), format!("mark{number:08}").into()),
        }
    }

    struct Marked {
        table: String,
        column: String,
        bytes: Vec<u8>,
    }

    /// Two rows in every table of the schema, each cell a value of its own.
    fn fill(store: &mut Store) -> Vec<Marked> {
        store.db.pragma_update(None, "ignore_check_constraints", true).unwrap();
        store.db.pragma_update(None, "foreign_keys", false).unwrap();
        let tables: Vec<String> =
            row::rows(&store.db, include_str!("schema/tables.sql"), [], |row| Ok(row.get(0)?)).unwrap();
        let (mut marked, mut number) = (Vec::new(), 0);
        for table in &tables {
            let columns: Vec<(String, String)> = row::rows(
                &store.db,
                "SELECT name, type FROM pragma_table_info(?1) ORDER BY cid",
                [table],
                |row| Ok((row.get(0)?, row.get(1)?)),
            )
            .unwrap();
            for _ in 0..2 {
                let mut values = Vec::new();
                for (column, kind) in &columns {
                    number += 1;
                    let (value, bytes) = marker(kind, number);
                    values.push(value);
                    marked.push(Marked { table: table.clone(), column: column.clone(), bytes });
                }
                let places = vec!["?"; columns.len()].join(", ");
                let sql = format!("INSERT INTO {table} VALUES ({places})");
                write(&mut store.db, &store.tally, |tx| {
                    Ok::<_, Error>(tx.execute(&sql, rusqlite::params_from_iter(values))?)
                })
                .unwrap();
            }
        }
        marked
    }

    fn found(path: &Path) -> Vec<String> {
        let db = Connection::open(path).unwrap();
        db.pragma_update(None, "ignore_check_constraints", true).unwrap();
        let mut lines = sums::faults(&db).unwrap_or_else(|why| vec![why.to_string()]);
        lines.extend(pages(&db).unwrap_or_else(|why| vec![why.to_string()]));
        lines
    }

    fn places(hay: &[u8], needle: &[u8]) -> Vec<usize> {
        let found = hay.windows(needle.len()).enumerate().filter(|(_, window)| *window == needle);
        found.map(|(at, _)| at).collect()
    }

    #[test]
    fn a_byte_that_flips_in_a_value_of_any_table_is_found_and_the_table_named() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(FILE);
        let mut store = Store::open(folder.path()).unwrap();
        let marked = fill(&mut store);
        store.db.pragma_update(None, "journal_mode", "DELETE").unwrap();
        drop(store);
        let whole = fs::read(&file).unwrap();
        assert_eq!(found(&file), [""; 0]);

        // A row's number is not stored as a value; only indexes hold it so. It is changed by hand below.
        let numbered = "SELECT name || '.' || (SELECT name FROM pragma_table_info(s.name) WHERE pk > 0) FROM sqlite_schema s
             WHERE type = 'table' AND sql LIKE '%INTEGER PRIMARY KEY%' ORDER BY name";
        let db = Connection::open(&file).unwrap();
        let numbered: Vec<String> = row::rows(&db, numbered, [], |row| Ok(row.get(0)?)).unwrap();
        let (mut flipped, mut values, mut rowids) = (0, 0, Vec::new());
        let broken = folder.path().join("broken.db");
        for Marked { table, column, bytes } in &marked {
            let places = places(&whole, bytes);
            if places.is_empty() {
                rowids.push(format!("{table}.{column}"));
                continue;
            }
            // Every copy of the value, in indexes and in other tables as well.
            let mut told = Vec::new();
            for at in places {
                let mut copy = whole.clone();
                copy[at + bytes.len() - 1] ^= 0x04;
                fs::write(&broken, &copy).unwrap();
                let lines = found(&broken);
                assert!(!lines.is_empty(), "{table}.{column} at {at}");
                told.extend(lines);
                flipped += 1;
            }
            let named = told.iter().any(|line| line.starts_with(&format!("{table}: ")));
            assert!(named || numbered.contains(&format!("{table}.{column}")), "{table}.{column}: {told:?}");
            values += 1;
        }
        assert!(rowids.iter().all(|name| numbered.contains(name)), "{rowids:?} of {numbered:?}");
        assert_eq!(values + rowids.len(), marked.len());
        println!("{flipped} bytes flipped in {values} values, all found");

        for name in &numbered {
            let (table, column) = name.split_once('.').unwrap();
            fs::write(&broken, &whole).unwrap();
            Connection::open(&broken)
                .unwrap()
                .execute_batch(&format!(
                    "PRAGMA ignore_check_constraints = 1; PRAGMA foreign_keys = 0;
                     UPDATE {table} SET {column} = {column} + 1000000 WHERE {column} > 4000"
                ))
                .unwrap();
            assert!(found(&broken).iter().any(|line| line.starts_with(&format!("{table}: "))), "{name}");
        }
    }

    #[test]
    fn a_sum_that_changed_and_a_row_that_went_are_found() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(FILE);
        fill(&mut Store::open(folder.path()).unwrap());
        let whole = {
            let db = Connection::open(&file).unwrap();
            db.pragma_update(None, "journal_mode", "DELETE").unwrap();
            fs::read(&file).unwrap()
        };
        for (sql, told) in [
            ("UPDATE row_sum SET sum = sum - 1 WHERE of = 'tree'", "tree: the row “"),
            ("DELETE FROM tree WHERE rowid = 1", "tree: a row that was saved is gone"),
            ("DELETE FROM row_sum WHERE of = 'tree'", "was never saved under this name"),
            (
                "UPDATE row_sum SET bucket = bucket + 5000 WHERE of = 'tree'",
                "row_sum holds a sum of tree under the number",
            ),
            (
                "UPDATE row_sum SET of = 'trea' WHERE of = 'tree'",
                "row_sum holds sums of trea, and there is no such table",
            ),
        ] {
            fs::write(&file, &whole).unwrap();
            Connection::open(&file)
                .unwrap()
                .execute_batch(&format!("PRAGMA foreign_keys = 0; {sql}"))
                .unwrap();
            let lines = found(&file);
            assert!(lines.iter().any(|line| line.contains(told)), "{sql}: {lines:?}");
        }
    }
}
