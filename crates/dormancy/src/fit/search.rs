//! The search all fits share: a coarse grid, a polish of its best, and a blend of all that explain the springs.

use crate::{
    fit::{Fitted, dice::Dice, springs::Springs},
    model::{Model, WarmCurve},
};

/// A model tried on the springs.
#[derive(Clone, Copy)]
pub(super) struct Candidate {
    pub model: Model,
    /// Sum of squared errors in whole days.
    pub error: f64,
    /// Logarithm of how likely it was held before the springs were seen.
    pub lean: f64,
}

/// A family of models that can be searched.
pub(super) trait Family {
    /// Tries the coarse grid; `keep` takes a candidate and answers with the error beyond which none is wanted.
    fn grid(&self, springs: &Springs, leaning: &Leaning, keep: &mut dyn FnMut(Candidate) -> f64);

    /// A neighbour of a model; its need is left to the springs.
    fn nudged(&self, model: &Model, dice: &mut Dice, reach: f64) -> Model;

    /// A model with the need that suits the springs; none when its error passes `limit`.
    fn tried(&self, springs: &Springs, leaning: &Leaning, model: &Model, limit: f64) -> Option<Candidate>;
}

/// What is held likely before the springs are seen: wide bells, own estimates.
pub(super) struct Leaning {
    opening: f64,
}

impl Leaning {
    /// Warmth begins to count about two months before the stage.
    pub(super) fn opening(&self, day: f64) -> f64 {
        bell(day, self.opening, 30.0)
    }

    /// Degrees above about 3 °C count.
    pub(super) fn base(&self, base: f64) -> f64 {
        bell(base, 3.0, 3.0)
    }

    /// Curves rise about 10 °C, by about a tenth of their height a degree.
    pub(super) fn curve(&self, curve: WarmCurve) -> f64 {
        bell(curve.middle, 10.0, 6.0) + bell((-curve.slope).ln(), 0.3_f64.ln(), 0.7)
    }

    /// The warmth needed falls by about 3 % with a day of cold.
    pub(super) fn decay(&self, decay: f64) -> f64 {
        bell((-decay).ln(), 0.03_f64.ln(), 0.7)
    }
}

fn bell(x: f64, middle: f64, width: f64) -> f64 {
    -0.5 * ((x - middle) / width).powi(2)
}

/// Days between the middle of the leaning and the mean of the observed days.
const LEAD: f64 = 60.0;

/// Weight of the leaning in the blend; own, chosen with [`CAUTION`].
const LEAN: f64 = 0.3;

/// How much of a spring counts as evidence: springs are not independent and no model is right. Own, chosen on
/// years left out in turn of the ten visible series (those of `tests/vaccinium_fit.rs` and `tests/kma_fit.rs`
/// among them); from 0.25 to 0.7 and leaning 0.3 to 1 the mean error over them changes by 2 %.
const CAUTION: f64 = 0.35;

/// Members of a blend.
const MEMBERS: usize = 64;

/// Candidates that weigh less than this against the best have no part in the blend.
const LIGHT: f64 = 3e-3;

/// Seed of the polish; any other would do.
const SEED: u64 = 20;

/// From twice so many springs on the polish is longer, for the grid alone then settles less.
const MANY: usize = 100;

/// How much polishing a family is worth.
#[derive(Clone, Copy)]
pub(super) struct Effort {
    /// Candidates polished.
    pub best: usize,
    /// Steps for each.
    pub steps: usize,
}

/// Grid, polish and blend.
pub(super) fn search(family: &dyn Family, springs: &Springs, effort: Effort) -> Option<Fitted> {
    let leaning = Leaning { opening: springs.mean_day() - LEAD };
    let rounding = springs.trees / 12.0;
    let power = 0.5 * CAUTION * springs.years.len() as f64;
    let worth = LIGHT.powf(-1.0 / power);
    let mut candidates: Vec<Candidate> = Vec::new();
    let mut least = f64::INFINITY;
    family.grid(springs, &leaning, &mut |candidate| {
        least = least.min(candidate.error);
        candidates.push(candidate);
        worth * (least + rounding)
    });
    candidates.retain(|candidate| candidate.error <= worth * (least + rounding));
    polish(family, springs, &leaning, effort, &mut candidates);
    let best = candidates.iter().min_by(|a, b| a.error.total_cmp(&b.error))?;
    let blend = blend(&candidates, best.error, rounding, power);
    Some(Fitted { model: best.model, rmse: (best.error / springs.trees).sqrt(), blend })
}

/// Steps from the best candidates, shorter and shorter; where they lead becomes one candidate more.
fn polish(
    family: &dyn Family,
    springs: &Springs,
    leaning: &Leaning,
    effort: Effort,
    candidates: &mut Vec<Candidate>,
) {
    let mut dice = Dice::new(SEED);
    let best = effort.best.min(candidates.len());
    if best == 0 {
        return;
    }
    candidates.select_nth_unstable_by(best - 1, |a, b| a.error.total_cmp(&b.error));
    let steps = effort.steps * (springs.years.len() / MANY).clamp(1, 3);
    for from in 0..best {
        let mut here = candidates[from];
        for step in 0..steps {
            let reach = (1.0 - step as f64 / steps as f64).powi(2).max(0.02);
            let neighbour = family.nudged(&here.model, &mut dice, reach);
            let tried = family.tried(springs, leaning, &neighbour, 1.2 * here.error);
            if let Some(tried) = tried.filter(|tried| tried.error <= here.error) {
                here = tried;
            }
        }
        candidates.push(here);
    }
}

/// Members drawn evenly by weight, so that a model may stand more than once.
///
/// ```text
/// weight = ((S + N/12)/(S₀ + N/12))^(−c n/2) · leaning^l
/// ```
///
/// S squared errors, S₀ their least, N trees (1/12 day² each for whole days), n springs, c and l constants here:
/// the posterior of normal errors of unknown spread, made cautious.
fn blend(candidates: &[Candidate], least: f64, rounding: f64, power: f64) -> Vec<Model> {
    let weight = |candidate: &Candidate| {
        let ratio = (candidate.error + rounding) / (least + rounding);
        (LEAN * candidate.lean - power * ratio.ln()).exp()
    };
    let total: f64 = candidates.iter().map(weight).sum();
    let mut sum = 0.0;
    let mut members = Vec::with_capacity(MEMBERS);
    for candidate in candidates {
        sum += weight(candidate) / total * MEMBERS as f64;
        while (members.len() as f64) + 0.5 < sum {
            members.push(candidate.model);
        }
    }
    members
}
