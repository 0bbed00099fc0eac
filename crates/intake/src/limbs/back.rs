//! What was written down of a tree's limbs by mistake is taken back.

use collection::{
    intention::{Cut, CutKind},
    limb::{Limb, TRUNK},
};
use store::{
    change::Change,
    reader::Reader,
    store::{Act, Store},
};

use super::plan::{done_by, wound_note};
use crate::record::{FormError, bad};

/// What can be taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    /// A diameter.
    Diameter,
    /// A cut; a limb that it took off stands again.
    Cut,
    /// Something meant.
    Wish,
    /// A wire.
    Wire,
    /// A layer that is not cut off yet.
    Layer,
    /// A wound.
    Wound,
}

impl Written {
    /// All.
    pub const ALL: [Written; 6] =
        [Written::Diameter, Written::Cut, Written::Wish, Written::Wire, Written::Layer, Written::Wound];

    /// The word used in addresses.
    pub fn key(self) -> &'static str {
        match self {
            Written::Diameter => "diameter",
            Written::Cut => "cut",
            Written::Wish => "wish",
            Written::Wire => "wire",
            Written::Layer => "layer",
            Written::Wound => "wound",
        }
    }

    /// What goes by this word.
    pub fn from_key(key: &str) -> Option<Written> {
        Written::ALL.into_iter().find(|it| it.key() == key)
    }
}

/// Takes back a line by its number, whole or not at all.
///
/// # Errors
///
/// [`FormError`] when it is not one of this tree, or a young tree came of it.
pub fn take_back(store: &mut Store, tree: &str, what: Written, id: i64) -> Result<(), FormError> {
    let reader = store.reader()?;
    if !is_of(&reader, tree, what, id)? {
        return Err(bad(what.key(), &id.to_string(), "is not one of this tree"));
    }
    if what == Written::Layer {
        let apart = reader.layers()?.into_iter().any(|(number, it)| number == id && it.apart.is_some());
        if apart {
            return Err(bad("layer", &id.to_string(), "is cut off: a tree of its own came of it"));
        }
    }
    let cut = match what {
        Written::Cut => reader.cuts()?.into_iter().find(|(number, _)| *number == id).map(|(_, cut)| cut),
        _ => None,
    };
    let limb = match &cut {
        Some(cut) => reader.limbs()?.into_iter().find(|it| it.tree == tree && it.number == cut.limb),
        None => None,
    };
    let wound = match (&cut, &limb) {
        (Some(cut), Some(limb)) => wound_of(&reader, cut, limb)?,
        _ => None,
    };
    drop(reader);
    store.transact(&Act::TakeBack(tree.into()), |change| {
        match what {
            Written::Diameter => change.remove_caliper(id)?,
            Written::Wish => change.remove_intention(id)?,
            Written::Wire => change.remove_wire(id)?,
            Written::Layer => change.remove_layer(id)?,
            Written::Wound => change.remove_wound(id)?,
            Written::Cut => {
                change.remove_cut(id)?;
                if let Some(wound) = wound {
                    change.remove_wound(wound)?;
                }
                if let Some(cut) = &cut {
                    undo(change, cut)?;
                }
            }
        }
        Ok::<(), FormError>(())
    })
}

fn is_of(reader: &Reader, tree: &str, what: Written, id: i64) -> Result<bool, store::error::Error> {
    fn has<T>(rows: Vec<(i64, T)>, id: i64, own: impl Fn(&T) -> bool) -> bool {
        rows.iter().any(|(number, row)| *number == id && own(row))
    }
    Ok(match what {
        Written::Diameter => has(reader.calipers()?, id, |it| it.tree == tree),
        Written::Cut => has(reader.cuts()?, id, |it| it.tree == tree),
        Written::Wish => has(reader.intentions()?, id, |it| it.tree == tree),
        Written::Wire => has(reader.wires()?, id, |it| it.tree == tree),
        Written::Layer => has(reader.layers()?, id, |it| it.tree == tree),
        Written::Wound => has(reader.wounds()?, id, |it| it.tree == tree),
    })
}

/// The wound that was written down with a cut.
fn wound_of(reader: &Reader, cut: &Cut, limb: &Limb) -> Result<Option<i64>, store::error::Error> {
    let on = if cut.kind == CutKind::Remove { limb.bearer.unwrap_or(TRUNK) } else { limb.number };
    let note = wound_note(&limb.name, cut.kind);
    let rows = reader.wounds()?;
    let own = rows
        .iter()
        .find(|(_, it)| it.tree == cut.tree && it.limb == on && it.day == cut.day && it.note == note);
    Ok(own.map(|(id, _)| *id))
}

/// What a cut ended stands again.
fn undo(change: &Change<'_>, cut: &Cut) -> Result<(), store::error::Error> {
    if cut.kind == CutKind::Remove {
        change.revive_limb(&cut.tree, cut.limb, cut.day)?;
    }
    change.reopen_intention(&cut.tree, cut.limb, cut.day, &done_by(cut.kind, cut.day))?;
    Ok(())
}
