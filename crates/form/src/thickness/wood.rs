//! What a genus brings to thickening: when its ring starts, and how much leaf a shoot carries.

use std::f64::consts::PI;

use measure::{
    quantity::{Millimetre, SquareCentimetre},
    sourced::{Sourced, Standing},
    taxon::{Kind, Taxon},
};

use super::Likely;

/// How the vessels lie in the ring, which decides when it starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Porosity {
    /// The ring starts before the leaves, from last year's store: a spring cut costs less of it.
    RingPorous,
    /// The ring starts with the leaves or after them.
    DiffusePorous,
    /// No vessels.
    Conifer,
    /// Not told for this genus.
    Unknown,
}

const REMEMBERED: Standing = Standing::Unverified("wood anatomy of the genus, no work named");

/// How the wood of a taxon is built.
///
/// ```
/// use form::thickness::{Porosity, porosity};
/// use measure::taxon::Taxon;
///
/// let elm = Taxon::of("ulmus-minor").unwrap();
/// assert_eq!(porosity(elm).value, Porosity::RingPorous);
/// ```
pub fn porosity(taxon: &Taxon) -> Sourced<Porosity> {
    let value = match (taxon.genus(), taxon.kind) {
        ("Ulmus" | "Zelkova" | "Quercus" | "Fraxinus" | "Celtis" | "Castanea" | "Robinia", _) => {
            Porosity::RingPorous
        }
        ("Acer" | "Fagus" | "Carpinus" | "Betula", _) => Porosity::DiffusePorous,
        (
            _,
            Kind::Juniper | Kind::TwoFlushPine | Kind::OneFlushPine | Kind::SpruceHemlock | Kind::YewCypress,
        )
        | ("Larix" | "Pseudolarix" | "Metasequoia" | "Taxodium" | "Ginkgo", _) => Porosity::Conifer,
        _ => Porosity::Unknown,
    };
    Sourced { value, standing: REMEMBERED }
}

/// Wood at the foot of a shoot for the leaf it carries, mm² a cm², with its span: one figure for all genera until a shoot is
/// laid on squared paper.
pub const fn per_leaf() -> Sourced<Likely<f64>> {
    let standing = Standing::Unverified(
        "Huber value of trees, no work named; lay the leaves of one shoot on squared paper",
    );
    Sourced { value: Likely { low: 0.01, middle: 0.03, high: 0.05 }, standing }
}

/// The leaf that a shoot of this thickness carries.
///
/// ```text
/// a = (π/4)·d²/Hv
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | d | `base` | thickness at the foot of the shoot | mm |
/// | Hv | `per_leaf` | wood for leaf | mm²/cm² |
/// | a | returned | area of its leaves | cm² |
///
/// **Holds** for shoots in full leaf. **Error** a factor of two to three until measured. **Source** Huber value, remembered.
/// **Checked** `tests/thickening.rs`.
pub fn leaf_area(base: Millimetre, per_leaf: f64) -> SquareCentimetre {
    SquareCentimetre(PI / 4.0 * base.0 * base.0 / per_leaf)
}
