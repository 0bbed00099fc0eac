//! The tables of cautions. Parts and effects are common knowledge of the trade, put together from memory.

use super::{
    Cites,
    First::{self, Gloves, PoisonCentre, PoisonCentreAtOnce, Rinse, RinseAndAsk, Vet},
    Listed, Poison,
};

const fn poison(
    code: &'static str,
    genera: &'static [&'static str],
    part: &'static str,
    effect: &'static str,
    first: First,
) -> Poison {
    Poison { code, genera, part, effect, first }
}

const fn read(taxon: &'static str, lists: &'static str) -> Listed {
    Listed { taxon, lists, read: true }
}

const fn remembered(taxon: &'static str, lists: &'static str) -> Listed {
    Listed { taxon, lists, read: false }
}

/// Poisonous and irritant genera.
#[rustfmt::skip]
pub(super) const POISONS: &[Poison] = &[
    poison("TOX-YEW", &["Taxus"], "all but the red aril", "heart poison, deadly", PoisonCentreAtOnce),
    poison("TOX-ERIC", &["Rhododendron", "Pieris", "Enkianthus", "Kalmia"], "all, nectar", "grayanotoxin, vomiting, slow heart", PoisonCentre),
    poison("TOX-WIST", &["Wisteria"], "seed, pod, bark", "vomiting", PoisonCentre),
    poison("TOX-CARD", &["Adenium", "Nerium"], "all", "heart poison", PoisonCentre),
    poison("LATEX", &["Euphorbia", "Ficus", "Adenium", "Wrightia", "Morus"], "sap", "eye and skin burns", RinseAndAsk),
    poison("TOX-BUX", &["Buxus"], "all", "vomiting, nerves; animals die", Vet),
    poison("TOX-LIG", &["Ligustrum"], "berry, leaf", "stomach, nerves", PoisonCentre),
    poison("TOX-CYAN", &["Prunus", "Malus", "Nandina"], "seed, wilted leaf", "cyanide", PoisonCentre),
    poison("TOX-JUN", &["Juniperus"], "foliage oil, berry", "irritant, kidney", PoisonCentre),
    poison("TOX-EUON", &["Euonymus"], "fruit", "vomiting, heart", PoisonCentre),
    poison("TOX-ILEX", &["Ilex"], "berry", "stomach", PoisonCentre),
    poison("TOX-GINK", &["Ginkgo"], "seed flesh; raw seed", "skin; seizures", Gloves),
    poison("TOX-OXAL", &["Heptapleurum", "Parthenocissus"], "sap, berry", "mouth burn", Rinse),
    poison("TOX-PODO", &["Podocarpus"], "seed, leaf", "pets upset", Vet),
    poison("TOX-PET", &["Crassula"], "leaf", "pets upset", Vet),
];

/// Taxa with thorns or spines; the two quinces are our own addition.
pub(super) const THORNS: &[&str] = &[
    "berberis-thunbergii",
    "prunus-spinosa",
    "crataegus-monogyna",
    "crataegus-laevigata",
    "crataegus-cuneata",
    "pyracantha",
    "pyrus-calleryana",
    "bougainvillea",
    "terminalia-molinetii",
    "chloroleucon-tortum",
    "euphorbia-milii",
    "chaenomeles-speciosa",
    "chaenomeles-japonica",
];

/// Genera whose wood dust irritates or harms.
pub(super) const DUSTS: &[&str] = &["Taxus", "Juniperus"];

/// Taxa whose wild plants are protected in several countries.
pub(super) const WILD: &[&str] = &["pemphis-acidula"];

/// Genera on which juniper rusts live in summer, remembered.
pub(super) const RUST_HOSTS: &[&str] =
    &["Malus", "Crataegus", "Pyrus", "Chaenomeles", "Pseudocydonia", "Cotoneaster"];

const SOME: &str = "some states of the United States";
const COASTS: &str = "some Pacific and southern regions";

/// Examples of lists, no more: the list of one's own place alone decides.
#[rustfmt::skip]
pub(super) const LISTED: &[Listed] = &[
    remembered("acer-ginnala", SOME),
    read("acer-pseudoplatanus", "Pennsylvania"),
    read("ulmus-pumila", "Pennsylvania"),
    read("euonymus-alatus", "Pennsylvania, Maryland, New Hampshire"),
    remembered("wisteria-floribunda", "some states of the United States, as its Chinese relative in Maryland"),
    remembered("morus-alba", "some lists"),
    read("berberis-thunbergii", "Pennsylvania, New Hampshire"),
    remembered("cotoneaster-horizontalis", COASTS),
    read("ligustrum-vulgare", "Pennsylvania"),
    remembered("ligustrum-ovalifolium", "some lists"),
    read("ligustrum-sinense", "Pennsylvania"),
    read("ligustrum-japonicum", "Pennsylvania"),
    remembered("crataegus-monogyna", COASTS),
    remembered("pyracantha", COASTS),
    read("pyrus-calleryana", "Pennsylvania"),
    read("nandina-domestica", "a guide of the southern United States"),
    remembered("ficus-microcarpa", "Florida"),
    remembered("casuarina-equisetifolia", "Florida"),
];

/// Taxa under the convention on trade in endangered species.
#[rustfmt::skip]
pub(super) const CITES: &[Cites] = &[
    Cites { taxon: "taxus-cuspidata", appendix: Some("II"), note: "cultivars and hybrids of T. cuspidata in labelled pots had an exemption", read: false },
    Cites { taxon: "operculicarya-decaryi", appendix: Some("II"), note: "added later", read: false },
    Cites { taxon: "euphorbia-milii", appendix: Some("II"), note: "cultivar exceptions (E. trigona; E. milii hybrids remembered)", read: false },
    Cites { taxon: "portulacaria-afra", appendix: None, note: "whether Portulacaria is covered: ask", read: true },
    Cites { taxon: "pinus-koraiensis", appendix: Some("III"), note: "one country, timber", read: false },
];
