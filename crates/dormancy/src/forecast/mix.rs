//! Where one stage may lie: the tree's pace and the spread of the stage itself, weighed by the looks on either side of it.

use measure::stage::Stage;

use super::{
    Course, Evidence, Spread, Waking,
    grid::{Posterior, bell},
};
use crate::ladder::Rung;

/// Steps of a normal, in standard deviations, and their weights: they sum to 1 and keep the variance within 1 %.
const STEPS: [(f64, f64); 7] = [
    (-2.322, 0.0240),
    (-1.548, 0.0978),
    (-0.774, 0.2275),
    (0.0, 0.3014),
    (0.774, 0.2275),
    (1.548, 0.0978),
    (2.322, 0.0240),
];

/// Bins of the logarithm of the progress at which a stage is passed.
const BINS: usize = 256;

/// Chances that a stage is passed by a progress, for each reading.
pub(super) struct Mix {
    low: f64,
    step: f64,
    /// For each reading, the weight of all bins up to one; the last bins of all readings add up to 1.
    by_reading: Vec<Vec<f64>>,
}

/// Logarithm of the progress at which a tree of this pace passes a stage in its middle.
pub(super) fn edge(rung: &Rung, pace: f64) -> f64 {
    if rung.added == 0.0 { pace + rung.share.ln() } else { (rung.share * pace.exp() + rung.added).ln() }
}

/// Spread of that logarithm for one tree.
pub(super) fn spread(rung: &Rung) -> f64 {
    if rung.added == 0.0 { rung.sd } else { rung.sd * rung.added / (rung.share + rung.added) }
}

impl Mix {
    /// Weighs a stage by the posterior of the pace, and by the last look that was short of it and the first that was past it.
    pub(super) fn of(waking: &Waking, posterior: &Posterior, rung: &Rung, looks: &[Evidence]) -> Mix {
        let sd = spread(rung);
        let edges: Vec<f64> = posterior.paces.iter().map(|pace| edge(rung, *pace)).collect();
        let (low, high) = (edges[0] - 2.5 * sd, edges[edges.len() - 1] + 2.5 * sd);
        let step = ((high - low) / (BINS - 2) as f64).max(1e-9);
        let short = looks.iter().rev().find(|look| look.stage < rung.stage);
        let past = looks.iter().find(|look| look.stage >= rung.stage);
        let by_reading = waking.readings.iter().zip(&posterior.weights).map(|((_, courses), weights)| {
            let come = |look: &Evidence| (super::grid::come(courses, look.day), look.noise.max(1e-3));
            let (short, past) = (short.map(come), past.map(come));
            let mut bins = vec![0.0; BINS];
            let mut put = |at: f64, weight: f64| {
                let x = (at - low) / step;
                let rank = (x as usize).min(BINS - 2);
                let part = (x - rank as f64).clamp(0.0, 1.0);
                bins[rank] += weight * (1.0 - part);
                bins[rank + 1] += weight * part;
            };
            for (edge, weight) in edges.iter().zip(weights).filter(|(_, weight)| **weight > 1e-12) {
                if sd == 0.0 {
                    put(*edge, *weight);
                    continue;
                }
                let mut own = STEPS.map(|(z, share)| (edge + sd * z, share));
                if short.is_some() || past.is_some() {
                    let mut total = 0.0;
                    for (at, share) in &mut own {
                        *share *= short.map_or(1.0, |(x, noise)| bell((*at - x) / noise))
                            * past.map_or(1.0, |(x, noise)| bell((x - *at) / noise));
                        total += *share;
                    }
                    if total > 1e-9 {
                        own.iter_mut().for_each(|(_, share)| *share /= total);
                    } else {
                        own = STEPS.map(|(z, share)| (edge + sd * z, share));
                    }
                }
                own.iter().for_each(|(at, share)| put(*at, weight * share));
            }
            super::running(&bins)
        });
        Mix { low, step, by_reading: by_reading.collect() }
    }

    /// Chance under one reading, times that reading's weight, that the stage is passed at a progress.
    fn passed_at(&self, reading: usize, log_progress: f64) -> f64 {
        let sums = &self.by_reading[reading];
        let x = (log_progress - self.low) / self.step;
        if x <= 0.0 {
            return 0.0;
        }
        let rank = x as usize;
        match (sums.get(rank), sums.get(rank + 1)) {
            (Some(here), Some(next)) => here + (next - here) * (x - rank as f64),
            _ => sums[sums.len() - 1],
        }
    }

    /// Chance that the stage is passed by a day, over all readings and courses.
    pub(super) fn passed_by(&self, waking: &Waking, day: i32) -> f64 {
        let of = |(reading, (_, courses)): (usize, &(f64, Vec<Course>))| {
            // A pace that just suffices must not be lost to rounding.
            let quick = |course: &Course| self.passed_at(reading, course.on(day).max(1e-12).ln() + 1e-9);
            courses.iter().map(quick).sum::<f64>() / courses.len() as f64
        };
        waking.readings.iter().enumerate().map(of).sum()
    }

    /// Chance that it is passed on a day that all courses of a reading know alike.
    pub(super) fn passed_today(&self, waking: &Waking, day: i32) -> f64 {
        let of = |(reading, (_, courses)): (usize, &(f64, Vec<Course>))| {
            self.passed_at(reading, super::grid::come(courses, day))
        };
        waking.readings.iter().enumerate().map(of).sum()
    }

    /// Quantiles of the passing day, and the chance that the season ends first.
    pub(super) fn passing(&self, waking: &Waking) -> (Option<Spread>, f64) {
        let courses = || waking.readings.iter().flat_map(|(_, courses)| courses);
        let Some(first) = courses().map(|course| course.first_day).min() else { return (None, 1.0) };
        let end = courses().map(|course| course.first_day + course.progress.len() as i32).max();
        let last = end.unwrap_or(first) - 1;
        super::grid::quantiles(first, last, |day| self.passed_by(waking, day))
    }
}

/// Chance of each stage on a day: those passed less those passed further.
pub(super) fn chances(waking: &Waking, mixes: &[Mix], day: i32) -> [f64; 9] {
    let mut chances = [0.0; 9];
    let mut reached = 1.0;
    for (rank, mix) in mixes.iter().enumerate() {
        let further = mix.passed_today(waking, day).min(reached);
        chances[rank] = reached - further;
        reached = further;
    }
    chances[Stage::Grown.rank()] = reached;
    chances
}
