//! What is written down of a tree's limbs: lines traced on a photo, and the forms of its other pages.

pub mod back;
pub mod front;
pub mod graph;
pub mod layer;
pub mod plan;
pub mod wire;

use std::collections::BTreeMap;

use collection::{
    limb::{Caliper, Limb, TRUNK},
    photo::{Photo, Pixel, Scale, Trace},
};
use form::{
    silhouette::scale::Scale as CardScale,
    traced::{Clock, TipClass},
};
use jiff::civil::Date;
use measure::quantity::{Millimetre, Units};
use serde_json::Value;
use store::store::{Act, Store};

use crate::{
    length::{self, Bare},
    limits::{ALONG, LIMB_THICK, NAME},
    record::{FormError, bad, line},
};

/// No limb has a higher number.
pub const HIGHEST: u32 = 99_999;

/// Most limbs of a tree.
const MOST_LIMBS: usize = 2000;

/// Most spots of a line.
const MOST_SPOTS: usize = 1000;

/// Width and height of a bank card (ISO/IEC 7810 ID-1), mm.
const CARD: [Millimetre; 2] = [Millimetre(85.6), Millimetre(53.98)];

/// Width and height of a postcard (ISO 216 A6), mm.
const POSTCARD: [Millimetre; 2] = [Millimetre(148.0), Millimetre(105.0)];

/// A drawing as the tracing page sends it, checked.
#[derive(Clone, Debug, PartialEq)]
struct Drawing {
    scale: Option<Scale>,
    soil: Option<f64>,
    limbs: Vec<(Limb, Vec<Pixel>, Option<Millimetre>)>,
}

/// Keeps what was traced on a photo, whole or not at all; limbs that stood keep their numbers.
///
/// # Errors
///
/// [`FormError`] naming the limb and the value.
pub fn trace(
    store: &mut Store,
    key: &str,
    traced: &str,
    units: Units,
    today: Date,
) -> Result<usize, FormError> {
    let reader = store.reader()?;
    let photo = reader
        .photos()?
        .into_iter()
        .find(|photo| photo.key == key)
        .ok_or_else(|| bad("photo", key, "is not in the collection"))?;
    let mut standing = reader.limbs()?;
    standing.retain(|limb| limb.tree == photo.tree);
    let drawing = read(&photo, traced, &standing, units, today)?;
    store.transact(&Act::Trace(photo.tree.clone()), |change| {
        change.set_scale(&photo.key, drawing.scale, drawing.soil)?;
        for (limb, points, thick) in &drawing.limbs {
            change.set_limb(limb)?;
            change.set_trace(&Trace {
                photo: photo.key.clone(),
                limb: limb.number,
                points: points.clone(),
            })?;
            if let Some(thick) = *thick {
                change.add_caliper(&Caliper {
                    tree: photo.tree.clone(),
                    limb: limb.number,
                    day: photo.day.max(today),
                    along: Millimetre(0.0),
                    thick,
                })?;
            }
        }
        Ok::<(), FormError>(())
    })?;
    Ok(drawing.limbs.len())
}

fn read(
    photo: &Photo,
    traced: &str,
    standing: &[Limb],
    units: Units,
    today: Date,
) -> Result<Drawing, FormError> {
    let value: Value =
        serde_json::from_str(traced).map_err(|_| bad("drawing", traced, "cannot be read; trace again"))?;
    let spots = |field: &'static str, value: &Value| pixels(field, value, photo);
    let corners = spots("scale", &value["scale"])?;
    let scale = match (value["scale_kind"].as_str(), corners.as_slice()) {
        (_, []) => None,
        (Some("card"), &[a, b, c, d]) => Some(Scale::Card { corners: [a, b, c, d], size: CARD }),
        (Some("a6"), &[a, b, c, d]) => Some(Scale::Card { corners: [a, b, c, d], size: POSTCARD }),
        (Some("line") | None, &[from, to]) if from != to => {
            let typed = value["long"].as_str().unwrap_or("");
            if typed.trim().is_empty() {
                return Err(bad("how long the line is", typed, "is empty; measure it, or take the line off"));
            }
            let long =
                length::read("how long the line is", typed, Bare::Millimetres, units, [5.0, 10_000.0])?;
            Some(Scale::Line { ends: [from, to], long })
        }
        (_, spots) => {
            let count = format!("{} spots", spots.len());
            return Err(bad("scale", &count, "are not the two ends of a line nor four corners of a card"));
        }
    };
    let soil = match &value["soil"] {
        Value::Null => None,
        told => {
            let level = told.as_f64().filter(|y| (0.0..=f64::from(photo.high)).contains(y));
            Some(level.ok_or_else(|| bad("soil", &told.to_string(), "is not on the photo"))?)
        }
    };
    let rows = value["limbs"].as_array().map(Vec::as_slice).unwrap_or_default();
    if rows.len() > MOST_LIMBS {
        return Err(bad("limbs", &rows.len().to_string(), format!("are more than {MOST_LIMBS}")));
    }
    let limbs: Vec<_> =
        rows.iter().map(|row| limb(photo, row, standing, units, today)).collect::<Result<_, FormError>>()?;
    borne(&limbs, standing)?;
    stands(photo, scale, &limbs)?;
    Ok(Drawing { scale, soil, limbs: in_order(limbs) })
}

/// What is drawn makes a tree, and what is of known size can be: tried before anything is written.
fn stands(
    photo: &Photo,
    scale: Option<Scale>,
    limbs: &[(Limb, Vec<Pixel>, Option<Millimetre>)],
) -> Result<(), FormError> {
    if let Some(Scale::Card { corners, size }) = scale {
        CardScale::new(corners, size).map_err(|why| bad("card", "", why.to_string()))?;
    }
    for (limb, points, _) in limbs {
        let apart = points.windows(2).map(|pair| (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1]));
        let long: f64 = apart.sum();
        let least = f64::from(photo.wide.max(photo.high)) / 400.0;
        if long < least {
            return Err(bad("limb", &limb.name, "is a line with no length; go on to its tip, or clear it"));
        }
    }
    Ok(())
}

fn pixels(field: &'static str, value: &Value, photo: &Photo) -> Result<Vec<Pixel>, FormError> {
    let rows = value.as_array().map(Vec::as_slice).unwrap_or_default();
    if rows.len() > MOST_SPOTS {
        return Err(bad(field, &rows.len().to_string(), format!("spots are more than {MOST_SPOTS}")));
    }
    let spot = |row: &Value| {
        let spot = [row[0].as_f64()?, row[1].as_f64()?];
        let inside = (0.0..=f64::from(photo.wide)).contains(&spot[0])
            && (0.0..=f64::from(photo.high)).contains(&spot[1]);
        inside.then_some(spot)
    };
    rows.iter()
        .map(|row| spot(row).ok_or_else(|| bad(field, &row.to_string(), "is not on the photo")))
        .collect()
}

fn limb(
    photo: &Photo,
    row: &Value,
    standing: &[Limb],
    units: Units,
    today: Date,
) -> Result<(Limb, Vec<Pixel>, Option<Millimetre>), FormError> {
    let word = |name: &str| row[name].as_str().unwrap_or("").trim();
    let number = row["number"]
        .as_u64()
        .and_then(|number| u32::try_from(number).ok())
        .filter(|number| *number <= HIGHEST)
        .ok_or_else(|| bad("limb", &row["number"].to_string(), "is not a limb's number"))?;
    let known = standing.iter().find(|limb| limb.number == number);
    let points = pixels("line of a limb", &row["points"], photo)?;
    let name = match word("name") {
        "" if number == TRUNK => "trunk".to_string(),
        "" => format!("branch {number}"),
        told => line("name of a limb", told, NAME)?,
    };
    if points.len() < 2 {
        return Err(bad("limb", &name, "has fewer than two spots; go on to its tip, or undo it"));
    }
    let bearer = row["bearer"].as_u64().and_then(|number| u32::try_from(number).ok());
    let (clock, tips) = (clock(word("clock"))?, tips(word("tips"))?);
    let thick = length::read_if("thick at its base", word("thick"), Bare::Millimetres, units, LIMB_THICK)?;
    let limb = Limb {
        tree: photo.tree.clone(),
        number,
        bearer: if number == TRUNK { None } else { bearer.or(known.and_then(|limb| limb.bearer)) },
        name,
        clock,
        tips,
        since: known.map_or(photo.day.min(today), |limb| limb.since),
        gone: known.and_then(|limb| limb.gone),
    };
    Ok((limb, points, thick))
}

/// The hour a limb grows towards; none where nothing was told.
pub(crate) fn clock(typed: &str) -> Result<Option<Clock>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        hour => match hour.parse().ok().and_then(|hour| Clock::new(hour).ok()) {
            Some(clock) => Ok(Some(clock)),
            None => Err(bad("grows towards", hour, "is not an hour from 1 to 12")),
        },
    }
}

fn tips(typed: &str) -> Result<Option<TipClass>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        key => match TipClass::from_key(key) {
            Some(tips) => Ok(Some(tips)),
            None => Err(bad("tips", key, "is no number of tips we offer")),
        },
    }
}

/// Every branch grows from one that is there, and none from itself by a way round.
fn borne(limbs: &[(Limb, Vec<Pixel>, Option<Millimetre>)], standing: &[Limb]) -> Result<(), FormError> {
    let mut bearers: BTreeMap<u32, Option<u32>> =
        standing.iter().map(|limb| (limb.number, limb.bearer)).collect();
    for (limb, ..) in limbs {
        bearers.insert(limb.number, limb.bearer);
    }
    for (limb, ..) in limbs {
        let (mut at, mut steps) = (limb.number, 0);
        while at != TRUNK {
            let below = bearers.get(&at).copied().flatten();
            steps += 1;
            match below {
                Some(below) if bearers.contains_key(&below) && steps <= bearers.len() => at = below,
                Some(below) if steps <= bearers.len() => {
                    return Err(bad(
                        "limb",
                        &limb.name,
                        format!("grows from limb {below}, which is not there"),
                    ));
                }
                Some(_) => return Err(bad("limb", &limb.name, "grows from itself by a way round")),
                None => return Err(bad("limb", &limb.name, "grows from nothing; trace the trunk first")),
            }
        }
        if !bearers.contains_key(&TRUNK) {
            return Err(bad("limb", &limb.name, "has no trunk to grow from; trace the trunk first"));
        }
    }
    Ok(())
}

/// Bearers before what they bear, so that each row finds the one it names.
fn in_order<T>(mut limbs: Vec<(Limb, Vec<Pixel>, T)>) -> Vec<(Limb, Vec<Pixel>, T)> {
    let mut ordered: Vec<(Limb, Vec<Pixel>, T)> = Vec::with_capacity(limbs.len());
    while !limbs.is_empty() {
        let waiting: Vec<u32> = limbs.iter().map(|(limb, ..)| limb.number).collect();
        let ready =
            |(limb, ..): &(Limb, Vec<Pixel>, T)| limb.bearer.is_none_or(|bearer| !waiting.contains(&bearer));
        let (now, later): (Vec<_>, Vec<_>) = limbs.into_iter().partition(ready);
        if now.is_empty() {
            ordered.extend(later);
            break;
        }
        ordered.extend(now);
        limbs = later;
    }
    ordered
}

/// A limb's record as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct LimbForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub name: &'a str,
    pub clock: &'a str,
    pub tips: &'a str,
}

/// The limb of a tree that a form names.
pub(crate) fn known_limb(store: &Store, tree: &str, number: &str) -> Result<Limb, FormError> {
    let wanted: Option<u32> = number.trim().parse().ok();
    let found =
        store.reader()?.limbs()?.into_iter().find(|limb| limb.tree == tree && Some(limb.number) == wanted);
    let limb = found.ok_or_else(|| bad("limb", number, "is not one of this tree"))?;
    match limb.gone {
        Some(day) => Err(bad("limb", &limb.name, format!("came off on {day}"))),
        None => Ok(limb),
    }
}

/// Changes a limb's name, direction and tips.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn limb_record(store: &mut Store, form: LimbForm<'_>) -> Result<(), FormError> {
    let standing = known_limb(store, form.tree, form.limb)?;
    let (clock, tips) = (clock(form.clock)?, tips(form.tips)?);
    let name = match form.name.trim() {
        "" => standing.name.clone(),
        told => line("name", told, NAME)?,
    };
    let limb = Limb { name, clock, tips, ..standing };
    store.transact(&Act::Trace(limb.tree.clone()), |change| change.set_limb(&limb))?;
    Ok(())
}

/// A caliper reading as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct CaliperForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub day: &'a str,
    pub along: &'a str,
    pub thick: &'a str,
}

/// Writes down a caliper reading.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn caliper(store: &mut Store, form: CaliperForm<'_>, units: Units, today: Date) -> Result<(), FormError> {
    let limb = known_limb(store, form.tree, form.limb)?;
    let along = length::read_if("from its base", form.along, Bare::Millimetres, units, ALONG)?;
    let reading = Caliper {
        tree: limb.tree.clone(),
        limb: limb.number,
        day: crate::record::day(form.day, today)?,
        along: along.unwrap_or(Millimetre(0.0)),
        thick: length::read("thick", form.thick, Bare::Millimetres, units, LIMB_THICK)?,
    };
    store.transact(&Act::Measure(limb.tree), |change| change.add_caliper(&reading))?;
    Ok(())
}
