//! What the night in a place does to one tree: its lines, how far and how long they are passed, the chance, and what it would lose.

use collection::drink::Worth;
use dormancy::{
    frost::{Facts, Limit, Part, RootAge},
    table::Figures,
};
use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    sourced::{Sourced, Standing},
    stage::Stage,
    taxon::Taxon,
    winter::Hemisphere,
};

use super::{
    ball::{Evening, Freeze},
    carry::Load,
    place::PlaceNight,
};
use crate::repot::aftercare::in_frost;

/// A tree and the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TreeNight {
    /// What decides its lines.
    pub facts: Facts,
    /// What losing it would cost.
    pub worth: Worth,
    /// Its pot.
    pub load: Load,
}

impl TreeNight {
    /// The same after its roots were cut on a day: stricter in frost as its aftercare says.
    #[must_use]
    pub fn repotted(self, day: Date, cut: Share, today: Date, hemisphere: Hemisphere) -> TreeNight {
        TreeNight { facts: in_frost(self.facts, day, cut, today, hemisphere), ..self }
    }

    /// Whether it is a hardy tree at rest: cold is what it needs, and a heated room would wake it.
    pub fn is_resting(&self) -> bool {
        is_resting(&self.facts)
    }
}

/// Whether a tree is hardy: it keeps a rest, and its roots and leaves stand some frost.
pub fn is_hardy(taxon: &Taxon) -> bool {
    let stands_frost = Figures::of(taxon.key).is_some_and(|it| it.root_limit < 0.0 && it.leaf_limit <= 0.0);
    stands_frost && taxon.kind.rests()
}

/// Whether facts are those of a hardy tree at rest: one whose leaves are not out. The stage to protect runs ahead of the buds, so a tree
/// that may just show green counts as resting still.
///
/// ```
/// use dormancy::frost::{Candidates, Facts, RootAge};
/// use measure::{stage::Stage, taxon::Taxon};
/// use season::tonight::judge::is_resting;
///
/// let of = |key: &str, stage| Facts {
///     taxon: Taxon::of(key).unwrap(), candidates: Candidates::None, stage: Some(stage), roots: RootAge::Fresh,
/// };
/// assert!(is_resting(&of("larix-decidua", Stage::GreenTip)) && is_resting(&of("pinus-mugo", Stage::Dormant)));
/// assert!(!is_resting(&of("larix-decidua", Stage::Unfolded)) && !is_resting(&of("ficus-microcarpa", Stage::Dormant)));
/// assert!(!is_resting(&of("gardenia-jasminoides", Stage::Dormant)));
/// ```
pub fn is_resting(facts: &Facts) -> bool {
    is_hardy(facts.taxon) && facts.stage.is_none_or(|stage| stage < Stage::Unfolded)
}

/// A planning line against the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threat {
    /// The line.
    pub limit: Limit,
    /// The lowest expected there.
    pub low: Celsius,
    /// Hours expected below it.
    pub hours: usize,
    /// Chance of passing it: not that of harm, which no published figure gives for a tree in a pot.
    pub chance: Share,
    /// How far it is expected to be passed, as a share of [`lost_beyond`].
    pub depth: Share,
}

/// Degrees beyond a planning line at which a part is taken for lost, K.
pub const LOST_BEYOND: Sourced<f64> = Sourced {
    value: 5.0,
    standing: Standing::Estimate(
        "our rule for who goes first; flower buds go from one in ten to nine in ten killed within 2 to 7 degrees",
    ),
};

/// Degrees beyond the line of freshly cut roots at which they are taken for lost, K: once their pot freezes. Our estimate.
const FROZEN: f64 = 1.0;

/// Degrees beyond a line at which its part is taken for lost, K.
///
/// ```
/// use dormancy::frost::{Candidates, Facts, RootAge};
/// use measure::{stage::Stage, taxon::Taxon};
/// use season::tonight::judge::{LOST_BEYOND, lost_beyond};
///
/// let taxon = Taxon::of("carpinus-betulus").unwrap();
/// let of = |roots| Facts { taxon, candidates: Candidates::None, stage: Some(Stage::Dormant), roots }.roots();
/// assert_eq!([RootAge::Old, RootAge::Fresh].map(|age| lost_beyond(&of(age))), [LOST_BEYOND.value, 1.0]);
/// ```
pub fn lost_beyond(limit: &Limit) -> f64 {
    let is_by_ice = limit.part == Part::CutRoots(RootAge::Fresh) && limit.line.value.0 <= LOST_BEYOND.value;
    if is_by_ice { FROZEN } else { LOST_BEYOND.value }
}

/// What of a tree is lost with a part, as a share of the tree; our estimates.
///
/// ```
/// use dormancy::frost::Part;
/// use season::tonight::judge::share_lost;
///
/// assert!(share_lost(Part::Roots) > share_lost(Part::Leaves));
/// ```
pub fn share_lost(part: Part) -> Share {
    Share(match part {
        Part::Roots | Part::CutRoots(_) | Part::WokenRoots | Part::Evergreen => 1.0,
        Part::Leaves | Part::NewGrowth | Part::Buds => 0.6,
        Part::FlowerBuds(_) => 0.2,
    })
}

impl Threat {
    /// What is put at stake, as a share of the tree: half by the chance that the line is passed, half by how far.
    pub fn at_stake(&self) -> f64 {
        share_lost(self.limit.part).0 * (self.chance.0 + self.depth.0) / 2.0
    }

    /// Whether the line is passed likely enough to carry the tree for it.
    pub fn is_worth_carrying(&self, worth: Worth) -> bool {
        self.chance >= worth_carrying(worth, self.limit.part)
    }
}

/// What a night in a place does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Above the soil; none for bare wood at rest.
    pub above: Option<Threat>,
    /// Its flower buds, where a crop stands for them.
    pub flowers: Option<Threat>,
    /// At the root, the ball watered.
    pub roots: Threat,
    /// The watered ball.
    pub wet: Freeze,
    /// The ball, had it been let dry.
    pub dry: Freeze,
    /// Chance that a dry ball passes the line at the root.
    pub dry_chance: Share,
    /// Air at which its open leaves ask for a look.
    pub watch: Option<Celsius>,
}

/// What carrying a tree in and out again costs, in the units of [`Worth::loss_over_cost`]: as much as four waterings. Our estimate.
const CARRY: f64 = 4.0;

/// The chance of passing a part's planning line above which carrying is worth it: its cost over what would be lost.
///
/// ```
/// use collection::drink::Worth;
/// use dormancy::frost::Part;
/// use season::tonight::judge::worth_carrying;
///
/// assert_eq!(worth_carrying(Worth::Standing, Part::Roots).0, 0.2);
/// assert!((worth_carrying(Worth::Standing, Part::Leaves).0 - 1.0 / 3.0).abs() < 1e-12);
/// ```
pub fn worth_carrying(worth: Worth, part: Part) -> Share {
    Share(CARRY / (worth.loss_over_cost() * share_lost(part).0))
}

/// The low within this of a line asks for a second look, K (common practice: alarm at one degree).
const NEAR: f64 = 1.0;

impl Judged {
    /// The lines against the night.
    pub fn threats(&self) -> impl Iterator<Item = &Threat> {
        self.above.iter().chain(&self.flowers).chain(std::iter::once(&self.roots))
    }

    /// The line that decides: the one with most at stake.
    pub fn deciding(&self) -> &Threat {
        let most = self.threats().max_by(|a, b| a.at_stake().total_cmp(&b.at_stake()));
        most.unwrap_or(&self.roots)
    }

    /// The chance of passing the line that decides.
    pub fn chance(&self) -> Share {
        self.deciding().chance
    }

    /// What the night puts at stake, in the units of [`Worth::loss_over_cost`].
    pub fn at_stake(&self, worth: Worth) -> f64 {
        worth.loss_over_cost() * self.deciding().at_stake()
    }

    /// Whether the tree is worth carrying.
    pub fn is_endangered(&self, worth: Worth) -> bool {
        self.threats().any(|threat| threat.is_worth_carrying(worth))
    }

    /// Whether every line keeps half the chance that carrying is worth.
    pub fn is_spared(&self, worth: Worth) -> bool {
        self.threats().all(|it| it.chance.0 <= worth_carrying(worth, it.limit.part).0.min(1.0) * SPARED)
    }

    /// Whether a second look in the evening is worth it.
    pub fn wants_watch(&self, worth: Worth) -> bool {
        let is_near = |threat: &Threat| threat.low.0 < threat.limit.line.value.0 + NEAR;
        let leaves = self.watch.zip(self.above).is_some_and(|(watch, above)| above.low.0 < watch.0 + NEAR);
        let half = |it: &Threat| it.chance.0 >= worth_carrying(worth, it.limit.part).0 / 2.0;
        leaves || self.above.iter().chain(&self.flowers).any(is_near) || self.threats().any(half)
    }

    /// Whether a dry ball would pass its line where a watered one does not.
    pub fn wants_water(&self, worth: Worth) -> bool {
        let most = worth_carrying(worth, self.roots.limit.part);
        self.dry_chance >= most && self.roots.chance < most
    }
}

/// The chance that a new place may leave, as a part of what carrying is worth.
const SPARED: f64 = 0.5;

/// Judges a tree in a place.
pub fn judge(tree: &TreeNight, place: &PlaceNight) -> Judged {
    let in_air = |limit: Limit| Threat {
        limit,
        low: place.low,
        hours: place.hours_below(limit.line.value),
        chance: place.chance_below(limit.line.value),
        depth: Share(place.expected_below(limit.line.value, LOST_BEYOND.value) / LOST_BEYOND.value),
    };
    let limit = tree.facts.roots();
    let line = limit.line.value;
    let [wet, dry] = [&tree.load.wet, &tree.load.dry].map(|ball| Evening::of(ball, place));
    let (frozen, chance) = (wet.night(line), wet.chance_below(line));
    let most = lost_beyond(&limit);
    let depth = if chance.0 > 0.0 { wet.expected_below(line, most) } else { 0.0 };
    Judged {
        above: tree.facts.above().map(in_air),
        flowers: tree.facts.flowers().map(in_air),
        roots: Threat { limit, low: frozen.coldest, hours: frozen.below, chance, depth: Share(depth / most) },
        wet: frozen,
        dry: dry.night(line),
        dry_chance: dry.chance_below(line),
        watch: tree.facts.watch(),
    }
}
