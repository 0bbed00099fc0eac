//! The outline of a crown: small gaps closed, holes filled, and how much light comes through.

use super::{Mask, bits::widen, parts::filled};

/// A crown and what of it is open.
#[derive(Clone, Debug, PartialEq)]
pub struct Canopy {
    /// The outline: gaps up to twice the radius closed, holes filled.
    pub outline: Mask,
    /// The part of the outline that is not set.
    pub porosity: f64,
}

/// The outline of a crown by closing with a digital disc.
///
/// ```text
/// closed with all (dx, dy) of dx² + dy² ≤ R², holes filled;   porosity = 1 − A/A_outline
/// ```
///
/// **Holds** for a radius in the picture's own scale. **Error** the radius decides: keep it for one tree. **Source** closing of
/// mathematical morphology. **Checked** `tests/silhouette.rs`.
pub fn canopy(mask: &Mask, radius: usize) -> Canopy {
    let outline = filled(&closed(mask, radius));
    let whole = outline.area();
    let porosity = if whole == 0 { 0.0 } else { 1.0 - mask.area() as f64 / whole as f64 };
    Canopy { outline, porosity }
}

/// A mask closed with a digital disc; beyond its edge nothing is set.
pub fn closed(mask: &Mask, radius: usize) -> Mask {
    let margin = 2 * radius;
    let mut wide = Mask::blank(mask.width() + 2 * margin, mask.height() + 2 * margin);
    for y in 0..mask.height() {
        for (from, to) in mask.runs(y) {
            wide.set_run(y + margin, from + margin, to + margin);
        }
    }
    let grown = grown(&wide, radius);
    let eroded = opposite(&self::grown(&opposite(&grown), radius));
    let mut closed = Mask::blank(mask.width(), mask.height());
    for y in 0..mask.height() {
        for (from, to) in eroded.runs(y + margin) {
            let (from, to) = (from.max(margin), to.min(margin + mask.width()));
            if from < to {
                closed.set_run(y, from - margin, to - margin);
            }
        }
    }
    closed
}

/// A mask grown by a digital disc.
fn grown(mask: &Mask, radius: usize) -> Mask {
    let mut out = Mask::blank(mask.width(), mask.height());
    // How far the disc reaches sideways, so many rows up or down.
    let reach = |rows: usize| ((radius * radius - rows * rows) as f64).sqrt().floor() as usize;
    let rows_of: Vec<Vec<usize>> =
        (0..=radius).map(|side| (0..=radius).filter(|&rows| reach(rows) == side).collect()).collect();
    let mut row = Vec::new();
    for y in 0..mask.height() {
        row.clear();
        row.extend_from_slice(mask.row(y));
        if row.iter().all(|word| *word == 0) {
            continue;
        }
        for (side, rows) in rows_of.iter().enumerate() {
            if side > 0 {
                widen(&mut row);
            }
            for &off in rows {
                for at in [y.checked_sub(off), Some(y + off).filter(|&at| off > 0 && at < mask.height())] {
                    let Some(at) = at else { continue };
                    out.row_mut(at).iter_mut().zip(&row).for_each(|(out, word)| *out |= word);
                }
            }
        }
    }
    out.trim();
    out
}

fn opposite(mask: &Mask) -> Mask {
    let mut other = mask.clone();
    for y in 0..mask.height() {
        other.row_mut(y).iter_mut().for_each(|word| *word = !*word);
    }
    other.trim();
    other
}

impl Mask {
    /// Unsets what was set beyond the width.
    fn trim(&mut self) {
        let left = self.width() % 64;
        if left > 0 {
            for y in 0..self.height() {
                if let Some(last) = self.row_mut(y).last_mut() {
                    *last &= u64::MAX >> (64 - left);
                }
            }
        }
    }
}
