//! How far a drying pot still gives what is asked of it.

use measure::quantity::{Millimetre, Share};

/// What the pot gives of what leaves and air ask.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// To the roots.
    pub leaves: Share,
    /// From the surface.
    pub soil: Share,
}

impl Supply {
    /// A wet pot gives all.
    pub const FULL: Supply = Supply { leaves: Share(1.0), soil: Share(1.0) };
}

/// What the roots still get.
///
/// ```text
/// Ks = 1 for Dr ≤ p TAW, else (TAW − Dr)/((1 − p) TAW), not below 0
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Ks | returned | share given | 1 |
/// | TAW | `holds` | water the roots can take from a full pot | any depth or volume |
/// | Dr | `gone` | of it gone | the same |
/// | p | `easy` | share that comes easily | 1 |
///
/// **Holds** for a rooted substrate. **Error** p is known to a tenth at best. **Source** Allen et al. 1998, FAO-56 Eq. 84.
/// **Checked** `tests/dry_down.rs`.
///
/// ```
/// use measure::quantity::{Millimetre, Share};
/// use water::supply::to_roots;
///
/// assert_eq!(to_roots(Millimetre(100.0), Millimetre(75.0), Share(0.5)).0, 0.5);
/// ```
pub fn to_roots(holds: Millimetre, gone: Millimetre, easy: Share) -> Share {
    falling(gone.0, easy.0 * holds.0, holds.0)
}

/// What the drying surface still gives.
///
/// ```text
/// Kr = 1 for De ≤ REW, else (TEW − De)/(TEW − REW), not below 0
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Kr | returned | share given | 1 |
/// | TEW, REW | `whole`, `easy` | water the air can take, and the part that goes easily | mm |
/// | De | `gone` | of it gone | mm |
///
/// **Holds** for bare substrate. **Error** not stated by the source. **Source** Allen et al. 1998, FAO-56 Eq. 74.
/// **Checked** `tests/dry_down.rs`.
///
/// ```
/// use measure::quantity::Millimetre;
/// use water::supply::from_surface;
///
/// assert_eq!(from_surface(Millimetre(20.0), Millimetre(8.0), Millimetre(14.0)).0, 0.5);
/// ```
pub fn from_surface(whole: Millimetre, easy: Millimetre, gone: Millimetre) -> Share {
    falling(gone.0, easy.0, whole.0)
}

/// One up to `easy`, then straight down to none at `whole`.
fn falling(gone: f64, easy: f64, whole: f64) -> Share {
    Share(if gone <= easy { 1.0 } else { ((whole - gone) / (whole - easy)).max(0.0) })
}
