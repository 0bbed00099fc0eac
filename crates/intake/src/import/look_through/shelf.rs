//! Sheets of the shelf looked through: names that nobody knows, rows that contradict each other, pots held twice.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use collection::{
    potting::Pot,
    reserve::{Reservation, Said},
    ware::{Ware, Whereabouts},
};
use store::error::Error;

use super::{
    Contents, Known, Preview,
    pots::PotRules,
    sheets::{Ground, told},
};
use crate::{
    refusal::Refusal,
    sheet::{
        Change, Entry, Read, Settled, Taken, differences, settle,
        shelf::{ShelfRow, ShelfSheet},
    },
};

/// What rows may rest on.
struct Shelf {
    pots: BTreeMap<String, Pot>,
    mixes: BTreeSet<String>,
    wares: BTreeMap<String, Ware>,
    said: HashSet<(String, String, i16)>,
    held: HashMap<(String, i16), String>,
    rules: PotRules,
}

/// A sheet of the shelf.
pub(super) fn shelf(ground: &Ground<'_>, sheet: ShelfSheet, text: &str) -> Result<Preview, Error> {
    let reader = ground.reader;
    let reservations = reader.reservations()?;
    let mut shelf = Shelf {
        pots: reader.pots()?.into_iter().map(|pot| (pot.key.clone(), pot)).collect(),
        mixes: reader.mixes()?.into_iter().map(|mix| mix.key).collect(),
        wares: reader.wares()?.into_iter().map(|ware| (ware.pot.clone(), ware)).collect(),
        said: HashSet::new(),
        held: HashMap::new(),
        rules: PotRules::default(),
    };
    reservations.iter().for_each(|it| shelf.hold(it));
    let read = ground.rows(sheet.format(), text);
    let take = |row: &_| sheet.row(row, &shelf.pots);
    let settled = match sheet {
        ShelfSheet::Blends => {
            let settled = settle(read, take, Vec::new(), |_, _| Change::Never);
            blends(settled, sheet.standing(reader)?, ground.change())
        }
        _ => settle(read, take, sheet.standing(reader)?, |_, _| match sheet.changes() {
            true => ground.change(),
            false => Change::Never,
        }),
    };
    if sheet == ShelfSheet::Wares {
        shelf.rules = PotRules::of(reader)?;
    }
    let wrong = |row: &ShelfRow| wrong(row, &ground.known, &mut shelf);
    Ok(told(sheet.words(), settled, ShelfRow::day, wrong, Contents::Shelf))
}

/// Components gathered to their mixes and held against what each mix is made of; a mix is told whole.
fn blends(settled: Settled<ShelfRow>, standing: Vec<ShelfRow>, change: Change) -> Settled<ShelfRow> {
    let Settled { read, mut same } = settled;
    let mut lines: BTreeMap<String, usize> = BTreeMap::new();
    for (line, row) in &read.rows {
        if let Some(mix) = row.it.mix() {
            lines.entry(mix.clone()).or_insert(*line);
        }
    }
    let standing: HashMap<String, ShelfRow> = standing.into_iter().map(|it| (it.identity(), it)).collect();
    let (mut rows, mut refused) = (Vec::new(), read.refused);
    for it in ShelfRow::gathered(read.rows.into_iter().map(|(_, row)| row.it).collect()) {
        let line = lines.get(&it.identity()).copied().unwrap_or(0);
        let stood = standing.get(&it.identity()).cloned();
        let gaps = stood.as_ref().map_or_else(Vec::new, |stood| differences(&stood.cells(), &it.cells()));
        match (&stood, gaps.is_empty(), change) {
            (Some(_), true, _) => same += 1,
            (Some(_), false, Change::NotAsked | Change::Never) => refused.push(Refusal {
                line,
                value: it.identity(),
                why: format!(
                    "differs from what is in the collection: {}; choose to change what is in the collection \
                     (--update), or correct the rows",
                    gaps.join("; ")
                ),
            }),
            _ => rows.push((line, Taken { line, it, stood })),
        }
    }
    Settled { read: Read { rows, refused, notes: read.notes, readable: read.readable }, same }
}

impl Shelf {
    /// Takes a word on a pot and a tree into account.
    fn hold(&mut self, it: &Reservation) {
        self.said.insert((it.pot.clone(), it.tree.clone(), it.season));
        if it.said.holds() {
            self.held.insert((it.pot.clone(), it.season), it.tree.clone());
        }
    }
}

/// What of a row nobody knows, or what speaks against it.
fn wrong(row: &ShelfRow, known: &Known, shelf: &mut Shelf) -> Option<(String, String)> {
    let absent = |what: &str| format!("no {what} in the collection has this name");
    if let Some(tree) = row.tree()
        && let Some(why) = known.tree(tree)
    {
        return Some((tree.clone(), why));
    }
    if let Some(pot) = row.pots().into_iter().find(|pot| !shelf.pots.contains_key(*pot)) {
        return Some((pot.clone(), absent("pot")));
    }
    if let Some(mix) = row.mix().filter(|mix| !shelf.mixes.contains(*mix)) {
        return Some((mix.clone(), absent("mix")));
    }
    if let ShelfRow::Ware(it) = row {
        return shelf.rules.wrong(it, shelf.wares.get(&it.pot), shelf.pots.get(&it.pot)?);
    }
    let ShelfRow::Reservation(it) = row else { return None };
    if shelf.said.contains(&(it.pot.clone(), it.tree.clone(), it.season)) {
        return None;
    }
    let ware = shelf.wares.get(&it.pot);
    if ware.is_some_and(|ware| ware.training) {
        return Some((
            it.pot.clone(),
            "is a training pot, which is taken as needed and never reserved".into(),
        ));
    }
    if let Some(ware) = ware.filter(|ware| ware.whereabouts != Whereabouts::Shelf && it.said != Said::Never) {
        return Some((it.pot.clone(), format!("is {}", ware.whereabouts.words())));
    }
    let holder = shelf.held.get(&(it.pot.clone(), it.season)).filter(|_| it.said.holds());
    if let Some(holder) = holder {
        return Some((it.pot.clone(), format!("is held for {holder} that season already")));
    }
    shelf.hold(it);
    None
}

#[cfg(test)]
mod tests;
