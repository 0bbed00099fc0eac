//! Which columns readers ask for, noted while tests run: each is in its table, and each of the table is asked for.

use std::{cell::RefCell, collections::BTreeSet};

use super::{format::Column, table};

thread_local! {
    static ASKED: RefCell<BTreeSet<(usize, String)>> = const { RefCell::new(BTreeSet::new()) };
}

/// Notes that a reader asked for a column.
pub(super) fn note(columns: &'static [Column], name: &str) {
    ASKED.with_borrow_mut(|asked| asked.insert((columns.as_ptr() as usize, name.to_string())));
}

#[test]
fn readers_ask_for_the_columns_of_their_table_and_no_others() {
    use crate::import::{Kind, Options, import};

    let mut store = crate::import::examples::stocked();
    for format in table::all() {
        ASKED.with_borrow_mut(BTreeSet::clear);
        let kind = Kind::from_key(format.key, "").unwrap();
        let name = format!("{}.csv", format.key);
        import(&mut store, &kind, &name, format.example.as_bytes(), &Options::default()).unwrap();
        let asked: BTreeSet<String> = ASKED.with_borrow(|asked| {
            let own = asked.iter().filter(|(at, _)| *at == format.columns.as_ptr() as usize);
            own.map(|(_, name)| name.clone()).collect()
        });
        let table: BTreeSet<String> = format.columns.iter().map(|column| column.name.to_string()).collect();
        assert_eq!(asked, table, "{}", format.key);
    }
}
