//! Rows of what is meant, seen and done at repots, of promises, and of the shed.

use collection::{
    repot::{Meant, PotLook, Repot, Toll},
    reserve::{Liking, Reservation, Said},
    stock::{Item, Stock},
    toll::{self, Amount, KINDS},
};
use measure::quantity::{Centimetre, Degrees, Millimetre, Minutes, Seconds, Share};
use pot::table::Component;

use super::Row;
use crate::refusal::Refusal;

pub(super) fn look(row: &Row) -> Result<PotLook, Refusal> {
    Ok(PotLook {
        tree: row.tree()?,
        day: row.day("day")?,
        drained: row.number("drained")?.map(Seconds),
        twice_a_day: row.yes("twice_a_day")?,
        rocks: row.yes("rocks")?,
        roots: row.yes("roots")?,
        crumbled: row.yes("crumbled")?,
        falling: row.yes("falling")?,
        note: row.text("note")?,
    })
}

pub(super) fn meant(row: &Row) -> Result<Meant, Refusal> {
    row.needed("repot")?;
    Ok(Meant {
        tree: row.tree()?,
        season: row.year("season")?,
        repot: row.yes("repot")?,
        cut: row.number("cut")?.map(Share),
        mix: row.named_if("mix")?,
        show: row.yes("show")?,
        why: row.text("why")?,
    })
}

pub(super) fn repot(row: &Row) -> Result<Repot, Refusal> {
    let pad = [row.number("pad_length")?, row.number("pad_width")?, row.number("pad_depth")?];
    let pad = match pad {
        [Some(length), Some(width), Some(depth)] => Some([length, width, depth].map(Centimetre)),
        [None, None, None] => None,
        _ => return Err(row.refuse(row.cell("pad_length"), "the roots need length, width and depth")),
    };
    let lean = match (row.degrees("sideways")?, row.degrees("forward")?) {
        (None, None) => None,
        (sideways, forward) => Some([sideways, forward].map(|tilt| tilt.unwrap_or(Degrees(0.0)))),
    };
    Ok(Repot {
        tree: row.tree()?,
        day: row.day("day")?,
        pot: row.named("pot")?,
        mix: row.named("mix")?,
        cut: Share(row.must("cut")?),
        bare: row.yes("bare")?,
        found: row.text("found")?,
        proud: row.number("proud")?.map(Millimetre),
        clock: row.small("clock")?,
        lean,
        pad,
        photo: None,
        took: row.number("took")?.map(Minutes),
        note: row.text("note")?,
    })
}

pub(super) fn toll(row: &Row) -> Result<Toll, Refusal> {
    let what = row.needed("what")?.to_lowercase();
    let kind = KINDS.iter().find(|kind| kind.key == what);
    let kind = kind.ok_or_else(|| row.refuse(&what, "nothing of that name is kept"))?;
    let amount = row.number("amount")?;
    let insult = toll::insult(&what, amount).ok_or_else(|| {
        let why = match kind.amount {
            Amount::None => "has no amount",
            Amount::Share => "needs an amount, a share from 0 to 1",
            Amount::Count => "needs an amount, a whole number from 1 to 500",
        };
        row.refuse(&what, why)
    })?;
    Ok(Toll { tree: row.tree()?, day: row.day("day")?, what: insult, note: row.text("note")? })
}

pub(super) fn reservation(row: &Row) -> Result<Reservation, Refusal> {
    Ok(Reservation {
        pot: row.named("pot")?,
        tree: row.tree()?,
        season: row.year("season")?,
        said: row.known("said", Said::from_key)?,
        why: row.text("why")?,
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
        left: row.must("left")?,
        pack: row.number("pack")?,
        delivery: row.whole("delivery")?.map(|days| days as u16),
        day: row.day("day")?,
    })
}

pub(super) fn part(row: &Row) -> Result<(String, Component, f64), Refusal> {
    let component = row.known("component", Component::from_key)?;
    Ok((row.named("mix")?, component, row.must("parts")?))
}
