//! A shelter's model learned from a logger beside the weather outside.

use measure::quantity::Hours;

use super::{
    ShelterModel, follow,
    least::{Sums, golden_section},
};

/// A model fitted to a logger, and how it did on hours it had not seen.
///
/// The errors are those of a model fitted on the first half of the logged hours and run free through the later half;
/// `model` itself is then fitted on all of them.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelterFit {
    /// Fitted on all logged hours but the odd ones.
    pub model: ShelterModel,
    /// Logged hours that took part.
    pub hours: usize,
    /// Logged hours that did not, as ranks in the series: a door left open, a heater, a logger in the hand.
    pub odd: Vec<usize>,
    /// Root mean square error by the hour, K.
    pub free_run_rmse: f64,
    /// Mean absolute error of the daily low, K.
    pub low_error: f64,
    /// Mean absolute error of the daily high, K.
    pub high_error: f64,
    /// Root mean square error had the outside been taken as it is, K.
    pub as_outside_rmse: f64,
    /// Root mean square error of the outside plus the first half's mean difference, K.
    pub constant_offset_rmse: f64,
}

impl ShelterFit {
    /// Whether the place's hours may be told from the weather: otherwise keep logging.
    ///
    /// The bounds, 1.5 K by the hour and 1 K on the daily low, are the reference set's own.
    pub fn accepted(&self) -> bool {
        self.free_run_rmse < 1.5 && self.low_error < 1.0
    }
}

/// Why a shelter could not be learned from a logger.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum FitError {
    /// The series are not of the same length.
    #[error("outside has {outside} hours, sun {sun} and inside {inside}, but they must run side by side")]
    Uneven {
        /// Hours of outside temperature.
        outside: usize,
        /// Hours of sun.
        sun: usize,
        /// Hours of inside temperature.
        inside: usize,
    },
    /// Too few hours with both outside and inside known.
    #[error("{hours} hours are known both outside and inside, but a fit needs 240")]
    TooShort {
        /// Hours known on both sides.
        hours: usize,
    },
    /// The weather never changed enough to show the place's share of it.
    #[error("the outside's daily mean moved by {range:.1} K, but a fit needs a change of 5 K")]
    TooSteady {
        /// Highest minus lowest daily mean outside, K.
        range: f64,
    },
    /// No day of the later half was logged through.
    #[error("no day of the later half has 20 logged hours, so lows and highs cannot be checked")]
    NoWholeDay,
}

/// Hours dropped while the lag forgets its start.
const WARM_UP: usize = 24;
/// Least overlap, hours.
const LEAST: usize = 240;
/// Least change of the outside's daily mean, K.
const CHANGE: f64 = 5.0;
/// Least logged hours of a day whose low and high count.
const DAY_HOURS: usize = 20;
/// An hour further from the model than this many robust spreads is odd (our choice: of normal errors one in sixteen thousand).
const FAR: f64 = 4.0;
/// And at least so far, K: noise of a logger and a sunny hour are not odd (our choice).
const FAR_AT_LEAST: f64 = 2.0;
/// Most of the hours that may be odd: beyond that the place itself has changed.
const ODD_AT_MOST: f64 = 0.2;
/// Rounds in which odd hours are looked for.
const ROUNDS: usize = 8;
/// Median of the absolute errors over their spread, where they are normal.
const NORMAL: f64 = 1.4826;

/// Learns a shelter from a logger beside the weather outside.
///
/// ```text
/// least Σ (T_in − c0 − c1·F_τ(T_out) − c2·F_τ(sun))²:
/// ln τ scanned over 60 points from 0.25 to 120 h, then golden section; c0, c1, c2 by least squares at each τ; last τ = 0
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | τ, c0, c1, c2 | returned | see [`ShelterModel`] | h, K, 1, K per MJ m⁻² h⁻¹ |
/// | T_out, T_in | `outside`, `inside` | by the hour; not a number where unknown | °C |
/// | sun | `sun` | solar energy of each hour on the level | MJ m⁻² |
///
/// Odd hours are left out, round after round until they stay the same: those further from the model than four times 1.4826 medians of
/// the absolute errors, and than 2 K. Where more than a fifth would be odd none is left out: then the place has changed.
///
/// The first 24 hours of the series are dropped. Days are runs of 24 hours from the first; begin at midnight.
/// A sun that is dark throughout gives c2 = 0.
///
/// **Holds** while the place was not opened, covered or heated differently.
/// **Error** on two made-up places of 14 days τ within 0.5 % and c0 to c2 within 0.016 of what made them. A lag beyond about
/// 60 h is not known well: 24 hours do not let it forget its start.
/// **Source** the reference set's own recipe, the trimming by median absolute deviation as in any textbook of robust statistics with
/// limits of ours; free run instead of one step ahead, as logger noise biases the latter.
/// **Checked** `tests/shelter.rs`.
///
/// # Errors
///
/// [`FitError`] when the series differ in length, overlap in under 240 hours, the outside's daily mean moved by under 5 K,
/// or no day of the later half is whole.
///
/// # Example
///
/// ```
/// use climate::shelter::{ShelterModel, fit};
/// use measure::quantity::Hours;
///
/// let outside: Vec<f64> = (0..480).map(|h| 5.0 + 6.0 * (f64::from(h) / 30.0).sin()).collect();
/// let dark = vec![0.0; 480];
/// let shed = ShelterModel { lag: Hours(20.0), offset: 2.0, share: 0.8, sun: 0.0 };
/// let learned = fit(&outside, &dark, &shed.series(&outside, &dark))?;
/// assert!(learned.accepted());
/// assert_eq!(format!("{:.1} {:.2}", learned.model.lag.0, learned.model.share), "20.0 0.80");
/// # Ok::<(), climate::shelter::FitError>(())
/// ```
pub fn fit(outside: &[f64], sun: &[f64], inside: &[f64]) -> Result<ShelterFit, FitError> {
    if outside.len() != sun.len() || outside.len() != inside.len() {
        return Err(FitError::Uneven { outside: outside.len(), sun: sun.len(), inside: inside.len() });
    }
    let mut log = Log { outside, sun, inside, odd: vec![false; inside.len()] };
    let known: Vec<usize> = (0..inside.len()).filter(|&at| log.knows(at)).collect();
    if known.len() < LEAST {
        return Err(FitError::TooShort { hours: known.len() });
    }
    let range = log.change_of_weather();
    if range < CHANGE {
        return Err(FitError::TooSteady { range });
    }
    log.leave_odd_out();
    let known: Vec<usize> = known.into_iter().filter(|&at| !log.odd[at]).collect();
    let middle = known[known.len() / 2];
    let later = &known[known.len() / 2..];
    let half = log.best(middle).series(outside, sun);
    let constant = log.mean_difference(middle);
    let (low_error, high_error) = log.extremes_error(&half, middle).ok_or(FitError::NoWholeDay)?;
    let rmse = |told: &dyn Fn(usize) -> f64| {
        let total: f64 = later.iter().map(|&at| (told(at) - inside[at]).powi(2)).sum();
        (total / later.len() as f64).sqrt()
    };
    Ok(ShelterFit {
        model: log.best(inside.len()),
        hours: known.len(),
        odd: (0..inside.len()).filter(|&at| log.odd[at]).collect(),
        free_run_rmse: rmse(&|at| half[at]),
        low_error,
        high_error,
        as_outside_rmse: rmse(&|at| outside[at]),
        constant_offset_rmse: rmse(&|at| outside[at] + constant),
    })
}

/// The three series side by side.
struct Log<'a> {
    outside: &'a [f64],
    sun: &'a [f64],
    inside: &'a [f64],
    /// Hours that are left out.
    odd: Vec<bool>,
}

impl Log<'_> {
    fn knows(&self, at: usize) -> bool {
        let is_told = self.outside[at].is_finite() && self.sun[at].is_finite() && self.inside[at].is_finite();
        is_told && !self.odd[at]
    }

    /// Finds the hours that do not go with the others.
    fn leave_odd_out(&mut self) {
        for _ in 0..ROUNDS {
            let before = std::mem::replace(&mut self.odd, vec![false; self.inside.len()]);
            let known: Vec<usize> = (0..self.inside.len()).filter(|&at| self.knows(at)).collect();
            self.odd = before;
            let told = self.best(self.inside.len()).series(self.outside, self.sun);
            let apart = |at: usize| (self.inside[at] - told[at]).abs();
            let mut errors: Vec<f64> = known.iter().map(|&at| apart(at)).collect();
            let middle = errors.len() / 2;
            let (_, median, _) = errors.select_nth_unstable_by(middle, f64::total_cmp);
            let limit = (FAR * NORMAL * *median).max(FAR_AT_LEAST);
            let odd: Vec<usize> = known.iter().copied().filter(|&at| apart(at) > limit).collect();
            let mut next = vec![false; self.inside.len()];
            if odd.len() as f64 <= ODD_AT_MOST * known.len() as f64 {
                odd.into_iter().for_each(|at| next[at] = true);
            }
            if next == self.odd {
                return;
            }
            self.odd = next;
        }
    }

    /// Highest minus lowest daily mean outside, over days with an hour known on both sides.
    fn change_of_weather(&self) -> f64 {
        let (mut lowest, mut highest) = (f64::INFINITY, f64::NEG_INFINITY);
        for first in (0..self.outside.len()).step_by(24) {
            let day: Vec<f64> = (first..self.outside.len().min(first + 24))
                .filter(|&at| self.knows(at))
                .map(|at| self.outside[at])
                .collect();
            if day.len() >= DAY_HOURS {
                let mean = day.iter().sum::<f64>() / day.len() as f64;
                (lowest, highest) = (lowest.min(mean), highest.max(mean));
            }
        }
        (highest - lowest).max(0.0)
    }

    /// Mean of inside minus outside before `end`, K.
    fn mean_difference(&self, end: usize) -> f64 {
        let (mut total, mut count) = (0.0, 0.0);
        for at in (0..end).filter(|&at| self.knows(at)) {
            total += self.inside[at] - self.outside[at];
            count += 1.0;
        }
        total / f64::max(count, 1.0)
    }

    /// Mean absolute errors of the daily low and high of `told`, over whole days that begin at or after `from`.
    fn extremes_error(&self, told: &[f64], from: usize) -> Option<(f64, f64)> {
        let (mut low, mut high, mut days) = (0.0, 0.0, 0.0);
        for first in (from.next_multiple_of(24)..self.inside.len()).step_by(24) {
            let day: Vec<usize> =
                (first..self.inside.len().min(first + 24)).filter(|&at| self.knows(at)).collect();
            if day.len() < DAY_HOURS {
                continue;
            }
            let least = |of: &[f64]| day.iter().fold(f64::INFINITY, |so_far, &at| so_far.min(of[at]));
            let most = |of: &[f64]| day.iter().fold(f64::NEG_INFINITY, |so_far, &at| so_far.max(of[at]));
            low += (least(told) - least(self.inside)).abs();
            high += (most(told) - most(self.inside)).abs();
            days += 1.0;
        }
        (days > 0.0).then(|| (low / days, high / days))
    }

    /// The model of least squares over the known hours before `end`.
    fn best(&self, end: usize) -> ShelterModel {
        const SCAN: usize = 60;
        let (first, last) = (0.25_f64.ln(), 120.0_f64.ln());
        let step = (last - first) / (SCAN - 1) as f64;
        let at = |log_lag: f64| self.at_lag(log_lag.exp(), end);
        let mut centre = first;
        let mut least = f64::INFINITY;
        for point in 0..SCAN {
            let here = first + step * point as f64;
            let (_, squares) = at(here);
            if squares < least {
                (centre, least) = (here, squares);
            }
        }
        let (low, high) = ((centre - step).max(first), (centre + step).min(last));
        let (slow, slow_squares) = at(golden_section(low, high, |here| at(here).1));
        let (prompt, prompt_squares) = self.at_lag(0.0, end);
        if prompt_squares < slow_squares { prompt } else { slow }
    }

    /// Best offset, share and sun at this lag, with the sum of squares left.
    fn at_lag(&self, lag: f64, end: usize) -> (ShelterModel, f64) {
        let keep = (-1.0 / lag).exp();
        let (mut air, mut warmth) =
            (self.outside.iter().copied().find(|t| t.is_finite()).unwrap_or(0.0), 0.0);
        let mut sums = Sums::default();
        for at in 0..end {
            if lag <= 0.0 {
                (air, warmth) = (self.outside[at], self.sun[at]);
            }
            if at >= WARM_UP && self.knows(at) {
                sums.add(air, warmth, self.inside[at]);
            }
            air = follow(air, self.outside[at], keep);
            warmth = follow(warmth, self.sun[at], keep);
        }
        let ([offset, share, sun], squares) = sums.solve();
        (ShelterModel { lag: Hours(lag), offset, share, sun }, squares)
    }
}
