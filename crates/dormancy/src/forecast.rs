//! The question the room exists to answer: on which days will this tree pass each bud stage?

use measure::stage::Stage;

use crate::ladder::{LADDER, share};

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
    fn on(&self, day: i32) -> f64 {
        let at = (day - self.first_day).max(0) as usize;
        self.progress.get(at).or(self.progress.last()).copied().unwrap_or(0.0)
    }

    /// First day on which progress is at least `level`.
    pub fn day_reaching(&self, level: f64) -> Option<i32> {
        let at = self.progress.partition_point(|&progress| progress < level);
        (at < self.progress.len()).then_some(self.first_day + at as i32)
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

/// Points of the grid over a tree's pace, and how far it reaches in standard deviations.
const POINTS: usize = 201;
const REACH: f64 = 6.0;

/// Degrees of freedom of the pace before looks: heavy tails, so that a sure look overrules a planning figure.
///
/// They also widen an 80 % window by a fifth over a normal pace of the same `sd`. That is widening enough: windows
/// held 82 to 88 of 100 dates of Korean trees in the ground, and with a further factor of 1.15 on the days, which
/// stood here until then, 89 to 91 (`tests/kma_window.rs`).
const TAIL: f64 = 4.0;

/// Chance that a look is plain wrong (mistaken tree, slip of the finger); our estimate.
const SLIP: f64 = 0.01;

/// Fewest courses that carry a spread without a caveat.
const ENOUGH_YEARS: usize = 10;

/// When a tree passes each stage, given the season so far, the years that may follow, its pace and this
/// season's looks.
///
/// ```text
/// passing day of stage s = first d with progress(d) ≥ share(s) · exp(v),   v ~ t₄(pace)
/// P(stage k seen on d | v) = Φ((x − ln share(k))/σ) − Φ((x − ln share(k+1))/σ),   x = ln progress(d) − v
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | v | grid of 201 points over ±6 sd | the tree's pace this season | log of need |
/// | σ | `Evidence::noise` | observer's noise | log of progress |
/// | Φ | `statrs` | cumulative normal | – |
///
/// **Holds** for courses that never fall; days outside a course are read at its ends.
/// **Error** not known for trees in pots. For trees in the ground the window of one in ten to nine in ten held 82
/// of 100 dates told in March from a fit to the same trees' other years, and 83 to 88 from a fit to trees elsewhere.
/// **Source** method: own, from interval-censored regression and Gelman et al., Bayesian Data Analysis.
/// **Checked** windows in `tests/kma_window.rs`, on courses of thermal time; the rest by own rules, in this file.
///
/// # Example
///
/// ```
/// use dormancy::forecast::{Course, Pace, forecast};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let told = forecast(&vec![steady; 12], 40, Pace { mean: 0.0, sd: 0.1 }, &[]);
/// let breaking = told.of(Stage::Breaking).unwrap();
/// assert!(breaking.early < 100 && breaking.late > 100);
/// assert_eq!(breaking.middle, 100);
/// ```
pub fn forecast(courses: &[Course], today: i32, prior: Pace, looks: &[Evidence]) -> Forecast {
    let (looks, slipped) = in_line(looks);
    let looks = &looks[..];
    let (mut paces, mut weights, surprised) = posterior(courses, prior, looks);
    if surprised && let Some(last) = looks.iter().max_by_key(|look| look.day) {
        // Hard buds late in the season only say "not yet"; anything further on says how far.
        let held = if last.stage == Stage::Dormant { prior } else { anchored(courses, last) };
        (paces, weights, _) = posterior(courses, held, &[*last]);
    }
    let now = courses.first().map_or(0.0, |course| course.on(today));
    let mut caveats = Vec::new();
    if courses.len() < ENOUGH_YEARS {
        caveats.push(Caveat::FewYears(courses.len()));
    }
    if looks.is_empty() {
        caveats.push(Caveat::NoLook);
    }
    if slipped {
        caveats.push(Caveat::LooksContradict);
    }
    if surprised {
        caveats.push(Caveat::LooksSurprise);
    }
    let mut sum = 0.0;
    let cumulative: Vec<f64> = weights
        .iter()
        .map(|weight| {
            sum += weight;
            sum
        })
        .collect();
    let mut stages = Vec::with_capacity(8);
    for stage in Stage::ALL.into_iter().skip(1) {
        let (spread, missed) = passing(courses, share(stage), &paces, &cumulative);
        if stage == Stage::GreenTip && missed > 0.1 {
            caveats.push(Caveat::MayNotHappen(missed));
        }
        stages.push((stage, spread.map(|spread| bounded(spread, stage, looks))));
    }
    in_order(&mut stages);
    Forecast {
        stages,
        today: chances(now, &paces, &weights),
        pace: moments(&paces, &weights),
        look_gain: gain_of_look(now, &paces, &weights),
        caveats,
    }
}

/// The pace that looks speak for, on one known course: what a past season taught.
///
/// ```
/// use dormancy::forecast::{Course, Evidence, Pace, pace_seen};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let late = Evidence { day: 120, stage: Stage::Full, noise: 0.05 };
/// assert!(pace_seen(&steady, Pace { mean: 0.0, sd: 0.3 }, &[late]).mean > 0.2);
/// ```
pub fn pace_seen(course: &Course, prior: Pace, looks: &[Evidence]) -> Pace {
    let (paces, weights, _) = posterior(std::slice::from_ref(course), prior, looks);
    moments(&paces, &weights)
}

/// The share of the pace's spread that one sure look today is expected to take away, from 0 to 1.
///
/// The expectation runs over the stages that may be seen, each with its chance.
fn gain_of_look(progress: f64, paces: &[f64], weights: &[f64]) -> f64 {
    let before = moments(paces, weights).sd;
    if before <= 0.0 {
        return 0.0;
    }
    let come = progress.max(LEAST).ln();
    // Chance that each edge between stages is passed, for each pace; neighbours share their edge.
    let mut passed = [1.0; POINTS];
    let mut after = 0.0;
    for stage in Stage::ALL {
        let edge = stage.next().map(|next| share(next).ln());
        let (mut total, mut first, mut second) = (0.0, 0.0, 0.0);
        for ((pace, weight), passed) in paces.iter().zip(weights).zip(&mut passed) {
            let next = edge.map_or(0.0, |edge| bell((come - pace - edge) / SURE));
            let chance = weight * (*passed - next).max(0.0);
            *passed = next;
            total += chance;
            first += chance * pace;
            second += chance * pace * pace;
        }
        if total > 1e-12 {
            after += total * (second / total - (first / total).powi(2)).max(0.0).sqrt();
        }
    }
    (1.0 - after / before).clamp(0.0, 1.0)
}

/// The cumulative normal; beyond six deviations it is taken as 0 or 1, which errs by 1e-9.
fn bell(z: f64) -> f64 {
    match z {
        ..=-6.0 => 0.0,
        6.0.. => 1.0,
        _ => 0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2),
    }
}

fn moments(paces: &[f64], weights: &[f64]) -> Pace {
    let mean: f64 = paces.iter().zip(weights).map(|(v, w)| v * w).sum();
    let variance: f64 = paces.iter().zip(weights).map(|(v, w)| (v - mean).powi(2) * w).sum();
    Pace { mean, sd: variance.sqrt() }
}

/// Noise of a sure look on the logarithm of progress; our estimate.
pub const SURE: f64 = 0.05;

/// Looks with less noise than this bind the calendar too: what was seen has happened, the rest has not; our choice.
const SHARP: f64 = 0.07;

/// A spread held to the last sharp look.
fn bounded(spread: Spread, stage: Stage, looks: &[Evidence]) -> Spread {
    let Some(last) = looks.iter().filter(|look| look.noise < SHARP).max_by_key(|look| look.day) else {
        return spread;
    };
    let hold = |day: i32| if stage <= last.stage { day.min(last.day) } else { day.max(last.day + 1) };
    Spread { early: hold(spread.early), middle: hold(spread.middle), late: hold(spread.late) }
}

/// The looks without those that a later one contradicts: buds do not go back. True where any was left out.
fn in_line(looks: &[Evidence]) -> (Vec<Evidence>, bool) {
    let mut kept: Vec<Evidence> = looks.to_vec();
    kept.sort_by_key(|look| look.day);
    let mut lowest = Stage::Grown;
    for at in (0..kept.len()).rev() {
        if kept[at].stage > lowest {
            kept.remove(at);
        } else {
            lowest = kept[at].stage;
        }
    }
    let slipped = kept.len() < looks.len();
    (kept, slipped)
}

/// Holds each stage's dates at or after those of the stage before.
fn in_order(stages: &mut [(Stage, Option<Spread>)]) {
    let mut before: Option<Spread> = None;
    for spread in stages.iter_mut().filter_map(|(_, spread)| spread.as_mut()) {
        if let Some(before) = before {
            spread.early = spread.early.max(before.early);
            spread.middle = spread.middle.max(before.middle);
            spread.late = spread.late.max(before.late);
        }
        spread.middle = spread.middle.max(spread.early);
        spread.late = spread.late.max(spread.middle);
        before = Some(*spread);
    }
}

/// Spread of a pace read off a single look that no likely pace explains; our estimate.
const ANCHORED: f64 = 0.15;

/// Progress below which a bud is taken to have come nowhere.
const LEAST: f64 = 1e-3;

/// The pace at which the tree stands in the middle of the stage seen: the grower's eye overrules the figures.
fn anchored(courses: &[Course], look: &Evidence) -> Pace {
    let progress = courses.first().map_or(0.0, |course| course.on(look.day)).max(LEAST);
    let low = share(look.stage).max(0.3);
    let high = look.stage.next().map_or(low * 1.2, share);
    Pace { mean: (progress / (low * high).sqrt()).ln(), sd: ANCHORED }
}

/// The grid of paces with its weights after the looks, and whether the looks surprise.
fn posterior(courses: &[Course], prior: Pace, looks: &[Evidence]) -> (Vec<f64>, Vec<f64>, bool) {
    let step = 2.0 * REACH / (POINTS - 1) as f64;
    let scores: Vec<f64> = (0..POINTS).map(|point| -REACH + step * point as f64).collect();
    let paces: Vec<f64> = scores.iter().map(|score| prior.mean + prior.sd * score).collect();
    let mut weights: Vec<f64> =
        scores.iter().map(|z| (1.0 + z * z / TAIL).powf(-0.5 * (TAIL + 1.0))).collect();
    let mut best_fit = 1.0_f64;
    for look in looks {
        let progress = courses.first().map_or(0.0, |course| course.on(look.day));
        let mut best = 0.0_f64;
        for (pace, weight) in paces.iter().zip(&mut weights) {
            let seen = seen(progress, *pace, look);
            best = best.max(seen);
            *weight *= SLIP / 9.0 + (1.0 - SLIP) * seen;
        }
        best_fit = best_fit.min(best);
    }
    let total: f64 = weights.iter().sum();
    weights.iter_mut().for_each(|weight| *weight /= total);
    (paces, weights, best_fit < 0.05)
}

/// Chance of seeing the look's stage if the tree keeps this pace.
fn seen(progress: f64, pace: f64, look: &Evidence) -> f64 {
    let x = progress.max(LEAST).ln() - pace;
    let passed = |stage: Stage| bell((x - share(stage).ln()) / look.noise.max(1e-3));
    let low = if look.stage == Stage::Dormant { 1.0 } else { passed(look.stage) };
    let high = look.stage.next().map_or(0.0, passed);
    (low - high).max(0.0)
}

/// Quantiles of the passing day over courses and paces, and the share that never passes.
///
/// The chance that the stage is passed by a day is the mean over the courses of the weight of all paces quick
/// enough; it never falls from day to day, so each quantile is found by halving.
fn passing(courses: &[Course], share: f64, paces: &[f64], cumulative: &[f64]) -> (Option<Spread>, f64) {
    let Some(first) = courses.iter().map(|course| course.first_day).min() else { return (None, 1.0) };
    let end = courses.iter().map(|course| course.first_day + course.progress.len() as i32).max();
    let last = end.unwrap_or(first) - 1;
    let edge = share.ln();
    let (slowest, step) = (paces[0], paces[1] - paces[0]);
    let passed_by = |day: i32| {
        // A pace that just suffices must not be lost to rounding.
        let quick = |course: &Course| match ((course.on(day).ln() - edge - slowest) / step + 1e-9).floor() {
            rank if rank < 0.0 => 0.0,
            rank => cumulative[(rank as usize).min(cumulative.len() - 1)],
        };
        courses.iter().map(quick).sum::<f64>() / courses.len() as f64
    };
    let reached = passed_by(last);
    let missed = (1.0 - reached).max(0.0);
    if missed > 0.5 {
        return (None, missed);
    }
    let quantile = |p: f64| {
        let (mut low, mut high) = (first, last);
        while low < high {
            let middle = low + (high - low) / 2;
            if passed_by(middle) >= p * reached { high = middle } else { low = middle + 1 }
        }
        low
    };
    (Some(Spread { early: quantile(0.1), middle: quantile(0.5), late: quantile(0.9) }), missed)
}

/// Chance of each stage when a middling tree has come this far.
fn chances(progress: f64, paces: &[f64], weights: &[f64]) -> [f64; 9] {
    let mut chances = [0.0; 9];
    for (pace, weight) in paces.iter().zip(weights) {
        let own = progress.max(LEAST) / pace.exp();
        let rank = LADDER.iter().rposition(|&(_, share)| own >= share).map_or(0, |at| at + 1);
        chances[rank] += weight;
    }
    chances
}

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

    fn width(spread: Spread) -> i32 {
        spread.late - spread.early
    }

    #[test]
    fn stages_come_in_their_order() {
        let told = forecast(&years(), 60, PRIOR, &[]);
        let middles: Vec<i32> =
            told.stages.iter().filter_map(|(_, spread)| spread.map(|s| s.middle)).collect();
        assert!(middles.windows(2).all(|pair| pair[0] <= pair[1]), "{middles:?}");
        assert!(middles.len() >= 6);
    }

    #[test]
    fn a_look_at_full_buds_brings_the_day_forward_and_narrows_it() {
        let before = forecast(&years(), 60, PRIOR, &[]);
        let look = Evidence { day: 60, stage: Stage::Full, noise: 0.05 };
        let after = forecast(&years(), 60, PRIOR, &[look]);
        let (was, is) = (before.of(Stage::GreenTip).unwrap(), after.of(Stage::GreenTip).unwrap());
        assert!(is.middle < was.middle, "{was:?} {is:?}");
        assert!(width(is) < width(was), "{was:?} {is:?}");
        assert!(after.pace.mean < 0.0);
    }

    #[test]
    fn a_look_at_hard_buds_puts_the_day_back() {
        let look = Evidence { day: 60, stage: Stage::Dormant, noise: 0.05 };
        let (before, after) = (forecast(&years(), 60, PRIOR, &[]), forecast(&years(), 60, PRIOR, &[look]));
        assert!(after.of(Stage::Full).unwrap().middle > before.of(Stage::Full).unwrap().middle);
    }

    #[test]
    fn today_adds_up_to_one() {
        let told = forecast(&years(), 60, PRIOR, &[]);
        assert!((told.today.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_look_that_cannot_be_says_so_and_gives_an_answer() {
        let look = Evidence { day: 5, stage: Stage::Grown, noise: 0.05 };
        let told = forecast(&years(), 60, PRIOR, &[look]);
        assert!(told.caveats.contains(&Caveat::LooksSurprise));
        assert!(told.window().is_some());
        assert_eq!(told.stage_today(), Stage::Grown);
    }

    #[test]
    fn a_season_too_cold_to_wake_says_so_instead_of_a_date() {
        let cold = Course { first_day: 1, progress: vec![0.3; 200] };
        let told = forecast(&vec![cold; 12], 60, PRIOR, &[]);
        assert_eq!(told.window(), None);
        assert!(
            told.caveats.iter().any(|caveat| matches!(caveat, Caveat::MayNotHappen(share) if *share > 0.9))
        );
    }

    #[test]
    fn few_years_are_owned_up_to() {
        let told = forecast(&years()[..3], 60, PRIOR, &[]);
        assert!(told.caveats.contains(&Caveat::FewYears(3)));
    }
}
