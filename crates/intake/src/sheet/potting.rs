//! Sheets of pots, mixes, what stands in them, and crowns.

use collection::potting::{BucketTest, Crown, Mix, Pot, Potted, Wall};
use measure::quantity::{Centimetre, Litre, Millimetre, Share};
use pot::{outline::Outline, vessel::Vessel};

use super::{Read, Row, rows, table};
use crate::{limits::EXPONENT, refusal::Refusal, shelf::misnamed};

/// Thickness of a pot's wall where nobody measured it, by the pot's length in cm (common practice, no source).
const WALLS: [(f64, f64); 4] = [(10.0, 0.4), (20.0, 0.5), (30.0, 0.75), (50.0, 1.1)];

/// The thickest wall taken unasked, cm.
const THICK: f64 = 1.5;

/// Free height under the rim for watering where nobody measured it, cm (common practice, no source).
pub(crate) const GAP: f64 = 0.6;

impl Row {
    fn outline(&self, word: &str, length: f64, width: f64) -> Result<Outline, Refusal> {
        let shape = self.number("shape")?;
        let [least, most] = EXPONENT;
        if word == "superellipse" && shape.is_some_and(|it| !(least..=most).contains(&it)) {
            return Err(
                self.refuse(self.cell("shape"), format!("shape is not a number from {least} to {most}"))
            );
        }
        Outline::from_key(word, Centimetre(length), Centimetre(width), shape).ok_or_else(|| {
            self.refuse(word, "no outline we know, or its shape (corner in cm, or exponent) is empty")
        })
    }
}

/// The wall of a pot of this length, as usual.
pub(crate) fn usual_wall(length: f64) -> f64 {
    WALLS.iter().find(|(longest, _)| length <= *longest).map_or(THICK, |(_, wall)| *wall)
}

/// Pots, in centimetres and litres: columns `name`, `outline`, `length`, `height`, and where known `width`, `shape`,
/// `middle_length`, `middle_width`, `bottom_length`, `bottom_width`, `feet`, `floor`, `thick`, `lip`, `gap`, `measured`, `wall`.
///
/// ```
/// let pots = intake::sheet::potting::pots("name,outline,length,width,height\nBlue oval,oval,31,24,7\n");
/// assert_eq!(pots.whole().unwrap()[0].key, "blue-oval");
/// ```
pub fn pots(text: &str) -> Read<Pot> {
    rows(text, &table::POTS, None).take(pot)
}

pub(crate) fn pot(row: &Row) -> Result<Pot, Refusal> {
    let (key, name) = row.name()?;
    if let Some(why) = misnamed(&key) {
        return Err(row.refuse(&name, why));
    }
    let word = row.needed("outline")?.to_lowercase();
    let length = row.must("length")?;
    let width = row.number("width")?.unwrap_or(length);
    let wide = |name: &str, otherwise: f64| Ok::<f64, Refusal>(row.number(name)?.unwrap_or(otherwise));
    let wall = wide("thick", usual_wall(length))?;
    let middle = match (row.number("middle_length")?, row.number("middle_width")?) {
        (Some(length), width) => Some(row.outline(&word, length, width.unwrap_or(length))?),
        (None, Some(width)) => {
            return Err(row.refuse(&width.to_string(), "middle_width needs middle_length beside it"));
        }
        (None, None) => None,
    };
    let bottom_length = wide("bottom_length", length)?;
    let bottom_width =
        wide("bottom_width", if bottom_length < length { bottom_length.min(width) } else { width })?;
    let vessel = Vessel {
        top: row.outline(&word, length, width)?,
        middle,
        bottom: row.outline(&word, bottom_length, bottom_width)?,
        height: Centimetre(row.must("height")?),
        feet: Centimetre(wide("feet", 0.0)?),
        floor: Centimetre(wide("floor", wall)?),
        wall: Centimetre(wall),
        lip: Centimetre(wide("lip", 0.0)?),
        gap: Centimetre(wide("gap", GAP)?),
        measured: row.number("measured")?.map(Litre),
    };
    vessel.soil().map_err(|why| row.refuse(&name, why.to_string()))?;
    Ok(Pot { key, name, vessel, wall: row.word("wall", Wall::from_key, Wall::Glazed)? })
}

/// Mixes: columns `name`, `grain_low`, `grain_high` (mm), and of a bucket test `height` (cm), `volume` (litres), `dry`, `flooded`,
/// `drained` (weights without the bucket), `inside` (share).
///
/// ```
/// let half = "name,grain_low,grain_high,height,volume,dry\nPine mix,3,6,12,2,1240\n";
/// assert!(intake::sheet::potting::mixes(half).whole().is_err());
/// ```
pub fn mixes(text: &str) -> Read<Mix> {
    rows(text, &table::MIXES, None).take(mix)
}

pub(crate) fn mix(row: &Row) -> Result<Mix, Refusal> {
    let (key, name) = row.name()?;
    let (low, high) = (row.must("grain_low")?, row.must("grain_high")?);
    if low > high {
        return Err(row.refuse(&format!("{low} to {high}"), "the smallest grain is larger than the largest"));
    }
    let filled = (row.number("height")?, row.number("volume")?);
    let inside = row.number("inside")?.map(Share);
    let tested = match (filled, (row.weight("dry")?, row.weight("flooded")?, row.weight("drained")?)) {
        ((Some(height), Some(volume)), (Some(dry), Some(flooded), Some(drained))) => Some(BucketTest {
            height: Centimetre(height),
            volume: Litre(volume),
            dry,
            flooded,
            drained,
            inside,
        }),
        ((None, None), (None, None, None)) if inside.is_none() => None,
        _ => return Err(row.refuse(&name, "a bucket test needs height, volume, dry, flooded and drained")),
    };
    Ok(Mix { key, name, grain: [Millimetre(low), Millimetre(high)], tested })
}

/// What stands in which pot: columns `tree`, `day`, `pot`, `mix`.
pub fn potted(text: &str) -> Read<Potted> {
    rows(text, &table::POTTED, None).take(in_pot)
}

pub(crate) fn in_pot(row: &Row) -> Result<Potted, Refusal> {
    Ok(Potted { tree: row.tree()?, day: row.day("day")?, pot: row.named("pot")?, mix: row.named("mix")? })
}

/// Crowns: columns `tree`, `day`, `length`, and where it differs `width` (cm across).
pub fn crowns(text: &str) -> Read<Crown> {
    rows(text, &table::CROWNS, None).take(crown)
}

pub(crate) fn crown(row: &Row) -> Result<Crown, Refusal> {
    let length = row.must("length")?;
    Ok(Crown {
        tree: row.tree()?,
        day: row.day("day")?,
        length: Centimetre(length),
        width: Centimetre(row.number("width")?.unwrap_or(length)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wall_thicker_than_the_pot_is_named_with_its_line() {
        let sheet = "name,outline,length,height,thick\nGood,round,20,8,\nBad,round,6,4,3.2\n";
        let refused = pots(sheet).whole().unwrap_err();
        assert_eq!((refused[0].line, refused[0].value.as_str()), (3, "Bad"));
    }

    #[test]
    fn an_outline_nobody_knows_is_named() {
        let refused = pots("name,outline,length,height\nStar,star,20,8\n").whole().unwrap_err();
        assert_eq!(refused[0].value, "star");
    }

    #[test]
    fn a_pot_called_like_a_page_of_the_shelf_is_named() {
        let refused = pots("name,outline,length,height\nShare,round,20,8\n").whole().unwrap_err();
        assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "Share"));
        assert!(refused[0].why.contains("a page of the shelf"));
    }
}
