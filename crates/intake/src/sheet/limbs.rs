//! Sheets of limbs and of everything written down about them.

mod entry;
mod table;

use std::collections::{BTreeMap, BTreeSet};

use collection::{
    intention::{Cut, CutKind, Intention, Wish},
    layer::{Layer, Way, Wound},
    limb::{Aim, Caliper, Front, Limb, TRUNK},
    photo::{Pixel, Scale, Trace, path},
    wire::{Coil, Outcome, Wire},
};
use form::{
    layer::Roots,
    traced::{Clock, TipClass},
    wire::metal::Metal,
};
use jiff::civil::Date;
use measure::quantity::{Degrees, Gram, Millimetre};
use store::{change::Change, error::Error};

use super::{Read, Row, format::Format, rows};
use crate::{limits::POINTS, refusal::Refusal};

/// A row of any of these sheets.
#[derive(Clone, Debug, PartialEq)]
pub enum LimbRow {
    /// The trunk or a branch.
    Limb(Limb),
    /// A diameter.
    Caliper(Caliper),
    /// A front.
    Front(Front),
    /// What the grower is after.
    Aim(Aim),
    /// What is meant for a limb.
    Intention(Intention),
    /// A cut.
    Cut(Cut),
    /// A wire.
    Wire(Wire),
    /// Wire on the shelf.
    Coil(Coil),
    /// A layer.
    Layer(Layer),
    /// A wound.
    Wound(Wound),
    /// The scale of a photo and its soil line.
    Scale(String, Option<Scale>, Option<f64>),
    /// A limb's line on a photo.
    Trace(Trace),
}

/// Which of these sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum LimbSheet {
    Limbs,
    Calipers,
    Fronts,
    Aims,
    Intentions,
    Cuts,
    Wires,
    Coils,
    Layers,
    Wounds,
    Scales,
    Traces,
}

impl LimbSheet {
    /// All.
    pub const ALL: [LimbSheet; 12] = [
        LimbSheet::Limbs,
        LimbSheet::Calipers,
        LimbSheet::Fronts,
        LimbSheet::Aims,
        LimbSheet::Intentions,
        LimbSheet::Cuts,
        LimbSheet::Wires,
        LimbSheet::Coils,
        LimbSheet::Layers,
        LimbSheet::Wounds,
        LimbSheet::Scales,
        LimbSheet::Traces,
    ];

    /// The word used in commands and forms.
    pub fn key(self) -> &'static str {
        self.format().key
    }

    /// What a file of it is called.
    pub fn words(self) -> String {
        format!("sheet of {}", self.key())
    }

    /// The sheet that goes by this word.
    pub fn from_key(key: &str) -> Option<LimbSheet> {
        LimbSheet::ALL.into_iter().find(|sheet| sheet.key() == key)
    }

    /// Its columns, and an example of it.
    pub fn format(self) -> &'static Format {
        match self {
            LimbSheet::Limbs => &table::LIMBS,
            LimbSheet::Calipers => &table::CALIPERS,
            LimbSheet::Fronts => &table::FRONTS,
            LimbSheet::Aims => &table::AIMS,
            LimbSheet::Intentions => &table::INTENTIONS,
            LimbSheet::Cuts => &table::CUTS,
            LimbSheet::Wires => &table::WIRES,
            LimbSheet::Coils => &table::COILS,
            LimbSheet::Layers => &table::LAYERS,
            LimbSheet::Wounds => &table::WOUNDS,
            LimbSheet::Scales => &table::SCALES,
            LimbSheet::Traces => &table::TRACES,
        }
    }

    pub(crate) fn row(self, row: &Row) -> Result<LimbRow, Refusal> {
        Ok(match self {
            LimbSheet::Limbs => LimbRow::Limb(limb(row)?),
            LimbSheet::Calipers => LimbRow::Caliper(Caliper {
                tree: row.tree()?,
                limb: row.limb("limb")?,
                day: row.day("day")?,
                along: row.mm("along")?.unwrap_or(Millimetre(0.0)),
                thick: Millimetre(row.must("thick")?),
            }),
            LimbSheet::Fronts => LimbRow::Front(front(row)?),
            LimbSheet::Aims => LimbRow::Aim(Aim {
                tree: row.tree()?,
                high: row.mm("high")?,
                trunk: row.mm("trunk")?,
                needles: row.mm("needles")?,
                shown: row.day_if("shown")?,
                words: row.text("words")?,
            }),
            LimbSheet::Intentions => LimbRow::Intention(intention(row)?),
            LimbSheet::Cuts => LimbRow::Cut(cut(row)?),
            LimbSheet::Wires => LimbRow::Wire(wire(row)?),
            LimbSheet::Coils => LimbRow::Coil(Coil {
                metal: row.known("metal", Metal::from_key)?,
                gauge: Millimetre(row.must("gauge")?),
                left: row.grams("grams")?,
            }),
            LimbSheet::Layers => LimbRow::Layer(layer(row)?),
            LimbSheet::Wounds => LimbRow::Wound(Wound {
                tree: row.tree()?,
                limb: row.limb("limb")?,
                day: row.day("day")?,
                wide: Millimetre(row.must("wide")?),
                sealed: row.yes("sealed")?,
                closed: row.day_if("closed")?,
                note: row.text("note")?,
            }),
            LimbSheet::Scales => {
                LimbRow::Scale(row.photo()?, row.word_if("scale", Scale::from_key)?, row.number("soil")?)
            }
            LimbSheet::Traces => {
                LimbRow::Trace(Trace { photo: row.photo()?, limb: row.limb("limb")?, points: row.points()? })
            }
        })
    }
}

impl LimbRow {
    /// The day it tells, if any.
    pub fn day(&self) -> Option<Date> {
        match self {
            LimbRow::Limb(it) => Some(it.since),
            LimbRow::Caliper(it) => Some(it.day),
            LimbRow::Intention(it) => Some(it.made),
            LimbRow::Cut(it) => Some(it.day),
            LimbRow::Wire(it) => Some(it.on),
            LimbRow::Layer(it) => Some(it.day),
            LimbRow::Wound(it) => Some(it.day),
            _ => None,
        }
    }

    /// The tree it names, if any.
    pub fn tree(&self) -> Option<&String> {
        match self {
            LimbRow::Limb(it) => Some(&it.tree),
            LimbRow::Caliper(it) => Some(&it.tree),
            LimbRow::Front(it) => Some(&it.tree),
            LimbRow::Aim(it) => Some(&it.tree),
            LimbRow::Intention(it) => Some(&it.tree),
            LimbRow::Cut(it) => Some(&it.tree),
            LimbRow::Wire(it) => Some(&it.tree),
            LimbRow::Layer(it) => Some(&it.tree),
            LimbRow::Wound(it) => Some(&it.tree),
            LimbRow::Coil(_) | LimbRow::Scale(..) | LimbRow::Trace(_) => None,
        }
    }

    /// The limb of that tree it rests on: for a branch the one that bears it.
    pub fn limb(&self) -> Option<u32> {
        match self {
            LimbRow::Limb(it) => it.bearer,
            LimbRow::Caliper(it) => Some(it.limb),
            LimbRow::Intention(it) => Some(it.limb),
            LimbRow::Cut(it) => Some(it.limb),
            LimbRow::Wire(it) => Some(it.limb),
            LimbRow::Layer(it) => Some(it.limb),
            LimbRow::Wound(it) => Some(it.limb),
            _ => None,
        }
    }

    /// Writes it; false if it stands already.
    ///
    /// # Errors
    ///
    /// [`Error`] from the store.
    pub fn add(&self, change: &Change<'_>) -> Result<bool, Error> {
        match self {
            LimbRow::Limb(it) => change.set_limb(it),
            LimbRow::Caliper(it) => change.add_caliper(it),
            LimbRow::Front(it) => change.set_front(it),
            LimbRow::Aim(it) => change.set_aim(it),
            LimbRow::Intention(it) => change.bring_intention(it),
            LimbRow::Cut(it) => change.add_cut(it),
            LimbRow::Wire(it) => change.add_wire(it),
            LimbRow::Coil(it) => change.set_coil(it),
            LimbRow::Layer(it) => change.add_layer(it),
            LimbRow::Wound(it) => change.add_wound(it),
            LimbRow::Scale(photo, scale, soil) => change.set_scale(photo, *scale, *soil),
            LimbRow::Trace(it) => change.set_trace(it),
        }
    }
}

impl Row {
    fn limb(&self, name: &str) -> Result<u32, Refusal> {
        self.whole(name)?.ok_or_else(|| self.refuse("", format!("{name} is empty")))
    }

    fn hour(&self, name: &str) -> Result<Option<Clock>, Refusal> {
        let clock = |hour| Clock::new(hour).map_err(|_| self.refuse(self.cell(name), "is no hour"));
        self.small(name)?.map(clock).transpose()
    }

    /// A weight, or none left.
    fn grams(&self, name: &str) -> Result<Gram, Refusal> {
        match self.cell(name) {
            "0" => Ok(Gram(0.0)),
            _ => Ok(self.weight(name)?.unwrap_or(Gram(0.0))),
        }
    }

    /// The key of a photo, as its page shows it.
    fn photo(&self) -> Result<String, Refusal> {
        self.needed("photo")?;
        self.text("photo")
    }

    fn points(&self) -> Result<Vec<Pixel>, Refusal> {
        let cell = self.needed("points")?;
        if cell.len() > POINTS {
            return Err(
                self.refuse(cell, format!("points are {} letters long; {POINTS} are the most", cell.len()))
            );
        }
        self.known("points", |cell| path(cell).filter(|points| points.len() > 1))
    }
}

fn limb(row: &Row) -> Result<Limb, Refusal> {
    let (number, bearer) = (row.limb("number")?, row.whole("bearer")?);
    // A branch is known by a higher number than what bears it, so that none can bear itself by a way round.
    if bearer.is_some_and(|bearer| bearer >= number) && number != TRUNK {
        return Err(
            row.refuse(row.cell("bearer"), "a branch has a higher number than the limb that bears it")
        );
    }
    if (number == TRUNK) != bearer.is_none() {
        return Err(
            row.refuse(row.cell("number"), "the trunk, number 0, has no bearer, and every branch has one")
        );
    }
    Ok(Limb {
        tree: row.tree()?,
        number,
        bearer,
        name: row.name()?.1,
        clock: row.hour("clock")?,
        tips: row.word_if("tips", TipClass::from_key)?,
        since: row.day("since")?,
        gone: row.day_if("gone")?,
    })
}

fn front(row: &Row) -> Result<Front, Refusal> {
    let tilt = |name| Ok::<_, Refusal>(row.degrees(name)?.unwrap_or(Degrees(0.0)));
    Ok(Front {
        tree: row.tree()?,
        rank: row.small("rank")?.ok_or_else(|| row.refuse("", "rank is empty"))?,
        clock: row.hour("clock")?.ok_or_else(|| row.refuse("", "clock is empty"))?,
        sideways: tilt("sideways")?,
        forward: tilt("forward")?,
        why: row.text("why")?,
    })
}

fn intention(row: &Row) -> Result<Intention, Refusal> {
    Ok(Intention {
        tree: row.tree()?,
        limb: row.limb("limb")?,
        season: row.year("season")?,
        wish: row.known("wish", Wish::from_key)?,
        until: row.mm("until")?,
        nodes: row.small("nodes")?,
        by: row.day_if("by")?,
        which: row.text("which")?,
        why: row.text("why")?,
        made: row.day("made")?,
        ended: row.day_if("ended")?,
        end: row.text("end")?,
    })
}

fn cut(row: &Row) -> Result<Cut, Refusal> {
    let counted = match (row.small("broke")?, row.small("buds")?) {
        (Some(broke), Some(buds)) => Some((broke, buds)),
        (None, None) => None,
        _ => return Err(row.refuse(row.cell("broke"), "buds are counted by both broke and buds")),
    };
    if let Some((broke, buds)) = counted.filter(|(broke, buds)| broke > buds) {
        return Err(row.refuse(&broke.to_string(), format!("more buds broke than the {buds} there were")));
    }
    Ok(Cut {
        tree: row.tree()?,
        limb: row.limb("limb")?,
        day: row.day("day")?,
        kind: row.known("kind", CutKind::from_key)?,
        nodes: row.small("nodes")?,
        broke: counted.map(|(broke, buds)| [broke, buds]),
        despite: row.text("despite")?,
        note: row.text("note")?,
    })
}

fn wire(row: &Row) -> Result<Wire, Refusal> {
    let (on, off) = (row.day("on")?, row.day_if("off")?);
    if off.is_some_and(|off| off < on) {
        return Err(row.refuse(row.cell("off"), "it came off before it went on"));
    }
    Ok(Wire {
        tree: row.tree()?,
        limb: row.limb("limb")?,
        on,
        metal: row.known("metal", Metal::from_key)?,
        gauge: Millimetre(row.must("gauge")?),
        strands: row.small("strands")?.unwrap_or(1),
        thick: row.mm("thick")?,
        bend: row.mm("bend")?,
        seen: row.day_if("seen")?,
        off,
        outcome: row.word_if("outcome", Outcome::from_key)?,
        grown_in: row.yes("grown_in")?,
        photo: None,
        note: row.text("note")?,
    })
}

fn layer(row: &Row) -> Result<Layer, Refusal> {
    Ok(Layer {
        tree: row.tree()?,
        limb: row.limb("limb")?,
        way: row.known("way", Way::from_key)?,
        day: row.day("day")?,
        seen: row.day_if("seen")?,
        roots: row.word_if("roots", Roots::from_key)?,
        apart: row.day_if("apart")?,
        child: row.named_if("child")?,
        lean: row.degrees("lean")?,
        note: row.text("note")?,
    })
}

/// Reads one of these sheets; lengths are millimetres.
///
/// ```
/// use intake::sheet::limbs::{LimbRow, LimbSheet, read};
///
/// let sheet = "tree,limb,day,thick\nOld Trident,3,2025-11-20,12.4\n";
/// let rows = read(LimbSheet::Calipers, sheet).whole().unwrap();
/// assert!(matches!(&rows[0], LimbRow::Caliper(reading) if reading.thick.0 == 12.4));
/// ```
pub fn read(sheet: LimbSheet, text: &str) -> Read<LimbRow> {
    read_on(sheet, text, None)
}

/// Reads one of these sheets on a day, after which none of its days may lie.
pub fn read_on(sheet: LimbSheet, text: &str, today: Option<Date>) -> Read<LimbRow> {
    rows(text, sheet.format(), today).take(|row| sheet.row(row))
}

/// Refuses rows that rest on a limb, a tree or a photo (known with its tree) that is not there; a branch may rest on one further up in the same sheet.
pub(crate) fn wrong(
    row: &LimbRow,
    trees: &BTreeSet<String>,
    limbs: &mut BTreeSet<(String, u32)>,
    photos: &BTreeMap<String, String>,
) -> Option<(String, String)> {
    if let LimbRow::Scale(photo, ..) | LimbRow::Trace(Trace { photo, .. }) = row {
        let Some(tree) = photos.get(photo) else {
            return Some((photo.clone(), "no photo in the collection has this name".into()));
        };
        if let LimbRow::Trace(it) = row
            && !limbs.contains(&(tree.clone(), it.limb))
        {
            return Some((it.limb.to_string(), format!("no limb of {tree} has this number")));
        }
    }
    let tree = row.tree()?;
    if !trees.contains(tree) {
        return Some((tree.clone(), "no tree in the collection has this name".into()));
    }
    if let Some(limb) = row.limb()
        && !limbs.contains(&(tree.clone(), limb))
    {
        return Some((limb.to_string(), format!("no limb of {tree} has this number")));
    }
    if let LimbRow::Limb(it) = row {
        limbs.insert((it.tree.clone(), it.number));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sheet_names_its_missing_column() {
        for sheet in LimbSheet::ALL {
            let refused = read(sheet, "tree\nA\n").whole().unwrap_err();
            assert!(refused[0].why.contains("no column"), "{sheet:?}: {refused:?}");
        }
    }

    #[test]
    fn a_wire_that_came_off_before_it_went_on_is_named() {
        let sheet = "tree,limb,on,metal,gauge,off\nA,1,2026-05-01,copper,2,2026-04-01\n";
        let refused = read(LimbSheet::Wires, sheet).whole().unwrap_err();
        assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "2026-04-01"));
    }
}
