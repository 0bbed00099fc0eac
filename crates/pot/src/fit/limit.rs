//! What forbids a pot: the roots must fit, water must leave, the wall must stand the winter.

use measure::{
    quantity::{Centimetre, Litre, Millimetre},
    sourced::Standing,
};

use super::{
    frame::{Fired, Frame},
    sitter::{Sitter, Winter},
};

/// The hard limits; the grower may move them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The least soil, in volumes of the roots.
    pub least_soil: f64,
    /// The most soil, in volumes of the roots.
    pub most_soil: f64,
    /// Left free between roots and wall, both ends together, for length and for width.
    pub beside: Centimetre,
    /// Left free below the roots.
    pub below: Centimetre,
    /// Neither is asked beyond this share of the roots' own measure, or no small tree would find a pot (ours).
    pub small: f64,
    /// The least inner length, in widths of the trunk.
    pub trunks: f64,
    /// The longest stretch of pot that one hole drains.
    pub per_hole: Centimetre,
    /// The fewest holes for tie wire.
    pub ties: u8,
    /// The lowest feet.
    pub feet: Millimetre,
    /// Whether a wall of unknown firing may stand where it freezes.
    pub trust_unknown_wall: bool,
}

impl Limits {
    /// What the limits stand on.
    pub const STANDING: Standing = Standing::Practice;
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            least_soil: 1.05,
            most_soil: 2.6,
            beside: Centimetre(4.0),
            below: Centimetre(1.0),
            small: 1.0 / 3.0,
            trunks: 1.5,
            per_hole: Centimetre(15.0),
            ties: 2,
            feet: Millimetre(3.0),
            trust_unknown_wall: false,
        }
    }
}

/// Why a pot may not be used, with what it has and what it would need.
#[derive(Clone, Copy, Debug, PartialEq)]
#[allow(missing_docs)]
pub enum Refusal {
    /// Too little soil for the roots.
    TooSmall { soil: Litre, least: Litre },
    /// So much soil that it would stay wet.
    TooLarge { soil: Litre, most: Litre },
    /// The roots with their free ends do not lie in it.
    TooShort { inner: Centimetre, least: Centimetre },
    /// The roots with their free sides do not lie in it.
    TooNarrow { inner: Centimetre, least: Centimetre },
    /// The roots do not lie under the rim.
    TooShallow { inner: Centimetre, least: Centimetre },
    /// The trunk would fill it.
    TrunkTooWide { inner: Centimetre, least: Centimetre },
    /// Water cannot leave.
    NoDrain,
    /// Water leaves too slowly.
    FewDrains { holes: u8, least: u8 },
    /// The tree cannot be tied down.
    FewTies { holes: u8, least: u8 },
    /// It stands on its holes.
    FeetTooLow { feet: Millimetre, least: Millimetre },
    /// The wall would crack in that winter.
    WallTooSoft { fired: Fired, winter: Winter },
    /// Nobody knows whether the wall would stand that winter.
    WallUnknown { winter: Winter },
}

/// Everything that forbids the pot for this tree, in the order in which it is looked for; empty when nothing does.
///
/// ```text
/// 1.05·V_roots ≤ V_soil ≤ 2.6·V_roots,   l ≥ l_roots + 4 cm,   w ≥ w_roots + 4 cm,   d ≥ d_roots + 1 cm,   l ≥ 1.5·trunk
/// 4 cm and 1 cm are not asked beyond a third of l_roots, w_roots, d_roots
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | V | [`Frame::soil`], [`RootPad::filled`](super::sitter::RootPad::filled) | soil, roots | L |
/// | l, w, d | [`Frame::inner`], [`Sitter::roots`] | inside of the pot, roots | cm |
/// | trunk | [`Sitter::trunk`] | just above the roots | cm |
///
/// **Holds** for the roots as they will be after the planned cut. **Error** that of the guess at the roots. **Source** common
/// practice, no source; the third is ours. **Checked** its figures against the reference set's in `tests/fit.rs`.
///
/// # Example
///
/// ```
/// use pot::fit::{frame::Frame, limit::{Limits, Refusal, refusals}, sitter::Sitter};
///
/// let dry = Frame { drain_holes: 0, ..Frame::sample() };
/// assert_eq!(refusals(&dry, &Sitter::sample(), &Limits::default()), [Refusal::NoDrain]);
/// ```
pub fn refusals(pot: &Frame, tree: &Sitter, limits: &Limits) -> Vec<Refusal> {
    let roots = tree.roots.filled().0;
    let (least, most) = (Litre(limits.least_soil * roots), Litre(limits.most_soil * roots));
    let with = |roots: Centimetre, free: Centimetre| Centimetre(roots.0 + free.0.min(limits.small * roots.0));
    let (length, width) = (with(tree.roots.length, limits.beside), with(tree.roots.width, limits.beside));
    let depth = with(tree.roots.depth, limits.below);
    let trunks = Centimetre(limits.trunks * tree.trunk.0);
    let soil = pot.soil;
    let mut found = Vec::new();
    let mut when = |wrong: bool, refusal: Refusal| {
        if wrong {
            found.push(refusal);
        }
    };
    when(soil < least, Refusal::TooSmall { soil, least });
    when(soil > most, Refusal::TooLarge { soil, most });
    when(pot.inner.length < length, Refusal::TooShort { inner: pot.inner.length, least: length });
    when(pot.inner.width < width, Refusal::TooNarrow { inner: pot.inner.width, least: width });
    when(pot.inner.depth < depth, Refusal::TooShallow { inner: pot.inner.depth, least: depth });
    when(pot.inner.length < trunks, Refusal::TrunkTooWide { inner: pot.inner.length, least: trunks });
    let holes = pot.drain_holes;
    let drains = (pot.inner.length.0 / limits.per_hole.0).floor().clamp(1.0, 255.0) as u8;
    when(holes == 0, Refusal::NoDrain);
    when(0 < holes && holes < drains, Refusal::FewDrains { holes, least: drains });
    if let Some(holes) = pot.tie_holes {
        when(holes < limits.ties, Refusal::FewTies { holes, least: limits.ties });
    }
    if let Some(feet) = pot.feet {
        when(feet < limits.feet, Refusal::FeetTooLow { feet, least: limits.feet });
    }
    found.extend(wall(pot.fired, tree.winter, limits.trust_unknown_wall));
    found
}

fn wall(fired: Fired, winter: Winter, trusted: bool) -> Option<Refusal> {
    let stands = match fired {
        Fired::High => Winter::Open,
        Fired::Mid => Winter::Sheltered,
        Fired::Low => Winter::FrostFree,
        Fired::Unknown if trusted => Winter::Open,
        Fired::Unknown if winter > Winter::FrostFree => return Some(Refusal::WallUnknown { winter }),
        Fired::Unknown => Winter::FrostFree,
    };
    (winter > stands).then_some(Refusal::WallTooSoft { fired, winter })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::frame::Size;

    fn refused(pot: Frame, tree: &Sitter) -> Vec<Refusal> {
        refusals(&pot, tree, &Limits::default())
    }

    #[test]
    fn each_wall_of_the_pot_forbids_alone() {
        let (pot, tree) = (Frame::sample(), Sitter::sample());
        let inner = |change: fn(&mut Size)| {
            let mut inner = pot.inner;
            change(&mut inner);
            refused(Frame { inner, ..pot }, &tree)
        };
        assert_eq!(refused(pot, &tree), []);
        assert!(matches!(inner(|size| size.length = Centimetre(22.9))[..], [Refusal::TooShort { .. }]));
        assert!(matches!(inner(|size| size.width = Centimetre(16.9))[..], [Refusal::TooNarrow { .. }]));
        assert!(matches!(inner(|size| size.depth = Centimetre(4.4))[..], [Refusal::TooShallow { .. }]));
        assert!(matches!(refused(Frame { soil: Litre(0.83), ..pot }, &tree)[..], [Refusal::TooSmall { .. }]));
        assert!(matches!(refused(Frame { soil: Litre(2.09), ..pot }, &tree)[..], [Refusal::TooLarge { .. }]));
        assert!(matches!(refused(Frame { tie_holes: Some(1), ..pot }, &tree)[..], [Refusal::FewTies { .. }]));
        assert!(matches!(
            refused(Frame { feet: Some(Millimetre(2.0)), ..pot }, &tree)[..],
            [Refusal::FeetTooLow { .. }]
        ));
        let stout = Sitter { trunk: Centimetre(16.0), ..tree.clone() };
        assert!(matches!(refused(pot, &stout)[..], [Refusal::TrunkTooWide { .. }]));
    }

    #[test]
    fn a_small_tree_is_not_asked_for_a_large_trees_room() {
        let mut tree = Sitter::sample();
        tree.roots.length = Centimetre(6.0);
        let mut pot = Frame::sample();
        let is_short =
            |pot: Frame| refused(pot, &tree).iter().any(|it| matches!(it, Refusal::TooShort { .. }));
        pot.inner.length = Centimetre(8.1);
        assert!(!is_short(pot), "6 cm and a third");
        pot.inner.length = Centimetre(7.9);
        assert!(is_short(pot));
    }

    #[test]
    fn a_long_pot_wants_more_than_one_hole() {
        let mut pot = Frame { drain_holes: 1, soil: Litre(2.0), ..Frame::sample() };
        pot.inner.length = Centimetre(30.0);
        let told = refused(pot, &Sitter::sample());
        assert_eq!(told, [Refusal::FewDrains { holes: 1, least: 2 }]);
    }

    #[test]
    fn a_soft_wall_stays_out_of_the_frost_and_an_unknown_one_is_asked_about() {
        let winters = [Winter::FrostFree, Winter::Sheltered, Winter::Open];
        let barred = |fired, trusted| winters.map(|winter| wall(fired, winter, trusted).is_some());
        assert_eq!(barred(Fired::High, false), [false, false, false]);
        assert_eq!(barred(Fired::Mid, false), [false, false, true]);
        assert_eq!(barred(Fired::Low, false), [false, true, true]);
        assert_eq!(barred(Fired::Unknown, false), [false, true, true]);
        assert_eq!(barred(Fired::Unknown, true), [false, false, false]);
    }
}
