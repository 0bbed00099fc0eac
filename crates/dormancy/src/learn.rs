//! What a tree's own seasons say about it: how early or late it runs against the forecast, in days or in warmth.

use crate::forecast::Pace;
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

/// What one past season said of a tree's pace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PastSeason {
    /// Logarithm of the tree's need over the taxon's in that season; above 0 when it woke later than the taxon.
    pub residual: f64,
    /// How many springs ago; 1 is last spring.
    pub years_ago: u32,
    /// Whether the tree has been repotted since.
    pub before_repot: bool,
}

/// Spread of one tree's pace between seasons, as standard deviation of the logarithm of its need; our estimate.
pub const BETWEEN_SEASONS: f64 = 0.12;

/// Share of a season's weight that is left after each further year; our estimate.
const KEPT_A_YEAR: f64 = 0.85;

/// Share of a season's weight that is left once the tree has been repotted; our estimate.
const KEPT_AT_REPOT: f64 = 0.5;

/// Seasons remembered: older ones misled in the reference computation (`dormancy.md` section 7).
const MEMORY: usize = 8;

/// The pace of a tree after its past seasons.
///
/// ```text
/// w = 0.85^a · (½ if before the repotting)
/// variance = 1/(1/τ² + Σ w/σ²)    mean = variance · (m/τ² + Σ w r/σ²)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | m, τ | `prior` | pace expected of a tree of the taxon, spread between its trees | log of need |
/// | σ | [`BETWEEN_SEASONS`] | spread of one tree between seasons | log of need |
/// | r | `residual` | pace seen in a season | log of need |
/// | a | `years_ago` | springs since | year |
/// | w | — | weight of a season | — |
///
/// The answer is the tree's own pace; a season to come scatters about it, see [`this_season`].
///
/// **Holds** for normal paces. The eight most recent seasons count; one that is not a number is passed over, and
/// a prior without a spread over 0 is returned as it is.
/// **Error** not known for trees in pots; σ and the discounts are own estimates, not fitted.
/// **Source** Gelman et al., Bayesian Data Analysis, normal–normal update; the discounts for age and repotting
/// are own.
/// **Checked** own rules only, in this file; without discounts it is [`offset`], checked in `tests/scores.rs`.
///
/// # Example
///
/// ```
/// use dormancy::{forecast::Pace, learn::{PastSeason, pace}};
///
/// let late = |years_ago| PastSeason { residual: 0.1, years_ago, before_repot: false };
/// let taxon = Pace { mean: 0.0, sd: 0.12 };
/// let tree = pace(taxon, &[late(1), late(2), late(3)]);
/// assert_eq!(format!("{:.3} ± {:.3}", tree.mean, tree.sd), "0.069 ± 0.067");
/// ```
pub fn pace(prior: Pace, seasons: &[PastSeason]) -> Pace {
    if prior.sd.is_nan() || prior.sd <= 0.0 {
        return prior;
    }
    let mut recent: Vec<&PastSeason> = seasons.iter().filter(|season| season.residual.is_finite()).collect();
    recent.sort_by_key(|season| season.years_ago);
    let one_season = 1.0 / (BETWEEN_SEASONS * BETWEEN_SEASONS);
    let mut certainty = 1.0 / (prior.sd * prior.sd);
    let mut sum = certainty * prior.mean;
    for season in recent.into_iter().take(MEMORY) {
        let kept = if season.before_repot { KEPT_AT_REPOT } else { 1.0 };
        let weight = kept * KEPT_A_YEAR.powf(f64::from(season.years_ago)) * one_season;
        certainty += weight;
        sum += weight * season.residual;
    }
    Pace { mean: sum / certainty, sd: certainty.sqrt().recip() }
}

/// The pace to expect of a tree in a season to come: its own pace with the scatter between seasons.
///
/// ```text
/// variance = sd² + σ²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | sd | `tree` | doubt about the tree's own pace | log of need |
/// | σ | [`BETWEEN_SEASONS`] | spread of one tree between seasons | log of need |
///
/// **Holds** for normal paces.
/// **Error** as [`pace`].
/// **Source** Gelman et al., Bayesian Data Analysis, predictive distribution of the normal–normal update.
/// **Checked** own rules only, in this file.
///
/// # Example
///
/// ```
/// use dormancy::{forecast::Pace, learn::this_season};
///
/// let told = this_season(Pace { mean: 0.05, sd: 0.09 });
/// assert_eq!(format!("{:.2} ± {:.2}", told.mean, told.sd), "0.05 ± 0.15");
/// ```
pub fn this_season(tree: Pace) -> Pace {
    Pace { mean: tree.mean, sd: tree.sd.hypot(BETWEEN_SEASONS) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TAXON: Pace = Pace { mean: 0.0, sd: 0.12 };

    fn season(residual: f64, years_ago: u32) -> PastSeason {
        PastSeason { residual, years_ago, before_repot: false }
    }

    #[test]
    fn a_tree_without_a_past_is_one_of_its_taxon() {
        assert_eq!(pace(TAXON, &[]), Pace { mean: 0.0, sd: TAXON.sd });
    }

    #[test]
    fn this_springs_season_counts_as_in_the_undiscounted_update() {
        let (ours, plain) = (pace(TAXON, &[season(0.2, 0)]), offset(0.12, 0.12, &[0.2]).unwrap());
        assert!((ours.mean - plain.mean).abs() < 1e-12 && (ours.sd - plain.sd()).abs() < 1e-12);
    }

    #[test]
    fn a_late_tree_is_learned_late_and_surer_with_each_season() {
        let one = pace(TAXON, &[season(0.2, 1)]);
        let two = pace(TAXON, &[season(0.2, 1), season(0.2, 2)]);
        assert!(0.0 < one.mean && one.mean < two.mean && two.mean < 0.2);
        assert!(two.sd < one.sd && one.sd < TAXON.sd);
    }

    #[test]
    fn old_seasons_and_those_before_a_repotting_say_less() {
        let fresh = pace(TAXON, &[season(0.2, 1)]).mean;
        assert!(pace(TAXON, &[season(0.2, 5)]).mean < fresh);
        assert!(pace(TAXON, &[PastSeason { before_repot: true, ..season(0.2, 1) }]).mean < fresh);
    }

    #[test]
    fn the_ninth_season_is_forgotten_whatever_the_order() {
        let mut seasons: Vec<PastSeason> = (1..=8).map(|ago| season(0.1, ago)).collect();
        let eight = pace(TAXON, &seasons);
        seasons.insert(0, season(-3.0, 9));
        assert_eq!(pace(TAXON, &seasons), eight);
    }

    #[test]
    fn a_season_without_a_number_is_passed_over() {
        assert_eq!(pace(TAXON, &[season(f64::NAN, 1)]), TAXON);
        let unspread = Pace { mean: 0.1, sd: 0.0 };
        assert_eq!(pace(unspread, &[season(0.2, 1)]), unspread);
    }
}
