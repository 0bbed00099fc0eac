//! The rows of air layers and of what was seen of rooting, by kind of tree.

use measure::sourced::Standing;

use super::{Layer, Rooting};

const PAGES: Standing = Standing::Practice;
const OURS: Standing = Standing::Estimate("set beside the kinds that the trade tells");
const OTHER: Standing = Standing::Unverified("handbook of woody plant propagation");

#[allow(clippy::too_many_arguments, reason = "a row of a table")]
const fn l(
    group: &'static str,
    start: &'static str,
    ready: Option<[u16; 2]>,
    slow: bool,
    warm: Option<u16>,
    ring: f64,
    note: &'static str,
    parent: &'static str,
    standing: Standing,
) -> Layer {
    Layer { group, start, ready, may_take_longer: slow, warm_weeks: warm, ring, note, parent, standing }
}

const fn p(
    species: &'static str,
    method: &'static str,
    season: &'static str,
    treatment: &'static str,
    time: &'static str,
    success: &'static str,
    standing: Standing,
) -> Rooting {
    Rooting { species, method, season, treatment, time, success, standing }
}

/// Air layers.
#[rustfmt::skip]
pub const LAYERS: &[Layer] = &[
    l("Acer palmatum", "May-Jun after first leaves harden", Some([8, 14]), false, Some(14), 1.5, "some sit a year; re-wound", "no repot, no defoliation that year", PAGES),
    l("Acer buergerianum", "May-Jun", Some([6, 10]), false, Some(12), 1.5, "easy", "no repot, no defoliation that year", OURS),
    l("elm, zelkova", "May-Jun", Some([6, 10]), false, Some(10), 1.5, "easy", "no repot, no defoliation that year", OURS),
    l("hornbeam", "May-Jun", Some([12, 20]), true, Some(16), 1.5, "moderate", "no repot, no defoliation that year", OURS),
    l("beech", "May-Jun", None, true, None, 1.5, "hard", "no repot, no defoliation that year", OURS),
    l("Prunus, apple family", "May-Jun", Some([8, 14]), false, Some(14), 1.5, "moderate to easy", "no repot, no defoliation that year", OURS),
    l("azalea", "May-Jun", Some([10, 14]), false, Some(14), 1.2, "moderate", "no repot, no defoliation that year", OURS),
    l("juniper", "Apr-Jun", Some([12, 30]), false, Some(20), 1.2, "slow, tourniquet also used", "keep watered", OURS),
    l("pine", "May-Jun", Some([52, 100]), true, None, 1.2, "white pine poor, black pine moderate", "", OURS),
    l("larch", "May-Jun", Some([10, 16]), false, Some(14), 1.2, "moderate", "", OURS),
    l("ficus", "Apr-Aug", Some([4, 8]), false, Some(8), 1.5, "very easy", "", OURS),
    l("olive", "May-Jul", Some([8, 16]), false, Some(12), 1.5, "easy large stumps", "", OURS),
];

/// What was seen of rooting cuttings and layers.
#[rustfmt::skip]
pub const ROOTINGS: &[Rooting] = &[
    p("Ulmus parvifolia", "cutting, semi-hardwood tip", "early summer", "IBA talc 3000 ppm, mist", "10-12 weeks", "", Standing::Published("University of Florida IFAS landscape plant propagation sheet")),
    p("Ulmus parvifolia Emerald Prairie", "cutting, softwood / early semi / late semi / hardwood", "four dates", "K-IBA 0-20000 ppm", "", "92 / 86 / 87 / 8 % over all treated; 97 % at softwood with 15000-20000 ppm; little without", Standing::Published("abstract, Propagation of Ulmus parvifolia Emerald Prairie by stem cuttings (journal not seen)")),
    p("Ulmus parvifolia", "cutting, softwood", "May / June", "IBA 10000 ppm, mist", "", "73 / 93 %", Standing::Published("conference abstract 629 PS 3 (journal not seen)")),
    p("Ulmus parvifolia", "cutting, hardwood, bottom heat 21 C", "February", "IBA 10000-20000 ppm", "", "60-100 %", Standing::Published("conference abstract 629 PS 3 (journal not seen)")),
    p("Ulmus procera Van Houttei", "cutting, half ripe", "", "0.37 % NAA; 0.6 % IBA; mix", "", "60; 70; 75 %", Standing::Published("abstract, Fankhauser 1980, IPPS 30:174-176")),
    p("Acer palmatum", "cutting, softwood", "May to June", "IBA 1-2 %", "6-8 weeks", "overwintering after rooting is the weak point", OTHER),
    p("Juniperus", "cutting, hardwood", "late autumn to winter, bottom heat", "IBA 3000-8000 ppm", "8-16 weeks", "", OTHER),
    p("trees and shrubs", "air layer", "early spring or early autumn (Florida), active growth", "ring of bark removed", "2 to 6 months", "", Standing::Published("University of Florida IFAS Clay County 2018")),
    p("Camellia (general method)", "air layer", "spring", "ring 1.5-2 times the branch diameter", "roots by late summer or autumn; cut when roots show through the moss", "", Standing::Published("regional camellia society instructions")),
    p("maples, mulberry", "air layer", "spring", "kept wrapped and moist", "about 3 months", "fails if moss dries or floods even for days", Standing::Published("newspaper answer by a state university extension")),
    p("Acer palmatum, A. buergerianum", "air layer", "after the first leaves harden (late spring)", "ring = 1.5 x diameter, IBA optional", "6-12 weeks to roots", "separate in early autumn or next spring", PAGES),
    p("Ulmus, Zelkova, Ficus", "air layer", "late spring to midsummer", "ring = 1.5-2 x diameter", "4-8 weeks", "", PAGES),
    p("Carpinus, Fagus, Malus, Prunus", "air layer", "late spring", "ring = 1.5-2 x diameter", "8-16 weeks, sometimes two seasons", "", PAGES),
    p("Juniperus", "air layer", "spring", "ring or ligature", "one to two seasons", "", PAGES),
    p("Pinus", "air layer", "spring", "ligature or half ring", "one to three seasons, unreliable", "", PAGES),
];
