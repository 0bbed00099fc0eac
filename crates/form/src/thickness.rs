//! How much wood a season lays on every piece of a tree: each leaf feeds the way from itself down to the roots.

mod season;
mod wood;

pub use season::{
    Leaf, Season, Thickened, Thickness, Until, leaves, ring_areas, season_end, weeks_until, with_runner,
};
pub use wood::{Porosity, leaf_area, per_leaf, porosity};

use std::f64::consts::PI;

use measure::{
    quantity::{Millimetre, Share, SquareMillimetre},
    sourced::{Sourced, Standing},
};

/// A figure with the span that is thought likely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Likely<T> {
    /// The lower end.
    pub low: T,
    /// The middle.
    pub middle: T,
    /// The upper end.
    pub high: T,
}

impl<T> Likely<T> {
    /// The same turned into something else.
    pub fn map<U>(self, mut by: impl FnMut(T) -> U) -> Likely<U> {
        Likely { low: by(self.low), middle: by(self.middle), high: by(self.high) }
    }
}

/// Wood laid for a square metre of leaf in a season, cm³, with the span that is plausible before the tree itself has told.
pub const WOOD_PER_LEAF: Sourced<Likely<f64>> = Sourced {
    value: Likely { low: 40.0, middle: 100.0, high: 250.0 },
    standing: Standing::Estimate(
        "remembered net assimilation and wood density; crossed with measured growth of red maple; learn it from your own rings",
    ),
};

/// How much of the season's wood is laid by a moment of it.
///
/// ```text
/// C(s) = 6s² − 8s³ + 3s⁴
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | s | `moment` | 0 at bud break, 1 at leaf fall | 1 |
/// | C | returned | share of the ring that is laid | 1 |
///
/// **Holds** from bud break to leaf fall. **Error** not known; the shape is a choice. **Source** ours: Beta(2, 3).
/// **Checked** `tests/thickening.rs` (arithmetic only).
///
/// ```
/// use form::thickness::laid;
/// use measure::quantity::Share;
///
/// assert_eq!(laid(Share(0.5)), Share(0.6875));
/// ```
pub fn laid(moment: Share) -> Share {
    let s = moment.0.clamp(0.0, 1.0);
    Share(s * s * (6.0 - 8.0 * s + 3.0 * s * s))
}

/// How much of a season a shoot counts that is in full leaf from one moment on and is cut at another.
///
/// ```text
/// F = (4m³ − 6m⁴ + 2.4m⁵)/s_f + max(0, C(s_c) − C(s_f)),   m = min(s_c, s_f)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | s_c | `cut` | moment of the cut; 1 when it is let run | 1 |
/// | s_f | `full` | moment from which its leaves are all out | 1 |
/// | F | returned | share of a season with all leaves | 1 |
///
/// **Holds** for `full` above 0. **Error** not known. **Source** ours: leaves come evenly until s_f, weighed with [`laid`].
/// **Checked** `tests/thickening.rs` (arithmetic only).
pub fn counted(cut: Share, full: Share) -> Share {
    let (cut, full) = (cut.0.clamp(0.0, 1.0), full.0.clamp(0.0, 1.0));
    let m = cut.min(full);
    let coming = if full > 0.0 { m * m * m * (4.0 - 6.0 * m + 2.4 * m * m) / full } else { 0.0 };
    Share(coming + (laid(Share(cut)).0 - laid(Share(full)).0).max(0.0))
}

/// The thickness after so much wood was laid around.
///
/// ```text
/// D' = √(D² + 4·ΔA/π)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | D, D' | `now`, returned | thickness before and after | mm |
/// | ΔA | `ring` | area of the ring | mm² |
///
/// **Holds** for a round branch. **Error** none of its own. **Source** area of a ring. **Checked** `tests/thickening.rs`.
pub fn thicker(now: Millimetre, ring: SquareMillimetre) -> Millimetre {
    Millimetre((now.0 * now.0 + 4.0 * ring.0 / PI).sqrt())
}

/// The ring that leads from one thickness to another; 0 when it is not thicker.
pub fn ring_between(now: Millimetre, wanted: Millimetre) -> SquareMillimetre {
    SquareMillimetre((PI / 4.0 * (wanted.0 * wanted.0 - now.0 * now.0)).max(0.0))
}

/// How vigorously a tree grows against what its leaves promise: 1 until it has told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vigour {
    /// Measured rings over promised ones.
    pub value: f64,
    /// Standard deviation of its logarithm.
    pub spread: f64,
    /// How many rings have told it.
    pub rings: usize,
}

/// Spread of ln v over trees that have told nothing: with it nine in ten rings lie between 40 and 250 cm³ a m².
const UNKNOWN: f64 = 0.5;
/// Spread of the logarithm of one measured ring over the promised one.
const ONE_RING: f64 = 0.3;

impl Vigour {
    /// What measured over promised ring areas say of a tree.
    ///
    /// ```text
    /// ln v = (Σ ln r_k/0.09) / (1/0.25 + n/0.09),   sd = 1/√(1/0.25 + n/0.09)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | r_k | `ratios` | measured over promised ring area | 1 |
    /// | v, sd | `value`, `spread` | vigour, spread of its logarithm | 1 |
    ///
    /// **Holds** for ratios above 0; others are passed over. **Error** the spread itself. **Source** normal prior and error on
    /// the logarithm, spreads ours. **Checked** `tests/thickening.rs`.
    pub fn learn(ratios: &[f64]) -> Vigour {
        let logs: Vec<f64> = ratios
            .iter()
            .filter(|ratio| **ratio > 0.0 && ratio.is_finite())
            .map(|ratio| ratio.ln())
            .collect();
        let weight = 1.0 / (UNKNOWN * UNKNOWN) + logs.len() as f64 / (ONE_RING * ONE_RING);
        let mean = logs.iter().sum::<f64>() / (ONE_RING * ONE_RING) / weight;
        Vigour { value: mean.exp(), spread: 1.0 / weight.sqrt(), rings: logs.len() }
    }

    /// The vigour with the span that eight seasons in ten keep to.
    pub fn likely(&self) -> Likely<f64> {
        let reach = EIGHT_IN_TEN * self.spread.hypot(ONE_RING);
        Likely { low: self.value * (-reach).exp(), middle: self.value, high: self.value * reach.exp() }
    }

    /// A season so many standard deviations from the middle, against a middling one.
    pub(crate) fn season(&self, deviations: f64) -> f64 {
        (deviations * self.spread.hypot(ONE_RING)).exp()
    }

    /// How far to trust it.
    pub fn standing(&self) -> Standing {
        if self.rings == 0 { WOOD_PER_LEAF.standing } else { Standing::Measured }
    }
}

/// Standard deviations to either side that hold eight in ten.
const EIGHT_IN_TEN: f64 = 1.281_551_565_544_8;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_tree_spans_what_is_plausible() {
        let wood = WOOD_PER_LEAF.value;
        let likely = Vigour::learn(&[]).likely().map(|v| v * wood.middle);
        assert!(wood.low < likely.low && likely.high < wood.high);
        assert!(likely.low < 50.0 && likely.high > 200.0);
    }

    #[test]
    fn a_season_ends_whole_and_a_cut_before_leaves_counts_nothing() {
        assert_eq!(laid(Share(1.0)), Share(1.0));
        assert_eq!(counted(Share(0.0), Share(0.4)), Share(0.0));
        assert_eq!(counted(Share(1.0), Share(0.0)), Share(1.0));
    }

    #[test]
    fn a_ring_leads_there_and_back() {
        let ring = ring_between(Millimetre(6.0), Millimetre(9.0));
        assert!((thicker(Millimetre(6.0), ring).0 - 9.0).abs() < 1e-12);
        assert_eq!(ring_between(Millimetre(9.0), Millimetre(6.0)), SquareMillimetre(0.0));
    }
}
