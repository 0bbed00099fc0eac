//! Where a pot is: one with a tree in it neither goes nor is lent, and one that breaks frees its tree to a box.

use std::collections::{HashMap, HashSet};

use collection::{
    event::{Work, WorkKind},
    potting::{Pot, Potted},
    reserve::{Reservation, Said},
    ware::{Ware, Whereabouts},
};
use jiff::civil::Date;
use measure::quantity::Litre;
use store::{
    change::Change,
    reader::Reader,
    store::{Act, Store},
};

use super::{known_pot, version, word};
use crate::{
    limits::{FIRST_YEAR, SHORT},
    record::{FormError, bad, line},
};

/// Where a pot is, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct WhereaboutsForm<'a> {
    pub pot: &'a str,
    pub whereabouts: &'a str,
    pub spot: &'a str,
    /// The training pot that takes the tree out of a broken one; empty for the smallest that holds its soil.
    pub into: &'a str,
    pub revision: &'a str,
}

/// What became of a pot, of the trees in it, and of what was said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PotTold {
    /// Each tree that was freed, and the training pot it went into.
    pub freed: Vec<(String, String)>,
    /// Promises and other words on the pot that ended with it.
    pub ended: Vec<Reservation>,
}

/// Writes down where a pot is. What was said of a pot that is gone or broken ends; the tree in a broken one goes into a training pot, and its diary says so.
///
/// # Errors
///
/// [`FormError`] when a tree stands in a pot that is to go or be lent, when no box is left for the tree in a broken one, or when the
/// pot's record has moved on; then nothing was written.
pub fn whereabouts(store: &mut Store, form: WhereaboutsForm<'_>, today: Date) -> Result<PotTold, FormError> {
    let reader = store.reader()?;
    let (pot, known) = known_pot(&reader, form.pot)?;
    let to = word("whereabouts", form.whereabouts, Whereabouts::from_key)?;
    if known.count > 1 && to != Whereabouts::Shelf {
        let why = format!("stands for {} alike; change their count instead", known.count);
        return Err(bad("pot", &pot.name, why));
    }
    let ware = Ware {
        whereabouts: to,
        spot: line("spot", form.spot, SHORT)?,
        revision: version(form.revision)?,
        ..known
    };
    let shed = Shed::of(&reader)?;
    store.transact(&Act::Whereabouts(pot.key.clone()), |change| {
        go(change, &shed, Some(form.into), &pot, &ware, today)
    })
}

/// What is read before a pot's whereabouts change: the training pots on the shelf, what is said of pots, and how trees are called.
pub(crate) struct Shed {
    boxes: Vec<(Pot, u16)>,
    reservations: Vec<Reservation>,
    names: HashMap<String, String>,
}

impl Shed {
    pub(crate) fn of(reader: &Reader) -> Result<Shed, store::error::Error> {
        let wares: HashMap<String, Ware> =
            reader.wares()?.into_iter().map(|ware| (ware.pot.clone(), ware)).collect();
        let takes = |pot: Pot| {
            let it = wares.get(&pot.key).filter(|it| it.training && it.whereabouts == Whereabouts::Shelf)?;
            Some((pot, it.count))
        };
        Ok(Shed {
            boxes: reader.pots()?.into_iter().filter_map(takes).collect(),
            reservations: reader.reservations()?,
            names: reader.trees()?.into_iter().map(|tree| (tree.key, tree.name)).collect(),
        })
    }

    /// Without training pots that leave the shelf in the same act.
    pub(crate) fn without(mut self, leaving: &HashSet<&str>) -> Shed {
        self.boxes.retain(|(pot, _)| !leaving.contains(pot.key.as_str()));
        self
    }

    fn name_of<'a>(&'a self, tree: &'a str) -> &'a str {
        self.names.get(tree).map_or(tree, String::as_str)
    }
}

/// Changes what is known of a pot, by the rules of its page: a pot with a tree in it is neither lent nor gone, one that breaks frees its
/// tree, and one that is reserved is no training pot.
pub(crate) fn change_ware(
    change: &Change<'_>,
    shed: &Shed,
    pot: &Pot,
    [stood, edited]: [&Ware; 2],
    today: Option<Date>,
) -> Result<bool, FormError> {
    if edited.training
        && !stood.training
        && let Some(it) = shed.reservations.iter().find(|it| it.pot == pot.key && it.said != Said::Never)
    {
        let why = format!("is {} {}; end that first", it.said.words(), it.tree);
        return Err(bad("training", &pot.name, why));
    }
    let sitting = change.sitting(&pot.key)?;
    if sitting.len() > usize::from(edited.count) {
        let why = format!("is fewer than the {} with a tree in them", sitting.len());
        return Err(bad("count", &edited.count.to_string(), why));
    }
    if edited.whereabouts == stood.whereabouts {
        change.set_ware(edited)?;
    } else if edited.count > 1 && edited.whereabouts != Whereabouts::Shelf {
        let why = format!("stands for {} alike; change their count instead", edited.count);
        return Err(bad("pot", &pot.name, why));
    } else {
        let last = sitting.iter().map(|it| it.day).max();
        let day = today.or(last).unwrap_or(Date::constant(FIRST_YEAR, 1, 1));
        go(change, shed, None, pot, edited, day)?;
    }
    Ok(true)
}

/// Saves where a pot is, and what follows from it. A form names a training pot for the tree of a broken one, or leaves the choice to us; a
/// sheet names none, and where no box is free the tree stays in the broken pot, as its pages then say.
fn go(
    change: &Change<'_>,
    shed: &Shed,
    into: Option<&str>,
    pot: &Pot,
    ware: &Ware,
    today: Date,
) -> Result<PotTold, FormError> {
    let to = ware.whereabouts;
    let boxes: Vec<&(Pot, u16)> = shed.boxes.iter().filter(|(other, _)| other.key != pot.key).collect();
    let sitting = change.sitting(&pot.key)?;
    let mut told = PotTold { freed: Vec::new(), ended: Vec::new() };
    if let Some(first) = sitting.first()
        && matches!(to, Whereabouts::Gone | Whereabouts::Lent)
    {
        let tree = shed.name_of(&first.tree);
        let why = format!("holds {tree}; it cannot be {} before the tree is out of it", to.words());
        return Err(bad("pot", &pot.name, why));
    }
    change.set_ware(ware)?;
    if to == Whereabouts::Broken {
        for stood in &sitting {
            let to = match (take(change, &boxes, into.unwrap_or(""), pot)?, into) {
                (Some(to), _) => to,
                (None, None) => continue,
                (None, Some(_)) => return Err(no_box(pot)),
            };
            let moved = Potted { day: stood.day.max(today), pot: to.clone(), ..stood.clone() };
            change.add_potted(&moved)?;
            let into = boxes.iter().find(|(pot, _)| pot.key == to).map_or(&to, |(pot, _)| &pot.name);
            let note = format!("its pot broke; put into {into}");
            let kind = WorkKind::Other;
            change.add_work(&Work { tree: stood.tree.clone(), day: moved.day, kind, roots: None, note })?;
            told.freed.push((stood.tree.clone(), to));
        }
    }
    if matches!(to, Whereabouts::Broken | Whereabouts::Gone) {
        told.ended = change.end_reservations(&pot.key)?;
    }
    Ok(told)
}

/// Why a pot cannot be recorded as broken by a form: its tree has nowhere to go.
fn no_box(broken: &Pot) -> FormError {
    let needed = soil(broken).unwrap_or(Litre(0.0));
    let why =
        format!("has a tree in it, and no free training pot holds its {:.1} L; add a box first", needed.0);
    bad("pot", &broken.name, why)
}

/// The training pot that takes the tree: the one named, else the smallest that holds the soil; none where none is free.
fn take(
    change: &Change<'_>,
    boxes: &[&(Pot, u16)],
    named: &str,
    broken: &Pot,
) -> Result<Option<String>, FormError> {
    let is_free = |(pot, count): &&(Pot, u16)| {
        Ok::<bool, FormError>(change.sitting(&pot.key)?.len() < usize::from(*count))
    };
    if !named.trim().is_empty() {
        let found = boxes.iter().find(|(pot, _)| pot.key == named.trim());
        let found = found.ok_or_else(|| bad("into", named, "is no training pot on the shelf"))?;
        return match is_free(found)? {
            true => Ok(Some(found.0.key.clone())),
            false => Err(bad("into", &found.0.name, "is used up; every one has a tree in it")),
        };
    }
    let needed = soil(broken).unwrap_or(Litre(0.0));
    let mut fitting: Vec<(f64, &(Pot, u16))> = boxes
        .iter()
        .copied()
        .filter_map(|it| soil(&it.0).filter(|soil| soil.0 >= needed.0).map(|soil| (soil.0, it)))
        .collect();
    fitting.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.0.key.cmp(&b.1.0.key)));
    for (_, it) in fitting {
        if is_free(&it)? {
            return Ok(Some(it.0.key.clone()));
        }
    }
    Ok(None)
}

fn soil(pot: &Pot) -> Option<Litre> {
    pot.vessel.soil().ok().map(|soil| soil.volume())
}

/// Deletes a pot with all that is known of it, starting from the version of its record that the page showed, and returns what was said of
/// it and ended with it; a pot in which a tree stands or stood stays.
///
/// # Errors
///
/// [`FormError`] naming the tree, when the record has moved on, or when there is no such pot; then nothing was changed.
pub fn delete_pot(store: &mut Store, pot: &str, revision: &str) -> Result<Vec<Reservation>, FormError> {
    let (pot, _) = known_pot(&store.reader()?, pot)?;
    let revision = version(revision)?;
    Ok(store.transact(&Act::DropPot(pot.key.clone()), |change| change.remove_pot(&pot.key, revision))?)
}
