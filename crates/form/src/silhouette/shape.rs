//! The shape of a mask: where it lies, how long its edge is, and how much of its hull it fills.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use super::{Mask, bits::count};
use crate::error::Error;

/// A frame of pixels, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub struct Frame {
    pub left: usize,
    pub top: usize,
    pub right: usize,
    pub bottom: usize,
}

/// The shape of a mask, in pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// Pixels set.
    pub area: u64,
    /// The frame around them.
    pub frame: Frame,
    /// Their middle, column and row.
    pub middle: [f64; 2],
    /// Area of the hull around the corners of the pixels.
    pub hull_area: f64,
    /// Length around that hull.
    pub hull_around: f64,
    /// Area over that of the hull.
    pub solidity: f64,
    /// Sides between a set pixel and one that is not.
    pub crack: u64,
    /// Length of the edge by Crofton, four directions.
    pub edge: f64,
    /// 4π times area over the square of the edge: 1 for a disc.
    pub compactness: f64,
}

/// The shape of a mask.
///
/// ```text
/// solidity = A/A_hull;   compactness = 4π·A/P²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | A, A_hull | `area`, `hull_area` | pixels set, hull of their corners | px² |
/// | P | `edge` | edge by Crofton with four directions | px |
///
/// **Holds** for any mask with a pixel set. **Error** the edge of a raster is good to a few per cent. **Source** the usual forms;
/// edge as scikit-image defines it. **Checked** `tests/silhouette.rs`.
///
/// # Errors
///
/// [`Error::Empty`] when nothing is set.
pub fn shape(mask: &Mask) -> Result<Shape, Error> {
    let area = mask.area();
    let frame = frame(mask).ok_or(Error::Empty)?;
    let (mut x, mut y) = (0.0, 0.0);
    for row in frame.top..=frame.bottom {
        for (from, to) in mask.runs(row) {
            let long = (to - from) as f64;
            x += long * 0.5 * (from + to) as f64;
            y += long * (row as f64 + 0.5);
        }
    }
    let hull = hull(mask, frame);
    let (hull_area, hull_around) = around(&hull);
    let edge = crofton(mask);
    Ok(Shape {
        area,
        frame,
        middle: [x / area as f64, y / area as f64],
        hull_area,
        hull_around,
        solidity: area as f64 / hull_area,
        crack: crack(mask),
        edge,
        compactness: 4.0 * PI * area as f64 / (edge * edge),
    })
}

/// The frame around what is set.
pub fn frame(mask: &Mask) -> Option<Frame> {
    let mut frame: Option<Frame> = None;
    for y in 0..mask.height() {
        let Some((left, right)) = ends(mask, y) else { continue };
        let known = frame.get_or_insert(Frame { left, top: y, right, bottom: y });
        *known = Frame { left: known.left.min(left), right: known.right.max(right), bottom: y, ..*known };
    }
    frame
}

/// The first and the last set pixel of a row.
fn ends(mask: &Mask, y: usize) -> Option<(usize, usize)> {
    let row = mask.row(y);
    let first = row.iter().position(|word| *word != 0)?;
    let last = row.iter().rposition(|word| *word != 0)?;
    Some((
        first * 64 + row[first].trailing_zeros() as usize,
        last * 64 + 63 - row[last].leading_zeros() as usize,
    ))
}

/// The hull of the corners of all set pixels, round the way.
fn hull(mask: &Mask, frame: Frame) -> Vec<[i64; 2]> {
    let (mut left, mut right): (Vec<[i64; 2]>, Vec<[i64; 2]>) = (Vec::new(), Vec::new());
    for y in frame.top..=frame.bottom {
        let Some((first, last)) = ends(mask, y) else { continue };
        for row in [y as i64, y as i64 + 1] {
            push_hull(&mut left, [first as i64, row], 1);
            push_hull(&mut right, [last as i64 + 1, row], -1);
        }
    }
    right.reverse();
    left.extend(right);
    left
}

/// Adds a corner further down to one side of the hull, and drops those that it leaves inside. Two corners of one row: the outer stays.
fn push_hull(side: &mut Vec<[i64; 2]>, corner: [i64; 2], turn: i64) {
    if let Some(last) = side.last_mut()
        && last[1] == corner[1]
    {
        if (corner[0] - last[0]) * turn >= 0 {
            return;
        }
        side.pop();
    }
    while let [.., a, b] = side.as_slice() {
        let cross = (b[0] - a[0]) * (corner[1] - a[1]) - (b[1] - a[1]) * (corner[0] - a[0]);
        if cross * turn < 0 {
            break;
        }
        side.pop();
    }
    side.push(corner);
}

fn around(hull: &[[i64; 2]]) -> (f64, f64) {
    let (mut twice, mut length) = (0, 0.0);
    for (at, a) in hull.iter().enumerate() {
        let b = hull[(at + 1) % hull.len()];
        twice += a[0] * b[1] - b[0] * a[1];
        length += ((b[0] - a[0]) as f64).hypot((b[1] - a[1]) as f64);
    }
    (twice.abs() as f64 / 2.0, length)
}

/// Sides between a set pixel and one that is not; the edge of the picture counts as not.
pub fn crack(mask: &Mask) -> u64 {
    let mut sides = 0;
    let mut above: &[u64] = &[];
    for y in 0..mask.height() {
        let row = mask.row(y);
        let mut before = 0;
        for &word in row {
            sides += u64::from((word ^ ((word << 1) | before)).count_ones());
            before = word >> 63;
        }
        // The side beyond the last column: its word has no room for one more bit when the width fills it.
        sides += before * u64::from(mask.width().is_multiple_of(64));
        sides += match above.is_empty() {
            true => count(row),
            false => row.iter().zip(above).map(|(here, above)| u64::from((here ^ above).count_ones())).sum(),
        };
        above = row;
    }
    sides + count(above)
}

/// Length of the edge: how often lines in four directions cross it.
fn crofton(mask: &Mask) -> f64 {
    const STRAIGHT: f64 = PI / 4.0;
    const SLANT: f64 = PI / 4.0 * FRAC_1_SQRT_2;
    // By the four pixels here (1), above (2), to the left (4), above to the left (8).
    const WEIGHT: [f64; 16] = [
        0.0,
        STRAIGHT + SLANT,
        SLANT,
        2.0 * SLANT,
        0.0,
        STRAIGHT + SLANT,
        0.0,
        SLANT,
        STRAIGHT,
        2.0 * STRAIGHT,
        SLANT,
        SLANT,
        STRAIGHT,
        2.0 * STRAIGHT,
        0.0,
        0.0,
    ];
    let mut counts = [0_u64; 16];
    let wide = mask.width() / 64 + 1;
    let blank = vec![0; wide];
    for y in 0..=mask.height() {
        let here = if y < mask.height() { mask.row(y) } else { &blank };
        let above = if y > 0 { mask.row(y - 1) } else { &blank };
        let (mut left_here, mut left_above) = (0, 0);
        for at in 0..wide {
            let word = |row: &[u64]| row.get(at).copied().unwrap_or(0);
            let (a, b) = (word(here), word(above));
            let (c, d) = ((a << 1) | left_here, (b << 1) | left_above);
            (left_here, left_above) = (a >> 63, b >> 63);
            if a | b | c | d == 0 {
                continue;
            }
            for (pattern, seen) in counts.iter_mut().enumerate().skip(1) {
                let pick = |bit: usize, word: u64| if pattern >> bit & 1 == 1 { word } else { !word };
                *seen += u64::from((pick(0, a) & pick(1, b) & pick(2, c) & pick(3, d)).count_ones());
            }
        }
    }
    counts.iter().zip(WEIGHT).map(|(seen, weight)| *seen as f64 * weight).sum()
}
