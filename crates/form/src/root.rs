//! Where a falling curve meets nothing: halving a bracket until it is as narrow as numbers allow.

/// The place between `low` and `high` where `curve` crosses zero; none if its ends have the same sign.
pub(crate) fn crossing(mut low: f64, mut high: f64, curve: impl Fn(f64) -> f64) -> Option<f64> {
    let (at_low, at_high) = (curve(low), curve(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    let opposite = at_low * at_high < 0.0;
    if !opposite {
        return None;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if (curve(middle) < 0.0) == (at_low < 0.0) { low = middle } else { high = middle }
    }
    Some(0.5 * (low + high))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crossing_is_found_and_no_crossing_is_none() {
        let root = crossing(0.0, 2.0, |x| x * x - 2.0).unwrap();
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-15);
        assert_eq!(crossing(0.0, 1.0, |x| x + 1.0), None);
        assert_eq!(crossing(0.0, 1.0, |_| f64::NAN), None);
    }
}
