//! Sheets of pots, mixes, what stands in them, and crowns.

use collection::{
    key,
    potting::{BucketTest, Crown, Mix, Pot, Potted, Wall},
};
use measure::quantity::{Centimetre, Gram, Litre, Millimetre, Share};
use pot::{outline::Outline, vessel::Vessel};

use super::{Read, Row, rows};
use crate::{refusal::Refusal, shelf::misnamed};

/// Thickness of a pot's wall where nobody measured it, by the pot's length in cm (common practice, no source).
const WALLS: [(f64, f64); 4] = [(10.0, 0.4), (20.0, 0.5), (30.0, 0.75), (50.0, 1.1)];

/// The thickest wall taken unasked, cm.
const THICK: f64 = 1.5;

/// Free height under the rim for watering where nobody measured it, cm (common practice, no source).
pub(crate) const GAP: f64 = 0.6;

impl Row {
    fn length(&self, name: &str, low: f64, high: f64) -> Result<f64, Refusal> {
        let told = self.number(name, low, high)?;
        told.ok_or_else(|| self.refuse("", format!("{name} is empty")))
    }

    fn outline(&self, word: &str, length: f64, width: f64) -> Result<Outline, Refusal> {
        let shape = self.number("shape", 0.0, 100.0)?;
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
    rows(text, &["name", "outline", "length", "height"], |row| {
        let name = row.needed("name")?;
        if let Some(why) = misnamed(&key::from_name(name)) {
            return Err(row.refuse(name, why));
        }
        let word = row.needed("outline")?.to_lowercase();
        let length = row.length("length", 1.0, 300.0)?;
        let width = row.number("width", 1.0, 300.0)?.unwrap_or(length);
        let wide = |name: &str, otherwise: f64| {
            Ok::<f64, Refusal>(row.number(name, 0.0, 300.0)?.unwrap_or(otherwise))
        };
        let wall = wide("thick", usual_wall(length))?;
        let middle = match (row.number("middle_length", 1.0, 300.0)?, row.number("middle_width", 1.0, 300.0)?)
        {
            (Some(length), width) => Some(row.outline(&word, length, width.unwrap_or(length))?),
            (None, _) => None,
        };
        let bottom_length = wide("bottom_length", length)?;
        let bottom_width =
            wide("bottom_width", if bottom_length < length { bottom_length.min(width) } else { width })?;
        let vessel = Vessel {
            top: row.outline(&word, length, width)?,
            middle,
            bottom: row.outline(&word, bottom_length, bottom_width)?,
            height: Centimetre(row.length("height", 0.5, 200.0)?),
            feet: Centimetre(wide("feet", 0.0)?),
            floor: Centimetre(wide("floor", wall)?),
            wall: Centimetre(wall),
            lip: Centimetre(wide("lip", 0.0)?),
            gap: Centimetre(wide("gap", GAP)?),
            measured: row.number("measured", 0.001, 500.0)?.map(Litre),
        };
        vessel.soil().map_err(|why| row.refuse(name, why.to_string()))?;
        Ok(Pot {
            key: key::from_name(name),
            name: name.to_string(),
            vessel,
            wall: row.word("wall", Wall::from_key, Wall::Glazed)?,
        })
    })
}

/// Mixes: columns `name`, `grain_low`, `grain_high` (mm), and of a bucket test `height` (cm), `volume` (litres), `dry`, `flooded`,
/// `drained` (grams), `inside` (share).
///
/// ```
/// let half = "name,grain_low,grain_high,height,volume,dry\nPine mix,3,6,12,2,1240\n";
/// assert!(intake::sheet::potting::mixes(half).whole().is_err());
/// ```
pub fn mixes(text: &str) -> Read<Mix> {
    rows(text, &["name", "grain_low", "grain_high"], |row| {
        let name = row.needed("name")?;
        let (low, high) = (row.length("grain_low", 0.05, 50.0)?, row.length("grain_high", 0.05, 50.0)?);
        if low > high {
            return Err(
                row.refuse(&format!("{low} to {high}"), "the smallest grain is larger than the largest")
            );
        }
        let weighed = [
            row.number("height", 1.0, 100.0)?,
            row.number("volume", 0.05, 100.0)?,
            row.number("dry", 1.0, 200_000.0)?,
            row.number("flooded", 1.0, 200_000.0)?,
            row.number("drained", 1.0, 200_000.0)?,
        ];
        let tested = match weighed {
            [Some(height), Some(volume), Some(dry), Some(flooded), Some(drained)] => Some(BucketTest {
                height: Centimetre(height),
                volume: Litre(volume),
                dry: Gram(dry),
                flooded: Gram(flooded),
                drained: Gram(drained),
                inside: row.number("inside", 0.0, 0.9)?.map(Share),
            }),
            [None, None, None, None, None] => None,
            _ => return Err(row.refuse(name, "a bucket test needs height, volume, dry, flooded and drained")),
        };
        Ok(Mix {
            key: key::from_name(name),
            name: name.to_string(),
            grain: [Millimetre(low), Millimetre(high)],
            tested,
        })
    })
}

/// What stands in which pot: columns `tree`, `day`, `pot`, `mix`.
pub fn potted(text: &str) -> Read<Potted> {
    rows(text, &["tree", "day", "pot", "mix"], |row| {
        Ok(Potted {
            tree: key::from_name(row.needed("tree")?),
            day: row.day("day")?,
            pot: key::from_name(row.needed("pot")?),
            mix: key::from_name(row.needed("mix")?),
        })
    })
}

/// Crowns: columns `tree`, `day`, `length`, and where it differs `width` (cm across).
pub fn crowns(text: &str) -> Read<Crown> {
    rows(text, &["tree", "day", "length"], |row| {
        let length = row.length("length", 1.0, 1000.0)?;
        Ok(Crown {
            tree: key::from_name(row.needed("tree")?),
            day: row.day("day")?,
            length: Centimetre(length),
            width: Centimetre(row.number("width", 1.0, 1000.0)?.unwrap_or(length)),
        })
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
