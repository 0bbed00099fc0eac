//! Sheets of the shelf looked through: names that nobody knows, rows that contradict each other, pots held twice.

use std::collections::{BTreeMap, BTreeSet};

use collection::{
    potting::Pot,
    reserve::{Reservation, Said},
    ware::{Ware, Whereabouts},
};
use store::{error::Error, reader::Reader};

use super::{Contents, Known, Preview, fine, sheet_preview};
use crate::{
    refusal::Refusal,
    sheet::shelf::{self, ShelfRow, ShelfSheet},
};

/// What rows may rest on.
struct Ground {
    pots: BTreeMap<String, Pot>,
    mixes: BTreeSet<String>,
    wares: Vec<Ware>,
    reservations: Vec<Reservation>,
}

/// A sheet of the shelf.
pub(super) fn shelf(reader: &Reader, known: &Known, sheet: ShelfSheet, text: &str) -> Result<Preview, Error> {
    let mut ground = Ground {
        pots: reader.pots()?.into_iter().map(|pot| (pot.key.clone(), pot)).collect(),
        mixes: reader.mixes()?.into_iter().map(|mix| mix.key).collect(),
        wares: reader.wares()?,
        reservations: reader.reservations()?,
    };
    let mut read = shelf::read(sheet, text, &ground.pots);
    let mut kept: Vec<(usize, ShelfRow)> = Vec::with_capacity(read.rows.len());
    let mut lines: BTreeMap<String, usize> = BTreeMap::new();
    for (line, row) in std::mem::take(&mut read.rows) {
        let name = row.name();
        if let Some(&at) = lines.get(&name) {
            if kept[at].1 != row {
                let why = format!("this stands on line {} already, with other details", kept[at].0);
                read.refused.push(Refusal { line, value: name, why });
            }
            continue;
        }
        match wrong(&row, known, &mut ground) {
            Some((value, why)) => read.refused.push(Refusal { line, value, why }),
            None => {
                lines.insert(name, kept.len());
                kept.push((line, row));
            }
        }
    }
    let kept_as_they_are = differing(&kept, &ground.wares);
    read.rows = kept;
    let told = sheet_preview(sheet.words(), read, ShelfRow::day, fine, |rows| {
        Some(Contents::Shelf(ShelfRow::gathered(rows)))
    });
    Ok(told.with_note(kept_as_they_are))
}

/// How many pots of the sheet are known already with other details.
fn differing(rows: &[(usize, ShelfRow)], wares: &[Ware]) -> Option<String> {
    let differs = |row: &ShelfRow| match row {
        ShelfRow::Ware(it) => wares
            .iter()
            .any(|ware| ware.pot == it.pot && Ware { revision: it.revision, ..ware.clone() } != **it),
        _ => false,
    };
    match rows.iter().filter(|(_, row)| differs(row)).count() {
        0 => None,
        count => {
            Some(format!("{count} stand in the collection already with other details, and stay as they are"))
        }
    }
}

/// What of a row nobody knows, or what speaks against it.
fn wrong(row: &ShelfRow, known: &Known, ground: &mut Ground) -> Option<(String, String)> {
    let absent = |what: &str| format!("no {what} in the collection has this name");
    if let Some(tree) = row.tree()
        && let Some(why) = known.tree(tree)
    {
        return Some((tree.clone(), why));
    }
    if let Some(pot) = row.pots().into_iter().find(|pot| !ground.pots.contains_key(*pot)) {
        return Some((pot.clone(), absent("pot")));
    }
    if let Some(mix) = row.mix().filter(|mix| !ground.mixes.contains(*mix)) {
        return Some((mix.clone(), absent("mix")));
    }
    let ShelfRow::Reservation(it) = row else { return None };
    let stands =
        |other: &&Reservation| (&other.pot, &other.tree, other.season) == (&it.pot, &it.tree, it.season);
    if ground.reservations.iter().any(|other| stands(&other)) {
        return None;
    }
    let ware = ground.wares.iter().find(|ware| ware.pot == it.pot);
    if ware.is_some_and(|ware| ware.training) {
        return Some((
            it.pot.clone(),
            "is a training pot, which is taken as needed and never reserved".into(),
        ));
    }
    if let Some(ware) = ware.filter(|ware| ware.whereabouts != Whereabouts::Shelf && it.said != Said::Never) {
        return Some((it.pot.clone(), format!("is {}", ware.whereabouts.words())));
    }
    let holder = ground.reservations.iter().find(|other| {
        other.pot == it.pot && other.season == it.season && other.said.holds() && it.said.holds()
    });
    if let Some(holder) = holder {
        return Some((it.pot.clone(), format!("is held for {} that season already", holder.tree)));
    }
    ground.reservations.push(it.clone());
    None
}

#[cfg(test)]
mod tests;
