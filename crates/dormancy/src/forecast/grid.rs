//! The grid over a tree's pace: weighed by looks, and read for dates and chances.

use std::sync::LazyLock;

use measure::stage::Stage;

use super::{
    Course, Evidence, Pace, SURE, Spread, Waking,
    mix::{edge, spread},
};

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

/// The grid of paces with its weights under each reading; all weights add up to 1.
pub(super) struct Posterior {
    pub(super) paces: Vec<f64>,
    pub(super) weights: Vec<Vec<f64>>,
}

impl Posterior {
    /// After this season's looks.
    pub(super) fn of(waking: &Waking, prior: Pace, looks: &[Evidence]) -> Posterior {
        let edges = Edges::of(waking, prior);
        let mut weights: Vec<Vec<f64>> = Vec::with_capacity(waking.readings.len());
        for (share, courses) in &waking.readings {
            let mut own = edges.before.clone();
            for look in looks {
                let x = come(courses, look.day);
                for (at, weight) in own.iter_mut().enumerate() {
                    *weight *= SLIP / 9.0 + (1.0 - SLIP) * edges.seen(at, x, look);
                }
            }
            own.iter_mut().for_each(|weight| *weight *= share);
            weights.push(own);
        }
        let total: f64 = weights.iter().flatten().sum();
        weights.iter_mut().flatten().for_each(|weight| *weight /= total);
        Posterior { paces: edges.paces, weights }
    }

    /// The weights whatever the reading.
    pub(super) fn marginal(&self) -> Vec<f64> {
        (0..self.paces.len()).map(|at| self.weights.iter().map(|weights| weights[at]).sum()).collect()
    }
}

/// The grid of paces, and where a tree of each pace passes each stage.
struct Edges {
    paces: Vec<f64>,
    before: Vec<f64>,
    /// For each stage after hard buds: logarithm of progress at each pace, and its own spread.
    stages: Vec<(Vec<f64>, f64)>,
}

impl Edges {
    fn of(waking: &Waking, prior: Pace) -> Edges {
        let (paces, before, _) = weighed(prior, &[], |_: &(), _| 1.0);
        let stages = waking.rungs.0.iter();
        let stages = stages.map(|rung| (paces.iter().map(|pace| edge(rung, *pace)).collect(), spread(rung)));
        Edges { stages: stages.collect(), paces, before }
    }

    /// Chance that a stage is passed when a middling tree has come to `x`, with a look's noise.
    fn passed(&self, at: usize, x: f64, stage: Stage, noise: f64) -> f64 {
        let Some((edges, sd)) = stage.rank().checked_sub(1).and_then(|rank| self.stages.get(rank)) else {
            return 1.0;
        };
        bell((x - edges[at]) / noise.hypot(*sd).max(1e-3))
    }

    /// Chance of seeing the look's stage at a pace.
    fn seen(&self, at: usize, x: f64, look: &Evidence) -> f64 {
        let high = look.stage.next().map_or(0.0, |next| self.passed(at, x, next, look.noise));
        (self.passed(at, x, look.stage, look.noise) - high).max(0.0)
    }
}

/// The share of the pace's spread that one sure look today is expected to take away, from 0 to 1, and 0 where two readings are open.
///
/// The expectation runs over the stages that may be seen, each with its chance.
pub(super) fn gain_of_look(waking: &Waking, prior: Pace, posterior: &Posterior, today: i32) -> f64 {
    let weights = posterior.marginal();
    let before = moments(&posterior.paces, &weights).sd;
    let Some((_, courses)) = waking.readings.first().filter(|_| before > 0.0) else { return 0.0 };
    let x = come(courses, today);
    let edges = Edges::of(waking, prior);
    let after: f64 = Stage::ALL
        .into_iter()
        .map(|stage| {
            let look = Evidence { day: today, stage, noise: SURE };
            let (mut total, mut first, mut second) = (0.0, 0.0, 0.0);
            for (at, (pace, weight)) in posterior.paces.iter().zip(&weights).enumerate() {
                if *weight < 1e-9 {
                    continue;
                }
                let chance = weight * edges.seen(at, x, &look);
                total += chance;
                first += chance * pace;
                second += chance * pace * pace;
            }
            if total > 1e-12 {
                total * (second / total - (first / total).powi(2)).max(0.0).sqrt()
            } else {
                0.0
            }
        })
        .sum();
    (1.0 - after / before).clamp(0.0, 1.0)
}

/// The cumulative normal, read off a table of 256ths between −6 and 6: it errs by 1e-6 within and by 1e-9 beyond.
pub(crate) fn bell(z: f64) -> f64 {
    static TABLE: LazyLock<Vec<f64>> = LazyLock::new(|| {
        let exact =
            |at: i32| 0.5 * libm::erfc(-(f64::from(at) / 256.0 - 6.0) * std::f64::consts::FRAC_1_SQRT_2);
        (0..=12 * 256 + 1).map(exact).collect()
    });
    if z.is_nan() || z <= -6.0 {
        return 0.0;
    }
    if z >= 6.0 {
        return 1.0;
    }
    let x = (z + 6.0) * 256.0;
    let rank = x as usize;
    TABLE[rank] + (TABLE[rank + 1] - TABLE[rank]) * (x - rank as f64)
}

pub(super) fn moments(paces: &[f64], weights: &[f64]) -> Pace {
    let mean: f64 = paces.iter().zip(weights).map(|(v, w)| v * w).sum();
    let variance: f64 = paces.iter().zip(weights).map(|(v, w)| (v - mean).powi(2) * w).sum();
    Pace { mean, sd: variance.sqrt() }
}

/// Progress below which a bud is taken to have come nowhere.
const LEAST: f64 = 1e-3;

/// Logarithm of how far a middling tree has come by a day that all courses know alike.
pub(super) fn come(courses: &[Course], day: i32) -> f64 {
    courses.first().map_or(0.0, |course| course.on(day)).max(LEAST).ln()
}

/// Chance of a stage as seen or further on, or as seen or less far, under which a look surprises; our choice.
const SURPRISED: f64 = 0.01;

/// Whether a look is one that the pace before it all but rules out.
pub(super) fn surprises(waking: &Waking, prior: Pace, look: &Evidence) -> bool {
    let edges = Edges::of(waking, prior);
    let total: f64 = edges.before.iter().sum();
    let passed = |stage: Stage| -> f64 {
        let of = |(share, courses): &(f64, Vec<Course>)| {
            let x = come(courses, look.day);
            let by = |(at, weight): (usize, &f64)| weight * edges.passed(at, x, stage, look.noise);
            share * edges.before.iter().enumerate().map(by).sum::<f64>() / total
        };
        waking.readings.iter().map(of).sum()
    };
    let further = if look.stage == Stage::Dormant { 1.0 } else { passed(look.stage) };
    let less = 1.0 - look.stage.next().map_or(0.0, passed);
    further < SURPRISED || less < SURPRISED
}

/// The grid of paces, weighed by the chance of each look at a pace; and how well the look that fits worst is explained at best.
pub(crate) fn weighed<L>(
    prior: Pace,
    looks: &[L],
    seen: impl Fn(&L, f64) -> f64,
) -> (Vec<f64>, Vec<f64>, f64) {
    let step = 2.0 * REACH / (POINTS - 1) as f64;
    let scores: Vec<f64> = (0..POINTS).map(|point| -REACH + step * point as f64).collect();
    let paces: Vec<f64> = scores.iter().map(|score| prior.mean + prior.sd * score).collect();
    let mut weights: Vec<f64> =
        scores.iter().map(|z| (1.0 + z * z / TAIL).powf(-0.5 * (TAIL + 1.0))).collect();
    let mut best_fit = 1.0_f64;
    for look in looks {
        let mut best = 0.0_f64;
        for (pace, weight) in paces.iter().zip(&mut weights) {
            let seen = seen(look, *pace);
            best = best.max(seen);
            *weight *= SLIP / 9.0 + (1.0 - SLIP) * seen;
        }
        best_fit = best_fit.min(best);
    }
    let total: f64 = weights.iter().sum();
    weights.iter_mut().for_each(|weight| *weight /= total);
    (paces, weights, best_fit)
}

/// Quantiles of the passing day over courses and paces, and the share that never passes.
///
/// The chance that the stage is passed by a day is the mean over the courses of the weight of all paces quick
/// enough; it never falls from day to day, so each quantile is found by halving.
pub(crate) fn passing(
    courses: &[Course],
    share: f64,
    paces: &[f64],
    cumulative: &[f64],
) -> (Option<Spread>, f64) {
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
    quantiles(first, last, passed_by)
}

/// One in ten, the middle and nine in ten of a chance that rises from day to day, and what is left of it on the last.
pub(super) fn quantiles(first: i32, last: i32, passed_by: impl Fn(i32) -> f64) -> (Option<Spread>, f64) {
    let reached = passed_by(last);
    let missed = (1.0 - reached).max(0.0);
    if missed > 0.5 {
        return (None, missed);
    }
    let quantile = |p: f64, from: i32| {
        let (mut low, mut high) = (from, last);
        while low < high {
            let middle = low + (high - low) / 2;
            if passed_by(middle) >= p * reached { high = middle } else { low = middle + 1 }
        }
        low
    };
    let early = quantile(0.1, first);
    let middle = quantile(0.5, early);
    (Some(Spread { early, middle, late: quantile(0.9, middle) }), missed)
}
