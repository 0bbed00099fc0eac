//! Which pixels belong to the tree.

use super::bits::{count, fill, runs, words};
use crate::error::Error;

/// Which pixels belong to the tree, row by row from the top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mask {
    width: usize,
    height: usize,
    /// Rows of bits; the bits beyond the width are unset.
    rows: Vec<u64>,
}

impl Mask {
    /// A mask with nothing set.
    pub fn blank(width: usize, height: usize) -> Mask {
        Mask { width, height, rows: vec![0; words(width) * height] }
    }

    /// A mask that tells each pixel by column and row.
    pub fn by(width: usize, height: usize, on: impl Fn(usize, usize) -> bool) -> Mask {
        let mut mask = Mask::blank(width, height);
        for y in 0..height {
            let row = mask.row_mut(y);
            for x in (0..width).filter(|&x| on(x, y)) {
                row[x / 64] |= 1 << (x % 64);
            }
        }
        mask
    }

    /// A mask from pixels that are set where they are true.
    ///
    /// # Errors
    ///
    /// [`Error::Count`] when there are not width times height of them.
    pub fn new(width: usize, height: usize, on: &[bool]) -> Result<Mask, Error> {
        let wanted = width.saturating_mul(height);
        if on.len() != wanted {
            return Err(Error::Count { quantity: "pixels of a mask", got: on.len(), wanted });
        }
        Ok(Mask::by(width, height, |x, y| on[y * width + x]))
    }

    /// Its width in pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Its height in pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Whether a pixel is set; outside nothing is.
    pub fn on(&self, x: usize, y: usize) -> bool {
        x < self.width && y < self.height && (self.row(y)[x / 64] >> (x % 64)) & 1 == 1
    }

    /// How many pixels are set.
    pub fn area(&self) -> u64 {
        count(&self.rows)
    }

    /// How many pixels are set in each row.
    pub fn row_counts(&self) -> Vec<u64> {
        (0..self.height).map(|y| count(self.row(y))).collect()
    }

    /// Everything from a row down taken off: the pot and the soil.
    pub fn above(mut self, soil: usize) -> Mask {
        let from = (soil.min(self.height)) * words(self.width);
        self.rows[from..].fill(0);
        self
    }

    /// The mask made smaller by a whole number: a pixel is set where at least half of those it covers are.
    pub fn smaller(&self, by: usize) -> Mask {
        let by = by.max(1);
        let (width, height) = (self.width / by, self.height / by);
        let mut sums = vec![0_u32; width];
        let mut small = Mask::blank(width, height);
        for y in 0..height {
            sums.fill(0);
            for row in y * by..(y + 1) * by {
                for (from, to) in self.runs(row) {
                    for (x, sum) in sums.iter_mut().enumerate().take(to.div_ceil(by)).skip(from / by) {
                        let inside = to.min((x + 1) * by).saturating_sub(from.max(x * by));
                        *sum += inside as u32;
                    }
                }
            }
            for (x, _) in sums.iter().enumerate().filter(|(_, sum)| 2 * **sum as usize >= by * by) {
                small.row_mut(y)[x / 64] |= 1 << (x % 64);
            }
        }
        small
    }

    /// The mask with a brush drawn along a line of spots, in pixels: set, or taken off. Spots beyond the edge are left out.
    pub fn painted(mut self, line: &[[f64; 2]], half: f64, on: bool) -> Mask {
        let pairs: Vec<[[f64; 2]; 2]> = match line {
            [] => Vec::new(),
            [spot] => vec![[*spot, *spot]],
            _ => line.windows(2).map(|pair| [pair[0], pair[1]]).collect(),
        };
        for [from, to] in pairs {
            let edge = |low: f64, most: usize| low.clamp(0.0, most as f64) as usize;
            let span = |at: usize, most: usize| {
                let (least, greatest) = (from[at].min(to[at]), from[at].max(to[at]));
                edge((least - half).floor(), most)..edge((greatest + half).ceil() + 1.0, most)
            };
            let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
            let square = dx * dx + dy * dy;
            for y in span(1, self.height) {
                for x in span(0, self.width) {
                    let (px, py) = (x as f64 + 0.5 - from[0], y as f64 + 0.5 - from[1]);
                    let t = if square > 0.0 { ((px * dx + py * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
                    if (px - t * dx).hypot(py - t * dy) <= half {
                        let word = &mut self.row_mut(y)[x / 64];
                        if on { *word |= 1 << (x % 64) } else { *word &= !(1 << (x % 64)) }
                    }
                }
            }
        }
        self
    }

    pub(super) fn row(&self, y: usize) -> &[u64] {
        &self.rows[y * words(self.width)..(y + 1) * words(self.width)]
    }

    pub(super) fn row_mut(&mut self, y: usize) -> &mut [u64] {
        let words = words(self.width);
        &mut self.rows[y * words..(y + 1) * words]
    }

    /// Sets a run of a row.
    pub(super) fn set_run(&mut self, y: usize, from: usize, to: usize) {
        fill(self.row_mut(y), from, to);
    }

    /// The runs of a row.
    pub(super) fn runs(&self, y: usize) -> impl Iterator<Item = (usize, usize)> {
        runs(self.row(y), self.width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_brush_sets_and_takes_off_what_it_covers_and_nothing_else() {
        let line = [[10.0, 10.0], [60.0, 10.0]];
        let mask = Mask::blank(70, 20).painted(&line, 3.0, true);
        let told = Mask::by(70, 20, |x, y| {
            let (px, py) = (x as f64 + 0.5, y as f64 + 0.5);
            (px - px.clamp(10.0, 60.0)).hypot(py - 10.0) <= 3.0
        });
        assert_eq!(mask, told);
        assert!(mask.painted(&line, 3.0, false) == Mask::blank(70, 20));
        assert_eq!(Mask::blank(4, 4).painted(&[[900.0, -900.0]], 2.0, true).area(), 0);
    }
}
