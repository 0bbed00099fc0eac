//! Cutting a dark tree out of a light cloth: the cloth made even, one threshold, and a refusal where the two do not part.

use measure::sourced::{Sourced, Standing};

use super::{Mask, Raster, parts::largest};
use crate::error::Error;

/// Between-class over total variance below which a cut is refused.
pub const PARTS_ENOUGH: Sourced<f64> = Sourced {
    value: 0.7,
    standing: Standing::Estimate("a choice of ours: below it tree and cloth do not part"),
};

/// Pieces smaller than this share of the largest are dust.
pub const DUST: f64 = 0.001;

/// The rim of a picture, as a share of its sides, that shows cloth only.
const RIM: f64 = 0.05;

/// Where a histogram parts best.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threshold {
    /// The highest grey of the dark part.
    pub level: u8,
    /// Between-class over total variance, 0 to 1.
    pub parts: f64,
}

/// How many pixels have each grey.
pub fn histogram(raster: &Raster) -> [u64; 256] {
    let mut lanes = [[0_u32; 256]; 4];
    let mut counts = [0_u64; 256];
    // Chunks keep the small counters from running over.
    for chunk in raster.luma().chunks(1 << 24) {
        for four in chunk.chunks(4) {
            for (lane, grey) in lanes.iter_mut().zip(four) {
                lane[*grey as usize] += 1;
            }
        }
        for lane in &mut lanes {
            for (count, seen) in counts.iter_mut().zip(lane.iter_mut()) {
                *count += u64::from(*seen);
                *seen = 0;
            }
        }
    }
    counts
}

/// The threshold that parts a histogram best; the first where several do.
///
/// ```text
/// maximise w0·w1·(μ0 − μ1)²,   w0 = pixels up to t
/// ```
///
/// **Holds** for a picture of two greys or more. **Error** none of its own. **Source** Otsu 1979. **Checked** `tests/silhouette.rs`.
pub fn otsu(histogram: &[u64; 256]) -> Option<Threshold> {
    let count: f64 = histogram.iter().map(|seen| *seen as f64).sum();
    let sum: f64 = (0..).zip(histogram).map(|(grey, seen)| f64::from(grey) * *seen as f64).sum();
    let square: f64 = (0..).zip(histogram).map(|(grey, seen)| f64::from(grey).powi(2) * *seen as f64).sum();
    let total = square / count - (sum / count).powi(2);
    let (mut low, mut low_sum, mut best) = (0.0, 0.0, None::<(u8, f64)>);
    for (grey, seen) in (0..=u8::MAX).zip(histogram) {
        low += *seen as f64;
        low_sum += f64::from(grey) * *seen as f64;
        let high = count - low;
        if low == 0.0 || high <= 0.0 {
            continue;
        }
        let between = low / count * (high / count) * (low_sum / low - (sum - low_sum) / high).powi(2);
        if best.is_none_or(|(_, most)| between > most) {
            best = Some((grey, between));
        }
    }
    best.filter(|_| total > 0.0).map(|(level, between)| Threshold { level, parts: between / total })
}

/// The picture with the slope of its cloth taken out: a plane through the rim, fitted twice, the second time without what strays.
pub fn even(raster: &Raster) -> Raster {
    let (width, height) = (raster.width(), raster.height());
    let rim = |side: usize| ((RIM * side as f64) as usize).max(1).min(side);
    let (across, down) = (rim(width), rim(height));
    // Every few pixels are enough for a plane.
    let step = (width.max(height) / 500).max(1);
    let spots: Vec<[f64; 3]> = (0..height)
        .step_by(step)
        .flat_map(|y| (0..width).step_by(step).map(move |x| (x, y)))
        .filter(|&(x, y)| x < across || x + across >= width || y < down || y + down >= height)
        .map(|(x, y)| [x as f64 / width as f64, y as f64 / height as f64, f64::from(raster.row(y)[x])])
        .collect();
    let Some(first) = plane(&spots) else { return raster.clone() };
    let off = |fit: &[f64; 3], spot: &[f64; 3]| spot[2] - fit[0] - fit[1] * spot[0] - fit[2] * spot[1];
    let strays =
        (spots.iter().map(|spot| off(&first, spot).powi(2)).sum::<f64>() / spots.len() as f64).sqrt();
    let kept: Vec<[f64; 3]> =
        spots.iter().copied().filter(|spot| off(&first, spot).abs() <= 1.5 * strays + 1.0).collect();
    let [_, across, down] = plane(&kept).unwrap_or(first);
    let mut luma = Vec::with_capacity(raster.luma().len());
    // Steps of a 65,536th of a grey: whole numbers along a row are quick.
    const FINE: f64 = 65_536.0;
    let along = (across / width as f64 * FINE).round() as i32;
    for y in 0..height {
        let start = across * -0.5 + down * (y as f64 / height as f64 - 0.5) - 0.5;
        let mut lift = (start * FINE) as i32;
        luma.extend(raster.row(y).iter().map(|grey| {
            let level = i32::from(*grey) - (lift >> 16) - 1;
            lift += along;
            level.clamp(0, 255) as u8
        }));
    }
    Raster::new(width, height, luma).unwrap_or_else(|_| raster.clone())
}

/// The plane of least squares: at the corner, across, down.
fn plane(spots: &[[f64; 3]]) -> Option<[f64; 3]> {
    let n = spots.len() as f64;
    if spots.len() < 3 {
        return None;
    }
    let mean = [0, 1, 2].map(|k| spots.iter().map(|spot| spot[k]).sum::<f64>() / n);
    let [mut xx, mut xy, mut yy, mut xz, mut yz] = [0.0; 5];
    for spot in spots {
        let [x, y, z] = [0, 1, 2].map(|k| spot[k] - mean[k]);
        (xx, xy, yy, xz, yz) = (xx + x * x, xy + x * y, yy + y * y, xz + x * z, yz + y * z);
    }
    let whole = xx * yy - xy * xy;
    if whole <= 1e-12 * xx * yy {
        return None;
    }
    let (across, down) = ((xz * yy - yz * xy) / whole, (yz * xx - xz * xy) / whole);
    Some([mean[2] - across * mean[0] - down * mean[1], across, down])
}

/// The pixels up to a level.
pub fn darker(raster: &Raster, level: u8) -> Mask {
    let mut mask = Mask::blank(raster.width(), raster.height());
    for y in 0..raster.height() {
        for (word, pixels) in mask.row_mut(y).iter_mut().zip(raster.row(y).chunks(64)) {
            *word = pixels.iter().rev().fold(0, |bits, grey| bits << 1 | u64::from(*grey <= level));
        }
    }
    mask
}

/// A tree cut out of its cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct CutOut {
    /// The tree.
    pub mask: Mask,
    /// The threshold, on the evened picture.
    pub threshold: Threshold,
}

/// Cuts the tree out: the cloth made even, one threshold, dust dropped, and everything from the row of the soil down taken off.
///
/// # Errors
///
/// [`Error::OutOfRange`] when tree and cloth do not part by [`PARTS_ENOUGH`]: take a plain cloth, further behind, in flat light.
/// [`Error::Empty`] when nothing is left above the soil.
pub fn cut_out(raster: &Raster, soil: Option<usize>) -> Result<CutOut, Error> {
    let even = even(raster);
    let threshold = otsu(&histogram(&even)).ok_or(Error::Empty)?;
    measure::range::within(
        "how well tree and cloth part, 0 to 1",
        threshold.parts,
        PARTS_ENOUGH.value,
        1.0 + 1e-9,
    )?;
    let dark = darker(&even, threshold.level);
    let mask = largest(&dark.above(soil.unwrap_or(usize::MAX)), DUST);
    if mask.area() == 0 {
        return Err(Error::Empty);
    }
    Ok(CutOut { mask, threshold })
}
