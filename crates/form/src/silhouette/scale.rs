//! Setting a photo to scale by a card of known size in the plane of the trunk.

use measure::{
    quantity::Millimetre,
    range::{OutOfRange, within},
};

use crate::error::Error;

/// A card of known size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Card {
    /// A bank card, ISO/IEC 7810 ID-1.
    Id1,
    /// A sheet of A4, ISO 216.
    A4,
    /// A card of A6, ISO 216.
    A6,
    /// A sheet of US letter.
    Letter,
}

impl Card {
    /// Its width and height, lying.
    pub fn size(self) -> [Millimetre; 2] {
        match self {
            Card::Id1 => [85.60, 53.98],
            Card::A4 => [297.0, 210.0],
            Card::A6 => [148.0, 105.0],
            Card::Letter => [279.4, 215.9],
        }
        .map(Millimetre)
    }
}

/// From pixels to millimetres in the plane of a card.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    h: [f64; 9],
    middle: [f64; 2],
}

/// The card's sides may differ from its true shape by so much before the photo is refused.
const SHAPE: f64 = 0.03;

impl Scale {
    /// The scale by the corners of a card in pixels: upper left, upper right, lower right, lower left, as it lies in the picture.
    ///
    /// ```text
    /// X = (h11·x + h12·y + h13)/(h31·x + h32·y + 1),   Y likewise; eight equations of four corners
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | x, y | `corners` | corner in the picture | px |
    /// | X, Y | 0 or `size` | corner of the card | mm |
    ///
    /// **Holds** in the plane of the card only; see [`behind`]. **Error** a lens that bends lines adds to it. **Source** plane
    /// homography. **Checked** `tests/photo_scale.rs`.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] when the sides of the card in the picture are out of its shape by more than 3 %: the lens bends lines, the
    /// card is tilted too much, or a corner was missed. [`Error::Empty`] when corners lie on one line.
    pub fn new(corners: [[f64; 2]; 4], size: [Millimetre; 2]) -> Result<Scale, Error> {
        let [width, height] = size.map(|side| side.0);
        within("width of the card, mm", width, 1.0, 1e4)?;
        within("height of the card, mm", height, 1.0, 1e4)?;
        let side = |a: usize, b: usize| (corners[b][0] - corners[a][0]).hypot(corners[b][1] - corners[a][1]);
        let shape = (side(0, 1) + side(3, 2)) / (side(0, 3) + side(1, 2)) / (width / height);
        within("shape of the card in the picture over its own", shape, 1.0 - SHAPE, 1.0 + SHAPE)?;
        let marks = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
        let mut rows = [[0.0; 9]; 8];
        for (at, ([x, y], [u, v])) in corners.into_iter().zip(marks).enumerate() {
            rows[2 * at] = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u];
            rows[2 * at + 1] = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v];
        }
        let [a, b, c, d, e, f, g, i] = solve(rows).ok_or(Error::Empty)?;
        let middle = [0, 1].map(|k| corners.iter().map(|corner| corner[k]).sum::<f64>() / 4.0);
        Ok(Scale { h: [a, b, c, d, e, f, g, i, 1.0], middle })
    }

    /// The nine figures of the homography, row by row.
    pub fn figures(&self) -> [f64; 9] {
        self.h
    }

    /// Where a pixel lies in the plane of the card, from its upper left corner: to the right and down.
    pub fn place(&self, pixel: [f64; 2]) -> [Millimetre; 2] {
        let [x, y] = pixel;
        let row = |at: usize| self.h[at] * x + self.h[at + 1] * y + self.h[at + 2];
        [Millimetre(row(0) / row(6)), Millimetre(row(3) / row(6))]
    }

    /// How far two pixels lie apart in the plane of the card.
    pub fn apart(&self, one: [f64; 2], other: [f64; 2]) -> Millimetre {
        let ([a, b], [c, d]) = (self.place(one), self.place(other));
        Millimetre((c.0 - a.0).hypot(d.0 - b.0))
    }

    /// Millimetres that a pixel shows between the corners of the card: the root of what its area shows.
    pub fn at_card(&self) -> Millimetre {
        let [x, y] = self.middle;
        let h = &self.h;
        let below = h[6] * x + h[7] * y + 1.0;
        let [u, v] = self.place(self.middle).map(|place| place.0);
        let (ux, uy) = ((h[0] - u * h[6]) / below, (h[1] - u * h[7]) / below);
        let (vx, vy) = ((h[3] - v * h[6]) / below, (h[4] - v * h[7]) / below);
        Millimetre((ux * vy - uy * vx).abs().sqrt())
    }
}

fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for at in 0..8 {
        let best = (at..8).max_by(|&one, &other| rows[one][at].abs().total_cmp(&rows[other][at].abs()))?;
        rows.swap(at, best);
        if rows[at][at].abs() < 1e-12 {
            return None;
        }
        for below in at + 1..8 {
            let factor = rows[below][at] / rows[at][at];
            let above = rows[at];
            rows[below].iter_mut().zip(above).skip(at).for_each(|(one, above)| *one -= factor * above);
        }
    }
    let mut found = [0.0; 8];
    for at in (0..8).rev() {
        let known: f64 = (at + 1..8).map(|k| rows[at][k] * found[k]).sum();
        found[at] = (rows[at][8] - known) / rows[at][at];
    }
    Some(found)
}

/// A length that lies behind the card, or before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Behind {
    /// The true length.
    pub length: Millimetre,
    /// How far off the read one is, as a share of the true one.
    pub off: f64,
}

/// What a length read in the card's plane truly is where the tree stands behind the card.
///
/// ```text
/// true = read·(Z + δ)/Z
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | Z | `camera` | camera to card | mm |
/// | δ | `deeper` | tree behind the card; negative before it | mm |
///
/// **Holds** for a level camera. **Error** none of its own. **Source** similar triangles. **Checked** `tests/photo_scale.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when the camera stands on the card or behind the tree.
pub fn behind(read: Millimetre, camera: Millimetre, deeper: Millimetre) -> Result<Behind, OutOfRange> {
    let z = within("camera to card, mm", camera.0, 1.0, 1e6)?;
    let delta = within("tree behind the card, mm", deeper.0, 1.0 - z, 1e6)?;
    let length = read.0 * (z + delta) / z;
    Ok(Behind { length: Millimetre(length), off: z / (z + delta) - 1.0 })
}
