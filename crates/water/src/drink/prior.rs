//! When a tree may wake, as a share for each day of the season, before its use is asked.

use measure::{
    quantity::Days,
    range::{OutOfRange, within},
};

use super::LONGEST;
use crate::dry_down::normal;

/// Shares of the days a tree may wake on, from day 0; what is missing to one is later or never.
#[derive(Clone, Debug, PartialEq)]
pub struct WakePrior(Vec<f64>);

impl WakePrior {
    /// Any shares, for instance those of a forecast of waking.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when there are none or more than 400, one is negative, or they sum to more than one.
    ///
    /// # Example
    ///
    /// ```
    /// use water::drink::WakePrior;
    ///
    /// assert!(WakePrior::of_shares(&[0.2, 0.5, 0.2]).is_ok());
    /// assert!(WakePrior::of_shares(&[0.7, 0.7]).is_err());
    /// ```
    pub fn of_shares(shares: &[f64]) -> Result<WakePrior, OutOfRange> {
        within("days a tree may wake on", shares.len() as f64, 1.0, LONGEST as f64)?;
        for &share in shares {
            within("share of a waking day", share, 0.0, 1.0)?;
        }
        within("sum of the shares of waking", shares.iter().sum(), 0.0, 1.0 + 1e-9)?;
        Ok(WakePrior(shares.to_vec()))
    }

    /// No forecast: the same chance every day that it has not woken yet.
    ///
    /// ```text
    /// π[k] = h (1 − h)^k
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | π | returned | share of day k | 1 |
    /// | h | `per_day` | chance of each day | 1 |
    ///
    /// **Holds** without a forecast. **Error** knows nothing of the season. **Source** geometric distribution, textbook.
    /// **Checked** `tests/drink.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the chance or the number of days is not one.
    pub fn any_day(per_day: f64, days: usize) -> Result<WakePrior, OutOfRange> {
        let chance = within("chance of waking on a day", per_day, 0.0, 1.0)?;
        let mut left = 1.0;
        let mut shares = Vec::with_capacity(days);
        for _ in 0..days {
            shares.push(chance * left);
            left *= 1.0 - chance;
        }
        WakePrior::of_shares(&shares)
    }

    /// A forecast of waking about a day.
    ///
    /// ```text
    /// π[k] = Φ((k + ½ − c)/s) − Φ((k − ½ − c)/s)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | π | returned | share of day k | 1 |
    /// | c, s | `middle`, `spread` | middle and spread of the forecast | d |
    ///
    /// **Holds** for a forecast without a heavy tail. **Error** that of the forecast. **Source** normal distribution.
    /// **Checked** `tests/drink_seasons.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the spread is not above 0 or the number of days not one.
    pub fn about(middle: Days, spread: Days, days: usize) -> Result<WakePrior, OutOfRange> {
        let spread = within("spread of the forecast, days", spread.0, 0.1, 1000.0)?;
        let middle = within("middle of the forecast", middle.0, -1000.0, 1000.0)?;
        let up_to = |day: f64| normal((day - middle) / spread);
        let shares: Vec<f64> =
            (0..days).map(|day| up_to(day as f64 + 0.5) - up_to(day as f64 - 0.5)).collect();
        WakePrior::of_shares(&shares)
    }

    /// The shares, from day 0.
    pub fn shares(&self) -> &[f64] {
        &self.0
    }
}
