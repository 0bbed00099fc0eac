//! How good a forecast was: one number in days, the smaller the better, that rewards a window for being narrow and right.

use measure::range::{OutOfRange, within};

/// Continuous ranked probability score of a set of possible days; `None` without members.
///
/// ```text
/// CRPS = Σ |x − y| / n  −  Σ Σ |xi − xj| / (2 n²)
/// ```
///
/// | symbol | here      | meaning             | unit |
/// |--------|-----------|---------------------|------|
/// | x, n   | `members` | members, how many   | day  |
/// | y      | `seen`    | what happened       | day  |
/// | CRPS   | returned  | score, 0 is perfect | day  |
///
/// **Holds** for one member or more, in any order.
/// **Error** rounding only.
/// **Source** Gneiting & Raftery 2007, ensemble form (year remembered, form checked by program).
/// **Checked** `tests/scores.rs`.
///
/// # Example
///
/// ```
/// let score = dormancy::score::crps_ensemble(&[90.0, 92.0, 95.0, 97.0, 101.0], 94.0);
/// assert_eq!(score.map(|days| format!("{days:.2}")), Some("1.24".to_owned()));
/// ```
pub fn crps_ensemble(members: &[f64], seen: f64) -> Option<f64> {
    let n = members.len() as f64;
    (n > 0.0).then(|| miss(members, seen) - spread(members) / (n * n))
}

/// The same score made fair between ensembles of unequal size; `None` with fewer than two members.
///
/// ```text
/// CRPS = Σ |x − y| / n  −  Σ Σ |xi − xj| / (2 n (n − 1))
/// ```
///
/// | symbol | here      | meaning                           | unit |
/// |--------|-----------|-----------------------------------|------|
/// | x, n   | `members` | members, how many                 | day  |
/// | y      | `seen`    | what happened                     | day  |
/// | CRPS   | returned  | score; single ones may be under 0 | day  |
///
/// **Holds** for two members or more, in any order.
/// **Error** rounding only.
/// **Source** Ferro 2014, fair scores (year remembered, form checked against the closed form).
/// **Checked** `tests/scores.rs`.
///
/// # Example
///
/// ```
/// let score = dormancy::score::crps_fair(&[90.0, 92.0, 95.0, 97.0, 101.0], 94.0);
/// assert_eq!(score.map(|days| format!("{days:.2}")), Some("0.70".to_owned()));
/// ```
pub fn crps_fair(members: &[f64], seen: f64) -> Option<f64> {
    let n = members.len() as f64;
    (n > 1.0).then(|| miss(members, seen) - spread(members) / (n * (n - 1.0)))
}

/// Continuous ranked probability score of a normal forecast.
///
/// ```text
/// CRPS = σ ( z (2 Φ(z) − 1) + 2 φ(z) − 1/√π ),   z = (y − μ)/σ
/// ```
///
/// | symbol | here     | meaning                         | unit |
/// |--------|----------|---------------------------------|------|
/// | μ, σ   | `mean`, `sd` | middle and spread forecast  | day  |
/// | y      | `seen`   | what happened                   | day  |
/// | Φ, φ   | —        | normal distribution and density | —    |
/// | CRPS   | returned | score, 0 is perfect             | day  |
///
/// **Holds** for a spread over 0 and finite numbers.
/// **Error** rounding only, under 10⁻¹⁴ in the checks.
/// **Source** Gneiting & Raftery 2007 (year remembered, form checked by program).
/// **Checked** `tests/scores.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the spread is not over 0 or a value is not finite.
///
/// # Example
///
/// ```
/// let days = dormancy::score::crps_gaussian(95.0, 3.0, 98.0)?;
/// assert_eq!(format!("{days:.6}"), "1.807324");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn crps_gaussian(mean: f64, sd: f64, seen: f64) -> Result<f64, OutOfRange> {
    let sigma = within("spread of the forecast, days", sd, f64::MIN_POSITIVE, f64::MAX)?;
    let mu = within("middle of the forecast, day", mean, f64::MIN, f64::MAX)?;
    let y = within("day seen", seen, f64::MIN, f64::MAX)?;
    let z = (y - mu) / sigma;
    let root_pi = std::f64::consts::PI.sqrt();
    let inside = libm::erf(z / std::f64::consts::SQRT_2); // 2 Φ(z) − 1
    let density = (-0.5 * z * z).exp() / std::f64::consts::TAU.sqrt();
    Ok(sigma * (z * inside + 2.0 * density - 1.0 / root_pi))
}

fn miss(members: &[f64], seen: f64) -> f64 {
    members.iter().map(|x| (x - seen).abs()).sum::<f64>() / members.len() as f64
}

/// Half the sum of |xi − xj| over all ordered pairs: in rising order each member is added once for every
/// smaller one and taken away once for every larger one.
fn spread(members: &[f64]) -> f64 {
    let mut rising = members.to_vec();
    rising.sort_by(f64::total_cmp);
    let last = rising.len() as f64 - 1.0;
    rising.iter().enumerate().map(|(i, x)| x * (2.0 * i as f64 - last)).sum()
}
