//! Branching points: whether what leaves a node fits what carries it, and what fits where nothing was measured.

use measure::{
    quantity::Millimetre,
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::{root::crossing, skeleton::Skeleton};

/// A branching point that was measured: the thickness just below it and those of what leaves it, just outside their collars.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    below: f64,
    above: Vec<f64>,
}

/// The lowest and the highest exponent that is looked for.
const SPAN: [f64; 2] = [1e-6, 60.0];

/// As many branching points must be measured before a tree's own exponent replaces our estimate.
pub const ENOUGH: usize = 8;

const BY_SIZE: Standing = Standing::Estimate(
    "pooled over 1,703 branching points of a digitised walnut, by the thickness below the node",
);

impl Joint {
    /// A branching point from its thicknesses.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a thickness is not above 0 or nothing leaves the node.
    pub fn new(below: Millimetre, above: &[Millimetre]) -> Result<Joint, OutOfRange> {
        let thick = |of: Millimetre| within("thickness at a branching point, mm", of.0, 1e-6, 1e5);
        within("branches that leave a node", above.len() as f64, 1.0, f64::MAX)?;
        let above: Vec<f64> = above.iter().map(|&one| thick(one)).collect::<Result<_, _>>()?;
        Ok(Joint { below: thick(below)?, above })
    }

    /// The cross-sections that leave the node over the one that carries them.
    pub fn area_ratio(&self) -> f64 {
        self.sum(2.0)
    }

    /// The same with cubes, which is Murray's law for pipes that hold nothing up.
    pub fn cube_ratio(&self) -> f64 {
        self.sum(3.0)
    }

    /// The exponent with which the node balances; none where one branch alone is as thick as what carries it, or only one leaves.
    ///
    /// ```text
    /// Σ (d_i/d_p)^n = 1
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | d_p, d_i | `below`, `above` | thickness below the node, and of what leaves it | mm |
    /// | n | returned | exponent; 2 keeps the cross-section | 1 |
    ///
    /// **Holds** for two branches or more, each thinner than what carries them. **Error** 1e-15 of the root.
    /// **Source** the branching rule of Leonardo in its usual form; Eloy 2011 gives 1.8 to 2.3 for trees.
    /// **Checked** `tests/allometry.rs`, `tests/orders.rs`.
    pub fn exponent(&self) -> Option<f64> {
        let balances = self.above.len() > 1 && self.above.iter().all(|&one| one < self.below);
        if balances { crossing(SPAN[0], SPAN[1], |n| self.sum(n) - 1.0) } else { None }
    }

    fn sum(&self, n: f64) -> f64 {
        self.above.iter().map(|one| (one / self.below).powf(n)).sum()
    }

    /// The branching points of a tree, each with the segment that ends there.
    pub fn of(tree: &Skeleton) -> Vec<(usize, Joint)> {
        let forks = (0..tree.segments().len()).filter(|&at| tree.borne(at).len() > 1);
        let joint = |at: usize| {
            let above = tree.borne(at).iter().map(|&child| tree.segments()[child].base.0).collect();
            (at, Joint { below: tree.segments()[at].tip.0, above })
        };
        forks.map(joint).collect()
    }
}

/// The one exponent that fits many branching points: the mean of ln Σ (d_i/d_p)^n over them is 0.
pub fn pooled(joints: &[Joint]) -> Option<f64> {
    if joints.is_empty() {
        return None;
    }
    crossing(SPAN[0], SPAN[1], |n| joints.iter().map(|joint| joint.sum(n).ln()).sum::<f64>())
}

/// The exponent for a node of this thickness where the tree itself has not told it.
pub fn usual_exponent(below: Millimetre) -> Sourced<f64> {
    let value = match below.0 {
        thick if thick > 30.0 => 2.1,
        thick if thick >= 10.0 => 2.4,
        _ => 3.0,
    };
    Sourced { value, standing: BY_SIZE }
}

/// The exponent to reckon with: the tree's own once [`ENOUGH`] nodes are measured, our estimate by size before.
pub fn exponent_for(below: Millimetre, measured: &[Joint]) -> Sourced<f64> {
    let own = if measured.len() >= ENOUGH { pooled(measured) } else { None };
    match own {
        Some(value) if (1.0..=6.0).contains(&value) => Sourced { value, standing: Standing::Measured },
        _ => usual_exponent(below),
    }
}

/// How thick what carries these must be.
///
/// ```text
/// d_p = (Σ d_i^n)^(1/n)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | d_i | `above` | thickness of what leaves the node | mm |
/// | n | `exponent` | of the branching rule | 1 |
/// | d_p | returned | thickness below the node | mm |
///
/// **Holds** for an exponent above 0. **Error** the scatter of real nodes: half of the walnut's lie between 1.8 and 3.3.
/// **Source** as [`Joint::exponent`]. **Checked** `tests/allometry.rs`.
pub fn carrier(above: &[Millimetre], exponent: f64) -> Millimetre {
    Millimetre(above.iter().map(|one| one.0.powf(exponent)).sum::<f64>().powf(1.0 / exponent))
}

/// How thick a branch must be that carries this share of the tips above a node.
///
/// ```
/// use form::joint::share;
/// use measure::quantity::{Millimetre, Share};
///
/// assert_eq!(share(Millimetre(20.0), Share(0.25), 2.0), Millimetre(10.0));
/// ```
pub fn share(below: Millimetre, part: measure::quantity::Share, exponent: f64) -> Millimetre {
    Millimetre(below.0 * part.0.powf(1.0 / exponent))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn joint(below: f64, above: &[f64]) -> Joint {
        let above: Vec<_> = above.iter().copied().map(Millimetre).collect();
        Joint::new(Millimetre(below), &above).unwrap()
    }

    #[test]
    fn a_branch_as_thick_as_its_bearer_balances_nowhere() {
        assert_eq!(joint(10.0, &[10.0, 5.0]).exponent(), None);
        assert_eq!(joint(10.0, &[9.0]).exponent(), None);
    }

    #[test]
    fn the_trees_own_exponent_counts_from_eight_nodes_on() {
        let nodes = vec![joint(20.0, &[14.142_135_623_730_95, 14.142_135_623_730_95]); 8];
        assert_eq!(exponent_for(Millimetre(20.0), &nodes[..7]).value, 2.4);
        let own = exponent_for(Millimetre(20.0), &nodes);
        assert_eq!(own.standing, Standing::Measured);
        assert!((own.value - 2.0).abs() < 1e-12);
    }

    #[test]
    fn what_has_no_thickness_is_refused() {
        assert!(Joint::new(Millimetre(0.0), &[Millimetre(1.0)]).is_err());
        assert!(Joint::new(Millimetre(3.0), &[Millimetre(f64::NAN)]).is_err());
        assert!(Joint::new(Millimetre(3.0), &[]).is_err());
    }
}
