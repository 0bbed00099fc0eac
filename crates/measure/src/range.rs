//! A refusal that carries its numbers, for every formula with a span.

/// A quantity outside the span in which a formula holds.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{quantity} is {got}, but must be from {low} to {high}")]
pub struct OutOfRange {
    /// What was given, with its unit.
    pub quantity: &'static str,
    /// The value given.
    pub got: f64,
    /// Lowest value accepted.
    pub low: f64,
    /// Highest value accepted.
    pub high: f64,
}

/// Gives `got` back if it lies in the span and is a number.
///
/// # Errors
///
/// [`OutOfRange`] when `got` is not a number or lies outside `low..=high`.
///
/// # Example
///
/// ```
/// use measure::range::within;
///
/// assert_eq!(within("latitude, °", 47.4, -90.0, 90.0)?, 47.4);
/// assert!(within("latitude, °", f64::NAN, -90.0, 90.0).is_err());
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn within(quantity: &'static str, got: f64, low: f64, high: f64) -> Result<f64, OutOfRange> {
    if (low..=high).contains(&got) { Ok(got) } else { Err(OutOfRange { quantity, got, low, high }) }
}
