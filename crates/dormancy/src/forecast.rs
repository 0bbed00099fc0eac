//! The question the room exists to answer: on which days will this tree pass each bud stage?

pub(crate) mod anew;
pub(crate) mod grid;
mod mix;
mod order;

use measure::stage::Stage;

use crate::ladder::Rungs;
use anew::Anew;
use grid::{Posterior, gain_of_look, moments, surprises};
use mix::{Mix, chances};
use order::{bounded, in_line, in_order, not_before};

/// Heat received against heat needed, day by day, for one possible course of the season.
///
/// It is 1 on the day a middling tree of the taxon breaks bud; it never falls. All courses of one forecast
/// agree up to today, and part afterwards. Compute it once per place and taxon, not once per tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Day number of the first value.
    pub first_day: i32,
    /// Progress at the end of each day.
    pub progress: Vec<f64>,
}

impl Course {
    pub(crate) fn on(&self, day: i32) -> f64 {
        let at = (day - self.first_day).max(0) as usize;
        self.progress.get(at).or(self.progress.last()).copied().unwrap_or(0.0)
    }

    /// First day on which progress is at least `level`.
    pub fn day_reaching(&self, level: f64) -> Option<i32> {
        let at = self.progress.partition_point(|&progress| progress < level);
        (at < self.progress.len()).then_some(self.first_day + at as i32)
    }
}

/// The courses a season may take for one taxon in one place, under each reading of where warmth begins to count, and its stages.
#[derive(Clone, Debug, PartialEq)]
pub struct Waking {
    /// Each reading's weight before any look, and its courses; the weights add up to 1.
    pub readings: Vec<(f64, Vec<Course>)>,
    /// Where its stages lie.
    pub rungs: Rungs,
}

impl Waking {
    /// One reading alone.
    pub fn plain(courses: Vec<Course>, rungs: Rungs) -> Waking {
        Waking { readings: vec![(1.0, courses)], rungs }
    }

    /// How many courses each reading has.
    pub fn courses(&self) -> usize {
        self.readings.first().map_or(0, |(_, courses)| courses.len())
    }
}

/// What is known of a tree's own pace: the logarithm of its need over the taxon's, with its standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Above 0 for a tree that wakes late.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
}

/// A bud look as evidence: on this day the buds showed this stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// Day number.
    pub day: i32,
    /// What was seen.
    pub stage: Stage,
    /// Observer's noise, as standard deviation of the logarithm of progress.
    pub noise: f64,
}

/// Three dates that hold a stage's passing day: one in ten is earlier, one in ten is later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// One chance in ten that it is earlier.
    pub early: i32,
    /// As likely before as after.
    pub middle: i32,
    /// One chance in ten that it is later.
    pub late: i32,
}

/// What weakens a forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Caveat {
    /// Fewer courses than a spread of years needs.
    FewYears(usize),
    /// No bud look this season.
    NoLook,
    /// In this share of the courses the stage is not reached before the season ends.
    MayNotHappen(f64),
    /// The looks contradict the forecast: even the best pace explains them badly.
    LooksSurprise,
    /// A look says that buds went back; the looks that came later were believed.
    LooksContradict,
    /// The last look saw this stage, further on than the one told for today.
    BehindLook(Stage),
}

/// When a tree passes each stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// One entry per stage after dormant; none where the stage is reached in too few courses to say.
    pub stages: Vec<(Stage, Option<Spread>)>,
    /// Chance of each stage today, in the order of [`Stage::ALL`].
    pub today: [f64; 9],
    /// The tree's pace after this season's looks.
    pub pace: Pace,
    /// Share of the pace's spread that one sure look today is expected to take away.
    pub look_gain: f64,
    /// What weakens it.
    pub caveats: Vec<Caveat>,
}

/// The days for root work: buds full but still shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Buds reach full size.
    pub opens: Spread,
    /// Last day before green tips are out.
    pub closes: Spread,
}

impl Forecast {
    /// When a stage is passed.
    pub fn of(&self, stage: Stage) -> Option<Spread> {
        self.stages.iter().find(|(other, _)| *other == stage).and_then(|(_, spread)| *spread)
    }

    /// The most likely stage today.
    pub fn stage_today(&self) -> Stage {
        let best = (0..9).fold(0, |best, rank| if self.today[rank] > self.today[best] { rank } else { best });
        Stage::ALL[best]
    }

    /// The repotting window: from full buds to the day before green tips (common practice, no source).
    pub fn window(&self) -> Option<Window> {
        let closes = self.of(Stage::GreenTip)?;
        let opens = self.of(Stage::Full)?;
        let day_before = Spread {
            early: (closes.early - 1).max(opens.early),
            middle: (closes.middle - 1).max(opens.middle),
            late: (closes.late - 1).max(opens.late),
        };
        Some(Window { opens, closes: day_before })
    }
}

/// Fewest courses that carry a spread without a caveat.
const ENOUGH_YEARS: usize = 10;

/// When a tree passes each stage, given the season so far, the years that may follow, its pace and this
/// season's looks.
///
/// ```text
/// passing day of stage s = first d with progress(d) ≥ t,   t = share(s) · exp(v + ε) before broken buds, exp(v) + added(s) · exp(ε) after
/// v ~ t₄(pace),  ε ~ N(0, spread of s)
/// P(stage k seen on d | v) = Φ((x − ln t(k))/σ) − Φ((x − ln t(k+1))/σ),   x = ln progress(d), σ² = noise² + spread²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | v | grid of 201 points over ±6 sd, under each reading | the tree's pace this season | log of need |
/// | share, added, spread | [`Rungs`] | where the stage lies | share of the need, log |
/// | noise | `Evidence::noise` | observer's noise | log of progress |
/// | Φ | table of `libm` | cumulative normal | – |
///
/// A look whose stage or further, or whose stage or less far, had a chance under 1 in 100 surprises: the season is told from that look on
/// with a wide spread, and the figures before it count no more. A stage behind the last sure or fair look has no chance.
///
/// **Holds** for courses that never fall; days outside a course are read at its ends.
/// **Error** not known for bonsai in pots; by the shipped needs, on trees in the ground, see `VALIDATION.md`.
/// **Source** method: own, from interval-censored regression and Gelman et al., Bayesian Data Analysis.
/// **Checked** `tests/windows.rs`, by the shipped needs; the rest by own rules, in this file.
///
/// # Example
///
/// ```
/// use dormancy::{forecast::{Course, Pace, Waking, forecast}, ladder::Rungs};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let waking = Waking::plain(vec![steady; 12], Rungs::new(270.0, 0.5, 0.73, 0.2));
/// let told = forecast(&waking, 40, Pace { mean: 0.0, sd: 0.1 }, &[]);
/// let breaking = told.of(Stage::Breaking).unwrap();
/// assert!(breaking.early < 100 && breaking.late > 100);
/// assert_eq!(breaking.middle, 100);
/// ```
pub fn forecast(waking: &Waking, today: i32, prior: Pace, looks: &[Evidence]) -> Forecast {
    let (looks, slipped) = in_line(looks);
    let looks = &looks[..];
    let posterior = Posterior::of(waking, prior, looks);
    let last = looks.iter().max_by_key(|look| look.day);
    let anew = last.filter(|look| surprises(waking, prior, look)).map(|look| {
        let begins = waking.rungs.edge(look.stage).max(0.3);
        let ends = look.stage.next().map_or(begins * 1.5, |next| waking.rungs.edge(next));
        let courses: Vec<Course> = waking.readings.iter().flat_map(|(_, courses)| courses).cloned().collect();
        (look, Anew::from(&courses, look.day, [begins, ends]))
    });
    let mixes: Vec<Mix> =
        waking.rungs.0.iter().map(|rung| Mix::of(waking, &posterior, rung, looks)).collect();
    let mut stages = Vec::with_capacity(8);
    let mut may_miss = None;
    for (rung, mix) in waking.rungs.0.iter().zip(&mixes) {
        let stage = rung.stage;
        let (spread, missed) = match &anew {
            Some((look, anew)) if stage > look.stage => anew.passing(waking.rungs.edge(stage)),
            Some((look, _)) => (Some(by_then(mix.passing(waking).0, look.day)), 0.0),
            None => mix.passing(waking),
        };
        if stage == Stage::GreenTip && missed > 0.1 {
            may_miss = Some(Caveat::MayNotHappen(missed));
        }
        stages.push((stage, spread.map(|spread| bounded(spread, stage, looks))));
    }
    in_order(&mut stages);
    let chances = match &anew {
        Some((look, anew)) => told_anew(anew, &waking.rungs, look.stage, today),
        None => chances(waking, &mixes, today),
    };
    let mut told = Forecast {
        stages,
        today: not_before(chances, looks),
        pace: moments(&posterior.paces, &posterior.marginal()),
        look_gain: gain_of_look(waking, prior, &posterior, today),
        caveats: [
            (waking.courses() < ENOUGH_YEARS).then_some(Caveat::FewYears(waking.courses())),
            looks.is_empty().then_some(Caveat::NoLook),
            slipped.then_some(Caveat::LooksContradict),
            anew.is_some().then_some(Caveat::LooksSurprise),
            may_miss,
        ]
        .into_iter()
        .flatten()
        .collect(),
    };
    if let Some(last) = last
        && last.stage > told.stage_today()
    {
        told.caveats.push(Caveat::BehindLook(last.stage));
    }
    told
}

/// A stage that a look found passed: told as it was, but by the day of the look.
fn by_then(told: Option<Spread>, day: i32) -> Spread {
    told.map_or(Spread { early: day, middle: day, late: day }, |it| Spread {
        early: it.early.min(day),
        middle: it.middle.min(day),
        late: it.late.min(day),
    })
}

/// Chance of each stage today of a tree told from its look on.
fn told_anew(anew: &Anew, rungs: &Rungs, seen: Stage, today: i32) -> [f64; 9] {
    let mut chances = [0.0; 9];
    let mut reached = 1.0;
    for stage in Stage::ALL.into_iter().skip(seen.rank()) {
        let further = stage.next().map_or(0.0, |next| anew.passed(rungs.edge(next), today)).min(reached);
        chances[stage.rank()] = reached - further;
        reached = further;
    }
    chances
}

/// When one stage is passed, for a pace told beforehand: the leanest of questions.
///
/// None where it is passed in too few courses to say, and for hard buds.
pub fn passed(waking: &Waking, pace: Pace, stage: Stage) -> Option<Spread> {
    let posterior = Posterior::of(waking, pace, &[]);
    let rung = waking.rungs.of(stage)?;
    Mix::of(waking, &posterior, rung, &[]).passing(waking).0
}

/// Running sums of the weights.
pub(crate) fn running(weights: &[f64]) -> Vec<f64> {
    let mut sum = 0.0;
    let add = |weight: &f64| {
        sum += weight;
        sum
    };
    weights.iter().map(add).collect()
}

/// The pace that looks speak for, on courses that are known: what a season taught.
///
/// ```
/// use dormancy::{forecast::{Course, Evidence, Pace, Waking, pace_seen}, ladder::Rungs};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let known = Waking::plain(vec![steady], Rungs::new(270.0, 0.5, 0.73, 0.1));
/// let late = Evidence { day: 120, stage: Stage::Full, noise: 0.05 };
/// assert!(pace_seen(&known, Pace { mean: 0.0, sd: 0.3 }, &[late]).mean > 0.2);
/// ```
pub fn pace_seen(waking: &Waking, prior: Pace, looks: &[Evidence]) -> Pace {
    let posterior = Posterior::of(waking, prior, looks);
    moments(&posterior.paces, &posterior.marginal())
}

/// The mean and spread that a pace has on the grid before any look: its tails are heavier than a normal's.
pub fn tailed(prior: Pace) -> Pace {
    let (paces, weights, _) = grid::weighed(prior, &[], |_: &(), _| 1.0);
    moments(&paces, &weights)
}

/// Noise of a sure look on the logarithm of progress; our estimate.
pub const SURE: f64 = 0.05;

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve years that agree up to day 60 and then run at different speeds.
    fn years() -> Vec<Course> {
        (0..12)
            .map(|year| {
                let speed = 0.008 + 0.0005 * f64::from(year);
                let progress =
                    (1..=200)
                        .map(|day| {
                            if day <= 60 { 0.01 * f64::from(day) } else { 0.6 + speed * f64::from(day - 60) }
                        })
                        .collect();
                Course { first_day: 1, progress }
            })
            .collect()
    }

    const PRIOR: Pace = Pace { mean: 0.0, sd: 0.12 };

    fn waking(courses: Vec<Course>) -> Waking {
        Waking::plain(courses, Rungs::new(270.0, 0.5, 0.73, 0.1))
    }

    fn width(spread: Spread) -> i32 {
        spread.late - spread.early
    }

    #[test]
    fn stages_come_in_their_order() {
        let told = forecast(&waking(years()), 60, PRIOR, &[]);
        let middles: Vec<i32> =
            told.stages.iter().filter_map(|(_, spread)| spread.map(|s| s.middle)).collect();
        assert!(middles.windows(2).all(|pair| pair[0] <= pair[1]), "{middles:?}");
        assert!(middles.len() >= 6);
    }

    #[test]
    fn a_look_at_full_buds_brings_the_day_forward_and_narrows_it() {
        let before = forecast(&waking(years()), 60, PRIOR, &[]);
        let look = Evidence { day: 60, stage: Stage::Full, noise: 0.05 };
        let after = forecast(&waking(years()), 60, PRIOR, &[look]);
        let (was, is) = (before.of(Stage::GreenTip).unwrap(), after.of(Stage::GreenTip).unwrap());
        assert!(is.middle < was.middle, "{was:?} {is:?}");
        assert!(width(is) < width(was), "{was:?} {is:?}");
        assert!(after.pace.mean < 0.0);
    }

    #[test]
    fn a_look_at_hard_buds_puts_the_day_back() {
        let look = Evidence { day: 60, stage: Stage::Dormant, noise: 0.05 };
        let (before, after) =
            (forecast(&waking(years()), 60, PRIOR, &[]), forecast(&waking(years()), 60, PRIOR, &[look]));
        assert!(after.of(Stage::Full).unwrap().middle > before.of(Stage::Full).unwrap().middle);
    }

    #[test]
    fn today_adds_up_to_one() {
        let told = forecast(&waking(years()), 60, PRIOR, &[]);
        assert!((told.today.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_look_that_cannot_be_says_so_and_gives_an_answer() {
        let look = Evidence { day: 5, stage: Stage::Grown, noise: 0.05 };
        let told = forecast(&waking(years()), 60, PRIOR, &[look]);
        assert!(told.caveats.contains(&Caveat::LooksSurprise));
        assert!(told.window().is_some());
        assert_eq!(told.stage_today(), Stage::Grown);
    }

    #[test]
    fn a_stage_told_behind_the_last_look_says_so() {
        let look = |day, stage, noise| Evidence { day, stage, noise };
        let sure = look(58, Stage::Swelling, 0.02);
        let told = forecast(&waking(years()), 60, PRIOR, &[sure, look(59, Stage::Breaking, 0.6)]);
        assert_eq!(told.stage_today(), Stage::Swelling);
        assert!(told.caveats.contains(&Caveat::BehindLook(Stage::Breaking)));
    }

    #[test]
    fn a_season_too_cold_to_wake_says_so_instead_of_a_date() {
        let cold = Course { first_day: 1, progress: vec![0.3; 200] };
        let told = forecast(&waking(vec![cold; 12]), 60, PRIOR, &[]);
        assert_eq!(told.window(), None);
        assert!(
            told.caveats.iter().any(|caveat| matches!(caveat, Caveat::MayNotHappen(share) if *share > 0.9))
        );
    }

    #[test]
    fn few_years_are_owned_up_to() {
        let told = forecast(&waking(years()[..3].to_vec()), 60, PRIOR, &[]);
        assert!(told.caveats.contains(&Caveat::FewYears(3)));
    }
}
