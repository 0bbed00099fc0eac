//! A pot as typed: its measures, and all that is known of it beside them, in one act.

use collection::{
    potting::{Pot, Wall},
    reserve::Said,
    ware::{Glaze, Told, Ware},
};
use jiff::civil::Date;
use measure::{
    quantity::{Centimetre, Millimetre, Units},
    range::OutOfRange,
};
use pot::{
    colour::{space::Lab, swatch::Kind as Carrier},
    fit::frame::{Feel, Finish, Fired, Shape},
    outline::Outline,
    vessel::Vessel,
};
use store::store::{Act, Store};

use super::{day_if, known_pot, lab, money, picked, small, version, word, word_if};
use crate::{
    bucket::{QUART, is_volume, volume},
    length::{self, Bare, read_cm},
    limits::{
        CONDITION, CORNER, ERA, EXPONENT, FEATURES, HOLE, HOLES, NOTE, POT_ACROSS, POT_COUNT, POT_EDGE,
        POT_HEIGHT, POT_WALL, POT_WATER, SHORT,
    },
    record::{FormError, bad, four, line, name, number, same_figure, span, text},
    sheet::potting::{GAP, usual_wall},
    weight,
};

/// A pot as typed. Lengths are centimetres, the width of a hole millimetres, or inches where the reader measures in them; a unit told
/// beside the figure goes before that.
///
/// In an edit, a length, a volume or a weight that is typed as the one that stands, in any unit and rounded to one digit after the point
/// or finer, is the one that stands: a form sent back unchanged changes nothing.
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
    /// Radius of rounded corners, or how square a mokko is.
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
/// [`FormError`] naming the field and what was typed, also when a pot of that name stands already or the name is that of a page.
pub fn add_pot(
    store: &mut Store,
    form: &PotForm<'_>,
    units: Units,
    today: Date,
) -> Result<String, FormError> {
    let (key, _) = name(form.name)?;
    if let Some(why) = misnamed(&key) {
        return Err(bad("name", form.name, why));
    }
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

/// Changes a pot's measures alone; an edit of the pot that was begun before is refused then.
pub(crate) fn change_measures(
    change: &store::change::Change<'_>,
    pot: &Pot,
    known: Option<&Ware>,
) -> Result<bool, FormError> {
    change.edit_pot(pot)?;
    change.set_ware(known.unwrap_or(&Ware::unknown(pot)))?;
    Ok(true)
}

/// Words in addresses of the shelf that lead elsewhere than to a pot.
const TAKEN: [&str; 4] = ["new", "share", "rules", "photos"];

/// Why no pot can be called so, if its key would lead elsewhere.
pub(crate) fn misnamed(key: &str) -> Option<&'static str> {
    TAKEN.contains(&key).then_some("is a page of the shelf; add a word, as the shape or the maker")
}

/// The word of the outline: the one typed, else the one that the shape usually has.
fn outline_word<'a>(form: &PotForm<'a>, shape: Shape, [length, width]: [Centimetre; 2]) -> &'a str {
    let is_round = (length.0 - width.0).abs() < 0.05;
    match form.outline.trim() {
        "" => {}
        told => return told,
    }
    match shape {
        Shape::Rectangle | Shape::Square | Shape::Cascade => "rectangle",
        Shape::SoftRectangle => "rounded-rectangle",
        Shape::Hexagon => "hexagon",
        Shape::Octagon => "octagon",
        Shape::Mokko => "superellipse",
        Shape::Round | Shape::Drum => "round",
        Shape::Slab | Shape::Primitive if is_round => "round",
        Shape::Oval | Shape::Slab | Shape::Primitive => "oval",
    }
}

/// Reads measures beside those that stand: what is typed as a page shows the measure that stands is that very measure.
#[derive(Clone, Copy)]
struct Tape {
    units: Units,
}

impl Tape {
    fn cm(
        self,
        field: &'static str,
        typed: &str,
        bounds: [f64; 2],
        stands: Option<Centimetre>,
    ) -> Result<Option<Centimetre>, FormError> {
        match stands {
            _ if typed.trim().is_empty() => Ok(None),
            Some(stands) if self.is(typed, Bare::Centimetres, Millimetre(stands.0 * 10.0)) => {
                Ok(Some(stands))
            }
            _ => read_cm(field, typed, self.units, bounds).map(Some),
        }
    }

    fn is(self, typed: &str, bare: Bare, stands: Millimetre) -> bool {
        length::is(typed, bare, self.units, stands)
    }

    /// What rounds an outline: the radius of its corners, or how square it is; none where nothing rounds it.
    fn rounded(
        self,
        word: &str,
        typed: &str,
        width: Centimetre,
        stands: Option<Outline>,
    ) -> Result<Option<f64>, FormError> {
        let stood = stands.map(Outline::key).filter(|(other, ..)| *other == word).and_then(|(.., it)| it);
        match word {
            "rounded-rectangle" => {
                let corner = self.cm("corner", typed, CORNER, stood.map(Centimetre))?;
                Ok(Some(corner.map_or(SOFT * width.0, |corner| corner.0)))
            }
            "superellipse" if typed.trim().is_empty() => Ok(Some(MOKKO)),
            "superellipse" => match stood.filter(|stood| same_figure(typed, *stood)) {
                Some(stood) => Ok(Some(stood)),
                None => number("corner", typed, EXPONENT[0], EXPONENT[1]).map(Some),
            },
            _ => Ok(None),
        }
    }
}

fn pot_of(form: &PotForm<'_>, stands: Option<&Pot>, units: Units) -> Result<Pot, FormError> {
    let tape = Tape { units };
    let stood = stands.map(|pot| &pot.vessel);
    let sides = |ring: Option<Outline>| ring.map(|ring| ring.key().1);
    let (top, middle, bottom) = (
        sides(stood.map(|it| it.top)),
        sides(stood.and_then(|it| it.middle)),
        sides(stood.map(|it| it.bottom)),
    );
    let across = |field, typed, stood: Option<[Centimetre; 2]>, side: usize| {
        tape.cm(field, typed, POT_ACROSS, stood.map(|it| it[side]))
    };
    let (_, shown) = name(form.name)?;
    let shape = word("shape", form.shape, Shape::from_key)?;
    let length = across("length", form.length, top, 0)?.ok_or_else(|| bad("length", "", "is empty"))?;
    let width = across("width", form.width, top, 1)?.unwrap_or(length);
    let outline = outline_word(form, shape, [length, width]);
    let rounded = tape.rounded(outline, form.corner, width, stood.map(|it| it.top))?;
    // One pot has one outline and one roundness; only its sides change from the rim to the base.
    let ring = |[length, width]: [Centimetre; 2]| {
        Outline::from_key(outline, length, width, rounded)
            .ok_or_else(|| bad("outline", outline, "is none that we offer"))
    };
    let bottom_length = across("length at the base", form.bottom_length, bottom, 0)?.unwrap_or(length);
    let usual_width =
        if bottom_length.0 < length.0 { Centimetre(bottom_length.0.min(width.0)) } else { width };
    let bottom_width = across("width at the base", form.bottom_width, bottom, 1)?.unwrap_or(usual_width);
    let middle = match across("length halfway up", form.middle_length, middle, 0)? {
        Some(long) => {
            let wide = across("width halfway up", form.middle_width, middle, 1)?.unwrap_or(long);
            Some(ring([long, wide])?)
        }
        None => middle.map(ring).transpose()?,
    };
    let cm_or = |field, typed, otherwise: f64, bounds, stood: Option<Centimetre>| {
        Ok::<_, FormError>(tape.cm(field, typed, bounds, stood)?.unwrap_or(Centimetre(otherwise)))
    };
    let wall =
        cm_or("thickness of the wall", form.thick, usual_wall(length.0), POT_WALL, stood.map(|it| it.wall))?;
    let finish = word("finish", form.finish, Finish::from_key)?;
    let height = tape.cm("height", form.height, POT_HEIGHT, stood.map(|it| it.height))?;
    let vessel = Vessel {
        top: ring([length, width])?,
        middle,
        bottom: ring([bottom_length, bottom_width])?,
        height: height.ok_or_else(|| bad("height", "", "is empty"))?,
        feet: cm_or("feet", form.feet, 0.0, POT_EDGE, stood.map(|it| it.feet))?,
        floor: cm_or("thickness of the floor", form.floor, wall.0, POT_WALL, stood.map(|it| it.floor))?,
        wall,
        lip: cm_or("lip", form.lip, 0.0, POT_EDGE, stood.map(|it| it.lip))?,
        gap: cm_or("free below the rim", form.gap, GAP, POT_EDGE, stood.map(|it| it.gap))?,
        measured: match (form.measured.trim(), stood.and_then(|it| it.measured)) {
            ("", _) => None,
            (typed, Some(stood)) if is_volume(typed, units, stood) => Some(stood),
            (typed, _) => Some(volume("water it took", typed, units, POT_WATER)?),
        },
    };
    vessel.soil().map_err(|why| bad("measures", form.name, misfit(why, units)))?;
    Ok(Pot { key: String::new(), name: shown, vessel, wall: wall_of(finish, form.clay)? })
}

/// Why measures are not those of a pot, in the reader's units and no finer than anyone measures.
fn misfit(why: OutOfRange, units: Units) -> String {
    let (what, unit) = why.quantity.rsplit_once(", ").unwrap_or((why.quantity, ""));
    let (unit, scale) = match (unit, units) {
        ("cm", Units::Imperial) => ("in", 2.54),
        ("L", Units::Imperial) => ("qt", QUART),
        (unit, _) => (unit, 1.0),
    };
    let got = four(why.got / scale, f64::round);
    let span = span([why.low / scale, why.high / scale], unit);
    format!("cannot be those of a pot: {what} is {got}, but must be {span}")
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
            .filter(|count: &u16| (POT_COUNT[0]..=POT_COUNT[1]).contains(&u32::from(*count)))
            .ok_or_else(|| {
                bad("count", told, format!("is not a whole number from {} to {}", POT_COUNT[0], POT_COUNT[1]))
            })?,
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
    let hole = open.hole.filter(|hole| Tape { units }.is(form.hole, Bare::Millimetres, *hole));
    Ok(Ware {
        pot: open.pot.clone(),
        training: form.training,
        count,
        shape: word("shape", form.shape, Shape::from_key)?,
        finish: word("finish", form.finish, Finish::from_key)?,
        fired: word_if("fired", form.fired, Fired::from_key)?.unwrap_or(Fired::Unknown),
        drain_holes: small("holes for water", form.drain_holes, HOLES)?,
        hole: match hole {
            Some(stands) => Some(stands),
            None => length::read_if("width of a hole", form.hole, Bare::Millimetres, units, HOLE)?,
        },
        tie_holes: small("holes for wire", form.tie_holes, HOLES)?,
        feel: word_if("look", form.feel, Feel::from_key)?,
        features: small("strong features", form.features, FEATURES)?.unwrap_or(0),
        glaze: glaze_of(form, open.glaze)?,
        empty: match (form.empty.trim(), open.empty) {
            ("", _) => None,
            (typed, Some(stands)) if weight::is(typed, stands) => Some(stands),
            (typed, _) => Some(weight::read(typed).map_err(|why| bad("empty weight", typed, why))?),
        },
        maker: line("maker", form.maker, SHORT)?,
        mark: line("mark", form.mark, SHORT)?,
        kiln: line("kiln", form.kiln, SHORT)?,
        origin: line("origin", form.origin, SHORT)?,
        era: line("era", form.era, ERA)?,
        bought: day_if(form.bought, today)?,
        paid: money("paid", form.paid)?,
        seller: line("seller", form.seller, SHORT)?,
        condition: text("condition", form.condition, CONDITION)?,
        worth,
        whereabouts: open.whereabouts,
        spot: line("spot", form.spot, SHORT)?,
        note: text("note", form.note, NOTE)?,
        revision: open.revision,
    })
}
