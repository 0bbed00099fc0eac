//! Wind at the height of the formula, from wind at the height of the mast.

use measure::{
    quantity::{Metre, MetresPerSecond},
    range::{OutOfRange, within},
};

/// What wind at a mast's height is at 2 m over grass.
///
/// ```text
/// u2 = uz · 4.87 / ln(67.8 z − 5.42)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | u2 | returned | wind at 2 m | m s⁻¹ |
/// | uz | `wind` | wind at the mast | m s⁻¹ |
/// | z | `height` | of the mast | m |
///
/// At 2 m itself the wind is returned as it is; the printed constants would raise it by 0.02 %.
///
/// **Holds** over short grass in the open, 0.5 to 200 m (our guard); not behind a hedge. **Error** not stated.
/// **Source** Allen et al. 1998 Eq. 47. **Checked** `tests/demand.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the height or the wind is not one.
///
/// # Example
///
/// ```
/// use climate::demand::wind::at_two_metres;
/// use measure::quantity::{Metre, MetresPerSecond};
///
/// assert_eq!(format!("{:.1} m/s", at_two_metres(MetresPerSecond(3.2), Metre(10.0))?.0), "2.4 m/s");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn at_two_metres(wind: MetresPerSecond, height: Metre) -> Result<MetresPerSecond, OutOfRange> {
    Ok(MetresPerSecond(within("wind, m/s", wind.0, 0.0, 120.0)? * factor(height)?))
}

/// The share of the mast's wind that blows at 2 m.
pub(super) fn factor(height: Metre) -> Result<f64, OutOfRange> {
    let z = within("height of the wind mast, m", height.0, 0.5, 200.0)?;
    Ok(if z == 2.0 { 1.0 } else { 4.87 / (67.8 * z - 5.42).ln() }) // Eq. 47
}
