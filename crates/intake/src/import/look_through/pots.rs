//! What the rules of pots say to a row before it is written: the same that the page of a pot says.

use std::collections::{HashMap, HashSet};

use collection::{
    potting::{Pot, Potted},
    reserve::Said,
    ware::{Ware, Whereabouts},
};
use store::{error::Error, reader::Reader};

/// What pots hold, and which are spoken for.
#[derive(Default)]
pub(super) struct PotRules {
    sitting: HashMap<String, Vec<String>>,
    spoken: HashSet<String>,
}

impl PotRules {
    /// The rules as they stand.
    pub(super) fn of(reader: &Reader) -> Result<PotRules, Error> {
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
        let said = reader.reservations()?.into_iter().filter(|it| it.said != Said::Never);
        Ok(PotRules { sitting, spoken: said.map(|it| it.pot).collect() })
    }

    /// What speaks against a row on a pot, if anything.
    pub(super) fn wrong(&self, it: &Ware, stood: Option<&Ware>, pot: &Pot) -> Option<(String, String)> {
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
            _ => None,
        }
    }
}
