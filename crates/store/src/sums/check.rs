//! The sums held against the rows, and what differs in words.

use std::collections::BTreeMap;

use rusqlite::{Connection, types::ValueRef};

use super::{BUCKETS, Sum, Table, hashed, summed};
use crate::{error::Error, row};

/// Most rows named for one sum that differs.
const NAMED: usize = 5;

/// Rows that are not as they were saved; one line for each sum that differs.
pub(crate) fn faults(db: &Connection) -> Result<Vec<String>, Error> {
    let mut faults = Vec::new();
    let tables = Table::all(db)?;
    for table in &tables {
        match of_table(db, table) {
            Ok(found) => faults.extend(found),
            Err(why) => faults.push(format!("{} cannot be read: {why}", table.name)),
        }
    }
    let summed: Vec<String> =
        row::rows(db, include_str!("../row_sum/tables.sql"), [], |row| Ok(row.get(0)?))?;
    let gone = summed.iter().filter(|name| !tables.iter().any(|table| table.name == **name));
    faults.extend(gone.map(|name| format!("row_sum holds sums of {name}, and there is no such table")));
    Ok(faults)
}

fn of_table(db: &Connection, table: &Table) -> Result<Vec<String>, Error> {
    let now = summed(db, table)?;
    let mut saved: BTreeMap<i64, Sum> = BTreeMap::new();
    let mut faults = Vec::new();
    let stored: Vec<(i64, Sum)> =
        row::rows(db, include_str!("../row_sum/of_table.sql"), [&table.name], |row| {
            Ok((row.get(0)?, Sum { count: row.get(1)?, total: row.get::<_, i64>(2)?.cast_unsigned() }))
        })?;
    for (bucket, sum) in stored {
        if !(0..BUCKETS as i64).contains(&bucket) || saved.insert(bucket, sum).is_some() {
            faults.push(format!("row_sum holds a sum of {} under the number {bucket}", table.name));
        }
    }
    let mut differ = BTreeMap::new();
    for (bucket, sum) in (0..).zip(&now) {
        let was = saved.get(&bucket).copied().unwrap_or_default();
        if was != *sum {
            differ.insert(bucket as u64, (was.count, Vec::new()));
        }
    }
    if !differ.is_empty() {
        name_rows(db, table, &mut differ)?;
        faults.extend(differ.into_values().map(|(was, rows)| words(&table.name, was, &rows)));
    }
    Ok(faults)
}

fn name_rows(
    db: &Connection,
    table: &Table,
    differ: &mut BTreeMap<u64, (i64, Vec<String>)>,
) -> Result<(), Error> {
    let mut query = db.prepare(&table.select())?;
    let mut rows = query.query([])?;
    let mut buffer = Vec::new();
    while let Some(row) = rows.next()? {
        let cells: Vec<ValueRef<'_>> =
            (0..table.columns.len()).map(|at| row.get_ref(at)).collect::<Result<_, _>>()?;
        let (_, bucket) = hashed(table, &mut buffer, |at| cells[at]);
        if let Some((_, named)) = differ.get_mut(&bucket) {
            let key: Vec<String> = table.key.iter().map(|&at| shown(cells[at])).collect();
            named.push(key.join(" "));
        }
    }
    Ok(())
}

fn shown(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => "nothing".into(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        ValueRef::Text(text) => String::from_utf8_lossy(text).escape_debug().to_string(),
        ValueRef::Blob(bytes) => format!("{} bytes", bytes.len()),
    }
}

fn words(table: &str, was: i64, rows: &[String]) -> String {
    let mut named: Vec<String> = rows.iter().take(NAMED).map(|row| format!("“{row}”")).collect();
    if rows.len() > NAMED {
        named.push(format!("and {} more", rows.len() - NAMED));
    }
    let (now, named) = (rows.len() as i64, named.join(", "));
    match (was - now, now) {
        (0, 1) => format!("{table}: the row {named} is not as it was saved"),
        (0, _) => format!("{table}: one of these rows is not as it was saved: {named}"),
        (1, 0) => format!("{table}: a row that was saved is gone"),
        (1.., _) => format!("{table}: {} of {was} rows that were saved are gone; left is {named}", was - now),
        (_, 1) => format!("{table}: the row {named} was never saved under this name"),
        (_, _) => format!("{table}: of these {now} rows {} were never saved: {named}", now - was),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_differs_is_named_as_closely_as_it_is_known() {
        let rows = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
        assert_eq!(words("tree", 1, &rows(&["elm"])), "tree: the row “elm” is not as it was saved");
        assert_eq!(
            words("act", 7, &rows(&["1", "2", "3", "4", "5", "6", "7"])),
            "act: one of these rows is not as it was saved: “1”, “2”, “3”, “4”, “5”, and 2 more"
        );
        assert_eq!(words("tree", 1, &[]), "tree: a row that was saved is gone");
        assert_eq!(words("tree", 0, &rows(&["elm"])), "tree: the row “elm” was never saved under this name");
    }
}
