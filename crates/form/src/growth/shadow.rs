//! Light in a crown: every leafy piece throws a pyramid of shade on the cells below it.

/// How shade falls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shade {
    /// What one piece takes from its own cell (a).
    pub own: f64,
    /// Each cell down it fades by this factor (b).
    pub fades: f64,
    /// Cells down that it reaches.
    pub deep: usize,
    /// Light of a free cell (C).
    pub free: f64,
}

/// The shade of Palubicki et al. 2009; the figures are remembered in the reference set, not published.
pub const USUAL: Shade = Shade { own: 0.2, fades: 1.5, deep: 4, free: 1.0 };

/// A crown cut into cells.
#[derive(Clone, Debug, Default)]
pub struct Cells {
    shade: Vec<f32>,
    /// Pieces that have not thrown their shade yet, cell by cell.
    waiting: Vec<f32>,
    size: [usize; 3],
    low: [i32; 3],
}

impl Cells {
    /// Clears the cells from one corner to the other, both included, with room for the shade below.
    pub fn clear(&mut self, low: [i32; 3], high: [i32; 3], shade: &Shade) {
        let deep = shade.deep as i32;
        self.low = [low[0] - deep, low[1] - deep, low[2] - deep];
        self.size = [0, 1, 2].map(|k| (high[k] - low[k] + 2 * deep + 1).max(1) as usize);
        for cells in [&mut self.shade, &mut self.waiting] {
            cells.clear();
            cells.resize(self.size.iter().product(), 0.0);
        }
    }

    /// Puts a piece into a cell, to throw its shade with all the others of the cell in [`Cells::throw_all`].
    pub fn put(&mut self, cell: [i32; 3], share: f64) {
        if let Some(at) = self.index(cell) {
            self.waiting[at] += share as f32;
        }
    }

    /// Lets all pieces that were put throw their shade, cell by cell.
    pub fn throw_all(&mut self, shade: &Shade) {
        let [wide, deep, _] = self.size;
        for at in 0..self.waiting.len() {
            let share = f64::from(std::mem::take(&mut self.waiting[at]));
            if share > 0.0 {
                let place = [at % wide, at / wide % deep, at / wide / deep];
                self.throw([0, 1, 2].map(|k| place[k] as i32 + self.low[k]), share, shade);
            }
        }
    }

    /// Lets a piece in a cell throw its shade; `share` below 1 for a piece smaller than the cell. Cells count x, y, and z upward.
    ///
    /// ```text
    /// s += a·b^(−q) in all cells (I + p, J + r, K − q), |p|, |r| ≤ q, q = 0 … deep;   Q = max(C − s + a, 0)
    /// ```
    ///
    /// **Holds** inside the cleared span; outside nothing is thrown. **Error** none of its own. **Source** shadow propagation of
    /// Palubicki et al. 2009, figures remembered. **Checked** `tests/growth.rs`.
    pub fn throw(&mut self, cell: [i32; 3], share: f64, shade: &Shade) {
        let mut strength = shade.own * share;
        for q in 0..=shade.deep as i32 {
            let z = cell[2] - q;
            for y in cell[1] - q..=cell[1] + q {
                let (Some(first), Some(last)) =
                    (self.index([cell[0] - q, y, z]), self.index([cell[0] + q, y, z]))
                else {
                    continue;
                };
                for one in &mut self.shade[first..=last] {
                    *one += strength as f32;
                }
            }
            strength /= shade.fades;
        }
    }

    /// The shade in a cell; none outside.
    pub fn shade_at(&self, cell: [i32; 3]) -> f64 {
        self.index(cell).map_or(0.0, |at| f64::from(self.shade[at]))
    }

    /// The light that a bud in a cell gets, which does not shade itself.
    pub fn light(&self, cell: [i32; 3], own_share: f64, shade: &Shade) -> f64 {
        (shade.free - self.shade_at(cell) + shade.own * own_share).max(0.0)
    }

    /// Which way it gets lighter from a cell: the fall of shade along x, y and z.
    pub fn brighter(&self, cell: [i32; 3]) -> [f64; 3] {
        [0, 1, 2].map(|k| {
            let at = |step: i32| {
                let mut beside = cell;
                beside[k] += step;
                self.shade_at(beside)
            };
            at(-1) - at(1)
        })
    }

    fn index(&self, cell: [i32; 3]) -> Option<usize> {
        let [x, y, z] = [0, 1, 2].map(|k| cell[k] - self.low[k]);
        let inside = |at: i32, size: usize| at >= 0 && (at as usize) < size;
        (inside(x, self.size[0]) && inside(y, self.size[1]) && inside(z, self.size[2]))
            .then(|| (z as usize * self.size[1] + y as usize) * self.size[0] + x as usize)
    }
}
