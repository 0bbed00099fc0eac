//! The outline of a bare tree on a photo, mended by hand, and measured at a scale that does not change from year to year.

use collection::photo::{Photo, Stroke};
use form::{
    error::Error,
    silhouette::{
        Mask, Raster,
        boxes::{Boxes, boxes, dimension},
        canopy::canopy,
        end_points,
        shape::{frame, shape},
        sides::{layers, sides},
        thinned,
        threshold::{PARTS_ENOUGH, cut_out},
    },
};
use measure::quantity::Millimetre;

use super::raise::resolution;

/// Scales to measure at, from fine to coarse, millimetres a pixel; the finest that all photos of a tree allow is taken.
pub const SCALES: [Millimetre; 2] = [Millimetre(0.5), Millimetre(1.0)];

/// Gaps up to twice this are closed for the outline of the crown, mm; our estimate.
const GAP: f64 = 9.0;

/// Sides of the boxes, pixels.
const SIDES: [usize; 7] = [1, 2, 4, 8, 16, 32, 64];

/// Sides over which the dimension is fitted.
const FIT: [usize; 2] = [2, 64];

/// Why a photo gives no outline.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoOutline {
    /// Nothing of known size.
    #[error("nothing of known size is marked on it; trace it first")]
    NoScale,
    /// Too coarse.
    #[error("a pixel shows {:.1} mm, and more than {:.1} mm shows no twigs; come closer", .0.0, SCALES[1].0)]
    Coarse(Millimetre),
    /// Tree and cloth do not part.
    #[error(
        "tree and background do not part: {:.2} of 1, and {:.2} is needed; hang a plain cloth half a metre behind it, in flat light",
        .0,
        PARTS_ENOUGH.value
    )]
    NoCloth(f64),
    /// Nothing is left.
    #[error("nothing dark stands above the soil")]
    Nothing,
}

/// What an outline measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Height above the soil.
    pub high: Millimetre,
    /// Width.
    pub wide: Millimetre,
    /// Wood that is seen, cm².
    pub area: f64,
    /// Area over that of the hull.
    pub solidity: f64,
    /// The part of the crown's outline through which light comes.
    pub porosity: f64,
    /// Layers of the crown.
    pub layers: usize,
    /// How far the middle of the wood lies to the right of the trunk's foot, as a share of the width.
    pub balance: f64,
    /// Ends of twigs that can be told apart.
    pub tips: usize,
    /// Box-counting dimension.
    pub dimension: f64,
    /// The counts behind it.
    pub boxes: Vec<Boxes>,
    /// Millimetres a pixel at which it was measured.
    pub scale: Millimetre,
    /// How well tree and cloth part, 0 to 1.
    pub parts: f64,
}

/// The tree cut out of a photo and mended by hand, in the photo's own pixels, and how well it parted.
///
/// # Errors
///
/// [`NoOutline`] with the reason.
pub fn cut(raster: &Raster, photo: &Photo, strokes: &[Stroke]) -> Result<(Mask, f64), NoOutline> {
    let soil = photo.soil.map(|row| row.round().max(0.0) as usize);
    let out = cut_out(raster, soil).map_err(|why| match why {
        Error::OutOfRange(it) => NoOutline::NoCloth(it.got),
        _ => NoOutline::Nothing,
    })?;
    let mended =
        strokes.iter().fold(out.mask, |mask, stroke| mask.painted(&stroke.path, stroke.half, stroke.on));
    Ok((mended.above(soil.unwrap_or(usize::MAX)), out.threshold.parts))
}

/// The finest scale that all these photos allow; none where one of them is too coarse for any.
pub fn common_scale(photos: &[&Photo]) -> Option<Millimetre> {
    let coarsest = photos.iter().filter_map(|photo| resolution(photo)).map(|mm| mm.0).fold(0.0, f64::max);
    SCALES.into_iter().find(|scale| coarsest <= scale.0 * 1.001)
}

/// Measures a mask of a photo at a scale; `foot` is the column of the trunk's foot.
///
/// # Errors
///
/// [`NoOutline`] with the reason.
pub fn measure(
    mask: &Mask,
    photo: &Photo,
    parts: f64,
    foot: Option<f64>,
    scale: Millimetre,
) -> Result<Measured, NoOutline> {
    let own = resolution(photo).ok_or(NoOutline::NoScale)?;
    if own.0 > SCALES[1].0 * 1.001 {
        return Err(NoOutline::Coarse(own));
    }
    let step = scale.0 / own.0;
    let at = |pixel: usize| ((pixel as f64 + 0.5) * step) as usize;
    let (wide, high) = ((mask.width() as f64 / step) as usize, (mask.height() as f64 / step) as usize);
    let even = Mask::by(wide, high, |x, y| mask.on(at(x), at(y)));
    let edge = frame(&even).ok_or(NoOutline::Nothing)?;
    let crop = Mask::by(edge.right - edge.left + 1, edge.bottom - edge.top + 1, |x, y| {
        even.on(edge.left + x, edge.top + y)
    });
    let whole = |_: Error| NoOutline::Nothing;
    let shaped = shape(&crop).map_err(whole)?;
    let axis = foot.map_or(crop.width() as f64 / 2.0, |foot| foot / step - edge.left as f64);
    let counts: Vec<Boxes> =
        SIDES.iter().map(|&side| boxes(&crop, side)).collect::<Result<_, _>>().map_err(whole)?;
    let mm = |pixels: usize| Millimetre(pixels as f64 * scale.0);
    Ok(Measured {
        high: mm(crop.height()),
        wide: mm(crop.width()),
        area: shaped.area as f64 * scale.0 * scale.0 / 100.0,
        solidity: shaped.solidity,
        porosity: canopy(&crop, (GAP / scale.0).round() as usize).porosity,
        layers: layers(&crop).len(),
        balance: sides(&crop, axis).map_err(whole)?.balance,
        tips: end_points(&thinned(&crop)),
        dimension: dimension(&counts, FIT).map_err(whole)?,
        boxes: counts,
        scale,
        parts,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use collection::photo::{Scale, Subject};
    use jiff::civil::date;

    fn photo(scale: f64, wide: u32) -> Photo {
        Photo {
            key: "front".into(),
            tree: "maple".into(),
            day: date(2025, 12, 1),
            day_told: true,
            subject: Subject::Whole,
            clock: 6,
            wide,
            high: wide,
            scale: Some(Scale::Line { ends: [[0.0, 0.0], [100.0, 0.0]], long: Millimetre(100.0 * scale) }),
            soil: None,
            note: String::new(),
        }
    }

    #[test]
    fn the_same_square_measures_the_same_from_near_and_from_afar() {
        let square = |side: usize| {
            Mask::by(2 * side, 2 * side, |x, y| {
                (side / 2..3 * side / 2).contains(&x) && (side / 2..3 * side / 2).contains(&y)
            })
        };
        let far = measure(&square(256), &photo(0.5, 512), 1.0, None, SCALES[0]).unwrap();
        let near = measure(&square(512), &photo(0.25, 1024), 1.0, None, SCALES[0]).unwrap();
        assert_eq!(far, near);
        assert_eq!((far.high, far.area), (Millimetre(128.0), 163.84));
        assert!((far.dimension - 2.0).abs() < 1e-12, "{}", far.dimension);
    }

    #[test]
    fn a_cloth_like_the_tree_is_refused_with_the_reason() {
        // Leaves in front of leaves: greys about one middle, which no threshold parts.
        let mut state = 1_u64;
        let mut next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            state >> 56
        };
        let noise: Vec<u8> = (0..90_000).map(|_| ((next() + next() + next() + next()) / 4) as u8).collect();
        let raster = Raster::new(300, 300, noise).unwrap();
        assert!(matches!(cut(&raster, &photo(0.5, 300), &[]), Err(NoOutline::NoCloth(_))));
    }

    #[test]
    fn a_photo_from_too_far_off_is_named() {
        let mask = Mask::by(50, 50, |x, _| x > 20);
        let told = measure(&mask, &photo(2.0, 50), 1.0, None, SCALES[1]);
        assert_eq!(told, Err(NoOutline::Coarse(Millimetre(2.0))));
        assert_eq!(common_scale(&[&photo(0.3, 50), &photo(0.8, 50)]), Some(SCALES[1]));
    }
}
