//! What a tree's own seasons say about it: how many days it runs early or late against the forecast.

use measure::range::{OutOfRange, within};

use crate::forecast::Pace;

/// What one past season taught of a tree's pace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PastSeason {
    /// Logarithm of the tree's need over the taxon's: above 0 where it was later.
    pub residual: f64,
    /// How long ago.
    pub years_ago: u32,
    /// True where the tree was repotted or pruned hard since.
    pub before_repot: bool,
}

/// Spread of one tree's pace from season to season, log of need; our estimate.
const WITHIN: f64 = 0.12;

/// Most seasons remembered; older ones mislead.
const MEMORY: usize = 8;

/// A tree's pace for the coming season, from its past ones.
///
/// ```text
/// w_i = 0.85^years ago · (½ if repotted since)
/// precision = 1/τ² + Σ w_i/σ²,   mean = (m/τ² + Σ w_i r_i/σ²)/precision,   sd² = 1/precision + σ²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | m, τ | `prior` | pace before anything is known of the tree | log of need |
/// | r | `PastSeason::residual` | what a season taught | log of need |
/// | σ | 0.12 | spread of one tree from season to season | log of need |
///
/// **Holds** for seasons newest first; at most eight are used. **Error** not known for trees in pots.
/// **Source** Gelman et al., Bayesian Data Analysis (normal with known variance); discounts and σ are our own.
/// **Checked** the update without discounts in `tests/scores.rs`.
///
/// ```
/// use dormancy::{forecast::Pace, learn::{PastSeason, pace}};
///
/// let late = PastSeason { residual: 0.2, years_ago: 1, before_repot: false };
/// let learned = pace(Pace { mean: 0.0, sd: 0.35 }, &[late, late]);
/// assert!(learned.mean > 0.15 && learned.sd < 0.2);
/// ```
pub fn pace(prior: Pace, seasons: &[PastSeason]) -> Pace {
    if seasons.is_empty() {
        return prior;
    }
    let (tau, sigma) = (prior.sd * prior.sd, WITHIN * WITHIN);
    let (mut precision, mut pull) = (1.0 / tau, prior.mean / tau);
    for season in seasons.iter().take(MEMORY) {
        let half = if season.before_repot { 0.5 } else { 1.0 };
        let weight = half * 0.85_f64.powf(f64::from(season.years_ago)) / sigma;
        precision += weight;
        pull += weight * season.residual;
    }
    Pace { mean: pull / precision, sd: (1.0 / precision + sigma).sqrt().min(prior.sd) }
}

/// What is known of a tree's own offset, late days positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Offset {
    /// Share of the tree's own record in the answer, from 0 (none) towards 1.
    pub weight: f64,
    /// Expected offset, days.
    pub mean: f64,
    /// Variance of the offset, days².
    pub variance: f64,
    /// Variance of the next season's residual, days².
    pub predictive: f64,
    /// Seasons it rests on.
    pub seasons: usize,
}

impl Offset {
    /// Spread of the offset, days.
    pub fn sd(&self) -> f64 {
        self.variance.sqrt()
    }

    /// Spread of the next season's residual, days.
    pub fn predictive_sd(&self) -> f64 {
        self.predictive.sqrt()
    }
}

/// The offset of a tree after seasons that ran `residuals` days late (observed minus forecast).
///
/// ```text
/// w = k/(k + σ²/τ²)    mean = w · r̄    variance = 1/(1/τ² + k/σ²)    predictive = variance + σ²
/// ```
///
/// | symbol | here        | meaning                              | unit |
/// |--------|-------------|--------------------------------------|------|
/// | τ      | `between`   | spread between trees of a species    | day  |
/// | σ      | `within_tree` | spread of one tree between seasons | day  |
/// | r̄, k   | `residuals` | mean and number of seasons           | day  |
/// | w      | `weight`    | share of the tree's own record       | —    |
///
/// **Holds** for normal offsets and residuals; seasons count alike, so leave out those from before a move
/// or repotting and keep the last five to eight.
/// **Error** exact within the assumption.
/// **Source** Gelman et al., Bayesian Data Analysis, normal–normal; Efron & Morris 1975 (shrinkage).
/// **Checked** `tests/scores.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a spread is not over 0 or a residual is not finite.
///
/// # Example
///
/// ```
/// let tree = dormancy::learn::offset(3.0, 3.0, &[4.0, -1.0, 2.0])?;
/// assert_eq!((tree.weight, tree.mean, tree.sd()), (0.75, 1.25, 1.5));
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn offset(between: f64, within_tree: f64, residuals: &[f64]) -> Result<Offset, OutOfRange> {
    const LEAST: f64 = 1e-6;
    const MOST: f64 = 1e6;

    let tau = within("spread between trees, days", between, LEAST, MOST)?;
    let sigma = within("spread between seasons, days", within_tree, LEAST, MOST)?;
    let mut late = 0.0;
    for &days in residuals {
        late += within("residual, days", days, -MOST, MOST)?;
    }
    let k = residuals.len() as f64;
    let weight = k / (k + sigma * sigma / (tau * tau));
    let variance = 1.0 / (1.0 / (tau * tau) + k / (sigma * sigma));
    let mean = if residuals.is_empty() { 0.0 } else { weight * late / k };
    Ok(Offset { weight, mean, variance, predictive: variance + sigma * sigma, seasons: residuals.len() })
}
