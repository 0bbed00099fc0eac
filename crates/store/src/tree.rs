//! Rows of trees; an edit names the version it started from.

use collection::{
    drink::Worth,
    tree::{NameConfidence, Tree},
};
use measure::taxon::Taxon;
use rusqlite::{OptionalExtension, Row, params};

use crate::{change::Change, error::Error, reader::Reader, row};

fn tree(row: &Row<'_>) -> Result<Tree, Error> {
    let (taxon, confidence): (String, String) = (row.get(2)?, row.get(3)?);
    let since: Option<String> = row.get(4)?;
    let worth: String = row.get(7)?;
    let candidates: String = row.get(8)?;
    let candidates = candidates.split_whitespace().map(|key| row::word("tree", "candidates", key, Taxon::of));
    Ok(Tree {
        key: row.get(0)?,
        name: row.get(1)?,
        taxon: row::word("tree", "taxon", &taxon, Taxon::of)?,
        candidates: candidates.collect::<Result<_, Error>>()?,
        name_confidence: row::word("tree", "confidence", &confidence, NameConfidence::from_key)?,
        since: since.map(|day| row::date("tree", &day)).transpose()?,
        note: row.get(5)?,
        revision: row.get(6)?,
        worth: row::word("tree", "worth", &worth, Worth::from_key)?,
    })
}

/// Taxa as the column holds them.
fn keys(taxa: &[&'static Taxon]) -> String {
    taxa.iter().map(|taxon| taxon.key).collect::<Vec<_>>().join(" ")
}

impl Reader {
    /// Every tree, in the order they were added.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn trees(&self) -> Result<Vec<Tree>, Error> {
        row::rows(&self.db, include_str!("tree/all.sql"), [], tree)
    }
}

impl Change<'_> {
    /// Adds a tree; false if one of that key stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add_tree(&self, tree: &Tree) -> Result<bool, Error> {
        let since = tree.since.map(|day| day.to_string());
        let given = params![
            tree.key,
            tree.name,
            tree.taxon.key,
            tree.name_confidence.key(),
            since,
            tree.note,
            tree.worth.key(),
            keys(&tree.candidates)
        ];
        Ok(self.tx.execute(include_str!("tree/add.sql"), given)? > 0)
    }

    /// Changes a tree's record, starting from the version in `tree.revision`.
    ///
    /// # Errors
    ///
    /// [`Error::Stale`] when the record has moved on, [`Error::Unknown`] when there is no such tree.
    pub fn edit_tree(&self, tree: &Tree) -> Result<(), Error> {
        let since = tree.since.map(|day| day.to_string());
        let given = params![
            tree.key,
            tree.name,
            tree.taxon.key,
            tree.name_confidence.key(),
            since,
            tree.note,
            tree.revision,
            tree.worth.key(),
            keys(&tree.candidates)
        ];
        if self.tx.execute(include_str!("tree/edit.sql"), given)? > 0 {
            return Ok(());
        }
        let stored: Option<u32> =
            self.tx.query_row(include_str!("tree/get.sql"), [&tree.key], |row| row.get(6)).optional()?;
        Err(match stored {
            Some(stored) => Error::Stale { key: tree.key.clone(), yours: tree.revision, stored },
            None => Error::Unknown { what: "tree", key: tree.key.clone() },
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{Act, Store};

    #[test]
    fn two_tabs_on_one_tree_lose_nothing_silently() {
        let mut store = Store::in_memory().unwrap();
        let fresh = Tree {
            key: "old-maple".into(),
            name: "Old maple".into(),
            taxon: Taxon::of("acer-palmatum").unwrap(),
            candidates: Vec::new(),
            name_confidence: NameConfidence::Sure,
            since: None,
            worth: Worth::Standing,
            note: String::new(),
            revision: 0,
        };
        store.transact(&Act::AddTree(fresh.key.clone()), |change| change.add_tree(&fresh)).unwrap();
        let read = store.reader().unwrap().trees().unwrap().remove(0);
        let (first, second) = (
            Tree { note: "from tab one".into(), ..read.clone() },
            Tree { note: "from tab two".into(), ..read },
        );
        let act = Act::EditTree(first.key.clone());
        store.transact(&act, |change| change.edit_tree(&first)).unwrap();
        let refused = store.transact(&act, |change| change.edit_tree(&second));
        assert!(matches!(refused, Err(Error::Stale { yours: 1, stored: 2, .. })), "{refused:?}");
        assert_eq!(store.reader().unwrap().trees().unwrap()[0].note, "from tab one");
    }
}
