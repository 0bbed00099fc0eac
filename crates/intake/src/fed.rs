//! Feed in the diary: which trees were fed on a day, all in one act.

use collection::event::{Work, WorkKind};
use jiff::civil::Date;
use store::store::{Act, Store};

use crate::{
    asked::Asked,
    record::{FormError, bad, day, known_tree},
};

/// Saves that trees were fed on a day, all or none; what speaks against it is asked about, and the reason kept with each. A tree that was
/// fed that day stays as it is.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn fed(
    store: &mut Store,
    trees: &[String],
    on: &str,
    asked: Asked<'_>,
    today: Date,
) -> Result<(), FormError> {
    let day = day(on, today)?;
    if trees.is_empty() {
        return Err(bad("trees", "", "none was chosen"));
    }
    let trees: Vec<String> = trees.iter().map(|tree| known_tree(store, tree)).collect::<Result<_, _>>()?;
    let note = asked.note(WorkKind::Fed.words(), String::new())?;
    let works = store.reader()?.works()?;
    let is_fed = |tree: &String| {
        works.iter().any(|(_, it)| it.tree == *tree && it.day == day && it.kind == WorkKind::Fed)
    };
    let fresh: Vec<&String> = trees.iter().filter(|tree| !is_fed(tree)).collect();
    if fresh.is_empty() {
        return Ok(());
    }
    store.transact(&Act::Work(trees.join(", ")), |change| {
        for tree in fresh {
            let kind = WorkKind::Fed;
            change.add_work(&Work { tree: tree.clone(), day, kind, roots: None, note: note.clone() })?;
        }
        Ok::<(), store::error::Error>(())
    })?;
    Ok(())
}
