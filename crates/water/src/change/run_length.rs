//! How many values a running sum takes on average until it alarms.

use std::{f64::consts::PI, num::NonZeroUsize};

use gauss_quad::GaussLegendre;
use measure::range::{OutOfRange, within};
use nalgebra::{DMatrix, DVector};

use crate::dry_down::normal;

/// Points of the quadrature; with 48 the figures stand to a part in 100,000.
const POINTS: NonZeroUsize = NonZeroUsize::new(48).expect("48 is not zero");

/// A running sum and the shift of its values, all in spreads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chart {
    /// Allowance k.
    pub allowance: f64,
    /// Limit h.
    pub limit: f64,
    /// Mean of the values.
    pub shift: f64,
}

impl Chart {
    fn checked(&self) -> Result<(f64, f64, f64), OutOfRange> {
        Ok((
            within("allowance", self.allowance, 0.0, 10.0)?,
            within("limit of the sum", self.limit, 0.01, 20.0)?,
            within("shift of the values", self.shift, -10.0, 10.0)?,
        ))
    }
}

/// Average number of values until an alarm, from a sum at nothing.
///
/// ```text
/// L(u) = 1 + L(0) Φ(k − u − δ) + ∫[0..h] L(x) φ(x − u + k − δ) dx
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | L(0) | returned | average run length | values |
/// | k, h, δ | `chart` | allowance, limit, mean of the values | spreads |
///
/// Solved at the points of a Gauss-Legendre quadrature.
///
/// **Holds** for independent normal values of spread one. **Error** under 0.001 of itself for limits to 20.
/// **Source** Page 1954. **Checked** `tests/change.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the chart is not one.
///
/// # Example
///
/// ```
/// use water::change::run_length::{Chart, exact};
///
/// let average = exact(&Chart { allowance: 0.5, limit: 4.0, shift: 0.0 })?;
/// assert_eq!(format!("{average:.1}"), "335.4");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn exact(chart: &Chart) -> Result<f64, OutOfRange> {
    let (k, h, shift) = chart.checked()?;
    let legendre = GaussLegendre::new(POINTS);
    let rule = legendre.as_node_weight_pairs();
    let size = rule.len() + 1;
    let mut at: Vec<f64> = vec![0.0];
    at.extend(rule.iter().map(|(x, _)| h * f64::midpoint(*x, 1.0)));
    let density = |z: f64| (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    let system = DMatrix::from_fn(size, size, |row, column| {
        let step = at[column] - at[row] + k - shift;
        let own = if row == column { 1.0 } else { 0.0 };
        own - if column == 0 { normal(step) } else { h / 2.0 * rule[column - 1].1 * density(step) }
    });
    let lengths = system.lu().solve(&DVector::from_element(size, 1.0));
    Ok(lengths.expect("a sum that can pass its limit has a finite run")[0])
}

/// The same by a formula.
///
/// ```text
/// L = (exp(−2 D b) + 2 D b − 1)/(2 D²), D = δ − k, b = h + 1.166;  b² for D = 0
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | L | returned | average run length | values |
/// | k, h, δ | `chart` | allowance, limit, mean of the values | spreads |
///
/// **Holds** for normal values of spread one. **Error** a few percent for small shifts, a fifth for large.
/// **Source** Siegmund 1985 (remembered). **Checked** `tests/change.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the chart is not one.
///
/// # Example
///
/// ```
/// use water::change::run_length::{Chart, siegmund};
///
/// let average = siegmund(&Chart { allowance: 0.5, limit: 4.0, shift: 0.0 })?;
/// assert_eq!(format!("{average:.1}"), "338.1");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn siegmund(chart: &Chart) -> Result<f64, OutOfRange> {
    let (k, h, shift) = chart.checked()?;
    let (drift, reach) = (shift - k, h + 1.166);
    if drift.abs() < 1e-6 {
        return Ok(reach * reach);
    }
    let x = 2.0 * drift * reach;
    Ok(((-x).exp_m1() + x) / (2.0 * drift * drift))
}
