//! A repot taken back: its work, its pot, its front, the promises it ended and its photo, all of it or nothing.

use collection::{limb::Front, repot::Repot, reserve::Reservation};
use jiff::civil::Date;
use store::{
    before::FrontBefore,
    change::Change,
    store::{Act, Store},
};

use super::{bench::room, is_work_of, known_pot, potted_by};
use crate::record::{FormError, bad, known_tree};

/// What came back with a repot that was taken back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TakenBack {
    /// Promises that stand again.
    pub back: Vec<Reservation>,
    /// Promises that do not: something else was said since, or their pot is gone.
    pub left: Vec<Reservation>,
    /// The photo of the repot, where it stays because something rests on it: a line, a stroke, a scale, a wire.
    pub photo: Option<String>,
}

/// Takes a repot back with its work and its photo. The tree stands in its pot of before, the front of before stands again unless another
/// was chosen since, and so do the promises that the repot ended.
///
/// # Errors
///
/// [`FormError`] when it is not one of this tree, or the pot that it stood in before holds another tree by now; then nothing was changed.
pub fn take_back_repot(store: &mut Store, tree: &str, day: Date) -> Result<TakenBack, FormError> {
    let tree = known_tree(store, tree)?;
    let reader = store.reader()?;
    let found = reader.repots()?.into_iter().find(|it| it.tree == tree && it.day == day);
    let it = found.ok_or_else(|| bad("repot", &day.to_string(), "is not one of this tree"))?;
    let (potted, works) = (reader.potted()?, reader.works()?);
    let put_by_it = potted.iter().any(|row| *row == potted_by(&it));
    let own = potted.iter().filter(|row| row.tree == tree);
    let before = own.clone().filter(|row| row.day < day).max_by_key(|row| row.day);
    let is_last = own.clone().all(|row| row.day <= day);
    let back_to = before.filter(|before| put_by_it && is_last && before.pot != it.pot);
    let ware = back_to.map(|row| known_pot(&reader, &row.pot)).transpose()?;
    let stands = reader.fronts()?.into_iter().find(|front| front.tree == tree && front.rank == 0);
    store.transact(&Act::TakeBack(tree.clone()), |change| {
        if let Some((pot, ware)) = &ware {
            let into = Repot { pot: pot.key.clone(), ..it.clone() };
            room(&reader, change, &into, pot, ware)?;
        }
        front_back(change, &it, stands.as_ref())?;
        let ended = change.promises_before(&tree, day)?;
        change.remove_repot(&tree, day)?;
        if put_by_it {
            change.remove_potted(&tree, day)?;
        }
        for (id, _) in works.iter().filter(|(_, work)| is_work_of(&it, work)) {
            change.remove_work(*id)?;
        }
        let mut told = TakenBack::default();
        for promise in ended {
            let is_back = change.bring_back_reservation(&promise)?;
            if is_back { told.back.push(promise) } else { told.left.push(promise) }
        }
        if let Some(photo) = &it.photo
            && !change.drop_photo(photo)?
        {
            told.photo = Some(photo.clone());
        }
        Ok::<TakenBack, FormError>(told)
    })
}

/// Brings back the front that stood before a repot. A later repot that found the front of this one remembers the one before instead; a
/// front chosen since stays.
fn front_back(change: &Change<'_>, it: &Repot, stands: Option<&Front>) -> Result<(), FormError> {
    let known = change.fronts_before(&it.tree)?;
    let Some(FrontBefore { before, set, .. }) = known.iter().find(|known| known.day == it.day) else {
        return Ok(());
    };
    match known.iter().find(|known| known.day > it.day) {
        Some(later) if later.before.as_ref() == Some(set) => {
            change.set_front_before(&FrontBefore { before: before.clone(), ..later.clone() })?;
        }
        None if stands == Some(set) => {
            match before {
                Some(front) => change.set_front(front)?,
                None => change.remove_front(&it.tree, 0)?,
            };
        }
        _ => {}
    }
    Ok(())
}
