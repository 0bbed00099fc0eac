//! The pieces of a mask that hang together, and the holes in it.

use super::Mask;

/// A run of pixels of one row, and the piece it belongs to.
#[derive(Clone, Copy, Debug)]
struct Run {
    row: usize,
    from: usize,
    to: usize,
}

/// Runs with the pieces that they join to.
struct Pieces {
    runs: Vec<Run>,
    joined: Vec<u32>,
}

impl Pieces {
    /// Joins runs of neighbouring rows: corner to corner, or side to side only.
    fn of(rows: impl Iterator<Item = (usize, usize, usize)>, corners: bool) -> Pieces {
        let mut pieces = Pieces { runs: Vec::new(), joined: Vec::new() };
        let reach = usize::from(corners);
        // Where the runs of the row before start, and which of them may still touch.
        let (mut start, mut touch) = (0, 0);
        for (row, from, to) in rows {
            let at = pieces.runs.len();
            if pieces.runs.last().is_none_or(|last| last.row != row) {
                touch = if pieces.runs.last().is_some_and(|last| last.row + 1 == row) { start } else { at };
                start = at;
            }
            pieces.runs.push(Run { row, from, to });
            pieces.joined.push(at as u32);
            while touch < start && pieces.runs[touch].to + reach <= from {
                touch += 1;
            }
            let mut above = touch;
            while above < start && pieces.runs[above].from < to + reach {
                pieces.join(at, above);
                above += 1;
            }
        }
        pieces
    }

    fn head(&mut self, at: usize) -> usize {
        let mut at = at;
        while self.joined[at] as usize != at {
            self.joined[at] = self.joined[self.joined[at] as usize];
            at = self.joined[at] as usize;
        }
        at
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.head(one), self.head(other));
        self.joined[one.max(other)] = one.min(other) as u32;
    }

    /// For every run the head of its piece, and for every head the pixels of the piece.
    fn sizes(&mut self) -> (Vec<usize>, Vec<u64>) {
        let heads: Vec<usize> = (0..self.runs.len()).map(|at| self.head(at)).collect();
        let mut sizes = vec![0; self.runs.len()];
        for (run, &head) in self.runs.iter().zip(&heads) {
            sizes[head] += (run.to - run.from) as u64;
        }
        (heads, sizes)
    }
}

fn on_runs(mask: &Mask) -> impl Iterator<Item = (usize, usize, usize)> {
    (0..mask.height()).flat_map(move |y| mask.runs(y).map(move |(from, to)| (y, from, to)))
}

/// The runs between the runs of a row.
fn off_runs(mask: &Mask) -> impl Iterator<Item = (usize, usize, usize)> {
    let width = mask.width();
    (0..mask.height()).flat_map(move |y| {
        let mut at = 0;
        let mut gaps: Vec<(usize, usize, usize)> = Vec::new();
        for (from, to) in mask.runs(y) {
            if at < from {
                gaps.push((y, at, from));
            }
            at = to;
        }
        if at < width {
            gaps.push((y, at, width));
        }
        gaps
    })
}

/// How many pieces a mask has, corner to corner.
pub fn pieces(mask: &Mask) -> usize {
    let mut pieces = Pieces::of(on_runs(mask), true);
    (0..pieces.runs.len()).filter(|&at| pieces.head(at) == at).count()
}

/// The largest piece, and those of more than this share of it.
pub fn largest(mask: &Mask, share: f64) -> Mask {
    let mut pieces = Pieces::of(on_runs(mask), true);
    let (heads, sizes) = pieces.sizes();
    let most = sizes.iter().copied().max().unwrap_or(0);
    let mut kept = Mask::blank(mask.width(), mask.height());
    for (run, head) in pieces.runs.iter().zip(heads) {
        if sizes[head] == most || sizes[head] as f64 > share * most as f64 {
            kept.set_run(run.row, run.from, run.to);
        }
    }
    kept
}

/// Pieces of the background that do not reach the edge of the picture, side to side.
fn holes_of(mask: &Mask) -> (Pieces, Vec<usize>, Vec<bool>) {
    let mut pieces = Pieces::of(off_runs(mask), false);
    let (heads, _) = pieces.sizes();
    let mut open = vec![false; pieces.runs.len()];
    for (run, &head) in pieces.runs.iter().zip(&heads) {
        open[head] |= run.row == 0 || run.row + 1 == mask.height() || run.from == 0 || run.to == mask.width();
    }
    (pieces, heads, open)
}

/// How many holes a mask has.
pub fn holes(mask: &Mask) -> usize {
    let (pieces, heads, open) = holes_of(mask);
    (0..pieces.runs.len()).filter(|&at| heads[at] == at && !open[at]).count()
}

/// The mask with its holes filled.
pub fn filled(mask: &Mask) -> Mask {
    let (pieces, heads, open) = holes_of(mask);
    let mut full = mask.clone();
    for (run, _) in pieces.runs.iter().zip(&heads).filter(|(_, head)| !open[**head]) {
        full.set_run(run.row, run.from, run.to);
    }
    full
}
