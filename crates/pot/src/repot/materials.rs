//! What a repot uses up: mix by component with sieve loss, mesh and tie wire.

use measure::{
    quantity::{Centimetre, Litre, Millimetre, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::{
    fit::frame::Size,
    table::{Component, Recipe, SizeClass},
};

/// Filled less than its box or cylinder, for round corners and the free rim: of a rectangle, of an oval or round pot.
pub const FILLED: Sourced<[f64; 2]> = Sourced { value: [0.80, 0.63], standing: RULE };
/// Left of the kept roots' room after raking.
pub const RAKED: Sourced<f64> = Sourced { value: 0.85, standing: RULE };
/// Mix for each litre of room: it settles and spills.
pub const SETTLED: Sourced<f64> = Sourced { value: 1.15, standing: RULE };
/// Wire left for the twist, cm.
pub const TWIST: Sourced<Centimetre> = Sourced { value: Centimetre(15.0), standing: Standing::Practice };
/// A piece of mesh is so much wider than its hole.
pub const MESH_EDGE: Sourced<Millimetre> = Sourced { value: Millimetre(25.0), standing: Standing::Practice };
/// Wire that holds one piece of mesh, least and most.
pub const STAPLE: Sourced<[Millimetre; 2]> =
    Sourced { value: [Millimetre(60.0), Millimetre(80.0)], standing: Standing::Practice };

const RULE: Standing = Standing::Estimate("a rule made for planning; measure your own pots and bags");

/// The soil of a pot from three inner measures, when nothing better is known.
///
/// ```text
/// rectangle 0.80·l·w·d/1000,   oval or round 0.63·l·w·d/1000
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | l, w, d | `inner` | inside of the pot | cm |
/// | | returned | soil | L |
///
/// **Holds** for a plan; [`Vessel::soil`](crate::vessel::Vessel::soil) is the better figure. **Error** not stated by the source.
/// **Source** planning rule of the reference set. **Checked** `tests/repot.rs`.
///
/// # Example
///
/// ```
/// use measure::quantity::Centimetre;
/// use pot::{fit::frame::Size, repot::materials::rough_soil};
///
/// let inner = Size { length: Centimetre(30.0), width: Centimetre(22.0), depth: Centimetre(6.0) };
/// assert_eq!(format!("{:.2}", rough_soil(inner, true).0), "3.17");
/// ```
pub fn rough_soil(inner: Size, rectangle: bool) -> Litre {
    let [square, round] = FILLED.value;
    let filled = if rectangle { square } else { round };
    Litre(filled * inner.length.0 * inner.width.0 * inner.depth.0 / 1000.0)
}

/// Mix that a repot needs.
///
/// ```text
/// kept = V_old·(1 − cut)·0.85,   mix = (V_new − kept)·1.15
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | V_old, V_new | `old`, `new` | soil of the pot it leaves and of the pot it gets | L |
/// | cut | `cut` | share of the roots cut | 1 |
/// | mix | returned | ready mix; none is needed where the kept roots fill the pot | L |
///
/// **Holds** for a plan. **Error** not stated by the source. **Source** planning rule of the reference set. **Checked**
/// `tests/repot.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a volume or the cut is none.
///
/// # Example
///
/// ```
/// use measure::quantity::{Litre, Share};
/// use pot::repot::materials::mix;
///
/// let pot = Litre(3.168);
/// assert_eq!(format!("{:.2} L", mix(pot, pot, Share(0.35))?.0), "1.63 L");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn mix(old: Litre, new: Litre, cut: Share) -> Result<Litre, OutOfRange> {
    let old = within("soil of the old pot, L", old.0, 0.0, 1000.0)?;
    let new = within("soil of the new pot, L", new.0, 0.0, 1000.0)?;
    let cut = within("share of the roots cut", cut.0, 0.0, 1.0)?;
    let kept = old * (1.0 - cut) * RAKED.value;
    Ok(Litre(((new - kept) * SETTLED.value).max(0.0)))
}

/// What goes through the sieve and is lost; none where nobody has put it down.
pub fn sieve_loss(component: Component) -> Option<Sourced<Share>> {
    let loss = match component {
        Component::Akadama | Component::Bark => 0.20,
        Component::Pumice | Component::Lava | Component::Kanuma => 0.15,
        Component::Grit | Component::CalcinedClay => 0.10,
        Component::Perlite => return None,
    };
    let standing = Standing::Unverified("bag weights; measure your own bag");
    Some(Sourced { value: Share(loss), standing })
}

/// A component of the mix.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Buy {
    /// Which.
    pub component: Component,
    /// Sieved, in the mix.
    pub in_mix: Litre,
    /// Out of the bag, before sieving; the same as in the mix where the loss is not known.
    pub from_bag: Litre,
}

/// Each component of so much mix, with what the sieve takes.
///
/// ```
/// use measure::quantity::Litre;
/// use pot::{repot::materials::bags, table::Recipe};
///
/// let told: Vec<String> = bags(Recipe::of("MX-DEC").unwrap(), Litre(1.63))
///     .iter()
///     .map(|buy| format!("{:.2}", buy.from_bag.0))
///     .collect();
/// assert_eq!(told, ["1.02", "0.48", "0.48"]);
/// ```
pub fn bags(recipe: &Recipe, mix: Litre) -> Vec<Buy> {
    bags_of(recipe.shares(), mix)
}

/// As [`bags`], for a mix of the grower's own: each component with its share of the volume.
pub fn bags_of(shares: impl Iterator<Item = (Component, f64)>, mix: Litre) -> Vec<Buy> {
    let buy = |(component, share): (Component, f64)| {
        let in_mix = share * mix.0;
        let loss = sieve_loss(component).map_or(0.0, |loss| loss.value.0);
        Buy { component, in_mix: Litre(in_mix), from_bag: Litre(in_mix / (1.0 - loss)) }
    };
    shares.map(buy).collect()
}

/// Wires that tie a tree down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ties {
    /// How many, least and most.
    pub pieces: [u8; 2],
    /// Length of each.
    pub each: Centimetre,
    /// How thick, from and to.
    pub thick: [Millimetre; 2],
}

/// The tie wires of a pot.
///
/// ```text
/// l + w + 4·d + 15 cm
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | l, w, d | `inner` | inside of the pot | cm |
/// | | [`Ties::each`] | length of a wire | cm |
///
/// **Holds** for a wire up through two holes and twisted over the roots. **Error** not stated by the source. **Source** common
/// practice, no source. **Checked** `tests/repot.rs`.
///
/// # Example
///
/// ```
/// use measure::quantity::Centimetre;
/// use pot::{fit::frame::Size, repot::materials::ties, table::SizeClass};
///
/// let inner = Size { length: Centimetre(30.0), width: Centimetre(22.0), depth: Centimetre(6.0) };
/// let told = ties(inner, SizeClass::Kifu);
/// assert_eq!((told.each.0, told.pieces), (91.0, [2, 2]));
/// ```
pub fn ties(inner: Size, size: SizeClass) -> Ties {
    let each = Centimetre(inner.length.0 + inner.width.0 + 4.0 * inner.depth.0 + TWIST.value.0);
    let (pieces, thick) = match size {
        SizeClass::Mame => ([2, 2], [1.5, 1.5]),
        SizeClass::Shohin | SizeClass::Kifu => ([2, 2], [2.0, 2.0]),
        SizeClass::Chuhin => ([3, 4], [2.5, 3.0]),
        SizeClass::Large | SizeClass::VeryLarge => ([3, 4], [3.5, 3.5]),
    };
    Ties { pieces, each, thick: thick.map(Millimetre) }
}

/// The square of mesh over a hole.
pub fn mesh(hole: Millimetre) -> Millimetre {
    Millimetre(hole.0 + MESH_EDGE.value.0)
}
