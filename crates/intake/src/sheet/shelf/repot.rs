//! Rows of what is meant, seen and done at repots, of promises, and of the shed.

use collection::{
    key,
    repot::{Meant, PotLook, Repot, Toll},
    reserve::{Liking, Reservation, Said},
    stock::{Item, Stock},
    toll::{self, Amount, KINDS},
};
use measure::quantity::{Centimetre, Degrees, Millimetre, Minutes, Seconds, Share};
use pot::table::Component;

use super::Row;
use crate::refusal::Refusal;

/// The largest share of the roots that a record may say was cut; a guard of this house.
const MOST_CUT: f64 = 0.9;

impl Row {
    fn named(&self, name: &str) -> Result<String, Refusal> {
        self.needed(name).map(key::from_name)
    }

    fn must_be(&self, name: &str, low: f64, high: f64) -> Result<f64, Refusal> {
        self.number(name, low, high)?.ok_or_else(|| self.refuse("", format!("{name} is empty")))
    }

    fn season(&self) -> Result<i16, Refusal> {
        let year = self.must_be("season", 1900.0, 2200.0)?;
        match year.fract() == 0.0 {
            true => Ok(year as i16),
            false => Err(self.refuse(self.cell("season"), "season is not a year")),
        }
    }
}

pub(super) fn look(row: &Row) -> Result<PotLook, Refusal> {
    Ok(PotLook {
        tree: row.tree()?,
        day: row.day("day")?,
        drained: row.number("drained", 0.0, 7200.0)?.map(Seconds),
        twice_a_day: row.yes("twice_a_day")?,
        rocks: row.yes("rocks")?,
        roots: row.yes("roots")?,
        crumbled: row.yes("crumbled")?,
        falling: row.yes("falling")?,
        note: row.cell("note").to_string(),
    })
}

pub(super) fn meant(row: &Row) -> Result<Meant, Refusal> {
    row.needed("repot")?;
    Ok(Meant {
        tree: row.tree()?,
        season: row.season()?,
        repot: row.yes("repot")?,
        cut: row.number("cut", 0.0, MOST_CUT)?.map(Share),
        mix: match row.cell("mix") {
            "" => None,
            name => Some(key::from_name(name)),
        },
        show: row.yes("show")?,
        why: row.cell("why").to_string(),
    })
}

pub(super) fn repot(row: &Row) -> Result<Repot, Refusal> {
    let pad = [
        row.number("pad_length", 1.0, 300.0)?,
        row.number("pad_width", 1.0, 300.0)?,
        row.number("pad_depth", 0.5, 200.0)?,
    ];
    let pad = match pad {
        [Some(length), Some(width), Some(depth)] => Some([length, width, depth].map(Centimetre)),
        [None, None, None] => None,
        _ => return Err(row.refuse(row.cell("pad_length"), "the roots need length, width and depth")),
    };
    let lean = match (row.number("sideways", -60.0, 60.0)?, row.number("forward", -60.0, 60.0)?) {
        (None, None) => None,
        (sideways, forward) => Some([sideways, forward].map(|tilt| Degrees(tilt.unwrap_or(0.0)))),
    };
    let clock = row.small("clock", 12)?;
    if clock == Some(0) {
        return Err(row.refuse("0", "clock is not an hour from 1 to 12"));
    }
    Ok(Repot {
        tree: row.tree()?,
        day: row.day("day")?,
        pot: row.named("pot")?,
        mix: row.named("mix")?,
        cut: Share(row.must_be("cut", 0.0, MOST_CUT)?),
        bare: row.yes("bare")?,
        found: row.cell("found").to_string(),
        proud: row.number("proud", -200.0, 200.0)?.map(Millimetre),
        clock,
        lean,
        pad,
        photo: None,
        took: row.number("took", 0.0, 1440.0)?.map(Minutes),
        note: row.cell("note").to_string(),
    })
}

pub(super) fn toll(row: &Row) -> Result<Toll, Refusal> {
    let what = row.needed("what")?.to_lowercase();
    let kind = KINDS.iter().find(|kind| kind.key == what);
    let kind = kind.ok_or_else(|| row.refuse(&what, "nothing of that name is kept"))?;
    let amount = row.number("amount", 0.0, 500.0)?;
    let insult = toll::insult(&what, amount).ok_or_else(|| {
        let why = match kind.amount {
            Amount::None => "has no amount",
            Amount::Share => "needs an amount, a share from 0 to 1",
            Amount::Count => "needs an amount, a whole number from 1 to 500",
        };
        row.refuse(&what, why)
    })?;
    Ok(Toll { tree: row.tree()?, day: row.day("day")?, what: insult, note: row.cell("note").to_string() })
}

pub(super) fn reservation(row: &Row) -> Result<Reservation, Refusal> {
    Ok(Reservation {
        pot: row.named("pot")?,
        tree: row.tree()?,
        season: row.season()?,
        said: row.known("said", Said::from_key)?,
        why: row.cell("why").to_string(),
        made: row.day("made")?,
    })
}

pub(super) fn liking(row: &Row) -> Result<Liking, Refusal> {
    let (liked, over) = (row.named("liked")?, row.named("over")?);
    if liked == over {
        return Err(row.refuse(&liked, "a pot cannot be liked better than itself"));
    }
    Ok(Liking { tree: row.tree()?, liked, over, day: row.day("day")? })
}

pub(super) fn stock(row: &Row) -> Result<Stock, Refusal> {
    Ok(Stock {
        item: row.known("item", Item::from_key)?,
        left: row.must_be("left", 0.0, 1e6)?,
        pack: row.number("pack", 0.001, 1e6)?,
        delivery: row.number("delivery", 0.0, 730.0)?.map(|days| days as u16),
        day: row.day("day")?,
    })
}

pub(super) fn part(row: &Row) -> Result<(String, Component, f64), Refusal> {
    let component = row.known("component", Component::from_key)?;
    Ok((row.named("mix")?, component, row.must_be("parts", 0.01, 1000.0)?))
}
