//! Wounds: how long they take to close, whether decay comes first, which trees bleed and which wall decay off.

use measure::{
    quantity::{Millimetre, Years},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
    taxon::Taxon,
};

use crate::thickness::Likely;

/// Wound closed for each millimetre that the stem thickens.
pub const CLOSED_PER_GROWTH: Sourced<f64> = Sourced {
    value: 1.3,
    standing: Standing::Published("Seifert, Nickel and Pretzsch 2010, Trees 24:797 (wild cherry)"),
};

/// A wound that stays open so long mostly decays.
pub const DECAYS_AFTER: Sourced<Years> = Sourced {
    value: Years(4.0),
    standing: Standing::Published(
        "Seifert, Nickel and Pretzsch 2010: serious decay where stubs stayed open three to four years",
    ),
};

/// A wound wider than this likely does not close in one season.
pub const CLOSES_IN_ONE: Sourced<Millimetre> =
    Sourced { value: Millimetre(12.0), standing: Standing::Published("Neely 1988, J. Arboric. 14:148") };

/// Whether a wound closes before it decays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closes {
    /// Even with slow growth.
    BeforeDecay,
    /// Only if it grows well.
    Perhaps,
    /// Not even with fast growth: cut while the tree still runs, or carve it on purpose.
    AfterDecay,
}

/// When a wound closes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    /// Years; none where the stem does not thicken. The low end is the fast one.
    pub years: Likely<Option<Years>>,
    /// Whether decay comes first.
    pub closes: Closes,
    /// Whether it is too wide to close in one season.
    pub wide: bool,
}

/// When a wound closes.
///
/// ```text
/// years = w/(1.3·g)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | w | `width` | width of the wound across the stem | mm |
/// | g | `growth` | how much the stem thickens there in a year | mm |
///
/// **Holds** for clean cuts outside the collar on a growing stem; found on wild cherry. **Error** the growth itself; large wounds
/// close more in a year than small ones (Neely 1988). **Source** Seifert, Nickel and Pretzsch 2010 for the 1.3, the rest ours.
/// **Checked** `tests/wound.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the width is not above 0 or a growth is negative.
pub fn closing(width: Millimetre, growth: Likely<Millimetre>) -> Result<Closing, OutOfRange> {
    let w = within("width of the wound, mm", width.0, 1e-3, 1e4)?;
    for one in [growth.low, growth.middle, growth.high] {
        within("yearly thickening, mm", one.0, 0.0, 1e3)?;
    }
    let years = |g: Millimetre| (g.0 > 0.0).then(|| Years(w / (CLOSED_PER_GROWTH.value * g.0)));
    let years = Likely { low: years(growth.high), middle: years(growth.middle), high: years(growth.low) };
    let in_time = |years: Option<Years>| years.is_some_and(|years| years.0 <= DECAYS_AFTER.value.0);
    let closes = match (in_time(years.low), in_time(years.high)) {
        (_, true) => Closes::BeforeDecay,
        (true, false) => Closes::Perhaps,
        (false, false) => Closes::AfterDecay,
    };
    Ok(Closing { years, closes, wide: w > CLOSES_IN_ONE.value.0 })
}

/// Whether a fresh cut in late winter bleeds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bleeds {
    /// It does: prune after leaf fall to midwinter, or once the leaves have hardened.
    Yes,
    /// Some sources say so.
    SomeSay,
    /// Not among those named.
    NotNamed,
}

/// Whether a taxon bleeds.
///
/// ```
/// use form::wound::{Bleeds, bleeds};
/// use measure::taxon::Taxon;
///
/// assert_eq!(bleeds(Taxon::of("acer-palmatum").unwrap()).value, Bleeds::Yes);
/// ```
pub fn bleeds(taxon: &Taxon) -> Sourced<Bleeds> {
    let value = match taxon.genus() {
        "Acer" | "Betula" | "Juglans" | "Carpinus" | "Ostrya" | "Cladrastis" | "Vitis" => Bleeds::Yes,
        "Ulmus" | "Cornus" | "Fagus" => Bleeds::SomeSay,
        _ => Bleeds::NotNamed,
    };
    let standing = Standing::Unverified("extension texts, none named: mostly cosmetic, does not kill");
    Sourced { value, standing }
}

/// How well a tree walls decay off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Walls {
    /// Well.
    Strong,
    /// Badly.
    Weak,
    /// Not told.
    NotTold,
}

/// How well a taxon walls decay off. The tree does not heal, it seals.
pub fn walls(taxon: &Taxon) -> Sourced<Walls> {
    let value = match taxon.genus() {
        "Quercus" | "Fagus" | "Carpinus" | "Tilia" => Walls::Strong,
        "Acer" if taxon.key == "acer-campestre" => Walls::Strong,
        "Betula" | "Prunus" | "Malus" | "Salix" | "Populus" | "Aesculus" | "Fraxinus" => Walls::Weak,
        _ => Walls::NotTold,
    };
    let standing = Standing::Unverified(
        "Shigo and Marx 1977; Dujesiefken and Liese: trees of the street, not of the pot",
    );
    Sourced { value, standing }
}
