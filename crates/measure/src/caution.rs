//! What to be careful of with a taxon: poison, sap, thorns, dust, lists of plants, protection, and rust that passes between kinds.

mod table;

use crate::{sourced::Standing, taxon::Taxon};

/// Genera with a poisonous or irritant part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Poison {
    /// Code of the trade's table, as `TOX-YEW`.
    pub code: &'static str,
    /// The genera.
    pub genera: &'static [&'static str],
    /// The part.
    pub part: &'static str,
    /// What it does.
    pub effect: &'static str,
    /// The first thing to do.
    pub first: First,
}

/// The first thing to do when a part was eaten or sap was touched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum First {
    PoisonCentreAtOnce,
    PoisonCentre,
    Vet,
    Rinse,
    RinseAndAsk,
    Gloves,
}

/// A taxon that some lists hold to be invasive, or restrict the sale of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Key of the taxon.
    pub taxon: &'static str,
    /// On which lists.
    pub lists: &'static str,
    /// Whether those lists were read, or are remembered.
    pub read: bool,
}

/// A taxon under the convention on trade in endangered species.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cites {
    /// Key of the taxon.
    pub taxon: &'static str,
    /// The appendix; none where whether it is listed at all must be asked.
    pub appendix: Option<&'static str>,
    /// An exception or a doubt; may be empty.
    pub note: &'static str,
    /// Whether the list was read, or is remembered.
    pub read: bool,
}

/// The two sides between which juniper rusts pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RustSide {
    /// A juniper, on which the rust winters.
    Juniper,
    /// Hawthorn, pear, apple, quince and their relatives, on whose leaves and fruit it lives in summer.
    AppleFamily,
}

/// One thing to be careful of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// A part is poisonous or irritant.
    Poison(&'static Poison),
    /// Thorns or spines.
    Thorns,
    /// Dust of its wood irritates or harms.
    Dust,
    /// On some list of invasive plants.
    Listed(&'static Listed),
    /// Under the convention on trade in endangered species.
    Cites(&'static Cites),
    /// Wild plants are protected in several countries.
    WildProtected,
    /// Host of a rust that needs the other side too.
    Rust(RustSide),
}

/// What the poisons, thorns and dusts rest on.
const REMEMBERED: Standing =
    Standing::Unverified("a list made from memory; a plant that is not on it is not safe for that");

impl Caution {
    /// Everything to be careful of with a taxon, the most dangerous first.
    ///
    /// ```
    /// use measure::{caution::Caution, taxon::Taxon};
    ///
    /// let yew = Caution::of(Taxon::of("taxus-baccata").unwrap());
    /// assert!(matches!(yew[0], Caution::Poison(poison) if poison.code == "TOX-YEW"));
    /// ```
    pub fn of(taxon: &Taxon) -> Vec<Caution> {
        let genus = taxon.genus();
        let poisons = table::POISONS.iter().filter(|row| row.genera.contains(&genus)).map(Caution::Poison);
        let thorns = table::THORNS.contains(&taxon.key).then_some(Caution::Thorns);
        let dust = table::DUSTS.contains(&genus).then_some(Caution::Dust);
        let listed = table::LISTED.iter().filter(|row| row.taxon == taxon.key).map(Caution::Listed);
        let cites = table::CITES.iter().filter(|row| row.taxon == taxon.key).map(Caution::Cites);
        let wild = table::WILD.contains(&taxon.key).then_some(Caution::WildProtected);
        let rust = RustSide::of(taxon).map(Caution::Rust);
        poisons.chain(thorns).chain(dust).chain(rust).chain(listed).chain(cites).chain(wild).collect()
    }

    /// What it rests on.
    pub fn standing(self) -> Standing {
        match self {
            Caution::Poison(_) | Caution::Thorns | Caution::Dust | Caution::WildProtected => REMEMBERED,
            Caution::Listed(row) if row.read => Standing::Published(
                "excerpts of public lists of 2007 to 2016; lists change and differ by region",
            ),
            Caution::Listed(_) => Standing::Unverified("some regions list it; no list was read"),
            Caution::Cites(row) if row.read => Standing::Published(
                "excerpts of the Appendices of 2012 and 2022; they change at every conference",
            ),
            Caution::Cites(_) => Standing::Unverified("the Appendices; they change at every conference"),
            Caution::Rust(_) => Standing::Unverified(
                "that these rusts need both hosts; which of their kinds passes to which differs",
            ),
        }
    }
}

impl RustSide {
    /// On which side a taxon stands, if on any.
    pub fn of(taxon: &Taxon) -> Option<RustSide> {
        let genus = taxon.genus();
        if genus == "Juniperus" {
            Some(RustSide::Juniper)
        } else {
            table::RUST_HOSTS.contains(&genus).then_some(RustSide::AppleFamily)
        }
    }

    /// Whether rust may pass between two taxa.
    ///
    /// ```
    /// use measure::{caution::RustSide, taxon::Taxon};
    ///
    /// let [juniper, thorn, larch] =
    ///     ["juniperus-chinensis", "crataegus-monogyna", "larix-decidua"].map(|key| Taxon::of(key).unwrap());
    /// assert!(RustSide::pass(juniper, thorn) && RustSide::pass(thorn, juniper));
    /// assert!(!RustSide::pass(juniper, larch) && !RustSide::pass(thorn, thorn));
    /// ```
    pub fn pass(one: &Taxon, other: &Taxon) -> bool {
        matches!((RustSide::of(one), RustSide::of(other)), (Some(one), Some(other)) if one != other)
    }
}

/// The table of poisons, for whoever holds it against a list.
pub fn poisons() -> &'static [Poison] {
    table::POISONS
}

/// The table of lists.
pub fn listed() -> &'static [Listed] {
    table::LISTED
}

/// The table of the convention.
pub fn cites() -> &'static [Cites] {
    table::CITES
}
