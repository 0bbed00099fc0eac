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

/// How far a reading may be from the one before, share of the heavier: more than the water of any pot (our guard).
const FAR: f64 = 0.4;

/// Seconds for which readings must agree with each other before they show that another pot stands on the scale.
const AGREE: i64 = 3600;

/// Readings in order of time parted into those that can be of one pot, and those that cannot: a hand on the scale, a pot lifted off it, a
/// broken cable. Where what does not fit goes on for an hour, another pot stands there, and the readings from then on are its own.
///
/// ```
/// use measure::quantity::Gram;
/// use season::watering::scale::parted;
///
/// let minute = |at: i64, grams: f64| (at * 60, Gram(grams));
/// let sent = [minute(0, 17_000.0), minute(1, 500.0), minute(2, 30_000.0), minute(3, 16_900.0)];
/// let [fit, odd] = parted(&sent);
/// assert_eq!(fit, [sent[0], sent[3]]);
/// assert_eq!(odd, [sent[1], sent[2]]);
/// ```
pub fn parted(readings: &[(i64, Gram)]) -> [Vec<(i64, Gram)>; 2] {
    let is_near = |a: Gram, b: Gram| (a.0 - b.0).abs() <= FAR * a.0.max(b.0);
    let [mut fit, mut odd] = [Vec::new(), Vec::new()];
    let mut stray: Option<(i64, Gram)> = None;
    for &(at, weight) in readings {
        let fits = fit.last().is_none_or(|(_, last): &(i64, Gram)| is_near(*last, weight));
        let goes_on = stray.is_some_and(|(_, other)| is_near(other, weight));
        let another = goes_on && stray.is_some_and(|(since, _)| at >= since + AGREE);
        if fits || another {
            fit.push((at, weight));
            stray = None;
        } else {
            odd.push((at, weight));
            stray = stray.filter(|_| goes_on).or(Some((at, weight)));
        }
    }
    [fit, odd]
}

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
    let line = |at: i64, deed: Deed| {
        let (tree, hand) = (tree.to_string(), SCALE.to_string());
        Drink { tree, at, deed, remark: None, hand, sure: false }
    };
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
    fn a_hand_on_the_scale_is_no_watering_and_another_pot_stays() {
        let hour = |at: i64, grams: f64| (at * 3600, Gram(grams));
        let touched = [hour(0, 2000.0), hour(1, 400.0), hour(2, 1990.0)];
        let [fit, odd] = parted(&touched);
        assert_eq!((lines("maple", &fit).len(), odd.len()), (1, 1));
        let changed = [hour(0, 2000.0), hour(1, 800.0), hour(2, 795.0), hour(3, 790.0)];
        assert_eq!(parted(&changed), [vec![changed[0], changed[2], changed[3]], vec![changed[1]]]);
    }

    #[test]
    fn dew_is_no_watering() {
        let readings = [(0, Gram(2000.0)), (3600, Gram(2015.0)), (7200, Gram(1990.0))];
        assert_eq!(lines("maple", &readings).len(), 1);
    }
}
