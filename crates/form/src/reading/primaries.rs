//! The primaries of a tree from the lowest up, and what the rules say of them.

use super::{Finding, finding};
use crate::{rules::RuleId, skeleton::Skeleton};
use measure::quantity::{Degrees, Millimetre};

/// A primary: a line that leaves the trunk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Primary {
    /// Its axis.
    pub axis: u32,
    /// Its first segment.
    pub first: usize,
    /// How high it leaves the trunk.
    pub height: Millimetre,
    /// Thickness at its base.
    pub base: Millimetre,
    /// Thickness of the trunk there.
    pub trunk: Millimetre,
    /// How far it and what it bears reach from the trunk, level.
    pub reach: Millimetre,
    /// Where its first segment points.
    pub azimuth: Degrees,
}

/// The primaries, lowest first.
pub fn primaries(tree: &Skeleton) -> Vec<Primary> {
    let (ends, segments) = (tree.ends(), tree.segments());
    let trunk = segments[0].axis;
    // For every segment the first segment of the primary that it belongs to.
    let mut of: Vec<Option<usize>> = Vec::with_capacity(segments.len());
    let mut told: Vec<Primary> = Vec::new();
    for (at, segment) in segments.iter().enumerate() {
        let bearer = segment.bearer.filter(|_| segment.axis != trunk);
        let first =
            bearer.map(|bearer| if segments[bearer].axis == trunk { at } else { of[bearer].unwrap_or(at) });
        of.push(first);
        if let (Some(bearer), Some(first)) = (bearer, first)
            && first == at
        {
            told.push(Primary {
                axis: segment.axis,
                first,
                height: ends[bearer].z,
                base: segment.base,
                trunk: segments[bearer].tip,
                reach: Millimetre(0.0),
                azimuth: segment.azimuth,
            });
        }
        if let Some(first) = first
            && let Some(primary) = told.iter_mut().find(|primary| primary.first == first)
            && let Some(foot) = segments[first].bearer.map(|bearer| ends[bearer])
        {
            let reach = (ends[at].x.0 - foot.x.0).hypot(ends[at].y.0 - foot.y.0);
            primary.reach = Millimetre(primary.reach.0.max(reach));
        }
    }
    told.sort_by(|one, other| one.height.0.total_cmp(&other.height.0));
    told
}

pub(super) fn read(tree: &Skeleton, told: &mut Vec<Finding>) {
    let primaries = primaries(tree);
    let height = tree.height().0;
    let Some(lowest) = primaries.first() else { return };
    let at = |rule, value, limbs: Vec<u32>| Finding { limbs, ..finding(rule, value) };
    told.push(at(RuleId::FirstBranch, lowest.height.0 / height, vec![lowest.axis]));
    for primary in &primaries {
        let value = primary.base.0 / primary.trunk.0;
        let one = at(RuleId::BranchToTrunk, value, vec![primary.axis]);
        told.push(Finding { segment: Some(primary.first), ..one });
    }
    let gaps: Vec<(u32, f64)> =
        primaries.windows(2).map(|pair| (pair[1].axis, pair[1].height.0 - pair[0].height.0)).collect();
    let mut count = |rule, rows: &[(u32, f64)], more: f64| {
        let breaks = rows.windows(2).filter(|pair| pair[1].1 > more * pair[0].1 + 1e-9);
        let limbs: Vec<u32> = breaks.map(|pair| pair[1].0).collect();
        told.push(at(rule, limbs.len() as f64, limbs));
    };
    // Branches that leave the same place are no gap.
    let gaps: Vec<_> = gaps.into_iter().filter(|(_, gap)| *gap > 1e-6).collect();
    count(RuleId::BranchSpacing, &gaps, 1.1);
    let of = |value: fn(&Primary) -> f64| -> Vec<(u32, f64)> {
        primaries.iter().map(|primary| (primary.axis, value(primary))).collect()
    };
    count(RuleId::BranchOrder, &of(|primary| primary.base.0), 1.05);
    count(RuleId::BranchLength, &of(|primary| primary.reach.0), 1.05);
}
