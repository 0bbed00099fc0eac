//! The two sides of a tree against its axis, and its layers from top to bottom.

use super::{Mask, shape::frame};
use crate::{
    error::Error,
    peaks::{Peak, peaks},
};

/// How the two sides of a mask compare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sides {
    /// What mask and mirror share, over what either covers.
    pub mirror: f64,
    /// Row by row the smaller side, over the larger.
    pub rows: f64,
    /// How far the middle lies to the right of the axis, over the width.
    pub balance: f64,
    /// Share of pixels to the left of the axis.
    pub left: f64,
}

/// A layer stands out by this share of the widest row.
pub const STANDS_OUT: f64 = 0.2;

/// Compares the two sides of a mask about a standing axis, given to half a pixel.
///
/// ```text
/// mirror = |F ∩ M|/|F ∪ M|, column j to 2·axis − 1 − j;   rows = Σ min(l, r)/Σ max(l, r);   balance = (x̄ − axis)/width
/// ```
///
/// **Holds** for an axis within the picture. **Error** none of its own. **Source** the usual forms, by the reference set.
/// **Checked** `tests/silhouette.rs`.
///
/// # Errors
///
/// [`Error::Empty`] when nothing is set.
pub fn sides(mask: &Mask, axis: f64) -> Result<Sides, Error> {
    let frame = frame(mask).ok_or(Error::Empty)?;
    let fold = (2.0 * axis).round() as i64 - 1;
    // Columns left of the axis: those whose middle lies left of it.
    let middle = (axis - 0.5).ceil().max(0.0) as usize;
    let (mut both, mut least, mut most, mut lefts, mut x) = (0_u64, 0, 0, 0, 0.0);
    for y in frame.top..=frame.bottom {
        let runs: Vec<(usize, usize)> = mask.runs(y).collect();
        let mirrored = || runs.iter().rev().map(|&(from, to)| (fold + 1 - to as i64, fold + 1 - from as i64));
        both += shared(&runs, mirrored());
        let (mut left, mut right) = (0, 0);
        for &(from, to) in &runs {
            let cut = middle.clamp(from, to);
            left += (cut - from) as u64;
            right += (to - cut) as u64;
            x += (to - from) as f64 * 0.5 * (from + to) as f64;
        }
        least += left.min(right);
        most += left.max(right);
        lefts += left;
    }
    let area = mask.area();
    let width = (frame.right - frame.left + 1) as f64;
    Ok(Sides {
        mirror: both as f64 / (2 * area - both) as f64,
        rows: least as f64 / most as f64,
        balance: (x / area as f64 - axis) / width,
        left: lefts as f64 / area as f64,
    })
}

/// Pixels that two rows of runs share.
fn shared(runs: &[(usize, usize)], others: impl Iterator<Item = (i64, i64)>) -> u64 {
    let (mut sum, mut at) = (0, 0);
    for (from, to) in others {
        while at < runs.len() && (runs[at].1 as i64) <= from {
            at += 1;
        }
        let mut here = at;
        while here < runs.len() && (runs[here].0 as i64) < to {
            sum += ((runs[here].1 as i64).min(to) - (runs[here].0 as i64).max(from)) as u64;
            here += 1;
        }
    }
    sum
}

/// The layers of a crown: peaks of the row counts that stand out by [`STANDS_OUT`] of the widest row, top first.
pub fn layers(mask: &Mask) -> Vec<Peak> {
    let rows: Vec<f64> = mask.row_counts().into_iter().map(|count| count as f64).collect();
    let widest = rows.iter().copied().fold(0.0, f64::max);
    peaks(&rows, STANDS_OUT * widest)
}
