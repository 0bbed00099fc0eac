//! A pot as typed: its measures, and all that is known of it beside them, in one act.

use collection::{
    potting::{Pot, Wall},
    reserve::Said,
    ware::{Glaze, Told, Ware},
};
use jiff::civil::Date;
use measure::quantity::{Centimetre, Units};
use pot::{
    colour::{space::Lab, swatch::Kind as Carrier},
    fit::frame::{Feel, Finish, Fired, Shape},
    outline::Outline,
    vessel::Vessel,
};
use store::store::{Act, Store};

use super::{cm, cm_if, day_if, known_pot, lab, money, picked, small, version, word, word_if};
use crate::{
    bucket::volume,
    length::{self, Bare},
    record::{FormError, bad, name},
    sheet::potting::{GAP, usual_wall},
    weight,
};

/// A pot as typed. Lengths are centimetres, the width of a hole millimetres, or inches where the reader measures in them.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct PotForm<'a> {
    pub name: &'a str,
    pub shape: &'a str,
    /// Empty for the usual one of the shape.
    pub outline: &'a str,
    pub length: &'a str,
    /// Empty for as wide as it is long.
    pub width: &'a str,
    /// Radius of rounded corners in cm, or how square a mokko is.
    pub corner: &'a str,
    /// Halfway up; in an edit, empty keeps what stands.
    pub middle_length: &'a str,
    pub middle_width: &'a str,
    pub bottom_length: &'a str,
    pub bottom_width: &'a str,
    pub height: &'a str,
    pub feet: &'a str,
    pub floor: &'a str,
    pub thick: &'a str,
    pub lip: &'a str,
    pub gap: &'a str,
    /// Water it took with its holes taped.
    pub measured: &'a str,
    pub finish: &'a str,
    /// `stoneware` or `earthenware`, of an unglazed pot.
    pub clay: &'a str,
    pub fired: &'a str,
    pub drain_holes: &'a str,
    pub hole: &'a str,
    pub tie_holes: &'a str,
    pub feel: &'a str,
    pub features: &'a str,
    /// A usual colour; in an edit, empty keeps what was read off a photo, and `none` drops it.
    pub swatch: &'a str,
    pub l: &'a str,
    pub a: &'a str,
    pub b: &'a str,
    pub empty: &'a str,
    pub maker: &'a str,
    pub mark: &'a str,
    pub kiln: &'a str,
    pub origin: &'a str,
    pub era: &'a str,
    pub bought: &'a str,
    pub paid: &'a str,
    pub seller: &'a str,
    pub condition: &'a str,
    pub worth: &'a str,
    /// Empty for today.
    pub worth_day: &'a str,
    pub spot: &'a str,
    pub training: bool,
    pub count: &'a str,
    pub note: &'a str,
}

/// Radius of soft corners where nobody measured it, as a share of the width (a guess of ours).
const SOFT: f64 = 0.15;

/// How square a mokko is where nobody said so; the trade's soft corners.
const MOKKO: f64 = 3.0;

/// Two colours nearer than this in each figure are the same one typed again.
const ROUNDED: f64 = 0.051;

/// Adds a pot with all that is known of it.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed, also when a pot of that name stands already.
pub fn add_pot(
    store: &mut Store,
    form: &PotForm<'_>,
    units: Units,
    today: Date,
) -> Result<String, FormError> {
    let (key, _) = name(form.name)?;
    let pot = Pot { key, ..pot_of(form, None, units)? };
    let ware = ware_of(form, &Ware::unknown(&pot), units, today)?;
    store.transact(&Act::AddPot(pot.key.clone()), |change| {
        if !change.add_pot(&pot)? {
            return Err(bad("name", form.name, "is taken by another pot"));
        }
        change.add_ware(&ware)?;
        Ok::<(), FormError>(())
    })?;
    Ok(pot.key)
}

/// Changes a pot's measures and all that is known of it, starting from the version the form was made from.
///
/// # Errors
///
/// [`FormError`]; a record that moved on meanwhile is named, and nothing is written.
pub fn edit_pot(
    store: &mut Store,
    key: &str,
    revision: &str,
    form: &PotForm<'_>,
    units: Units,
    today: Date,
) -> Result<(), FormError> {
    let reader = store.reader()?;
    let (stands, known) = known_pot(&reader, key)?;
    let pot = Pot { key: stands.key.clone(), ..pot_of(form, Some(&stands), units)? };
    let edited = ware_of(form, &Ware { revision: version(revision)?, ..known }, units, today)?;
    let is_said = |said: Said| said != Said::Never;
    if edited.training
        && let Some(it) = reader.reservations()?.iter().find(|it| it.pot == key && is_said(it.said))
    {
        return Err(bad(
            "training",
            key,
            format!("is {} {}; take that back first", it.said.words(), it.tree),
        ));
    }
    drop(reader);
    store.transact(&Act::EditPot(pot.key.clone()), |change| {
        let sitting = change.sitting(&pot.key)?.len();
        if sitting > usize::from(edited.count) {
            return Err(bad("count", form.count, format!("is fewer than the {sitting} with a tree in them")));
        }
        change.edit_pot(&pot)?;
        change.set_ware(&edited)?;
        Ok::<(), FormError>(())
    })
}

/// The outline that a shape usually has.
fn outline(
    form: &PotForm<'_>,
    shape: Shape,
    [length, width]: [Centimetre; 2],
    rounded: Option<f64>,
) -> Result<Outline, FormError> {
    let is_round = (length.0 - width.0).abs() < 0.05;
    let usual = match shape {
        Shape::Rectangle | Shape::Square => "rectangle",
        Shape::SoftRectangle => "rounded-rectangle",
        Shape::Hexagon => "hexagon",
        Shape::Octagon => "octagon",
        Shape::Mokko => "superellipse",
        Shape::Round | Shape::Drum => "round",
        Shape::Cascade if is_round => "rectangle",
        Shape::Slab | Shape::Primitive if is_round => "round",
        Shape::Cascade => "rectangle",
        Shape::Oval | Shape::Slab | Shape::Primitive => "oval",
    };
    let word = match form.outline.trim() {
        "" => usual,
        told => told,
    };
    let rounded = rounded.or(match word {
        "rounded-rectangle" => Some(SOFT * width.0),
        "superellipse" => Some(MOKKO),
        _ => None,
    });
    Outline::from_key(word, length, width, rounded)
        .ok_or_else(|| bad("outline", word, "is none that we offer"))
}

fn pot_of(form: &PotForm<'_>, stands: Option<&Pot>, units: Units) -> Result<Pot, FormError> {
    const ACROSS: [f64; 2] = [1.0, 300.0];
    let (_, shown) = name(form.name)?;
    let shape = word("shape", form.shape, Shape::from_key)?;
    let length = cm("length", form.length, units, ACROSS)?;
    let width = cm_if("width", form.width, units, ACROSS)?.unwrap_or(length);
    let rounded = match form.corner.trim() {
        "" => None,
        told => Some(crate::record::number("corner", told, 0.0, 100.0)?),
    };
    let ring = |across| outline(form, shape, across, rounded);
    let bottom_length = cm_if("length at the base", form.bottom_length, units, ACROSS)?.unwrap_or(length);
    let usual_width =
        if bottom_length.0 < length.0 { Centimetre(bottom_length.0.min(width.0)) } else { width };
    let bottom_width = cm_if("width at the base", form.bottom_width, units, ACROSS)?.unwrap_or(usual_width);
    let middle = match cm_if("length halfway up", form.middle_length, units, ACROSS)? {
        Some(long) => {
            let wide = cm_if("width halfway up", form.middle_width, units, ACROSS)?.unwrap_or(long);
            Some(ring([long, wide])?)
        }
        None => stands.and_then(|pot| pot.vessel.middle),
    };
    let cm_or = |field, typed, otherwise: f64, most| {
        Ok::<_, FormError>(cm_if(field, typed, units, [0.0, most])?.unwrap_or(Centimetre(otherwise)))
    };
    let wall = cm_or("thickness of the wall", form.thick, usual_wall(length.0), 10.0)?;
    let finish = word("finish", form.finish, Finish::from_key)?;
    let vessel = Vessel {
        top: ring([length, width])?,
        middle,
        bottom: ring([bottom_length, bottom_width])?,
        height: cm("height", form.height, units, [0.5, 200.0])?,
        feet: cm_or("feet", form.feet, 0.0, 50.0)?,
        floor: cm_or("thickness of the floor", form.floor, wall.0, 10.0)?,
        wall,
        lip: cm_or("lip", form.lip, 0.0, 50.0)?,
        gap: cm_or("free below the rim", form.gap, GAP, 50.0)?,
        measured: match form.measured.trim() {
            "" => None,
            typed => Some(volume("water it took", typed, units, [0.001, 500.0])?),
        },
    };
    vessel.soil().map_err(|why| bad("measures", form.name, format!("cannot be those of a pot: {why}")))?;
    Ok(Pot { key: String::new(), name: shown, vessel, wall: wall_of(finish, form.clay)? })
}

/// Glaze makes a wall tight; without it the clay decides.
fn wall_of(finish: Finish, clay: &str) -> Result<Wall, FormError> {
    if finish != Finish::Unglazed {
        return Ok(Wall::Glazed);
    }
    match clay.trim() {
        "" | "stoneware" => Ok(Wall::Stoneware),
        "earthenware" => Ok(Wall::Earthenware),
        other => Err(bad("clay", other, "is not stoneware or earthenware")),
    }
}

/// The colour typed, picked, or kept from before.
fn glaze_of(form: &PotForm<'_>, stands: Option<Glaze>) -> Result<Option<Glaze>, FormError> {
    let is_same = |a: Lab, b: Lab| [a.l - b.l, a.a - b.a, a.b - b.b].iter().all(|gap| gap.abs() < ROUNDED);
    if form.swatch.trim() == "none" {
        return Ok(None);
    }
    let chosen = picked(form.swatch, |kind| kind == Carrier::Pot)?;
    let typed = lab([form.l, form.a, form.b])?;
    Ok(match (chosen, typed, stands) {
        (None, None, stands) => stands,
        (None, Some(typed), Some(stands)) if is_same(typed, stands.colour) => Some(stands),
        (Some(colour), ..) | (None, Some(colour), _) => Some(Glaze { colour, told: Told::Picked }),
    })
}

fn ware_of(form: &PotForm<'_>, open: &Ware, units: Units, today: Date) -> Result<Ware, FormError> {
    let count = match form.count.trim() {
        "" => 1,
        told => told
            .parse()
            .ok()
            .filter(|count| (1..=1000).contains(count))
            .ok_or_else(|| bad("count", told, "is not a whole number from 1 to 1000"))?,
    };
    if count > 1 && !form.training {
        return Err(bad(
            "count",
            form.count,
            "is for training pots alone; give each other pot its own record",
        ));
    }
    let worth = match money("worth", form.worth)? {
        None => None,
        Some(worth) => Some((worth, day_if(form.worth_day, today)?.unwrap_or(today))),
    };
    let text = |typed: &str| typed.trim().to_string();
    Ok(Ware {
        pot: open.pot.clone(),
        training: form.training,
        count,
        shape: word("shape", form.shape, Shape::from_key)?,
        finish: word("finish", form.finish, Finish::from_key)?,
        fired: word_if("fired", form.fired, Fired::from_key)?.unwrap_or(Fired::Unknown),
        drain_holes: small("holes for water", form.drain_holes, 60)?,
        hole: length::read_if("width of a hole", form.hole, Bare::Millimetres, units, [1.0, 200.0])?,
        tie_holes: small("holes for wire", form.tie_holes, 60)?,
        feel: word_if("look", form.feel, Feel::from_key)?,
        features: small("strong features", form.features, 20)?.unwrap_or(0),
        glaze: glaze_of(form, open.glaze)?,
        empty: match form.empty.trim() {
            "" => None,
            typed => Some(weight::read(typed).map_err(|why| bad("empty weight", typed, why))?),
        },
        maker: text(form.maker),
        mark: text(form.mark),
        kiln: text(form.kiln),
        origin: text(form.origin),
        era: text(form.era),
        bought: day_if(form.bought, today)?,
        paid: money("paid", form.paid)?,
        seller: text(form.seller),
        condition: text(form.condition),
        worth,
        whereabouts: open.whereabouts,
        spot: text(form.spot),
        note: text(form.note),
        revision: open.revision,
    })
}
