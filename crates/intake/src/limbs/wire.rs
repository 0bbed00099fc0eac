//! Wire put on, looked at, taken off, and weighed on the shelf.

use collection::wire::{Coil, Outcome, Wire};
use form::wire::metal::Metal;
use jiff::civil::Date;
use measure::quantity::{Gram, Units};
use store::{
    store::{Act, Store},
    version::Record,
};

use super::known_limb;
use crate::{
    asked::Asked,
    length::{self, Bare},
    limits::{BEND, GAUGE, NOTE, STRANDS, WIRED_THICK},
    photo::{New, PhotoForm, Sent},
    record::{FormError, bad, day, text},
    weight,
};

/// A wire as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct WireForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub on: &'a str,
    pub metal: &'a str,
    pub gauge: &'a str,
    pub strands: &'a str,
    pub thick: &'a str,
    pub bend: &'a str,
    pub photo: &'a str,
    pub note: &'a str,
    pub asked: Asked<'a>,
}

fn metal(key: &str) -> Result<Metal, FormError> {
    Metal::from_key(key).ok_or_else(|| bad("wire", key, "is not aluminium or copper"))
}

/// Writes down a wire put on a limb.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn put_on(store: &mut Store, form: WireForm<'_>, units: Units, today: Date) -> Result<(), FormError> {
    let limb = known_limb(store, form.tree, form.limb)?;
    let strands = match form.strands.trim() {
        "" => 1,
        told => told
            .parse()
            .ok()
            .filter(|count: &u8| (STRANDS[0]..=STRANDS[1]).contains(&u32::from(*count)))
            .ok_or_else(|| bad("strands", told, "is not 1 to 4"))?,
    };
    let wire = Wire {
        tree: limb.tree.clone(),
        limb: limb.number,
        on: day(form.on, today)?,
        metal: metal(form.metal)?,
        gauge: length::read("gauge", form.gauge, Bare::Millimetres, units, GAUGE)?,
        strands,
        thick: length::read_if("limb there", form.thick, Bare::Millimetres, units, WIRED_THICK)?,
        bend: length::read_if("radius of the bend", form.bend, Bare::Millimetres, units, BEND)?,
        seen: None,
        off: None,
        outcome: None,
        grown_in: false,
        photo: known_photo(store, &limb.tree, form.photo)?,
        note: form.asked.note(&format!("wire on {}", limb.name), text("note", form.note, NOTE)?)?,
    };
    let added = store.transact(&Act::Wire(limb.tree), |change| change.add_wire(&wire))?;
    if added { Ok(()) } else { Err(bad("wire", form.gauge, "is written down for that limb and day already")) }
}

fn known_photo(store: &Store, tree: &str, key: &str) -> Result<Option<String>, FormError> {
    match key.trim() {
        "" => Ok(None),
        key if store.reader()?.photos()?.iter().any(|photo| photo.key == key && photo.tree == tree) => {
            Ok(Some(key.into()))
        }
        key => Err(bad("photo", key, "is not one of this tree")),
    }
}

/// A look at a wire as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct CheckForm<'a> {
    pub tree: &'a str,
    pub id: i64,
    pub day: &'a str,
    /// `seen`, `off`, or `out` for a piece that had grown in and is out at last.
    pub what: &'a str,
    pub outcome: &'a str,
    pub grown_in: bool,
    pub photo: &'a str,
    pub note: &'a str,
    /// Of taking it off.
    pub asked: Asked<'a>,
}

/// Writes down a look at a wire, or that it came off; a piece that grew in stays on the tree's record until it is out.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn check(store: &mut Store, form: CheckForm<'_>, today: Date) -> Result<(), FormError> {
    check_with(store, form, None, today)
}

/// The same with the photo that was taken of it: both are kept, or neither.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed; then nothing was kept.
pub fn check_with(
    store: &mut Store,
    form: CheckForm<'_>,
    photo: Option<Sent<'_>>,
    today: Date,
) -> Result<(), FormError> {
    let standing =
        store.reader()?.wires()?.into_iter().find(|(id, wire)| *id == form.id && wire.tree == form.tree);
    let (id, mut wire) =
        standing.ok_or_else(|| bad("wire", &form.id.to_string(), "is not one on this tree"))?;
    let on = day(form.day, today)?;
    if on < wire.on {
        return Err(bad("day", form.day, format!("is before it was put on, {}", wire.on)));
    }
    let outcome = match form.outcome.trim() {
        "" => None,
        key => Some(
            Outcome::from_key(key)
                .ok_or_else(|| bad("what came of it", key, "is not held, sprang back or marked"))?,
        ),
    };
    wire.seen = Some(on);
    wire.outcome = outcome.or(wire.outcome);
    wire.photo = known_photo(store, &wire.tree, form.photo)?.or(wire.photo);
    match form.what {
        "seen" => {}
        "off" => {
            wire.off = Some(on);
            wire.grown_in = form.grown_in;
        }
        "out" if wire.grown_in => wire.grown_in = false,
        other => return Err(bad("wire", other, "is not seen, off or out")),
    }
    if !form.note.trim().is_empty() {
        wire.note = text("note", form.note, NOTE)?;
    }
    if form.what == "off" {
        wire.note = form.asked.note("taking it off", wire.note)?;
    }
    let of_part =
        PhotoForm { tree: form.tree, day: form.day, subject: "part", note: "wire", ..PhotoForm::default() };
    let mut photo = photo.map(|sent| New::read(of_part, sent, today)).transpose()?;
    store.transact(&Act::Wire(wire.tree.clone()), |change| {
        if let Some(new) = &mut photo {
            new.add(change)?;
            wire.photo = Some(new.photo.key.clone());
        }
        Ok::<(), FormError>(change.change_wire(id, &wire)?)
    })
}

/// The record that a form about wire on the shelf changes, with the gauge in millimetres.
///
/// # Errors
///
/// [`FormError`] when the gauge cannot be read.
pub fn coil(metal_key: &str, gauge: &str, units: Units) -> Result<(Record, f64), FormError> {
    let gauge = length::read("gauge", gauge, Bare::Millimetres, units, GAUGE)?;
    Ok((Record::coil(metal(metal_key)?.key(), gauge.0), gauge.0))
}

/// Writes down how much wire of a gauge is on the shelf.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn shelf(
    store: &mut Store,
    metal_key: &str,
    gauge: &str,
    left: &str,
    units: Units,
) -> Result<(), FormError> {
    let coil = Coil {
        metal: metal(metal_key)?,
        gauge: length::read("gauge", gauge, Bare::Millimetres, units, GAUGE)?,
        left: match left.trim() {
            "" | "0" => Gram(0.0),
            told => weight::read(told).map_err(|why| bad("left", told, why))?,
        },
    };
    store.transact(&Act::Coil, |change| change.set_coil(&coil))?;
    Ok(())
}
