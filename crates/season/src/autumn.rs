//! Whether a tree is in leaf: by its looks, the weather of its places and its kind; what frost, water, waking and work all ask.

use collection::event::{LeafLook, Look, Sureness};
use dormancy::{
    autumn::{Autumn, LeafEvidence, Senescence, autumn},
    forecast::{Course, SURE, Spread},
    wake::START,
};
use measure::{
    leaf::Leaf,
    sourced::Standing,
    stage::Stage,
    taxon::{Kind, Taxon},
    winter::Winter,
};

/// Why a tree keeps its leaves until someone says they fell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keeps {
    /// Its kind does, in all but hard winters.
    SemiEvergreen,
    /// It stands too warm for its leaves to turn this season.
    Warm,
    /// It was seen in leaf after the weather would have bared it: it came from warmth.
    OutOfStep,
}

/// A tree's leaves on a day, with what they will do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InLeaf {
    /// Chance of each state, in the order of [`Leaf::ALL`].
    pub today: [f64; 4],
    /// When leaves colour, begin to fall and are down, as day numbers; none where no date can be told.
    pub turns: [Option<Spread>; 3],
    /// The last look at leaves that was believed, by day number.
    pub seen: Option<(i32, Leaf)>,
    /// Why it keeps its leaves, where it does.
    pub keeps: Option<Keeps>,
    /// Green all year: nobody asks whether it is in leaf.
    pub is_evergreen: bool,
    /// Whether the season has come so far that leaves may turn.
    pub is_turning: bool,
    /// Whether it has stood through enough cold days where it is known to have stood.
    pub is_hardened: bool,
    /// Where the dates come from.
    pub standing: Standing,
}

/// Middle of the dates on which leaves colour, begin to fall and are down, by day number, and their spread, days: where no weather tells.
/// Means of 27 Korean stations 1989–2024 (24 October to 20 November); the spread is ours, for other climates.
pub const USUAL: ([i32; 3], f64) = ([-67, -51, -41], 20.0);

/// Day number about which new leaves come, where no forecast tells, and its spread, days (our estimate).
const NEW_LEAVES: (f64, f64) = (108.0, 12.0);

const BY_DATE: Standing =
    Standing::Estimate("no weather tells: mean dates of trees in Korea, give or take a month");

/// Chance of a state under which nothing is made of it.
pub const UNLIKELY: f64 = 0.1;

/// What is asked of a tree's places for its leaves.
pub(crate) struct Stood<'a> {
    /// The autumns it may live, or none where the season's beginning was not recorded.
    pub courses: Option<&'a [Course]>,
    /// Day number of today.
    pub today: i32,
    /// Whether it stood through enough cold days.
    pub is_hardened: bool,
    /// Chance that new leaves are out.
    pub new: f64,
}

impl InLeaf {
    /// What all of one taxon would be told of a day without weather, held to the looks.
    pub fn by_date(taxon: &Taxon, today: i32, looks: &[LeafEvidence]) -> InLeaf {
        let new = bell((f64::from(today) - NEW_LEAVES.0) / NEW_LEAVES.1);
        InLeaf::of(taxon, looks, &Stood { courses: None, today, is_hardened: false, new })
    }

    /// Of a tree from its looks and what its places did.
    pub(crate) fn of(taxon: &Taxon, looks: &[LeafEvidence], stood: &Stood<'_>) -> InLeaf {
        let senescence = Senescence::of(taxon);
        let told = match stood.courses {
            Some(courses) => autumn(courses, stood.today, &senescence.value, looks),
            None => by_date(stood.today, looks),
        };
        let is_evergreen = !drops_leaves(taxon.kind);
        let standing = if stood.courses.is_some() { senescence.standing } else { BY_DATE };
        let is_bare = told.seen.is_some_and(|look| look.leaf == Leaf::Bare);
        let keeps = match taxon.kind {
            _ if is_evergreen || is_bare => None,
            Kind::SemiDeciduous => Some(Keeps::SemiEvergreen),
            _ if told.out_of_step => Some(Keeps::OutOfStep),
            _ if told.turns[2].is_none() => Some(Keeps::Warm),
            _ => None,
        };
        let mut leaf = InLeaf {
            today: told.today,
            turns: told.turns,
            seen: told.seen.map(|look| (look.day, look.leaf)),
            keeps,
            is_evergreen,
            is_turning: told.today[0] < 1.0 - UNLIKELY || told.out_of_step,
            is_hardened: stood.is_hardened,
            standing,
        };
        if keeps == Some(Keeps::SemiEvergreen) {
            let state = told.seen.map_or(Leaf::Full, |look| look.leaf);
            leaf.today = std::array::from_fn(|at| f64::from(u8::from(at == state.rank())));
            let is_seen = |at: usize| state.rank() > at;
            leaf.turns = std::array::from_fn(|at| told.turns[at].filter(|_| is_seen(at)));
        }
        if stood.today >= START {
            leaf.today = leaf.today.map(|chance| chance * (1.0 - stood.new));
            leaf.today[0] += stood.new;
        }
        leaf
    }

    /// Chance that leaves are on, whatever their colour.
    pub fn on(&self) -> f64 {
        1.0 - self.today[Leaf::Bare.rank()]
    }

    /// What it counts as: bare where that is likelier than not, else the likeliest state with leaves on.
    pub fn state(&self) -> Leaf {
        if self.on() <= 0.5 {
            return Leaf::Bare;
        }
        let best = (0..Leaf::Bare.rank())
            .fold(0, |best, at| if self.today[at] > self.today[best] { at } else { best });
        Leaf::ALL[best]
    }

    /// Its chance.
    pub fn chance(&self) -> f64 {
        self.today[self.state().rank()]
    }

    /// Whether leaves are worth asking about: it drops them, and what they do is not as good as known.
    pub fn is_asked(&self, today: i32) -> bool {
        let fresh = if self.keeps.is_some() { FRESH_KEPT } else { FRESH };
        let is_known = self.seen.is_some_and(|(day, leaf)| leaf == Leaf::Bare || today - day < fresh);
        !self.is_evergreen && self.is_turning && !is_known && today < ASKED_TO && self.on() > UNLIKELY
    }

    /// Leaves that came from warmth or stand in it, and have not seen the cold: soft, roots and all.
    pub fn is_soft(&self) -> bool {
        let kept = matches!(self.keeps, Some(Keeps::Warm | Keeps::OutOfStep | Keeps::SemiEvergreen));
        kept && !self.is_hardened && self.on() > UNLIKELY
    }

    /// The bud stages that frost is to reckon with, each with its chance: full leaves count as the furthest stage and leaves that turn as
    /// buds that swell, since wood and buds have hardened behind them; of a tree that did not stand through the cold every leaf is soft.
    ///
    /// Of evergreens the growth of summer counts as soft until the cold sum at which leaves would colour has been met.
    pub fn in_frost(&self, buds: [f64; 9], today: i32) -> [f64; 9] {
        if today >= START && self.keeps.is_none() {
            return buds;
        }
        let (soft, turning) = match (self.keeps, self.is_hardened) {
            _ if self.is_evergreen => (self.today[0], 0.0),
            (Some(_), true) => (0.0, self.on()),
            (Some(_), false) => (self.on(), 0.0),
            (None, true) => (self.today[0], self.today[1] + self.today[2]),
            (None, false) => (self.on(), 0.0),
        };
        let mut stages = buds.map(|chance| chance * (1.0 - soft - turning).max(0.0));
        stages[Stage::Grown.rank()] += soft;
        stages[Stage::Swelling.rank()] += turning;
        stages
    }
}

/// A look at leaves within so many days answers for them.
const FRESH: i32 = 6;

/// The same where leaves stay on without a date.
const FRESH_KEPT: i32 = 20;

/// Day number to which leaves that stay on are asked about: the end of January in the north.
const ASKED_TO: i32 = 31;

/// Whether a kind drops its leaves in autumn, some of it in hard winters only.
pub fn drops_leaves(kind: Kind) -> bool {
    kind.is_bare_in_winter() || kind == Kind::SemiDeciduous
}

/// The looks as evidence: those at leaves, and bud looks of autumn that saw leaves or late growth; those of this winter, up to `until`.
pub fn evidence<'a>(
    winter: Winter,
    leaves: impl Iterator<Item = &'a LeafLook>,
    buds: impl Iterator<Item = &'a Look>,
    until: i32,
) -> Vec<LeafEvidence> {
    let of = |day, leaf, sureness| LeafEvidence { day: winter.day_number(day), leaf, noise: noise(sureness) };
    let green = buds
        .filter(|look| look.stage >= Stage::Breaking && winter.day_number(look.day) < START)
        .map(|look| of(look.day, Leaf::Full, look.sureness));
    let mut all: Vec<LeafEvidence> =
        leaves.map(|look| of(look.day, look.leaf, look.sureness)).chain(green).collect();
    all.retain(|look| (Winter::FIRST_DAY..=until).contains(&look.day));
    all.sort_by_key(|look| look.day);
    all
}

/// Observer's noise of a look, logarithm of progress.
pub fn noise(sureness: Sureness) -> f64 {
    match sureness {
        Sureness::Sure => SURE,
        Sureness::Fair => 2.0 * SURE,
        Sureness::Doubtful => 4.0 * SURE,
    }
}

/// Chances by the date alone, after the last look.
fn by_date(today: i32, looks: &[LeafEvidence]) -> Autumn {
    let (middles, spread) = USUAL;
    let passed = |at: usize| bell(f64::from(today - middles[at]) / spread);
    let chances = [1.0 - passed(0), passed(0) - passed(1), passed(1) - passed(2), passed(2)];
    let last = looks.iter().max_by_key(|look| look.day).copied();
    let rank = last.map_or(0, |look| look.leaf.rank());
    let total: f64 = chances[rank..].iter().sum();
    let tenth = (1.2816 * spread) as i32;
    let told = middles.map(|middle| Some(Spread { early: middle - tenth, middle, late: middle + tenth }));
    let seen_by = |at: usize| last.filter(|look| look.leaf.rank() > at).map(|look| look.day);
    let not_yet = last.map_or(i32::MIN, |look| look.day + 1);
    let held = |at: usize, day: i32| seen_by(at).map_or(day.max(not_yet), |seen| day.min(seen));
    Autumn {
        today: std::array::from_fn(|at| match at {
            at if at < rank => 0.0,
            at if total > 1e-9 => chances[at] / total,
            at => f64::from(u8::from(at == rank)),
        }),
        turns: std::array::from_fn(|at| {
            told[at].map(|it: Spread| Spread {
                early: held(at, it.early),
                middle: held(at, it.middle),
                late: held(at, it.late),
            })
        }),
        seen: last,
        out_of_step: false,
    }
}

fn bell(z: f64) -> f64 {
    0.5 * statrs::function::erf::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}
