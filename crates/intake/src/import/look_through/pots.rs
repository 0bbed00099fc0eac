//! What the rules of pots say to a row before it is written: the same that the page of a pot says.

use std::collections::{BTreeMap, HashMap, HashSet};

use collection::{
    potting::{Pot, Potted},
    reserve::Said,
    ware::{Ware, Whereabouts},
};
use store::{error::Error, reader::Reader};

use crate::sheet::shelf::ShelfRow;

/// A training pot with the litres of soil it takes, and how many of it have no tree in them.
struct Free {
    pot: String,
    litres: f64,
    count: usize,
}

/// What pots hold, which are spoken for, and where a tree from a broken one may go.
#[derive(Default)]
pub(super) struct PotRules {
    sitting: HashMap<String, Vec<String>>,
    spoken: HashSet<String>,
    boxes: Vec<Free>,
}

fn litres(pot: &Pot) -> Option<f64> {
    pot.vessel.soil().ok().map(|soil| soil.volume().0)
}

impl PotRules {
    /// The rules as they stand, without the training pots that a sheet takes off the shelf.
    pub(super) fn of<'a>(
        reader: &Reader,
        pots: &BTreeMap<String, Pot>,
        wares: &BTreeMap<String, Ware>,
        rows: impl Iterator<Item = &'a ShelfRow>,
    ) -> Result<PotRules, Error> {
        let names: HashMap<String, String> =
            reader.trees()?.into_iter().map(|tree| (tree.key, tree.name)).collect();
        let mut last: HashMap<String, Potted> = HashMap::new();
        for it in reader.potted()? {
            let is_later = last.get(&it.tree).is_none_or(|other| other.day <= it.day);
            if is_later {
                last.insert(it.tree.clone(), it);
            }
        }
        let mut sitting: HashMap<String, Vec<String>> = HashMap::new();
        for it in last.into_values() {
            let name = names.get(&it.tree).cloned().unwrap_or(it.tree);
            sitting.entry(it.pot).or_default().push(name);
        }
        let leaving: HashSet<&str> = rows
            .filter_map(|row| match row {
                ShelfRow::Ware(it) if !it.training || it.whereabouts != Whereabouts::Shelf => {
                    Some(it.pot.as_str())
                }
                _ => None,
            })
            .collect();
        let free = |ware: &Ware| {
            let is_box = ware.training && ware.whereabouts == Whereabouts::Shelf;
            let litres = pots
                .get(&ware.pot)
                .filter(|_| is_box && !leaving.contains(ware.pot.as_str()))
                .and_then(litres)?;
            let used = sitting.get(&ware.pot).map_or(0, Vec::len);
            Some(Free { pot: ware.pot.clone(), litres, count: usize::from(ware.count).saturating_sub(used) })
        };
        let mut boxes: Vec<Free> = wares.values().filter_map(free).collect();
        boxes.sort_by(|a, b| a.litres.total_cmp(&b.litres).then_with(|| a.pot.cmp(&b.pot)));
        let said = reader.reservations()?.into_iter().filter(|it| it.said != Said::Never);
        Ok(PotRules { sitting, spoken: said.map(|it| it.pot).collect(), boxes })
    }

    /// What speaks against a row on a pot, if anything.
    pub(super) fn wrong(&mut self, it: &Ware, stood: Option<&Ware>, pot: &Pot) -> Option<(String, String)> {
        let was = stood.map_or(Whereabouts::Shelf, |stood| stood.whereabouts);
        if stood.is_none() && it.whereabouts == was {
            return None;
        }
        let no = |why: String| Some((pot.name.clone(), why));
        if it.training && !stood.is_some_and(|stood| stood.training) && self.spoken.contains(&it.pot) {
            return no("is reserved, so it cannot be a training pot; end that first".into());
        }
        let sitting: &[String] = self.sitting.get(&it.pot).map_or(&[], Vec::as_slice);
        if sitting.len() > usize::from(it.count) {
            return no(format!(
                "has {} with a tree in them; a count of {} is fewer",
                sitting.len(),
                it.count
            ));
        }
        if it.whereabouts == was {
            return None;
        }
        if it.count > 1 && it.whereabouts != Whereabouts::Shelf {
            return no(format!("stands for {} alike; change their count instead", it.count));
        }
        match (it.whereabouts, sitting.first()) {
            (Whereabouts::Gone | Whereabouts::Lent, Some(tree)) => {
                let to = it.whereabouts.words();
                no(format!("holds {tree}; it cannot be {to} before the tree is out of it"))
            }
            (Whereabouts::Broken, Some(_)) => {
                let (needed, count) = (litres(pot).unwrap_or(0.0), sitting.len());
                (0..count).find_map(|_| self.take(&it.pot, needed)).map(|why| (pot.name.clone(), why))
            }
            _ => None,
        }
    }

    /// Takes a free training pot for the tree of a broken one; says why where there is none.
    fn take(&mut self, broken: &str, needed: f64) -> Option<String> {
        let found = self.boxes.iter_mut().find(|it| it.pot != broken && it.litres >= needed && it.count > 0);
        match found {
            Some(free) => {
                free.count -= 1;
                None
            }
            None => Some(format!(
                "has a tree in it, and no free training pot holds its {needed:.1} L; add a box first"
            )),
        }
    }
}
