//! When the trade does what, and what it warns of: rows by kind of tree and work. All of it is common practice.

use measure::{
    sourced::Standing,
    taxon::{Kind, Taxon},
};

/// Trees that a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Group {
    Deciduous,
    Beech,
    Elm,
    Oak,
    Prunus,
    TwoFlushPine,
    OneFlushPine,
    Pine,
    Juniper,
    Spruce,
    Larch,
    BroadleafEvergreen,
    All,
}

impl Group {
    /// Whether a taxon belongs to it.
    pub fn holds(self, taxon: &Taxon) -> bool {
        let (genus, kind) = (taxon.genus(), taxon.kind);
        match self {
            Group::Deciduous => kind.is_bare_in_winter() && kind != Kind::LarchGinkgo,
            Group::Beech => genus == "Fagus",
            Group::Elm => matches!(genus, "Ulmus" | "Zelkova" | "Celtis"),
            Group::Oak => genus == "Quercus",
            Group::Prunus => genus == "Prunus",
            Group::TwoFlushPine => kind == Kind::TwoFlushPine,
            Group::OneFlushPine => kind == Kind::OneFlushPine && genus == "Pinus",
            Group::Pine => genus == "Pinus",
            Group::Juniper => kind == Kind::Juniper,
            Group::Spruce => genus == "Picea",
            Group::Larch => matches!(genus, "Larix" | "Pseudolarix"),
            Group::BroadleafEvergreen => kind == Kind::BroadleafEvergreen,
            Group::All => true,
        }
    }
}

/// A row: what is done, when, and what to heed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timing {
    /// For which trees.
    pub group: Group,
    /// The work.
    pub work: &'static str,
    /// When.
    pub window: &'static str,
    /// What it does.
    pub does: &'static str,
    /// What to heed.
    pub caution: &'static str,
    /// How far to trust it.
    pub standing: Standing,
}

const fn t(
    group: Group,
    work: &'static str,
    window: &'static str,
    does: &'static str,
    caution: &'static str,
) -> Timing {
    Timing { group, work, window, does, caution, standing: Standing::Practice }
}

/// The rows that are for a taxon.
///
/// ```
/// use form::timing;
/// use measure::taxon::Taxon;
///
/// let beech = Taxon::of("fagus-crenata").unwrap();
/// assert!(timing::rows_for(beech).any(|row| row.caution.contains("one flush")));
/// ```
pub fn rows_for(taxon: &Taxon) -> impl Iterator<Item = &'static Timing> {
    TIMINGS.iter().filter(|row| row.group.holds(taxon))
}

/// The rows. Words in brackets that say "from memory" are remembered without a source.
#[rustfmt::skip]
pub const TIMINGS: &[Timing] = &[
    t(Group::Deciduous, "structural cuts (branches and trunk line)",
        "after leaf fall to late winter, before buds swell; not in hard frost",
        "full view of structure; strong reply in spring",
        "bleeders (Acer, Betula, Carpinus, Juglans, Vitis, also Cladrastis, Ostrya): finish by midwinter or wait for full leaf"),
    t(Group::Deciduous, "large cuts on bleeders",
        "after the leaves have hardened (early to midsummer), or autumn after leaf fall",
        "little sap loss; callus starts the same season",
        "do not combine with repotting or defoliation"),
    t(Group::Deciduous, "clip and grow: let shoots run",
        "from bud break until 6-10 leaves or until the base has the wanted diameter",
        "thickens everything below the shoot",
        "shades the inner twigs; watch reverse taper at the node"),
    t(Group::Deciduous, "cut back to 1-2 leaves or nodes",
        "once the first shoots have hardened (about 6-8 weeks after bud break); strong species again in midsummer",
        "second flush; more tips",
        "stop about 8 weeks before expected first frost"),
    t(Group::Deciduous, "pinch the growing tip",
        "as each shoot shows the second leaf pair (maples) or 3-5 leaves (elm, zelkova, hornbeam, beech once)",
        "short internodes, fine twigs, little thickening",
        "only on refined, vigorous trees; weakens if done on the whole tree every year"),
    t(Group::Deciduous, "partial defoliation (outer or strong leaves)",
        "early summer after leaves hardened",
        "light inside, weaker strong areas, smaller leaves",
        "never on weak, newly repotted or diseased trees; complete defoliation cut willow diameter growth by 62 % and height by 46 % (Rubio, Loetti and Bellocq, by their abstract)"),
    t(Group::Deciduous, "wiring",
        "after leaf fall or before bud swell (full view), or early summer when shoots are supple",
        "",
        "bark of maples and beech marks quickly; check weekly from bud break on"),
    t(Group::Deciduous, "remove wire",
        "when the bark touches it, at latest before the spring growth surge if wired in autumn",
        "",
        "cut the wire off, do not unwind on thick or brittle branches"),
    t(Group::Beech, "pinch",
        "as buds open, once a year, leave 1-2 leaves",
        "shortens the single flush",
        "one flush: no second reply; do not cut in summer for new shoots"),
    t(Group::Elm, "cut back",
        "repeatedly spring to late summer to 2 leaves",
        "many tips quickly",
        "elm: prune in dormant season or midsummer; fresh wounds in spring attract bark beetles carrying Dutch elm disease where it occurs (from memory, not verified)"),
    t(Group::Oak, "structural cuts",
        "midwinter",
        "",
        "oak-wilt areas of North America: no cuts April-July (from memory, not verified)"),
    t(Group::Prunus, "structural cuts",
        "dry weather late spring to midsummer",
        "",
        "silver leaf (Chondrostereum purpureum) and bacterial canker enter winter wounds in wet climates (from memory, not verified)"),
    t(Group::TwoFlushPine, "decandling (cut all spring candles)",
        "about 100 days before the first autumn frost: late May to mid June in cool short summers, mid June in mid climates, July in hot long summers",
        "second flush with short needles",
        "only strong, well fed trees; not in the year of repotting; not P. parviflora or P. sylvestris as a rule"),
    t(Group::OneFlushPine, "shorten or pinch candles",
        "while candles extend, before needles separate",
        "evens vigour",
        "leave needles on everything you want to keep: buds only form where there are needles"),
    t(Group::Pine, "needle and bud work, wiring",
        "autumn to early winter",
        "",
        ""),
    t(Group::Juniper, "shorten strong tips, thin",
        "late spring to late summer while growing; avoid pinching everything",
        "",
        "cutting all growing tips weakens; bare wood does not reshoot"),
    t(Group::Juniper, "structural cuts, jins",
        "early spring or early autumn",
        "",
        ""),
    t(Group::Spruce, "pinch the new shoots",
        "when shoots are 15-25 mm and still soft",
        "compact",
        "bare wood rarely reshoots"),
    t(Group::Larch, "cut back",
        "late winter; pinch long shoots in early summer",
        "back-buds well on young wood",
        ""),
    t(Group::BroadleafEvergreen, "structural cuts",
        "late spring after the flush hardens",
        "",
        "tropical species only when growing and warm"),
    t(Group::All, "no work",
        "newly repotted, root-pruned, collected, diseased or air-layered trees: one major operation per season",
        "",
        "show as a hard caution"),
];
