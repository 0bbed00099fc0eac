//! What is meant for a limb, and what was cut.

use collection::{
    intention::{Cut, CutKind, Intention, Wish, above, meant},
    layer::Wound,
    limb::TRUNK,
};
use jiff::civil::Date;
use measure::{
    quantity::Units,
    winter::{Hemisphere, Winter},
};
use store::store::{Act, Store};

use super::known_limb;
use crate::{
    asked::Asked,
    length::{self, Bare},
    limits::{FIRST_YEAR, LAST_YEAR, NODES, NOTE, UNTIL, WISH_NODES, WOUND},
    record::{FormError, bad, day, text},
};

/// An intention as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct WishForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub wish: &'a str,
    pub until: &'a str,
    pub nodes: &'a str,
    pub by: &'a str,
    pub which: &'a str,
    pub why: &'a str,
}

/// A count of nodes or buds.
fn count(field: &'static str, typed: &str, [_, most]: [u32; 2]) -> Result<Option<u8>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        told => match told.parse::<u8>() {
            Ok(number) if u32::from(number) <= most => Ok(Some(number)),
            _ => Err(bad(field, told, format!("is not a whole number up to {most}"))),
        },
    }
}

/// A day still to come or past, as typed.
pub(super) fn any_day(field: &'static str, typed: &str) -> Result<Option<Date>, FormError> {
    match typed.trim() {
        "" => Ok(None),
        told => {
            let day: Date =
                told.parse().map_err(|_| bad(field, told, "is not a date written as 2026-06-08"))?;
            let is_near = (FIRST_YEAR..=LAST_YEAR).contains(&day.year());
            if is_near { Ok(Some(day)) } else { Err(bad(field, told, "lies too far from today to be right")) }
        }
    }
}

/// Writes down what is meant for a limb this season; what stood before ends with it.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn intend(store: &mut Store, form: WishForm<'_>, units: Units, today: Date) -> Result<(), FormError> {
    let limb = known_limb(store, form.tree, form.limb)?;
    let wish = Wish::from_key(form.wish).ok_or_else(|| bad("meant", form.wish, "is nothing we know"))?;
    if limb.number == TRUNK && wish == Wish::Remove {
        return Err(bad("meant", wish.words(), "would take the trunk off"));
    }
    let intention = Intention {
        tree: limb.tree.clone(),
        limb: limb.number,
        season: season_of(store, today)?,
        wish,
        until: length::read_if("until", form.until, Bare::Millimetres, units, UNTIL)?,
        nodes: count("nodes", form.nodes, WISH_NODES)?,
        by: any_day("by", form.by)?,
        which: text("which", form.which, NOTE)?,
        why: text("why", form.why, NOTE)?,
        made: today,
        ended: None,
        end: String::new(),
    };
    store.transact(&Act::Intend(limb.tree), |change| change.add_intention(&intention))?;
    Ok(())
}

/// The season a wish made on a day is for, by the year of its spring: that of the growth at hand, or after leaf fall that to come.
fn season_of(store: &Store, today: Date) -> Result<i16, FormError> {
    /// Day number from which a wish is for the season to come: leaves fall (common practice, no source).
    const FALL: i32 = -56;
    let hemisphere = store.reader()?.site()?.map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude));
    let winter = Winter::holding(today, hemisphere);
    let is_past = winter.day_number(today) < FALL;
    Ok(if is_past { winter.spring_year - 1 } else { winter.spring_year })
}

/// Ends what is meant for a limb; the grower says how.
///
/// # Errors
///
/// [`FormError`] when none of that number is open.
pub fn end(store: &mut Store, tree: &str, id: i64, how: &str, today: Date) -> Result<(), FormError> {
    let known = store.reader()?.intentions()?.iter().any(|(number, it)| *number == id && it.tree == tree);
    if !known {
        return Err(bad("intention", &id.to_string(), "is not one of this tree"));
    }
    let how = text("how", how, NOTE)?;
    let how = if how.is_empty() { "no longer meant" } else { &how };
    Ok(store.transact(&Act::Intend(tree.into()), |change| change.end_intention(id, today, how))?)
}

/// A cut as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct CutForm<'a> {
    pub tree: &'a str,
    pub limb: &'a str,
    pub day: &'a str,
    pub kind: &'a str,
    pub nodes: &'a str,
    pub wound: &'a str,
    pub sealed: bool,
    pub note: &'a str,
    pub asked: Asked<'a>,
}

/// What became of a cut that was told.
#[derive(Clone, Debug, PartialEq)]
pub enum CutTold {
    /// It was written down.
    Kept,
    /// A cut of this kind speaks against this intention, and perhaps against the day, and no reason was given; nothing was saved.
    Against(Box<Intention>, CutKind),
}

/// Writes down a cut; one that speaks against what is meant needs a reason, and one that does what was meant ends it.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn cut(store: &mut Store, form: CutForm<'_>, units: Units, today: Date) -> Result<CutTold, FormError> {
    let limb = known_limb(store, form.tree, form.limb)?;
    let on = day(form.day, today)?;
    let kind = CutKind::from_key(form.kind).ok_or_else(|| bad("cut", form.kind, "is no cut we know"))?;
    if limb.number == TRUNK && kind == CutKind::Remove {
        return Err(bad("cut", kind.words(), "would be the end of the tree"));
    }
    let reader = store.reader()?;
    let limbs: Vec<_> = reader.limbs()?.into_iter().filter(|it| it.tree == limb.tree).collect();
    let bearer = |number: u32| limbs.iter().find(|it| it.number == number).and_then(|it| it.bearer);
    let intentions: Vec<Intention> =
        reader.intentions()?.into_iter().map(|(_, it)| it).filter(|it| it.tree == limb.tree).collect();
    let stands = meant(intentions.iter(), limb.number, on, bearer);
    let own = stands.filter(|it| it.wish.forbids(kind));
    // Cutting the limb itself takes what it bears with it.
    let takes = matches!(kind, CutKind::Shorten | CutKind::Remove);
    let borne = if takes { above(intentions.iter(), limb.number, on, bearer) } else { Vec::new() };
    let against =
        own.or_else(|| borne.iter().copied().find(|it| matches!(it.wish, Wish::LetRun | Wish::LeaveAlone)));
    if let Some(against) = against.filter(|_| form.asked.despite.trim().is_empty()) {
        return Ok(CutTold::Against(Box::new(against.clone()), kind));
    }
    let name = format!("{} {}", limb.name, kind.words());
    // What was meant for the limb is asked about above.
    let asked = Asked { against: form.asked.against.or(against.map(|_| "")), ..form.asked };
    let cut = Cut {
        tree: limb.tree.clone(),
        limb: limb.number,
        day: on,
        kind,
        nodes: count("nodes left", form.nodes, NODES)?,
        broke: None,
        despite: asked.reason(&name)?,
        note: text("note", form.note, NOTE)?,
    };
    let wound = length::read_if("wound", form.wound, Bare::Millimetres, units, WOUND)?.map(|wide| Wound {
        tree: limb.tree.clone(),
        // The wound of a limb that is gone is on the one that bore it.
        limb: if kind == CutKind::Remove { limb.bearer.unwrap_or(TRUNK) } else { limb.number },
        day: on,
        wide,
        sealed: form.sealed,
        closed: None,
        note: wound_note(&limb.name, kind),
    });
    let is_done = stands.is_some_and(|it| it.limb == limb.number && it.wish.done_by(kind));
    store.transact(&Act::Cut(limb.tree.clone()), |change| {
        if !change.add_cut(&cut)? {
            return Err(bad("cut", kind.words(), "is written down for that limb and day already"));
        }
        if let Some(wound) = &wound {
            change.add_wound(wound)?;
        }
        if is_done {
            change.end_intention_of(&limb.tree, limb.number, on, &done_by(kind, on))?;
        }
        if kind == CutKind::Remove {
            change.remove_limb(&limb.tree, limb.number, on)?;
        }
        Ok::<(), FormError>(())
    })?;
    Ok(CutTold::Kept)
}

/// How a wound names the cut that made it.
pub(super) fn wound_note(limb: &str, kind: CutKind) -> String {
    format!("{limb} {}", kind.words())
}

/// How a wish ended that a cut has done.
pub(super) fn done_by(kind: CutKind, on: Date) -> String {
    format!("{} on {on}", kind.words())
}

/// Writes down how many buds broke behind a cut.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn count_buds(store: &mut Store, tree: &str, id: i64, broke: &str, of: &str) -> Result<(), FormError> {
    let known = store.reader()?.cuts()?.iter().any(|(number, it)| *number == id && it.tree == tree);
    if !known {
        return Err(bad("cut", &id.to_string(), "is not one of this tree"));
    }
    let told = |field, typed| count(field, typed, NODES)?.ok_or_else(|| bad(field, typed, "is empty"));
    let (broke, buds) = (told("buds that broke", broke)?, told("buds there were", of)?);
    if broke > buds {
        return Err(bad(
            "buds that broke",
            &broke.to_string(),
            format!("are more than the {buds} there were"),
        ));
    }
    Ok(store.transact(&Act::Cut(tree.into()), |change| change.count_buds(id, [broke, buds]))?)
}
