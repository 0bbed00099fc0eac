//! Peaks of a row of figures, and how far each stands out from what is around it.

/// A peak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// Where it is; the middle of a flat top, rounded down.
    pub at: usize,
    /// How high.
    pub height: f64,
    /// How far above the higher of the two valleys that part it from higher ground.
    pub prominence: f64,
}

/// The peaks that stand out at least so far. A peak at the very end of the row is none.
///
/// ```
/// use form::peaks::peaks;
///
/// let told = peaks(&[0.0, 3.0, 1.0, 2.0, 2.0, 0.0], 1.0);
/// assert_eq!(told.iter().map(|peak| (peak.at, peak.prominence)).collect::<Vec<_>>(), [(1, 3.0), (3, 1.0)]);
/// ```
pub fn peaks(row: &[f64], prominence: f64) -> Vec<Peak> {
    let mut found = Vec::new();
    let mut at = 1;
    while at + 1 < row.len() {
        let mut end = at;
        while end + 1 < row.len() && row[end + 1] == row[at] {
            end += 1;
        }
        if row[at - 1] < row[at] && end + 1 < row.len() && row[end + 1] < row[at] {
            let middle = (at + end) / 2;
            let peak = Peak { at: middle, height: row[at], prominence: stands_out(row, middle) };
            if peak.prominence >= prominence {
                found.push(peak);
            }
        }
        at = end + 1;
    }
    found
}

fn stands_out(row: &[f64], at: usize) -> f64 {
    let top = row[at];
    let lowest = |side: &mut dyn Iterator<Item = &f64>| {
        side.take_while(|height| **height <= top).copied().fold(top, f64::min)
    };
    let (left, right) = (lowest(&mut row[..at].iter().rev()), lowest(&mut row[at..].iter()));
    top - left.max(right)
}
