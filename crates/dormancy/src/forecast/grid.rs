//! The grid over a tree's pace: weighed by looks, and read for dates and chances.

use measure::stage::Stage;

use super::{Course, Evidence, Pace, SURE, Spread};
use crate::ladder::{LADDER, share};

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

/// The share of the pace's spread that one sure look today is expected to take away, from 0 to 1.
///
/// The expectation runs over the stages that may be seen, each with its chance.
pub(super) fn gain_of_look(progress: f64, paces: &[f64], weights: &[f64]) -> f64 {
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
pub(crate) fn bell(z: f64) -> f64 {
    match z {
        ..=-6.0 => 0.0,
        6.0.. => 1.0,
        _ => 0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2),
    }
}

pub(super) fn moments(paces: &[f64], weights: &[f64]) -> Pace {
    let mean: f64 = paces.iter().zip(weights).map(|(v, w)| v * w).sum();
    let variance: f64 = paces.iter().zip(weights).map(|(v, w)| (v - mean).powi(2) * w).sum();
    Pace { mean, sd: variance.sqrt() }
}

/// Progress below which a bud is taken to have come nowhere.
const LEAST: f64 = 1e-3;

/// Chance of a stage as seen or further on, or as seen or less far, under which a look surprises; our choice.
const SURPRISED: f64 = 0.01;

/// Whether a look is one that the pace before it all but rules out.
pub(super) fn surprises(courses: &[Course], prior: Pace, look: &Evidence) -> bool {
    let progress = courses.first().map_or(0.0, |course| course.on(look.day)).max(LEAST);
    let (paces, weights, _) = weighed(prior, &[], |_: &(), _| 1.0);
    let passed = |stage: Stage| -> f64 {
        let by = |pace: &f64| bell((progress.ln() - pace - share(stage).ln()) / look.noise.max(1e-3));
        paces.iter().zip(&weights).map(|(pace, weight)| weight * by(pace)).sum()
    };
    let further = if look.stage == Stage::Dormant { 1.0 } else { passed(look.stage) };
    let less = 1.0 - look.stage.next().map_or(0.0, passed);
    further < SURPRISED || less < SURPRISED
}

/// The grid of paces with its weights after the looks, and whether the looks surprise.
pub(super) fn posterior(courses: &[Course], prior: Pace, looks: &[Evidence]) -> (Vec<f64>, Vec<f64>, bool) {
    let progress = |day: i32| courses.first().map_or(0.0, |course| course.on(day));
    let (paces, weights, best) = weighed(prior, looks, |look, pace| seen(progress(look.day), pace, look));
    (paces, weights, best < 0.05)
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
pub(super) fn chances(progress: f64, paces: &[f64], weights: &[f64]) -> [f64; 9] {
    let mut chances = [0.0; 9];
    for (pace, weight) in paces.iter().zip(weights) {
        let own = progress.max(LEAST) / pace.exp();
        let rank = LADDER.iter().rposition(|&(_, share)| own >= share).map_or(0, |at| at + 1);
        chances[rank] += weight;
    }
    chances
}
