//! Rows of what is known of pots, and of how trees are grown.

use std::collections::BTreeMap;

use collection::{
    potting::Pot,
    standing::{Grown, Stature, Tint, Vigour},
    ware::{Glaze, Told, Ware, Whereabouts},
};
use measure::quantity::{Centimetre, Millimetre};
use pot::{
    colour::{
        score::Season,
        space::Lab,
        swatch::{Kind as Carrier, Swatch},
    },
    fit::{
        frame::{Feel, Finish, Fired, Shape},
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
};

use super::Row;
use crate::refusal::Refusal;

impl Row {
    /// A colour out of the three columns of a reading.
    fn lab(&self) -> Result<Option<Lab>, Refusal> {
        let read = [self.number("l")?, self.number("a")?, self.number("b")?];
        match read {
            [Some(l), Some(a), Some(b)] => Ok(Some(Lab { l, a, b })),
            [None, None, None] => Ok(None),
            _ => Err(self.refuse(self.cell("l"), "a colour needs l, a and b")),
        }
    }

    /// A usual colour by its name.
    fn swatch(&self, fits: impl Fn(Carrier) -> bool) -> Result<Option<Lab>, Refusal> {
        let of = |cell: &str| Swatch::of(cell).filter(|swatch| fits(swatch.kind)).map(|swatch| swatch.lab);
        self.word_if("swatch", of)
    }

    /// A colour, and whether it was read.
    fn colour(&self, fits: impl Fn(Carrier) -> bool) -> Result<Option<(Lab, bool)>, Refusal> {
        match (self.swatch(fits)?, self.lab()?) {
            (Some(_), Some(_)) => {
                Err(self.refuse(self.cell("swatch"), "a colour is picked or read, not both"))
            }
            (Some(picked), None) => Ok(Some((picked, false))),
            (None, read) => Ok(read.map(|read| (read, true))),
        }
    }

    fn glaze(&self) -> Result<Option<Glaze>, Refusal> {
        let spread = self.number("spread")?;
        Ok(self.colour(|kind| kind == Carrier::Pot)?.map(|(colour, read)| Glaze {
            colour,
            // A colour whose spread nobody told is no reading that can be vouched for.
            told: match spread {
                Some(spread) if read => Told::Measured { spread },
                _ => Told::Picked,
            },
        }))
    }
}

pub(super) fn ware(row: &Row, pots: &BTreeMap<String, Pot>) -> Result<Ware, Refusal> {
    let name = row.named("pot")?;
    let pot = pots.get(&name).ok_or_else(|| row.refuse(&name, "no pot in the collection has this name"))?;
    let open = Ware::unknown(pot);
    let training = row.yes("training")?;
    let count = row.whole("count")?.unwrap_or(1) as u16;
    if count > 1 && !training {
        return Err(
            row.refuse(row.cell("count"), "only training pots are counted; give each pot its own row")
        );
    }
    let worth = match (row.money("worth")?, row.day_if("worth_day")?) {
        (Some(worth), Some(day)) => Some((worth, day)),
        (None, None) => None,
        _ => return Err(row.refuse(row.cell("worth"), "a worth needs the day it was said, worth_day")),
    };
    Ok(Ware {
        training,
        count,
        shape: row.word("shape", Shape::from_key, open.shape)?,
        finish: row.word("finish", Finish::from_key, open.finish)?,
        fired: row.word("fired", Fired::from_key, open.fired)?,
        drain_holes: row.small("drain_holes")?,
        hole: row.number("hole")?.map(Millimetre),
        tie_holes: row.small("tie_holes")?,
        feel: row.word_if("feel", Feel::from_key)?,
        features: row.small("features")?.unwrap_or(0),
        glaze: row.glaze()?,
        empty: row.weight("empty")?,
        maker: row.text("maker")?,
        mark: row.text("mark")?,
        kiln: row.text("kiln")?,
        origin: row.text("origin")?,
        era: row.text("era")?,
        bought: row.day_if("bought")?,
        paid: row.money("paid")?,
        seller: row.text("seller")?,
        condition: row.text("condition")?,
        worth,
        whereabouts: row.word("whereabouts", Whereabouts::from_key, Whereabouts::Shelf)?,
        spot: row.text("spot")?,
        note: row.text("note")?,
        ..open
    })
}

pub(super) fn grown(row: &Row) -> Result<Grown, Refusal> {
    Ok(Grown {
        tree: row.tree()?,
        style: row.word_if("style", Style::from_key)?,
        kind: row.word_if("kind", Kind::from_key)?,
        feel: row.word_if("feel", Feel::from_key)?,
        age: row.word_if("age", Age::from_key)?,
        shown: row.word_if("shown", Season::from_key)?,
        asked: row.money("asked")?,
    })
}

pub(super) fn stature(row: &Row) -> Result<Stature, Refusal> {
    Ok(Stature {
        tree: row.tree()?,
        day: row.day("day")?,
        height: Centimetre(row.must("height")?),
        trunk: Centimetre(row.must("trunk")?),
    })
}

pub(super) fn tint(row: &Row) -> Result<Tint, Refusal> {
    let season = row.known("season", Season::from_key)?;
    let (colour, measured) = row
        .colour(|kind| kind != Carrier::Pot)?
        .ok_or_else(|| row.refuse("", "neither swatch nor l, a, b tells the colour"))?;
    Ok(Tint { tree: row.tree()?, season, colour, measured })
}

pub(super) fn vigour(row: &Row) -> Result<Vigour, Refusal> {
    Ok(Vigour {
        tree: row.tree()?,
        day: row.day("day")?,
        strength: row.known("strength", Strength::from_key)?,
        why: row.text("why")?,
    })
}
