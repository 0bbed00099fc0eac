//! Looks at buds and leaves as typed: checked, asked about where they go back on an earlier one, then saved.

use collection::event::{LeafLook, Look, Sureness};
use jiff::civil::Date;
use measure::{
    leaf::Leaf,
    stage::Stage,
    winter::{Hemisphere, Winter},
};
use store::{
    reader::Reader,
    store::{Act, Store},
};

use crate::{
    asked::with_reason,
    limits::NOTE,
    record::{FormError, bad, day, known_tree, text},
};

/// A bud look as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct LookForm<'a> {
    pub tree: &'a str,
    pub day: &'a str,
    pub stage: &'a str,
    pub sureness: &'a str,
    pub note: &'a str,
    /// Why it is right though buds do not go back.
    pub despite: &'a str,
}

/// A look at leaves as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct LeafForm<'a> {
    pub tree: &'a str,
    pub day: &'a str,
    pub leaf: &'a str,
    pub sureness: &'a str,
    pub note: &'a str,
    /// Why it is right though leaves that fell do not come back before spring.
    pub despite: &'a str,
}

/// Saves a bud look. One that goes back on another of the season is asked about until `despite` says why; the reason is kept.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn look(store: &mut Store, form: LookForm<'_>, today: Date) -> Result<Look, FormError> {
    let code = form.stage.trim();
    let mut look = Look {
        tree: known_tree(store, form.tree)?,
        day: day(form.day, today)?,
        stage: code
            .parse()
            .ok()
            .and_then(Stage::from_code)
            .ok_or_else(|| bad("stage", code, "is no bud stage"))?,
        sureness: sureness(form.sureness)?,
        note: text("note", form.note, NOTE)?,
    };
    if let Some(other) = contradicted(&store.reader()?, &look, today)? {
        look.note = asked("stage", &look.stage.to_string(), &other, &look.note, form.despite)?;
    }
    store.transact(&Act::Look(look.tree.clone()), |change| change.add_look(&look))?;
    Ok(look)
}

/// Saves a look at leaves, asked about as [`look`] is.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn leaves(store: &mut Store, form: LeafForm<'_>, today: Date) -> Result<LeafLook, FormError> {
    let mut look = LeafLook {
        tree: known_tree(store, form.tree)?,
        day: day(form.day, today)?,
        leaf: Leaf::from_key(form.leaf.trim())
            .ok_or_else(|| bad("leaves", form.leaf, "is not full, colouring, falling or bare"))?,
        sureness: sureness(form.sureness)?,
        note: text("note", form.note, NOTE)?,
    };
    if let Some(other) = gone_back_on(&store.reader()?, &look, today)? {
        look.note = asked("leaves", look.leaf.words(), &other, &look.note, form.despite)?;
    }
    store.transact(&Act::LeafLook(vec![look.tree.clone()]), |change| change.add_leaf_look(&look))?;
    Ok(look)
}

fn sureness(typed: &str) -> Result<Sureness, FormError> {
    Sureness::from_key(typed).ok_or_else(|| bad("sureness", typed, "is not sure, fair or doubtful"))
}

/// The note with the reason, or the question where none is given.
fn asked(
    field: &'static str,
    seen: &str,
    other: &str,
    note: &str,
    despite: &str,
) -> Result<String, FormError> {
    if despite.trim().is_empty() {
        let ask = format!(
            "does not go with the look that saw {other}. Which one is right? Undo the other in the diary, or say why both stand"
        );
        return Err(bad(field, seen, ask));
    }
    with_reason(note, despite)
}

fn winter(reader: &Reader, day: Date) -> Result<Winter, FormError> {
    let hemisphere = reader.site()?.map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude));
    Ok(Winter::holding(day, hemisphere))
}

/// Day number from which a bud stage tells of the spring to come: leaves and late growth of autumn belong to the summer before.
const SPRING: i32 = -15;

/// Another look of the season that this one goes back on, in words: further on before it, or less far after it.
fn contradicted(reader: &Reader, look: &Look, today: Date) -> Result<Option<String>, FormError> {
    let season = winter(reader, look.day)?;
    let tells = |it: &Look| {
        let number = season.day_number(it.day);
        (Winter::FIRST_DAY..=season.last_day()).contains(&number)
            && (it.stage == Stage::Dormant || number >= SPRING)
            && it.sureness != Sureness::Doubtful
    };
    if !tells(&Look { sureness: Sureness::Sure, ..look.clone() }) {
        return Ok(None);
    }
    let clashes = |it: &Look| {
        it.tree == look.tree
            && it.day <= today
            && tells(it)
            && ((it.day <= look.day && it.stage > look.stage)
                || (it.day >= look.day && it.stage < look.stage))
    };
    let looks = reader.looks()?;
    let worst = looks.iter().map(|(_, it)| it).filter(|it| clashes(it));
    let gap = |it: &Look| it.stage.rank().abs_diff(look.stage.rank());
    Ok(worst.max_by_key(|it| gap(it)).map(|it| format!("{} on {}", it.stage, it.day)))
}

/// Another look at the leaves this autumn and winter that this one goes back on, in words.
fn gone_back_on(reader: &Reader, look: &LeafLook, today: Date) -> Result<Option<String>, FormError> {
    let season = winter(reader, look.day)?;
    let clashes = |it: &LeafLook| {
        it.tree == look.tree
            && it.day <= today
            && Winter::holding(it.day, season.hemisphere) == season
            && it.sureness != Sureness::Doubtful
            && ((it.day <= look.day && it.leaf > look.leaf) || (it.day >= look.day && it.leaf < look.leaf))
    };
    let looks = reader.leaf_looks()?;
    let worst = looks.iter().map(|(_, it)| it).filter(|it| clashes(it));
    Ok(worst
        .max_by_key(|it| it.leaf.rank().abs_diff(look.leaf.rank()))
        .map(|it| format!("{} on {}", it.leaf, it.day)))
}
