//! The front of a tree, what the grower is after with it, and which rules hold for it.

use collection::limb::{Aim, Front};
use form::{rules::RuleId, traced::Clock};
use measure::quantity::{Degrees, Units};
use store::store::{Act, Store};

use super::{clock, plan::any_day};
use crate::{
    length::{self, Bare},
    limits::{AIM_HEIGHT, AIM_TRUNK, NEEDLES, NOTE, TILT},
    record::{FormError, bad, known_tree, number, text},
};

/// A front as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct FrontForm<'a> {
    pub tree: &'a str,
    pub rank: &'a str,
    pub clock: &'a str,
    pub sideways: &'a str,
    pub forward: &'a str,
    pub why: &'a str,
}

/// Keeps today's front (rank 0) or a candidate (1 or 2).
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn front(store: &mut Store, form: FrontForm<'_>) -> Result<(), FormError> {
    let tree = known_tree(store, form.tree)?;
    let rank = match form.rank.trim().parse() {
        Ok(rank @ 0..=2) => rank,
        _ => return Err(bad("front", form.rank, "is not today's front nor one of two candidates")),
    };
    let tilt = |field, typed: &str| match typed.trim() {
        "" => Ok(Degrees(0.0)),
        told => number(field, told, TILT[0], TILT[1]).map(Degrees),
    };
    let six = Clock::new(6).map_err(|_| bad("front", "6", "is no hour"))?;
    let front = Front {
        tree: tree.clone(),
        rank,
        clock: clock(form.clock)?.unwrap_or(six),
        sideways: tilt("tilt to the right", form.sideways)?,
        forward: tilt("tilt towards the viewer", form.forward)?,
        why: text("why", form.why, NOTE)?,
    };
    store.transact(&Act::Front(tree), |change| change.set_front(&front))?;
    Ok(())
}

/// Drops a candidate.
///
/// # Errors
///
/// [`FormError`] when there is none of that rank.
pub fn drop_front(store: &mut Store, tree: &str, rank: &str) -> Result<(), FormError> {
    let tree = known_tree(store, tree)?;
    let number: u8 = rank.trim().parse().map_err(|_| bad("front", rank, "is no front"))?;
    if store.transact(&Act::Front(tree.clone()), |change| change.remove_front(&tree, number))? {
        return Ok(());
    }
    Err(bad("front", rank, "is not kept for this tree"))
}

/// What a tree shall become, as typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct AimForm<'a> {
    pub tree: &'a str,
    pub high: &'a str,
    pub trunk: &'a str,
    pub needles: &'a str,
    pub shown: &'a str,
    pub words: &'a str,
}

/// Keeps what the grower is after with a tree.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn aim(store: &mut Store, form: AimForm<'_>, units: Units) -> Result<(), FormError> {
    let tree = known_tree(store, form.tree)?;
    let mm = |field, typed, bounds| length::read_if(field, typed, Bare::Millimetres, units, bounds);
    let aim = Aim {
        tree: tree.clone(),
        high: length::read_if("height", form.high, Bare::Centimetres, units, AIM_HEIGHT)?,
        trunk: mm("trunk", form.trunk, AIM_TRUNK)?,
        needles: mm("needles", form.needles, NEEDLES)?,
        shown: any_day("shown", form.shown)?,
        words: text("what it shall become", form.words, NOTE)?,
    };
    store.transact(&Act::Front(tree), |change| change.set_aim(&aim))?;
    Ok(())
}

/// Switches a rule of proportion off for a tree, or on again.
///
/// # Errors
///
/// [`FormError`] when tree or rule are not known.
pub fn rule(store: &mut Store, tree: &str, rule: &str, on: bool) -> Result<(), FormError> {
    let tree = known_tree(store, tree)?;
    if RuleId::of(rule).is_none() {
        return Err(bad("rule", rule, "is none we know"));
    }
    store.transact(&Act::Rule(tree.clone()), |change| change.set_rule(&tree, rule, on))?;
    Ok(())
}
