//! A row of any sheet of the shelf: what it names, and how it is written.

use super::{
    BTreeSet, Blend, Component, Date, Grown, Liking, Meant, PotLook, Repot, Reservation, Stature, Stock,
    Tint, Toll, Vigour, Ware,
};
use crate::shelf::{potted_by, work_of};
use collection::toll;
use store::{change::Change, error::Error};

/// A row of any of these sheets.
#[derive(Clone, Debug, PartialEq)]
pub enum ShelfRow {
    /// What is known of a pot.
    Ware(Box<Ware>),
    /// How a tree is grown.
    Grown(Grown),
    /// A tree's size.
    Stature(Stature),
    /// A colour of a tree.
    Tint(Tint),
    /// How strong a tree was judged.
    Vigour(Vigour),
    /// A look at a tree in its pot.
    PotLook(PotLook),
    /// What is meant for a season.
    Meant(Meant),
    /// A repot.
    Repot(Box<Repot>),
    /// What a tree had to bear.
    Toll(Toll),
    /// A word on a pot and a tree.
    Reservation(Reservation),
    /// One pot liked better than another.
    Liking(Liking),
    /// What lies in the shed.
    Stock(Stock),
    /// One component of a mix.
    Part(String, Component, f64),
    /// All components of a mix.
    Blend(Blend),
}

impl ShelfRow {
    /// The day it tells, if any.
    pub fn day(&self) -> Option<Date> {
        match self {
            ShelfRow::Stature(it) => Some(it.day),
            ShelfRow::Vigour(it) => Some(it.day),
            ShelfRow::PotLook(it) => Some(it.day),
            ShelfRow::Repot(it) => Some(it.day),
            ShelfRow::Toll(it) => Some(it.day),
            ShelfRow::Reservation(it) => Some(it.made),
            ShelfRow::Liking(it) => Some(it.day),
            ShelfRow::Stock(it) => Some(it.day),
            _ => None,
        }
    }

    /// The tree it names, if any.
    pub fn tree(&self) -> Option<&String> {
        match self {
            ShelfRow::Grown(it) => Some(&it.tree),
            ShelfRow::Stature(it) => Some(&it.tree),
            ShelfRow::Tint(it) => Some(&it.tree),
            ShelfRow::Vigour(it) => Some(&it.tree),
            ShelfRow::PotLook(it) => Some(&it.tree),
            ShelfRow::Meant(it) => Some(&it.tree),
            ShelfRow::Repot(it) => Some(&it.tree),
            ShelfRow::Toll(it) => Some(&it.tree),
            ShelfRow::Reservation(it) => Some(&it.tree),
            ShelfRow::Liking(it) => Some(&it.tree),
            ShelfRow::Ware(_) | ShelfRow::Stock(_) | ShelfRow::Part(..) | ShelfRow::Blend(_) => None,
        }
    }

    /// The pots it names.
    pub fn pots(&self) -> Vec<&String> {
        match self {
            ShelfRow::Ware(it) => vec![&it.pot],
            ShelfRow::Repot(it) => vec![&it.pot],
            ShelfRow::Reservation(it) => vec![&it.pot],
            ShelfRow::Liking(it) => vec![&it.liked, &it.over],
            _ => Vec::new(),
        }
    }

    /// The mix it names, if any.
    pub fn mix(&self) -> Option<&String> {
        match self {
            ShelfRow::Meant(it) => it.mix.as_ref(),
            ShelfRow::Repot(it) => Some(&it.mix),
            ShelfRow::Part(mix, ..) => Some(mix),
            ShelfRow::Blend(it) => Some(&it.mix),
            _ => None,
        }
    }

    /// What may stand in a sheet only once.
    pub fn name(&self) -> String {
        match self {
            ShelfRow::Ware(it) => it.pot.clone(),
            ShelfRow::Grown(it) => it.tree.clone(),
            ShelfRow::Stature(it) => format!("{} {}", it.tree, it.day),
            ShelfRow::Tint(it) => format!("{} {}", it.tree, it.season.key()),
            ShelfRow::Vigour(it) => format!("{} {}", it.tree, it.day),
            ShelfRow::PotLook(it) => format!("{} {}", it.tree, it.day),
            ShelfRow::Meant(it) => format!("{} {}", it.tree, it.season),
            ShelfRow::Repot(it) => format!("{} {}", it.tree, it.day),
            ShelfRow::Toll(it) => format!("{} {} {:?}", it.tree, it.day, toll::key(it.what)),
            ShelfRow::Reservation(it) => format!("{} {} {}", it.pot, it.tree, it.season),
            ShelfRow::Liking(it) => format!("{} {} {} {}", it.tree, it.liked, it.over, it.day),
            ShelfRow::Stock(it) => it.item.key(),
            ShelfRow::Part(mix, component, _) => format!("{mix} {}", component.key()),
            ShelfRow::Blend(it) => it.mix.clone(),
        }
    }

    /// Writes it; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add(&self, change: &Change<'_>) -> Result<bool, Error> {
        match self {
            ShelfRow::Ware(it) => change.add_ware(it),
            ShelfRow::Grown(it) => change.set_grown(it),
            ShelfRow::Stature(it) => change.add_stature(it),
            ShelfRow::Tint(it) => change.set_tint(it),
            ShelfRow::Vigour(it) => change.add_vigour(it),
            ShelfRow::PotLook(it) => change.add_pot_look(it),
            ShelfRow::Meant(it) => change.set_meant(it),
            ShelfRow::Repot(it) => {
                if !change.add_repot(it)? {
                    return Ok(false);
                }
                change.bring_potted(&potted_by(it))?;
                change.bring_root_work(&work_of(it))?;
                Ok(true)
            }
            ShelfRow::Toll(it) => change.add_toll(it),
            ShelfRow::Reservation(it) => change.bring_reservation(it),
            ShelfRow::Liking(it) => change.add_liking(it),
            ShelfRow::Stock(it) => change.set_stock(it),
            ShelfRow::Part(mix, component, parts) => {
                change.set_blend(&Blend { mix: mix.clone(), parts: vec![(*component, *parts)] })
            }
            ShelfRow::Blend(it) => change.set_blend(it),
        }
    }

    /// Single components gathered to the mixes they are of, in the order of the sheet.
    pub(crate) fn gathered(rows: Vec<ShelfRow>) -> Vec<ShelfRow> {
        let mixes: BTreeSet<String> = rows
            .iter()
            .filter_map(|row| if let ShelfRow::Part(mix, ..) = row { Some(mix.clone()) } else { None })
            .collect();
        let (parts, mut gathered): (Vec<ShelfRow>, Vec<ShelfRow>) =
            rows.into_iter().partition(|row| matches!(row, ShelfRow::Part(..)));
        gathered.extend(mixes.into_iter().map(|mix| {
            let own = |row: &ShelfRow| match row {
                ShelfRow::Part(of, component, parts) if *of == mix => Some((*component, *parts)),
                _ => None,
            };
            let parts = parts.iter().filter_map(own).collect();
            ShelfRow::Blend(Blend { mix, parts })
        }));
        gathered
    }
}
