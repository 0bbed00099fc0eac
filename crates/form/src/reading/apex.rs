//! The apex against the layer below it, and the weight of the two sides, by how far each row reaches.

use super::{Finding, finding};
use crate::{peaks::peaks, rules::RuleId};

/// Rows that a tree is cut into.
pub(super) const ROWS: usize = 60;

/// A layer stands out by this share of the widest row.
const STANDS_OUT: f64 = 0.2;

/// Reads the rows of reach to the left and to the right, lowest first.
pub(super) fn read(rows: &[[f64; 2]], told: &mut Vec<Finding>) {
    let [left, right] = [0, 1].map(|side| rows.iter().map(|row| row[side].max(0.0)).sum::<f64>());
    if left + right > 0.0 {
        told.push(finding(RuleId::Golden, left / (left + right)));
    }
    // A row of nothing at either end lets a layer at the very top count as a peak.
    let mut widths = vec![0.0];
    widths.extend(rows.iter().map(|row| row[0] + row[1]));
    widths.push(0.0);
    let widest = widths.iter().copied().fold(0.0, f64::max);
    let found = peaks(&widths, STANDS_OUT * widest);
    let [.., below, top] = found.as_slice() else { return };
    let valley = (below.at..=top.at).min_by(|&one, &other| widths[one].total_cmp(&widths[other]));
    let Some(valley) = valley else { return };
    told.push(finding(RuleId::ApexGap, widths[valley] / (0.5 * (top.height + below.height))));
    let under = found.len().checked_sub(3).map_or(1, |lower| {
        let lower = found[lower].at;
        (lower..=below.at).min_by(|&one, &other| widths[one].total_cmp(&widths[other])).unwrap_or(lower)
    });
    let mean = |from: usize, to: usize| widths[from..to].iter().sum::<f64>() / (to - from).max(1) as f64;
    let (apex, layer) = (mean(valley, widths.len() - 1), mean(under, valley));
    if layer > 0.0 {
        told.push(finding(RuleId::ApexFiner, apex / layer));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fine_apex_over_a_broad_layer_with_a_gap_keeps_both_rules() {
        let mut rows = vec![[5.0, 5.0]; 60];
        rows[20..30].fill([60.0, 60.0]);
        rows[40..60].fill([30.0, 30.0]);
        let mut told = Vec::new();
        read(&rows, &mut told);
        let value =
            |rule| told.iter().find(|finding| finding.rule == rule).map(|f| (f.value, f.keeps)).unwrap();
        assert_eq!(value(RuleId::Golden), (0.5, true));
        assert!((value(RuleId::ApexGap).0 - 10.0 / 90.0).abs() < 1e-12);
        assert!(value(RuleId::ApexFiner).0 > 0.4);
    }
}
