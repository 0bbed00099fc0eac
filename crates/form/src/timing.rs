//! What the trade's work does to a kind of tree and what it warns of: rows by kind of tree and work. All of it is common practice.
//!
//! Rows tell no months: whether work may be done on a day is the verdict's to say. A row says when only by what is seen on the tree.

use measure::{
    sourced::Standing,
    taxon::{Kind, Taxon},
};

/// Trees that a row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Group {
    Deciduous,
    /// Deciduous trees whose structure is cut while they are bare: no stone fruit, and none that flowers from last year's wood alone.
    WinterCut,
    /// Deciduous trees with more than one flush: no beech.
    ManyFlush,
    /// Deciduous trees that are defoliated at all.
    Defoliated,
    Bleeder,
    Beech,
    Elm,
    Oak,
    Prunus,
    AppleFamily,
    Quince,
    FloweringDeciduous,
    Wisteria,
    Azalea,
    TwoFlushPine,
    OneFlushPine,
    Pine,
    Juniper,
    Spruce,
    OtherConifer,
    YewCypress,
    Larch,
    OtherDeciduousConifer,
    SemiDeciduous,
    BroadleafEvergreen,
    Tropical,
    Succulent,
    All,
}

/// Genera that bleed while their sap rises.
const BLEEDERS: [&str; 7] = ["Acer", "Betula", "Carpinus", "Juglans", "Vitis", "Ostrya", "Cladrastis"];

impl Group {
    /// Whether a taxon belongs to it.
    pub fn holds(self, taxon: &Taxon) -> bool {
        let (genus, kind) = (taxon.genus(), taxon.kind);
        let deciduous = kind.is_bare_in_winter() && kind != Kind::LarchGinkgo;
        match self {
            Group::Deciduous => deciduous,
            Group::WinterCut => deciduous && !matches!(kind, Kind::StoneFruit | Kind::FloweringDeciduous),
            Group::ManyFlush => deciduous && genus != "Fagus",
            Group::Defoliated => deciduous && kind != Kind::FloweringDeciduous,
            Group::Bleeder => BLEEDERS.contains(&genus),
            Group::Beech => genus == "Fagus",
            Group::Elm => matches!(genus, "Ulmus" | "Zelkova" | "Celtis"),
            Group::Oak => genus == "Quercus" && kind == Kind::Oak,
            Group::Prunus => genus == "Prunus",
            Group::AppleFamily => kind == Kind::AppleFamily,
            Group::Quince => matches!(genus, "Chaenomeles" | "Pseudocydonia"),
            Group::FloweringDeciduous => kind == Kind::FloweringDeciduous && genus != "Wisteria",
            Group::Wisteria => genus == "Wisteria",
            Group::Azalea => kind == Kind::Azalea,
            Group::TwoFlushPine => kind == Kind::TwoFlushPine,
            Group::OneFlushPine => kind == Kind::OneFlushPine && genus == "Pinus",
            Group::Pine => genus == "Pinus",
            Group::Juniper => kind == Kind::Juniper,
            Group::Spruce => genus == "Picea",
            Group::OtherConifer => kind == Kind::SpruceHemlock && genus != "Picea",
            Group::YewCypress => kind == Kind::YewCypress,
            Group::Larch => matches!(genus, "Larix" | "Pseudolarix"),
            Group::OtherDeciduousConifer => {
                kind == Kind::LarchGinkgo && !matches!(genus, "Larix" | "Pseudolarix")
            }
            Group::SemiDeciduous => kind == Kind::SemiDeciduous,
            Group::BroadleafEvergreen => kind == Kind::BroadleafEvergreen,
            Group::Tropical => kind == Kind::Tropical,
            Group::Succulent => kind == Kind::Succulent,
            Group::All => true,
        }
    }
}

/// The kind of work that a row is of, for whoever has a verdict on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Job {
    HardPrune,
    Trim,
    Pinch,
    Defoliate,
    Decandle,
    Wire,
    Unwire,
    /// None that is judged.
    Other,
}

/// When a row's work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// By what is seen on the tree.
    Seen(&'static str),
    /// On the days of the verdict; the words are those of the set that the row was taken from, and are not shown.
    Verdict(&'static str),
}

/// A row: what is done, when, what it does and what to take into account.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timing {
    /// For which trees.
    pub group: Group,
    /// Which kind of work it is.
    pub job: Job,
    /// The work.
    pub work: &'static str,
    /// When.
    pub when: When,
    /// What it does.
    pub does: &'static str,
    /// What to take into account.
    pub caution: &'static str,
    /// How far to trust it.
    pub standing: Standing,
}

const fn t(
    group: Group,
    job: Job,
    work: &'static str,
    when: When,
    does: &'static str,
    caution: &'static str,
) -> Timing {
    Timing { group, job, work, when, does, caution, standing: Standing::Practice }
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
    t(Group::WinterCut, Job::HardPrune, "structural cuts (branches and trunk line)",
        When::Verdict("after leaf fall to late winter, before buds swell; not in hard frost"),
        "full view of structure; strong reply in spring",
        "bleeders (Acer, Betula, Carpinus, Juglans, Vitis, also Cladrastis, Ostrya): finish by midwinter or wait for full leaf"),
    t(Group::Bleeder, Job::HardPrune, "large cuts on bleeders",
        When::Verdict("after the leaves have hardened (early to midsummer), or autumn after leaf fall"),
        "little sap loss; callus starts the same season",
        "do not combine with repotting or defoliation"),
    t(Group::Deciduous, Job::Other, "clip and grow: let shoots run",
        When::Seen("from bud break until 6-10 leaves or until the base has the wanted diameter"),
        "thickens everything below the shoot",
        "shades the inner twigs; watch reverse taper at the node"),
    t(Group::ManyFlush, Job::Trim, "cut back to 1-2 leaves or nodes",
        When::Seen("once the first shoots have hardened (about 6-8 weeks after bud break); strong species again in midsummer"),
        "second flush; more tips",
        "stop about 8 weeks before expected first frost"),
    t(Group::ManyFlush, Job::Pinch, "pinch the growing tip",
        When::Seen("as each shoot shows the second leaf pair (maples) or 3-5 leaves (elm, zelkova, hornbeam, beech once)"),
        "short internodes, fine twigs, little thickening",
        "only on refined, vigorous trees; weakens if done on the whole tree every year"),
    t(Group::Defoliated, Job::Defoliate, "partial defoliation (outer or strong leaves)",
        When::Verdict("early summer after leaves hardened"),
        "light inside, weaker strong areas, smaller leaves",
        "never on weak, newly repotted or diseased trees; complete defoliation cut willow diameter growth by 62 % and height by 46 % (Rubio, Loetti and Bellocq, by their abstract)"),
    t(Group::Deciduous, Job::Wire, "wiring",
        When::Verdict("after leaf fall or before bud swell (full view), or early summer when shoots are supple"),
        "",
        "bark of maples and beech marks quickly; check weekly from bud break on"),
    t(Group::Deciduous, Job::Unwire, "remove wire",
        When::Seen("when the bark touches it, at latest before the spring growth surge if wired in autumn"),
        "",
        "cut the wire off, do not unwind on thick or brittle branches"),
    t(Group::Beech, Job::Pinch, "pinch",
        When::Seen("as buds open, once a year, leave 1-2 leaves"),
        "shortens the single flush",
        "one flush: no second reply; do not cut in summer for new shoots"),
    t(Group::Elm, Job::Trim, "cut back",
        When::Verdict("repeatedly spring to late summer to 2 leaves"),
        "many tips quickly",
        "elm: prune in dormant season or midsummer; fresh wounds in spring attract bark beetles carrying Dutch elm disease where it occurs (from memory, not verified)"),
    t(Group::Oak, Job::HardPrune, "structural cuts",
        When::Verdict("midwinter"),
        "",
        "oak-wilt areas of North America: no cuts April-July (from memory, not verified)"),
    t(Group::Prunus, Job::HardPrune, "structural cuts",
        When::Verdict("dry weather late spring to midsummer"),
        "",
        "silver leaf (Chondrostereum purpureum) and bacterial canker enter winter wounds in wet climates (from memory, not verified)"),
    t(Group::TwoFlushPine, Job::Decandle, "decandling (cut all spring candles)",
        When::Verdict("about 100 days before the first autumn frost: late May to mid June in cool short summers, mid June in mid climates, July in hot long summers"),
        "second flush with short needles",
        "only strong, well fed trees; not in the year of repotting; not P. parviflora or P. sylvestris as a rule"),
    t(Group::OneFlushPine, Job::Pinch, "shorten or pinch candles",
        When::Seen("while candles extend, before needles separate"),
        "evens vigour",
        "leave needles on everything you want to keep: buds only form where there are needles"),
    t(Group::Pine, Job::Wire, "needle and bud work, wiring",
        When::Verdict("autumn to early winter"),
        "",
        ""),
    t(Group::Juniper, Job::Trim, "shorten strong tips, thin",
        When::Verdict("late spring to late summer while growing; avoid pinching everything"),
        "",
        "cutting all growing tips weakens; bare wood does not reshoot"),
    t(Group::Juniper, Job::HardPrune, "structural cuts, jins",
        When::Verdict("early spring or early autumn"),
        "",
        ""),
    t(Group::Spruce, Job::Pinch, "pinch the new shoots",
        When::Seen("when shoots are 15-25 mm and still soft"),
        "compact",
        "bare wood rarely reshoots"),
    t(Group::Larch, Job::HardPrune, "cut back",
        When::Verdict("late winter; pinch long shoots in early summer"),
        "back-buds well on young wood",
        ""),
    t(Group::BroadleafEvergreen, Job::HardPrune, "structural cuts",
        When::Verdict("late spring after the flush hardens"),
        "",
        "tropical species only when growing and warm"),
    t(Group::All, Job::Other, "no work",
        When::Seen("newly repotted, root-pruned, collected, diseased or air-layered trees: one major operation per season"),
        "",
        ""),
    // Our own rows, put together from the trade's calendar.
    t(Group::AppleFamily, Job::Trim, "cut back once",
        When::Verdict(""),
        "spurs form for next year's flowers",
        "leave fruit on strong trees alone; fire blight: clean the blades between trees"),
    t(Group::Quince, Job::Other, "suckers",
        When::Seen("whenever they show, unless a clump is wanted"),
        "keeps the strength in the trunk",
        ""),
    t(Group::FloweringDeciduous, Job::HardPrune, "structural cuts",
        When::Seen("right after its flowers"),
        "next year's flower buds form on the new shoots",
        "fat blunt buds are flower, slender ones leaf"),
    t(Group::Wisteria, Job::Trim, "shorten the long whips",
        When::Seen("whips to two to five leaves in midsummer, to short spurs after leaf fall"),
        "flower spurs near the wood",
        "fat blunt buds are flower: keep them; take seed pods off"),
    t(Group::Azalea, Job::HardPrune, "structural cuts and thinning to two shoots",
        When::Seen("right after its flowers are taken off"),
        "new shoots carry next year's flowers",
        "the base is stronger than the top: cut the base harder; it snaps, so bend in steps; none in the year of its repot"),
    t(Group::OtherConifer, Job::Pinch, "pinch the new shoots",
        When::Seen("while they are soft, as the caps fall"),
        "compact",
        "strong parts only; bare wood does not reshoot; cedars drop needles after root work in the wrong week"),
    t(Group::YewCypress, Job::Trim, "shorten running tips, thin the inside",
        When::Verdict(""),
        "light inside",
        "yew reshoots from old wood; hinoki and other cypresses never do from bare wood"),
    t(Group::OtherDeciduousConifer, Job::HardPrune, "structural cuts",
        When::Verdict(""),
        "",
        "ginkgo heals slowly: small cuts only"),
    t(Group::SemiDeciduous, Job::Trim, "cut back",
        When::Seen("shoots of four to eight leaves, to one to three"),
        "many tips quickly",
        "soft autumn growth winters badly: harden it in steps"),
    t(Group::Tropical, Job::HardPrune, "structural cuts",
        When::Seen("in warm growth"),
        "it buds back within weeks",
        "milky sap: gloves and eye cover; bougainvillea flowers on new growth"),
    t(Group::Succulent, Job::HardPrune, "structural cuts",
        When::Seen("in warm growth; keep it dry until the cut has closed"),
        "",
        "jade is too brittle for wire: clip and grow"),
];
