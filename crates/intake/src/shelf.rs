//! What the grower says of pots, of how trees stand, of repots and of the shed: checked, then written as one act each.

mod back;
mod bench;
mod glaze;
mod photo;
mod pots;
mod reserve;
mod rules;
mod shed;
mod standing;
mod whereabouts;

use collection::{
    event::{Work, WorkKind},
    money::Money,
    potting::{Pot, Potted},
    repot::Repot,
    ware::Ware,
};
use jiff::civil::Date;
use measure::{
    quantity::{Centimetre, Share, Units},
    winter::{Hemisphere, Winter},
};
use pot::colour::{
    space::Lab,
    swatch::{Kind as Carrier, Swatch},
};
use store::reader::Reader;

use crate::{
    length::read_cm,
    limits::{HUE, LIGHTNESS, YEARS_AHEAD},
    record::{FormError, bad, number},
    version::counted as version,
};

pub use back::{TakenBack, take_back_repot};
pub use bench::{Against, Ask, RepotError, RepotForm, Repotted, repot};
pub use glaze::{GlazeError, GlazeForm, Measured, keep_glaze, measure_glaze, read_glaze};
pub use photo::{pot_photo, remove_pot_photo};
pub(crate) use pots::change_measures;
pub(crate) use pots::misnamed;
pub use pots::{PotForm, add_pot, edit_pot};
pub use reserve::{ReserveError, ReserveForm, like, reserve, unreserve};
pub use rules::pot_rule;
pub use shed::{StockForm, blend, stock};
pub use standing::{
    GrownForm, MeantForm, PotLookForm, ShelfLine, StatureForm, TintForm, TollForm, VigourForm, clear_meant,
    grown, meant, pot_look, stature, take_back, tint, toll, vigour,
};
pub use whereabouts::{PotTold, WhereaboutsForm, delete_pot, whereabouts};
pub(crate) use whereabouts::{Shed, change_ware};

/// That a tree stands in its pot since a repot.
pub(crate) fn potted_by(it: &Repot) -> Potted {
    Potted { tree: it.tree.clone(), day: it.day, pot: it.pot.clone(), mix: it.mix.clone() }
}

/// A repot as a line of work. How much of the roots was cut stands in the log of the repot alone.
pub(crate) fn work_of(it: &Repot) -> Work {
    let kind = if it.cut.0 > 0.0 || it.bare { WorkKind::Repot } else { WorkKind::SlipPot };
    Work { tree: it.tree.clone(), day: it.day, kind, roots: None, note: String::new() }
}

/// Whether a line of work is the one that came with a repot; files of before hold a sentence of the program's own in it.
pub(crate) fn is_work_of(it: &Repot, work: &Work) -> bool {
    let percent = (it.cut.0 * 100.0).round().max(1.0);
    let sentences = [String::new(), format!("cut about {percent} % of the roots"), "no root was cut".into()];
    let is_root_work = matches!(work.kind, WorkKind::Repot | WorkKind::SlipPot) && work.roots.is_none();
    is_root_work && (&it.tree, it.day) == (&work.tree, work.day) && sentences.contains(&work.note)
}

/// A pot with what is known of it.
fn known_pot(reader: &Reader, key: &str) -> Result<(Pot, Ware), FormError> {
    let pot = reader.pots()?.into_iter().find(|pot| pot.key == key);
    let pot = pot.ok_or_else(|| bad("pot", key, "is not in the collection"))?;
    let ware = reader.wares()?.into_iter().find(|ware| ware.pot == key);
    let ware = ware.unwrap_or_else(|| Ware::unknown(&pot));
    Ok((pot, ware))
}

fn known_mix(reader: &Reader, key: &str) -> Result<String, FormError> {
    let known = reader.mixes()?.iter().any(|mix| mix.key == key);
    if known { Ok(key.to_string()) } else { Err(bad("mix", key, "is not in the collection")) }
}

/// What a tree is called.
fn name_of(reader: &Reader, tree: &str) -> Result<String, FormError> {
    let known = reader.trees()?.into_iter().find(|it| it.key == tree);
    Ok(known.map_or_else(|| tree.to_string(), |tree| tree.name))
}

/// The year in which the repots of a day's season fall.
fn season_of(reader: &Reader, day: Date) -> Result<i16, FormError> {
    let hemisphere = reader.site()?.map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude));
    Ok(Winter::holding(day, hemisphere).spring_year)
}

/// A season as typed: the year of its repots.
fn season(typed: &str, today: Date) -> Result<i16, FormError> {
    let near = today.year() - 1..=today.year() + YEARS_AHEAD;
    let year = typed.trim().parse().ok().filter(|year| near.contains(year));
    year.ok_or_else(|| bad("season", typed, "is not a year from the last one to ten years ahead"))
}

fn cm_if(
    field: &'static str,
    typed: &str,
    units: Units,
    bounds: [f64; 2],
) -> Result<Option<Centimetre>, FormError> {
    if typed.trim().is_empty() { Ok(None) } else { read_cm(field, typed, units, bounds).map(Some) }
}

/// A share typed in per cent, with or without its sign. What reads as a share of 1 is refused, not taken for less than a hundredth.
pub(crate) fn percent(field: &'static str, typed: &str, most: f64) -> Result<Share, FormError> {
    let figure = typed.trim().trim_end_matches('%').trim_end();
    match number(field, figure, 0.0, 100.0)? {
        told if 0.0 < told && told < 1.0 => {
            Err(bad(field, typed, format!("would be {told} %, which is hardly meant; type 50 for half")))
        }
        told if told <= most => Ok(Share(told / 100.0)),
        _ => Err(bad(field, typed, format!("is more than {most} %"))),
    }
}

fn money(field: &'static str, typed: &str) -> Result<Option<Money>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        told => Money::from_words(told)
            .map(Some)
            .ok_or_else(|| bad(field, told, "is not money written as 120 CHF")),
    }
}

fn day_if(typed: &str, today: Date) -> Result<Option<Date>, FormError> {
    if typed.trim().is_empty() { Ok(None) } else { crate::record::day(typed, today).map(Some) }
}

fn day_or_today(typed: &str, today: Date) -> Result<Date, FormError> {
    Ok(day_if(typed, today)?.unwrap_or(today))
}

/// A whole number up to a most; none where nothing was typed.
fn small(field: &'static str, typed: &str, [_, most]: [u32; 2]) -> Result<Option<u8>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        told => match told.parse::<u8>() {
            Ok(count) if u32::from(count) <= most => Ok(Some(count)),
            _ => Err(bad(field, told, format!("is not a whole number up to {most}"))),
        },
    }
}

/// A word from a short list; none where nothing was chosen.
fn word_if<T>(
    field: &'static str,
    typed: &str,
    from: impl Fn(&str) -> Option<T>,
) -> Result<Option<T>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        key => from(key).map(Some).ok_or_else(|| bad(field, key, "is none that we offer")),
    }
}

/// A word from a short list.
fn word<T>(field: &'static str, typed: &str, from: impl Fn(&str) -> Option<T>) -> Result<T, FormError> {
    word_if(field, typed, from)?.ok_or_else(|| bad(field, "", "is empty"))
}

/// A colour picked by its name.
fn picked(typed: &str, fits: impl Fn(Carrier) -> bool) -> Result<Option<Lab>, FormError> {
    let of = |key: &str| Swatch::of(key).filter(|swatch| fits(swatch.kind)).map(|swatch| swatch.lab);
    word_if("colour", typed, of)
}

/// A colour by its lightness and the two ways of its hue.
fn lab([l, a, b]: [&str; 3]) -> Result<Option<Lab>, FormError> {
    if [l, a, b].iter().all(|typed| typed.trim().is_empty()) {
        return Ok(None);
    }
    Ok(Some(Lab {
        l: number("lightness of the colour", l, LIGHTNESS[0], LIGHTNESS[1])?,
        a: number("green to red", a, HUE[0], HUE[1])?,
        b: number("blue to yellow", b, HUE[0], HUE[1])?,
    }))
}

#[cfg(test)]
mod tests;
