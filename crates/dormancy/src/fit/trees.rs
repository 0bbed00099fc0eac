//! What each tree of a fit has of its own: an offset in days, drawn towards none as far as its springs are few.

use crate::{
    fit::{Fitted, TreeYear},
    learn::{Offset, offset},
};
use measure::range::OutOfRange;

/// The trees or sites of a fit against what it expects of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Trees {
    /// Spread between trees, days.
    pub between: f64,
    /// Spread of one tree between springs, days.
    pub within: f64,
    /// Offset of each tree by its number, late days positive.
    pub offsets: Vec<Offset>,
}

/// Spread between trees where it cannot be told from the springs, days; start value of `dormancy.md` section 7.
const BETWEEN: f64 = 3.5;

/// Spread of one tree where it cannot be told from the springs, days; start value of `dormancy.md` section 7.
const WITHIN: f64 = 5.0;

/// Least spread that is worked with, days.
const LEAST: f64 = 0.01;

/// Offsets of the trees, or sites, that a fit was made on; `trees` numbers the tree of each spring from 0.
///
/// ```text
/// σ² = Σ Σ (r − r̄i)² / (N − k)      τ² = max(0, (Σ ni (r̄i − r̄)²/(k − 1) − σ²) / n₀)
/// n₀ = (N − Σ ni²/N) / (k − 1)      offset of a tree as in `learn::offset`
/// ```
///
/// | symbol | here      | meaning                                         | unit |
/// |--------|-----------|-------------------------------------------------|------|
/// | r      | —         | observed day minus day expected by the blend    | day  |
/// | N, k, ni | —       | springs, trees, springs of a tree               | —    |
/// | τ, σ   | `between`, `within` | spread between trees, of one tree     | day  |
///
/// **Holds** for springs the blend reaches; others are left out, as are springs without a number. With one
/// tree, or no tree seen twice, the spreads are start values.
/// **Error** two trees tell their spread badly; with ten and more it is a fair estimate.
/// **Source** one-way random effects by moments (Searle et al. 1992, remembered); shrinkage as in `learn::offset`.
/// **Checked** `tests/kma_fit.rs`, years left out.
///
/// # Errors
///
/// [`OutOfRange`] when a residual is not finite.
pub fn tree_offsets(fitted: &Fitted, years: &[TreeYear<'_>], trees: &[usize]) -> Result<Trees, OutOfRange> {
    let mut residuals: Vec<Vec<f64>> = vec![Vec::new(); trees.iter().max().map_or(0, |most| most + 1)];
    for (year, tree) in years.iter().zip(trees) {
        if let Some(day) = fitted.day_expected(&year.season) {
            residuals[*tree].push(f64::from(year.observed) - day);
        }
    }
    let (between, within) = spreads(&residuals);
    let offsets = residuals.iter().map(|own| offset(between, within, own)).collect::<Result<_, _>>()?;
    Ok(Trees { between, within, offsets })
}

/// Spread between groups and within them.
fn spreads(groups: &[Vec<f64>]) -> (f64, f64) {
    let seen: Vec<&Vec<f64>> = groups.iter().filter(|group| !group.is_empty()).collect();
    let (all, k) = (seen.iter().map(|group| group.len()).sum::<usize>() as f64, seen.len() as f64);
    if k < 2.0 || all <= k {
        return (BETWEEN, WITHIN);
    }
    let mean_of = |group: &[f64]| group.iter().sum::<f64>() / group.len() as f64;
    let grand = seen.iter().flat_map(|group| group.iter()).sum::<f64>() / all;
    let (mut inside, mut across, mut squares) = (0.0, 0.0, 0.0);
    for group in seen {
        let (mean, n) = (mean_of(group), group.len() as f64);
        inside += group.iter().map(|r| (r - mean).powi(2)).sum::<f64>();
        across += n * (mean - grand).powi(2);
        squares += n * n;
    }
    let within = inside / (all - k);
    let share = (all - squares / all) / (k - 1.0);
    let between = ((across / (k - 1.0) - within) / share).max(0.0);
    (between.sqrt().max(LEAST), within.sqrt().max(LEAST))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spreads_of_groups_that_differ_and_of_groups_that_do_not() {
        let apart = spreads(&[vec![9.0, 11.0], vec![-9.0, -11.0], vec![-1.0, 1.0]]);
        assert!((apart.0 - 99.0_f64.sqrt()).abs() < 1e-9, "{apart:?}");
        assert!((apart.1 - 2.0_f64.sqrt()).abs() < 1e-9, "{apart:?}");
        assert_eq!(spreads(&[vec![1.0, -1.0], vec![1.0, -1.0]]).0, LEAST);
    }

    #[test]
    fn one_tree_alone_gets_the_start_values() {
        assert_eq!(spreads(&[vec![1.0, 2.0, 3.0]]), (BETWEEN, WITHIN));
    }
}
