//! What a tree's own seasons say about it: how early or late it runs against the forecast, in days or in warmth.

pub mod levels;

use measure::range::{OutOfRange, within};

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
