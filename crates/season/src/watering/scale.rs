//! A scale that stands under a pot for good, read as a watering log: each watering it felt, and one weighing a day between.

use collection::drink::{Deed, Drink};
use measure::quantity::Gram;

/// Whose hand the lines are.
pub const SCALE: &str = "scale";

/// A rise of the weight that is a watering, as a share of it and in grams (our estimate: dew and wind stay below).
const RISE: (f64, f64) = (0.03, 20.0);

/// Seconds a pot drains before it counts as full.
const DRAINS: i64 = 3600;

/// Longest wait for a drained reading, seconds.
const WAITS: i64 = 4 * 3600;

/// Seconds between two weighings taken from a scale that never stops.
const APART: i64 = 20 * 3600;

/// The lines of a watering log that readings in order of time amount to.
///
/// ```
/// use collection::drink::Deed;
/// use measure::quantity::Gram;
/// use season::watering::scale::lines;
///
/// let hour = |at: i64, grams: f64| (at * 3600, Gram(grams));
/// let told = lines("maple", &[hour(0, 2000.0), hour(10, 1900.0), hour(24, 1800.0), hour(25, 2060.0), hour(27, 2010.0)]);
/// let deeds: Vec<Deed> = told.iter().map(|line| line.deed).collect();
/// assert_eq!(deeds, [Deed::Weighed(Gram(2000.0)), Deed::Weighed(Gram(1800.0)), Deed::WeighedFull(Gram(2010.0))]);
/// ```
pub fn lines(tree: &str, readings: &[(i64, Gram)]) -> Vec<Drink> {
    let line = |at: i64, deed: Deed| Drink { tree: tree.into(), at, deed, remark: None, hand: SCALE.into() };
    let mut lines = Vec::new();
    let mut kept: Option<i64> = None;
    let mut at = 0;
    while at < readings.len() {
        let (moment, weight) = readings[at];
        let before = at.checked_sub(1).map(|before| readings[before].1.0);
        if before.is_some_and(|before| weight.0 - before >= (RISE.0 * before).max(RISE.1)) {
            let drained = readings[at..].iter().position(|(then, _)| *then >= moment + DRAINS);
            let drained = drained.map(|ahead| at + ahead).filter(|&full| readings[full].0 <= moment + WAITS);
            let full = drained.unwrap_or(at);
            lines.push(line(readings[full].0, Deed::WeighedFull(readings[full].1)));
            kept = Some(readings[full].0);
            at = full;
        } else if kept.is_none_or(|kept| moment >= kept + APART) {
            lines.push(line(moment, Deed::Weighed(weight)));
            kept = Some(moment);
        }
        at += 1;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_a_minute_makes_a_line_a_day() {
        let readings: Vec<(i64, Gram)> =
            (0..5 * 1440).map(|minute| (minute * 60, Gram(2000.0 - 0.02 * minute as f64))).collect();
        assert_eq!(lines("maple", &readings).len(), 6);
    }

    #[test]
    fn dew_is_no_watering() {
        let readings = [(0, Gram(2000.0)), (3600, Gram(2015.0)), (7200, Gram(1990.0))];
        assert_eq!(lines("maple", &readings).len(), 1);
    }
}
