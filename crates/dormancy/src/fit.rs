//! Fitting a forcing model to dated springs, by an exhaustive coarse search and a finer one around its best.

use crate::model::{Model, Season};

/// One spring of one tree: its daily temperatures and the day on which the stage was passed.
#[derive(Clone, Copy, Debug)]
pub struct TreeYear<'a> {
    /// Daily means and where they start.
    pub season: Season<'a>,
    /// Day number on which the stage was passed.
    pub observed: i32,
}

/// A fitted model with its error on the springs it was fitted to.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// The model with its parameters.
    pub model: Model,
    /// Root mean square error over those springs, days.
    pub rmse: f64,
}

/// Error charged for a spring in which a model never reaches its threshold, days.
pub const NEVER: f64 = 60.0;

/// Fewest springs that two or three parameters can be fitted to.
pub const FEWEST: usize = 5;

/// A fit was asked of too few springs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{got} springs are too few to fit a model to; {FEWEST} are needed")]
pub struct TooFew {
    /// How many there were.
    pub got: usize,
}

/// The thermal-time model (start, base, need) with the least error in days.
///
/// Every start from 20 November to 20 April and every base from −6 to 12 °C is tried on a coarse grid and then
/// around the best cell; the need is searched around the heat each spring had received on its observed day.
///
/// **Holds** for springs whose stage is passed in daily series that cover the start.
/// **Error** the answer is the best of the points tried, not a proven optimum.
/// **Source** own search; the model as in [`Model::ThermalTime`].
/// **Checked** `tests/kma_fit.rs`, years left out.
///
/// # Errors
///
/// [`TooFew`] when fewer than [`FEWEST`] springs are given.
pub fn thermal_time(years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
    if years.len() < FEWEST {
        return Err(TooFew { got: years.len() });
    }
    let mut sums = vec![Vec::new(); years.len()];
    let mut best = (f64::INFINITY, 1, 0.0, 0.0);
    for start in (-41..=111).step_by(4) {
        for base in (-6..=12).map(f64::from) {
            try_cell(years, start, base, &mut sums, &mut best);
        }
    }
    let (_, start, base, _) = best;
    for start in start - 4..=start + 4 {
        for quarter in -4..=4 {
            try_cell(years, start, base + 0.25 * f64::from(quarter), &mut sums, &mut best);
        }
    }
    let (error, start, base, need) = best;
    Ok(Fitted { model: Model::ThermalTime { start, base, need }, rmse: (error / years.len() as f64).sqrt() })
}

/// Tries one start and base with the needs that suit them, and keeps the best.
fn try_cell(
    years: &[TreeYear<'_>],
    start: i32,
    base: f64,
    sums: &mut [Vec<f64>],
    best: &mut (f64, i32, f64, f64),
) {
    let mut needs: Vec<f64> = Vec::with_capacity(years.len());
    for (year, sum) in years.iter().zip(sums.iter_mut()) {
        sum.clear();
        let skip = (start - year.season.first_day).max(0) as usize;
        let mut heat = 0.0;
        sum.extend(year.season.mean.iter().skip(skip).map(|mean| {
            heat += (mean - base).max(0.0);
            heat
        }));
        let at = (year.observed - start).max(0) as usize;
        needs.push(sum.get(at).copied().unwrap_or(heat));
    }
    let middle = needs.iter().sum::<f64>() / needs.len() as f64;
    if middle <= 0.0 {
        return;
    }
    for step in -12..=12 {
        let need = middle * (1.0 + 0.02 * f64::from(step));
        let mut error = 0.0;
        for (year, sum) in years.iter().zip(sums.iter()) {
            let at = sum.partition_point(|&heat| heat < need);
            let gap = if at < sum.len() {
                f64::from(start.max(year.season.first_day) + at as i32 - year.observed)
            } else {
                NEVER
            };
            error += gap * gap;
            if error >= best.0 {
                break;
            }
        }
        if error < best.0 {
            *best = (error, start, base, need);
        }
    }
}

/// Root mean square error of a model over springs, days; a spring never reached counts [`NEVER`].
pub fn rmse(model: &Model, years: &[TreeYear<'_>]) -> f64 {
    let total: f64 = years
        .iter()
        .map(|year| {
            model.day_reached(&year.season).map_or(NEVER, |day| f64::from(day - year.observed)).powi(2)
        })
        .sum();
    (total / years.len() as f64).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_model_is_found_again_in_the_springs_it_made() {
        let truth = Model::ThermalTime { start: 20, base: 3.0, need: 150.0 };
        let springs: Vec<Vec<f64>> = (0..12)
            .map(|year| {
                (-60..=150)
                    .map(|day| {
                        let (day, year) = (f64::from(day), f64::from(year));
                        2.0 + 0.12 * day.max(0.0) + 4.0 * (day * 0.21 + year * 1.7).sin() + 0.4 * year
                    })
                    .collect()
            })
            .collect();
        let years: Vec<TreeYear<'_>> = springs
            .iter()
            .map(|mean| {
                let season = Season { first_day: -60, mean, day_length: None };
                TreeYear { season, observed: truth.day_reached(&season).expect("warm enough") }
            })
            .collect();
        let found = thermal_time(&years).expect("twelve springs");
        assert!(found.rmse < 0.8, "{found:?}");
        assert!((rmse(&found.model, &years) - found.rmse).abs() < 1e-9);
    }

    #[test]
    fn too_few_springs_are_refused() {
        assert_eq!(thermal_time(&[]), Err(TooFew { got: 0 }));
    }
}
