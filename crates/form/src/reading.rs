//! Reading a structure: what the rules of the trade say of this tree, each finding pointing at its limbs.

mod apex;
mod primaries;

use std::collections::BTreeSet;

use measure::quantity::{Degrees, Millimetre};

pub use primaries::{Primary, primaries};

use crate::{
    joint::Joint,
    rules::RuleId,
    sight::{reach_by_row, seen},
    skeleton::{Edge, Skeleton},
    taper::{NOISE, Profile, crowding},
};

/// A finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule, with its span and its standing.
    pub rule: RuleId,
    /// What was measured; endless for a branching point where one branch is as thick as what carries it.
    pub value: f64,
    /// Whether it keeps the rule.
    pub keeps: bool,
    /// The axes it points at; none for the whole tree.
    pub limbs: Vec<u32>,
    /// The segment it points at.
    pub segment: Option<usize>,
}

/// The pot, if one is chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pot {
    /// Outer length, or width of a round pot.
    pub length: Millimetre,
    /// Outer depth.
    pub depth: Millimetre,
    /// Whether it is round.
    pub round: bool,
    /// Whether the tree is a cascade.
    pub cascade: bool,
}

/// What is known beside the skeleton.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Beside {
    /// Width of the root flare seen from the front.
    pub flare: Option<Millimetre>,
    /// The pot.
    pub pot: Option<Pot>,
    /// Rules that are switched off.
    pub off: BTreeSet<RuleId>,
}

/// Everything that the rules say of a tree, seen from its front, those kept included. A rule that nothing can be measured for is
/// left out.
pub fn read(tree: &Skeleton, beside: &Beside) -> Vec<Finding> {
    let mut told = Vec::new();
    of_whole(tree, beside, &mut told);
    primaries::read(tree, &mut told);
    of_nodes(tree, &mut told);
    of_taper(tree, &mut told);
    apex::read(&reach_by_row(&seen(tree, Degrees(0.0)), apex::ROWS), &mut told);
    told.retain(|finding| !beside.off.contains(&finding.rule));
    told
}

fn finding(rule: RuleId, value: f64) -> Finding {
    Finding { rule, value, keeps: rule.rule().keeps(value), limbs: Vec::new(), segment: None }
}

fn of_whole(tree: &Skeleton, beside: &Beside, told: &mut Vec<Finding>) {
    let (height, base) = (tree.height().0, tree.segments()[0].base.0);
    if height > 0.0 {
        told.push(finding(RuleId::GirthHeight, height / base));
        let trunk = &tree.axes()[0];
        if let Some(&top) = trunk.segments.last() {
            let lean = -tree.ends()[top].y.0 / height;
            told.push(Finding { limbs: vec![trunk.id], ..finding(RuleId::FrontLean, lean) });
        }
    }
    if let Some(flare) = beside.flare {
        told.push(finding(RuleId::NebariSpread, flare.0 / base));
    }
    let Some(pot) = beside.pot else { return };
    let limbs = seen(tree, Degrees(0.0));
    let spread = crate::sight::frame(&limbs).map_or(0.0, |frame| frame.right.0 - frame.left.0);
    match (pot.cascade, pot.round) {
        (true, _) => told.push(finding(RuleId::CascadePot, pot.depth.0 / base)),
        (false, round) => {
            told.push(finding(RuleId::PotDepth, pot.depth.0 / base));
            told.push(if round {
                finding(RuleId::PotWidthRound, pot.length.0 / height)
            } else {
                finding(RuleId::PotLength, pot.length.0 / height.max(spread))
            });
        }
    }
}

fn of_nodes(tree: &Skeleton, told: &mut Vec<Finding>) {
    let segments = tree.segments();
    for (at, joint) in Joint::of(tree) {
        let children = tree.borne(at);
        let limbs: Vec<u32> = children.iter().map(|&child| segments[child].axis).collect();
        let here = |rule, value| Finding { limbs: limbs.clone(), segment: Some(at), ..finding(rule, value) };
        // Where no exponent balances, a branch is as thick as what carries it.
        told.push(here(RuleId::BranchingPoint, joint.exponent().unwrap_or(f64::INFINITY)));
        if children.len() >= 3 {
            let above: Vec<Millimetre> = children.iter().map(|&child| segments[child].base).collect();
            told.push(here(RuleId::CrowdedNode, crowding(segments[at].tip, &above)));
        }
        let sides: Vec<usize> =
            children.iter().copied().filter(|&child| segments[child].edge == Edge::Branches).collect();
        for (first, one) in sides.iter().enumerate() {
            for other in &sides[first + 1..] {
                let apart = (segments[*one].azimuth.0 - segments[*other].azimuth.0).rem_euclid(360.0);
                if (150.0..=210.0).contains(&apart) {
                    let (a, b) = (segments[*one].base.0, segments[*other].base.0);
                    let pair = here(RuleId::OppositePair, a.min(b) / a.max(b));
                    told.push(Finding { limbs: vec![segments[*one].axis, segments[*other].axis], ..pair });
                }
            }
        }
    }
}

fn of_taper(tree: &Skeleton, told: &mut Vec<Finding>) {
    for axis in tree.axes() {
        let Ok(profile) = Profile::of(tree, axis.id) else { continue };
        let readings = profile.readings();
        for at in profile.reverse() {
            let value = readings[at].thickness.0 / readings[at - 1].thickness.0;
            let segment = Some(axis.segments[at - 1]);
            told.push(Finding { limbs: vec![axis.id], segment, ..finding(RuleId::ReverseTaper, value) });
        }
        // A segment may also start thicker than the one below it ended.
        for pair in axis.segments.windows(2) {
            let value = tree.segments()[pair[1]].base.0 / tree.segments()[pair[0]].tip.0;
            if value > NOISE.value {
                let segment = Some(pair[1]);
                told.push(Finding { limbs: vec![axis.id], segment, ..finding(RuleId::ReverseTaper, value) });
            }
        }
        if axis.bearer.is_none()
            && let Some(last) = readings.last()
            && let Ok(power) = profile.power(Millimetre(last.along.0 * 1.02))
        {
            told.push(Finding { limbs: vec![axis.id], ..finding(RuleId::TaperPower, power.power) });
        }
    }
}
