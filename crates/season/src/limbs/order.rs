//! The order of work on a tree: from the base up, with a stop wherever a zone is left alone.

use std::collections::BTreeMap;

use collection::{
    intention::{Intention, Wish},
    limb::Limb,
};
use jiff::civil::Date;
use measure::quantity::Millimetre;

use super::raise::Seen;

/// What to do at a limb.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Work on it.
    Work,
    /// Do not cut it, nor what it bears unless that has a wish of its own.
    Spare,
    /// Stop: leave it and all it bears.
    Stop,
}

/// A step of the work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step<'a> {
    /// At which limb.
    pub limb: &'a Limb,
    /// What is meant for it.
    pub meant: &'a Intention,
    /// What to do.
    pub turn: Turn,
    /// How high above the soil it leaves what bears it, where the tree has been traced.
    pub high: Option<Millimetre>,
}

/// What a wish asks of the hand.
pub fn turn(wish: Wish) -> Turn {
    match wish {
        Wish::LeaveAlone => Turn::Stop,
        Wish::LetRun => Turn::Spare,
        Wish::KeepShort | Wish::Shorten | Wish::Remove | Wish::Thin | Wish::Wire | Wish::Guy => Turn::Work,
    }
}

/// How high each limb leaves its bearer.
pub fn heights(seen: &Seen) -> BTreeMap<u32, Millimetre> {
    let skeleton = &seen.raised.skeleton;
    let ends = skeleton.ends();
    let foot = |axis: &form::skeleton::Axis| axis.bearer.map_or(Millimetre(0.0), |bearer| ends[bearer].z);
    skeleton.axes().iter().map(|axis| (axis.id, foot(axis))).collect()
}

/// The steps for the wishes that hold on a day, the lowest limb first; limbs that were not traced come last by their number.
pub fn order<'a>(
    limbs: &[&'a Limb],
    intentions: &[&'a Intention],
    day: Date,
    heights: &BTreeMap<u32, Millimetre>,
) -> Vec<Step<'a>> {
    let own =
        |limb: &Limb| intentions.iter().rev().copied().find(|it| it.limb == limb.number && it.holds(day));
    let mut steps: Vec<Step<'a>> = limbs
        .iter()
        .filter_map(|&limb| {
            let meant = own(limb)?;
            let high = heights.get(&limb.number).copied();
            Some(Step { limb, meant, turn: turn(meant.wish), high })
        })
        .collect();
    let rank = |step: &Step<'_>| step.high.map_or(f64::INFINITY, |high| high.0);
    steps.sort_by(|a, b| rank(a).total_cmp(&rank(b)).then(a.limb.number.cmp(&b.limb.number)));
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn work_goes_from_the_base_up_and_stops_where_a_zone_is_left_alone() {
        let limb = |number, bearer| Limb {
            tree: "maple".into(),
            number,
            bearer,
            name: format!("branch {number}"),
            clock: None,
            tips: None,
            since: date(2024, 1, 1),
            gone: None,
        };
        let meant = |limb, wish| Intention {
            tree: "maple".into(),
            limb,
            season: 2026,
            wish,
            until: None,
            nodes: None,
            by: None,
            which: String::new(),
            why: String::new(),
            made: date(2026, 3, 1),
            ended: None,
            end: String::new(),
        };
        let limbs = [limb(0, None), limb(1, Some(0)), limb(2, Some(0)), limb(3, Some(0))];
        let wishes = [
            meant(3, Wish::Remove),
            meant(1, Wish::LeaveAlone),
            meant(2, Wish::KeepShort),
            meant(2, Wish::LetRun),
        ];
        let heights = BTreeMap::from([(1, Millimetre(90.0)), (2, Millimetre(60.0))]);
        let (limbs, wishes): (Vec<_>, Vec<_>) = (limbs.iter().collect(), wishes.iter().collect());
        let steps = order(&limbs, &wishes, date(2026, 4, 1), &heights);
        let told: Vec<(u32, Turn)> = steps.iter().map(|step| (step.limb.number, step.turn)).collect();
        assert_eq!(told, [(2, Turn::Spare), (1, Turn::Stop), (3, Turn::Work)]);
    }
}
