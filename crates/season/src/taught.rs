//! What all looks of the collection teach of each tree's pace: its place, its kind, the tree itself and the spring, in one update.

use std::collections::{HashMap, HashSet};

use collection::event::WorkKind;
use dormancy::{
    forecast::{Evidence, Pace, Waking, pace_seen, tailed},
    learn::levels::{Collection, Levels, POTS, Seen, learn_sturdy},
    needs::Needs,
};
use jiff::civil::Date;
use measure::{stage::Stage, winter::Winter};

use crate::{
    ground::HORIZON,
    window::{Outlook, TreeFacts, evidence, stays, tells_of_spring},
};

/// What one past season said of a tree's pace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PastSeason {
    /// Logarithm of the tree's need over the taxon's in that season, and how well it is known.
    pub seen: Pace,
    /// How many springs ago; 1 is last spring.
    pub years_ago: u32,
    /// Whether the tree has been repotted since.
    pub before_repot: bool,
    /// When it broke bud, told and seen; none where the looks leave the day open.
    pub broke: Option<Broke>,
}

/// First green of a past spring: as it was seen, and as it would have been told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Broke {
    /// Day number between the last look short of it and the first one past it.
    pub seen: i32,
    /// Day number in the middle of what the springs before it had taught, none of its own looks; none where it is never reached.
    pub told: Option<i32>,
}

/// Most days between the two looks that date it.
const DATED: i32 = 21;

/// Paces at which the day of first green is kept for a past spring, logarithm: from −1.2 to 1.2.
const PACES: usize = 25;

/// The day of first green at each of those paces.
type Reached = [Option<i32>; PACES];

fn pace_at(rank: usize) -> f64 {
    0.1 * (rank as f64 - (PACES / 2) as f64)
}

/// When a tree of a pace breaks, by the days kept for the paces beside it.
fn broken_at(reached: &Reached, pace: f64) -> Option<i32> {
    let at = (pace / 0.1 + (PACES / 2) as f64).clamp(0.0, (PACES - 1) as f64);
    let (low, part) = (at as usize, at.fract());
    let first = reached[low]?;
    let next = reached.get(low + 1).copied().flatten().unwrap_or(first);
    Some(first + (part * f64::from(next - first)).round() as i32)
}

/// The day between the last look short of first green and the first one past it.
fn dated(looks: &[Evidence]) -> Option<i32> {
    let past = looks.iter().filter(|look| look.stage >= Stage::Breaking).map(|look| look.day).min()?;
    let short = looks.iter().filter(|look| look.stage < Stage::Breaking && look.day < past);
    let short = short.map(|look| look.day).max()?;
    (past - short <= DATED).then_some(short + (past - short + 1) / 2)
}

/// What is known of a tree before its own looks of this season.
#[derive(Clone, Debug, PartialEq)]
pub struct Taught {
    /// Its pace this season, by everything but its own looks of this season.
    pub before: Pace,
    /// What each of its past seasons said, newest first.
    pub past: Vec<PastSeason>,
    /// Pace that its place lends to all of its trees.
    pub site: Pace,
    /// Other trees looked at, this season and in past ones.
    pub others: usize,
}

/// Pace of trees in pots in one place before any look: pots and young trees seemed to need about three quarters of what trees in the
/// ground do, at two places (0.65 to 0.85, age in it too); half of that is taken, with a spread that holds both.
pub const POT: Pace = Pace { mean: -0.14, sd: 0.2 };

/// Least spread of a kind's level beside those of tree and spring, log of need; our estimate.
const LEAST: f64 = 0.1;

/// Share of a season's weight that is left after each further year; our estimate.
const KEPT_A_YEAR: f64 = 0.85;

/// Share of a season's weight that is left once the tree has been repotted or pruned hard; our estimate.
const KEPT_AT_REPOT: f64 = 0.5;

/// Seasons remembered: older ones misled in the reference computation (`dormancy.md` section 7).
const MEMORY: u32 = 8;

/// Spread that a place where no bud was ever looked at adds, log of need: some two days; our estimate.
const NEVER_LOOKED: f64 = 0.08;

/// Least that a look must tell for it to count: the spread of its pace under this many times that before it.
const TELLS: f64 = 0.995;

/// The spread of a kind's level beside those of its trees and springs, which a fitted need holds too.
pub(crate) fn kind_sd(needs: &Needs, levels: &Levels) -> f64 {
    let within =
        levels.tree.powi(2) + levels.year.powi(2) + levels.kind_year.powi(2) + levels.tree_year.powi(2);
    (needs.log_sd.powi(2) - within).max(LEAST * LEAST).sqrt()
}

/// What looks say of a pace, apart from what was thought before: none where they say next to nothing.
pub(crate) fn told(waking: &Waking, prior: Pace, looks: &[Evidence]) -> Option<Pace> {
    let (before, after) = (tailed(prior), pace_seen(waking, prior, looks));
    if after.sd > TELLS * before.sd {
        return None;
    }
    let [was, is] = [before.sd, after.sd.max(1e-3)].map(|sd| 1.0 / (sd * sd));
    let certainty = is - was;
    Some(Pace { mean: (after.mean * is - before.mean * was) / certainty, sd: certainty.sqrt().recip() })
}

/// What each tree was taught; none for kinds without a winter rest.
pub fn taught(outlook: &mut Outlook<'_>, trees: &[TreeFacts<'_>]) -> Vec<Option<Taught>> {
    let (winter, today) = (outlook.ground.winter, outlook.ground.today);
    let mut kinds: Vec<Pace> = Vec::new();
    let mut rank: HashMap<&str, usize> = HashMap::new();
    // Trees that rest, by their place in the list.
    let resting: Vec<(usize, &'static Needs)> = trees
        .iter()
        .enumerate()
        .filter_map(|(at, tree)| Some((at, Needs::of(tree.taxon.key).filter(|_| tree.taxon.kind.rests())?)))
        .collect();
    let kind_of: Vec<usize> = resting
        .iter()
        .map(|(_, needs)| {
            *rank.entry(needs.name).or_insert_with(|| {
                kinds.push(Pace { mean: 0.0, sd: kind_sd(needs, &POTS) });
                kinds.len() - 1
            })
        })
        .collect();
    let (mut seen, mut pasts, mut looked) = (Vec::new(), vec![Vec::new(); resting.len()], HashSet::new());
    let mut by_tree = vec![0_usize; resting.len()];
    let mut reached: Vec<Vec<Reached>> = vec![Vec::new(); resting.len()];
    for (own, (at, needs)) in resting.iter().enumerate() {
        let tree = &trees[*at];
        let prior = alone(needs);
        let now = looks_of(outlook, tree, winter, today);
        if !now.is_empty() {
            let waking = outlook.waking(tree);
            seen.extend(waking.and_then(|waking| told(&waking, prior, &now)).map(|it| Seen {
                tree: own,
                years_ago: 0,
                residual: it.mean,
                sd: it.sd,
                weight: 1.0,
            }));
        }
        for (season, days) in past(outlook, tree, needs, prior) {
            let kept = if season.before_repot { KEPT_AT_REPOT } else { 1.0 };
            seen.push(Seen {
                tree: own,
                years_ago: season.years_ago,
                residual: season.seen.mean,
                sd: season.seen.sd,
                weight: kept * KEPT_A_YEAR.powi(season.years_ago.cast_signed()),
            });
            pasts[own].push(season);
            reached[own].push(days);
        }
        looked.extend(places_looked_at(tree));
        by_tree[own] = usize::from(!now.is_empty() || !pasts[own].is_empty());
    }
    let of = Collection { site: POT, kinds: &kinds, kind_of: &kind_of };
    tell_past(&of, &seen, &mut pasts, &reached);
    let learned = learn_sturdy(&POTS, &of, &seen);
    let all: usize = by_tree.iter().sum();
    let mut taught = vec![None; trees.len()];
    for (own, (at, _)) in resting.iter().enumerate() {
        let Some(mut before) = learned.paces.get(own).copied() else { continue };
        let stands = trees[*at].moves.last().map(|it| it.1);
        if !stands.is_some_and(|place| looked.contains(&place)) {
            before.sd = before.sd.hypot(NEVER_LOOKED);
        }
        taught[*at] = Some(Taught {
            before,
            past: std::mem::take(&mut pasts[own]),
            site: learned.site,
            others: all - by_tree[own],
        });
    }
    taught
}

/// Tells each past spring by the springs before it alone.
fn tell_past(of: &Collection<'_>, seen: &[Seen], pasts: &mut [Vec<PastSeason>], reached: &[Vec<Reached>]) {
    let mut years: Vec<u32> =
        pasts.iter().flatten().filter(|it| it.broke.is_some()).map(|it| it.years_ago).collect();
    years.sort_unstable();
    years.dedup();
    for year in years {
        let before: Vec<Seen> = seen
            .iter()
            .filter(|it| it.years_ago > year)
            .map(|it| Seen { years_ago: it.years_ago - year, ..*it })
            .collect();
        let told = learn_sturdy(&POTS, of, &before).paces;
        for ((seasons, days), pace) in pasts.iter_mut().zip(reached).zip(told) {
            for (season, days) in seasons.iter_mut().zip(days).filter(|(it, _)| it.years_ago == year) {
                if let Some(broke) = &mut season.broke {
                    broke.told = broken_at(days, pace.mean);
                }
            }
        }
    }
}

/// The pace of a tree of which nothing was ever seen, nor of any other.
pub fn alone(needs: &Needs) -> Pace {
    let Levels { tree, year, kind_year, tree_year } = POTS;
    let of = [POT.sd, kind_sd(needs, &POTS), tree, year, kind_year, tree_year];
    Pace { mean: POT.mean, sd: of.into_iter().fold(0.0, f64::hypot) }
}

/// Its looks of this season that tell of this spring.
fn looks_of(outlook: &Outlook<'_>, tree: &TreeFacts<'_>, winter: Winter, today: i32) -> Vec<Evidence> {
    let known = outlook.ground.first_known..=today;
    let looks = tree.looks.iter().map(|look| evidence(winter, look));
    looks.filter(|look| known.contains(&look.day) && tells_of_spring(look)).collect()
}

/// The places where its buds were ever looked at.
fn places_looked_at<'a>(tree: &'a TreeFacts<'_>) -> impl Iterator<Item = usize> + 'a {
    let stood = |day: Date| tree.moves.iter().rev().find(|it| it.0 <= day).map(|it| it.1);
    tree.looks.iter().filter_map(move |look| stood(look.day))
}

/// What each past season with looks taught of this tree's pace.
fn past(
    outlook: &Outlook<'_>,
    tree: &TreeFacts<'_>,
    needs: &'static Needs,
    prior: Pace,
) -> Vec<(PastSeason, Reached)> {
    let ground = outlook.ground;
    let repot = tree
        .works
        .iter()
        .filter(|work| matches!(work.kind, WorkKind::Repot | WorkKind::HardPrune))
        .map(|work| work.day)
        .filter(|day| *day <= ground.winter.date(ground.today))
        .max();
    let Some(place) = ground.places.first() else { return Vec::new() };
    let mut past = Vec::new();
    for (year, known) in place.past.iter().enumerate() {
        let years_ago: u32 = known.years_ago.unsigned_abs().into();
        let winter = ground.winter.earlier(known.years_ago);
        if years_ago > MEMORY || !known.whole {
            continue;
        }
        let all: Vec<Evidence> = tree
            .looks
            .iter()
            .filter(|look| Winter::holding(look.day, winter.hemisphere) == winter)
            .map(|look| evidence(winter, look))
            .filter(tells_of_spring)
            .collect();
        let looks: Vec<Evidence> = all.iter().copied().filter(|look| look.stage != Stage::Dormant).collect();
        if looks.is_empty() {
            continue;
        }
        let waking = outlook.past_waking(needs, &stays(winter, &tree.moves), year);
        let course = waking.readings.first().and_then(|(_, courses)| courses.first());
        let edge = needs.rungs.edge(Stage::Breaking);
        let days: Reached = std::array::from_fn(|rank| {
            course.and_then(|course| course.day_reaching(edge * pace_at(rank).exp()))
        });
        past.extend(told(&waking, prior, &looks).map(|seen| {
            let broke = dated(&all).map(|seen| Broke { seen, told: None });
            let before_repot = repot.is_some_and(|day| day > winter.date(HORIZON));
            (PastSeason { seen, years_ago, before_repot, broke }, days)
        }));
    }
    past
}
