//! Fitting a waking model to dated springs: a coarse search, a polish of its best, and a blend of all good models.

mod alternating;
mod dice;
mod search;
mod springs;
mod trees;
mod waking;

use crate::model::{Model, Season};
use alternating::Alternating;
use search::{Effort, Family, search};
use springs::Springs;
pub use trees::{Trees, tree_offsets};
use waking::Waking;

/// One spring of one tree: its daily temperatures and the day on which the stage was passed.
///
/// Trees of one place share the slice of a season's means, and are then summed only once.
#[derive(Clone, Copy, Debug)]
pub struct TreeYear<'a> {
    /// Daily means and where they start.
    pub season: Season<'a>,
    /// Day number on which the stage was passed.
    pub observed: i32,
}

impl TreeYear<'_> {
    /// Whether the stage was passed within the days given.
    fn is_covered(&self) -> bool {
        let days = self.season.first_day..self.season.first_day + self.season.mean.len() as i32;
        days.contains(&self.observed)
    }
}

/// A fitted model with its error on the springs it was fitted to, and its peers.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The model with the least error.
    pub model: Model,
    /// Its root mean square error over those springs, days.
    pub rmse: f64,
    /// Models that explain those springs about as well, each as often as it weighs; for days to come, ask these.
    pub blend: Vec<Model>,
}

/// Error charged for a spring in which a model never reaches its threshold, days.
pub const NEVER: f64 = 60.0;

/// Fewest springs that a model can be fitted to.
pub const FEWEST: usize = 5;

/// A fit was asked of too few springs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{got} springs are too few to fit a model to; {FEWEST} are needed")]
pub struct TooFew {
    /// How many could be used; none when they hold no warmth at all.
    pub got: usize,
}

impl Fitted {
    /// Day on which the blend expects the stage: the mean of its members that reach it, none when most do not.
    ///
    /// A few springs never settle the parameters; the best of them fits their noise, the mean of all good ones
    /// much less.
    pub fn day_expected(&self, season: &Season<'_>) -> Option<f64> {
        let days: Vec<i32> = self.blend.iter().filter_map(|model| model.day_reached(season)).collect();
        let enough = !days.is_empty() && 2 * days.len() >= self.blend.len();
        enough.then(|| days.iter().sum::<i32>() as f64 / days.len() as f64)
    }

    /// Root mean square error of the blend over springs, days; a spring never reached counts [`NEVER`].
    pub fn blend_rmse(&self, years: &[TreeYear<'_>]) -> f64 {
        root_mean_square(
            years.iter().map(|year| {
                self.day_expected(&year.season).map_or(NEVER, |day| day - f64::from(year.observed))
            }),
        )
    }
}

/// [`Model::ThermalTime`] fitted to springs.
///
/// Starts from 20 November to 20 April and bases from −6 to 12 °C are tried on a grid and then around its best;
/// the need follows from the heat each spring had received on its observed day.
///
/// **Holds** for springs whose daily series cover the start; those whose day lies outside theirs are left out.
/// **Error** the answer is the best of the points tried, not a proven optimum; the blend's error on springs to
/// come is in `VALIDATION.md`.
/// **Source** own search; blending after Hoeting et al. 1999, Bayesian model averaging (remembered).
/// **Checked** `tests/vaccinium_fit.rs` and `tests/kma_fit.rs`, years left out.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs can be used.
///
/// # Example
///
/// ```
/// use dormancy::{fit::{TreeYear, thermal_time}, model::Season};
///
/// let springs: Vec<Vec<f64>> = (0..6).map(|year| vec![8.0 + f64::from(year); 120]).collect();
/// let seasons = springs.iter().map(|mean| Season { first_day: 1, mean, day_length: None });
/// let years: Vec<TreeYear> = seasons.zip([60, 50, 43, 38, 34, 30])
///     .map(|(season, observed)| TreeYear { season, observed })
///     .collect();
/// let fitted = thermal_time(&years)?;
/// assert!(fitted.rmse < 1.0);
/// let warm = Season { first_day: 1, mean: &[10.5; 120], day_length: None };
/// assert!(fitted.day_expected(&warm).is_some_and(|day| (38.5..42.5).contains(&day)));
/// # Ok::<(), dormancy::fit::TooFew>(())
/// ```
pub fn thermal_time(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    fitted(years, &Waking::ThermalTime, Effort { best: 3, steps: 40 })
}

/// [`Model::Uniforc`] fitted to springs; as [`thermal_time`], with a rising curve in place of a base.
///
/// **Holds**, **Error**, **Source**, **Checked** as there.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs can be used.
pub fn uniforc(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    fitted(years, &Waking::Uniforc, Effort { best: 6, steps: 200 })
}

/// [`Model::Alternating`] fitted to springs; as [`thermal_time`], cold counted from 1 November.
///
/// **Holds**, **Error**, **Source**, **Checked** as there.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs can be used.
pub fn alternating(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    fitted(years, &Alternating, Effort { best: 4, steps: 120 })
}

/// [`Model::Sequential`] fitted to springs; as [`thermal_time`], cold counted from 1 November or later.
///
/// **Holds**, **Error**, **Source**, **Checked** as there.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs can be used.
pub fn sequential(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    fitted(years, &Waking::Sequential, Effort { best: 6, steps: 200 })
}

/// [`Model::Unichill`] fitted to springs; as [`thermal_time`], cold counted from 1 November or later.
///
/// **Holds**, **Error**, **Source**, **Checked** as there.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs can be used.
pub fn unichill(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    fitted(years, &Waking::Unichill, Effort { best: 6, steps: 200 })
}

fn fitted(years: &[TreeYear<'_>], family: &dyn Family, effort: Effort) -> Result<Fitted, TooFew> {
    let usable: Vec<TreeYear<'_>> = years.iter().filter(|year| year.is_covered()).copied().collect();
    if usable.len() < FEWEST {
        return Err(TooFew { got: usable.len() });
    }
    let mut fitted = search(family, &Springs::gather(&usable), effort).ok_or(TooFew { got: 0 })?;
    fitted.rmse = rmse(&fitted.model, &usable);
    Ok(fitted)
}

/// Root mean square error of a model over springs, days; a spring never reached counts [`NEVER`].
pub fn rmse(model: &Model, years: &[TreeYear<'_>]) -> f64 {
    root_mean_square(
        years
            .iter()
            .map(|year| model.day_reached(&year.season).map_or(NEVER, |day| f64::from(day - year.observed))),
    )
}

fn root_mean_square(errors: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = errors.len() as f64;
    (errors.map(|days| days * days).sum::<f64>() / count).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve springs of unequal warmth and cold.
    fn springs() -> Vec<Vec<f64>> {
        (0..12)
            .map(|year| {
                (-60..=150)
                    .map(|day| {
                        let (day, year) = (f64::from(day), f64::from(year));
                        2.0 + 0.12 * day.max(0.0) + 4.0 * (day * 0.21 + year * 1.7).sin() + 0.4 * year
                    })
                    .collect()
            })
            .collect()
    }

    fn dated<'a>(springs: &'a [Vec<f64>], truth: &Model) -> Vec<TreeYear<'a>> {
        springs
            .iter()
            .map(|mean| {
                let season = Season { first_day: -60, mean, day_length: None };
                TreeYear { season, observed: truth.day_reached(&season).expect("warm enough") }
            })
            .collect()
    }

    const TRUTH: Model = Model::ThermalTime { start: 20, base: 3.0, need: 150.0 };

    #[test]
    fn a_model_is_found_again_in_the_springs_it_made() {
        let springs = springs();
        let years = dated(&springs, &TRUTH);
        let found = thermal_time(&years).expect("twelve springs");
        assert!(found.rmse < 0.8, "{found:?}");
        assert!(found.blend_rmse(&years) < 1.5, "{found:?}");
    }

    #[test]
    fn what_the_search_counts_is_what_its_model_says() {
        let springs = springs();
        let mut years = dated(&springs, &TRUTH);
        years.push(TreeYear { observed: years[3].observed + 4, ..years[3] });
        let effort = Effort { best: 3, steps: 30 };
        let families: [&dyn Family; 5] =
            [&Waking::ThermalTime, &Waking::Uniforc, &Waking::Sequential, &Waking::Unichill, &Alternating];
        for family in families {
            let found = search(family, &Springs::gather(&years), effort).expect("found");
            assert!((found.rmse - rmse(&found.model, &years)).abs() < 1e-9, "{found:?}");
            assert_eq!(found.blend.len(), 64);
        }
    }

    #[test]
    fn a_blend_that_mostly_never_arrives_has_no_day() {
        let never = Model::ThermalTime { start: 1, base: 0.0, need: 1e9 };
        let cold = [1.0; 30];
        let season = Season { first_day: 1, mean: &cold, day_length: None };
        let soon = Model::ThermalTime { start: 1, base: 0.0, need: 2.0 };
        let of = |blend| Fitted { model: soon, rmse: 0.0, blend };
        assert_eq!(of(vec![never, never, soon]).day_expected(&season), None);
        assert_eq!(of(vec![never, soon, soon]).day_expected(&season), Some(2.0));
    }

    #[test]
    fn too_few_springs_are_refused() {
        assert_eq!(thermal_time(&[]), Err(TooFew { got: 0 }));
        let springs = springs();
        let mut years = dated(&springs, &TRUTH);
        years[4..].iter_mut().for_each(|year| year.observed = 400);
        assert_eq!(unichill(&years), Err(TooFew { got: 4 }));
    }

    #[test]
    fn springs_without_a_number_are_refused_and_not_fitted() {
        let empty = [f64::NAN; 200];
        let season = Season { first_day: -60, mean: &empty, day_length: None };
        let years = [TreeYear { season, observed: 90 }; 6];
        assert_eq!(thermal_time(&years), Err(TooFew { got: 0 }));
        assert_eq!(alternating(&years), Err(TooFew { got: 0 }));
    }
}
