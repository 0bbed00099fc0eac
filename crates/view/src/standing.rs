//! What a pot and a repot ask of the collection, gathered: records of pots, words on them, and how each tree is grown, measured and worked.

use std::{collections::HashMap, sync::OnceLock};

use collection::{
    potting::Pot,
    repot::{Meant, PotLook, Repot, Toll},
    reserve::{Liking, Reservation},
    standing::{Grown, Stature, Tint, Vigour},
    stock::{Blend, Stock},
    ware::{PotPhoto, Ware},
};
use jiff::civil::Date;
use store::{error::Error, reader::Reader};

use crate::whole::{TreeWhole, Whole};

/// How one tree is grown, measured and worked, each list by day.
#[derive(Clone, Debug, Default)]
pub struct Standing {
    /// How it is grown and shown.
    pub grown: Option<Grown>,
    /// Its sizes.
    pub statures: Vec<Stature>,
    /// Its colours.
    pub tints: Vec<Tint>,
    /// How strong it was judged.
    pub vigours: Vec<Vigour>,
    /// What was seen of it in its pot.
    pub looks: Vec<PotLook>,
    /// Its repots.
    pub repots: Vec<Repot>,
    /// What it had to bear besides, with the numbers of the rows.
    pub tolls: Vec<(i64, Toll)>,
    /// What is meant for it, season by season.
    pub meant: Vec<Meant>,
}

/// The shelf beyond its measures.
#[derive(Clone, Debug, Default)]
pub struct Shelf {
    /// The record of each pot, in the order of the pots; one nobody wrote is as its measures tell.
    pub wares: Vec<Ware>,
    /// Photos of pots.
    pub photos: Vec<PotPhoto>,
    /// Words on pots and trees.
    pub reservations: Vec<Reservation>,
    /// Pairings of which one was liked better.
    pub likings: Vec<Liking>,
    /// Rules about pots that are switched off.
    pub rules_off: Vec<String>,
    /// What stands in the shed.
    pub stock: Vec<Stock>,
    /// What the mixes are made of.
    pub blends: Vec<Blend>,
    /// The season's sharing out, worked out when first asked for.
    pub(crate) shared: OnceLock<crate::pots::shared::Shared>,
    /// The season's goods, worked out when first asked for.
    pub(crate) goods: OnceLock<crate::repots::needs::Season>,
    /// What the likings taught, worked out when first asked for.
    pub(crate) taste: OnceLock<Option<pot::colour::taste::Taste>>,
}

/// Reads the shelf; what was written after the day is left out.
pub(crate) fn shelf(reader: &Reader, whole: &Whole) -> Result<Shelf, Error> {
    let mut known: HashMap<String, Ware> =
        reader.wares()?.into_iter().map(|ware| (ware.pot.clone(), ware)).collect();
    let ware = |pot: &Pot| known.remove(&pot.key).unwrap_or_else(|| Ware::unknown(pot));
    let wares: Vec<Ware> = whole.pots.iter().map(ware).collect();
    let mut shelf = Shelf {
        wares,
        photos: reader.pot_photos()?,
        reservations: reader.reservations()?,
        likings: reader.likings()?,
        rules_off: reader.pot_rules_off()?,
        stock: reader.stock()?,
        blends: reader.blends()?,
        shared: OnceLock::new(),
        goods: OnceLock::new(),
        taste: OnceLock::new(),
    };
    shelf.reservations.retain(|it| it.made <= whole.today);
    shelf.likings.retain(|it| it.day <= whole.today);
    shelf.stock.retain(|it| it.day <= whole.today);
    shelf.photos.retain(|it| it.day <= whole.today);
    Ok(shelf)
}

/// Reads how the trees are grown, measured and worked; what was written after the day is left out.
pub(crate) fn standings(
    reader: &Reader,
    ranks: &HashMap<String, usize>,
    trees: &mut [TreeWhole],
    today: Date,
) -> Result<(), Error> {
    let has_come = |day: Date| day <= today;
    macro_rules! share_out {
        ($rows:expr, $list:ident) => {
            for it in $rows {
                if let Some(&tree) = ranks.get(&it.tree) {
                    trees[tree].standing.$list.push(it);
                }
            }
        };
    }
    for it in reader.grown()? {
        if let Some(&tree) = ranks.get(&it.tree) {
            trees[tree].standing.grown = Some(it);
        }
    }
    share_out!(reader.statures()?.into_iter().filter(|it| has_come(it.day)), statures);
    share_out!(reader.tints()?, tints);
    share_out!(reader.vigours()?.into_iter().filter(|it| has_come(it.day)), vigours);
    share_out!(reader.pot_looks()?.into_iter().filter(|it| has_come(it.day)), looks);
    share_out!(reader.repots()?.into_iter().filter(|it| has_come(it.day)), repots);
    share_out!(reader.meant()?, meant);
    for (id, it) in reader.tolls()?.into_iter().filter(|(_, it)| has_come(it.day)) {
        if let Some(&tree) = ranks.get(&it.tree) {
            trees[tree].standing.tolls.push((id, it));
        }
    }
    Ok(())
}
