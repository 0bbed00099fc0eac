//! The outline of a bare tree on a photo, painted over by hand where it is wrong, and measured beside the other years.

use std::io::Cursor;

use collection::{
    limb::TRUNK,
    photo::{Photo, Stroke, Subject, strokes_key},
};
use form::silhouette::{Mask, Raster};
use image::{ImageFormat, Rgba, RgbaImage};
use measure::quantity::Millimetre;
use season::limbs::outline::{Measured, NoOutline, common_scale, cut, measure};
use store::{photo::Size, reader::Reader};

use super::long;
use crate::{
    photos::{hour, tree_of},
    shape::Shape,
    whole::Whole,
    words,
};

/// Photos measured beside the one that is open.
const BESIDE: usize = 5;

/// A year's measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The photo's key.
    pub photo: String,
    /// Its day.
    pub day: String,
    /// Whether it is the one that is open.
    pub open: bool,
    /// The measures in words, or why there are none.
    pub told: Result<Vec<String>, String>,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlinePage {
    /// The photo's key.
    pub photo: String,
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// When it was taken, and from where.
    pub words: String,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// The strokes so far.
    pub strokes: String,
    /// Why there is no outline.
    pub refused: Option<String>,
    /// What is measured, as heads of the table.
    pub heads: Vec<&'static str>,
    /// The photos of this front, the newest first.
    pub rows: Vec<Row>,
    /// The counts of boxes: side, boxes with wood, boxes with wood and light.
    pub boxes: Vec<(usize, u64, u64)>,
    /// The scale it was measured at.
    pub scale: String,
}

/// What is measured.
const HEADS: [&str; 9] = [
    "Height",
    "Width",
    "Wood seen",
    "Filling of its hull",
    "Light through the crown",
    "Layers",
    "Weight to a side",
    "Tips seen",
    "Dimension by boxes",
];

/// Why a stored picture cannot be measured.
#[derive(Debug, thiserror::Error)]
pub enum OutlineError {
    /// The store did not give it.
    #[error(transparent)]
    Store(#[from] store::error::Error),
    /// No photo of that name.
    #[error("there is no such photo")]
    Missing,
    /// It cannot be opened, though it was kept.
    #[error("the picture that was kept cannot be opened: {0}")]
    Picture(#[from] image::ImageError),
}

fn raster(reader: &Reader, key: &str) -> Result<Raster, OutlineError> {
    let bytes = reader.picture(key, Size::Full)?.ok_or(OutlineError::Missing)?;
    let grey = image::load_from_memory_with_format(&bytes, ImageFormat::Jpeg)?.into_luma8();
    let (wide, high) = (grey.width() as usize, grey.height() as usize);
    Raster::new(wide, high, grey.into_raw()).map_err(|_| OutlineError::Missing)
}

fn strokes<'a>(shape: &'a Shape, photo: &str) -> &'a [Stroke] {
    shape.brushes.iter().find(|(key, _)| key == photo).map_or(&[], |(_, strokes)| strokes)
}

/// The column of the trunk's foot, where it was traced.
fn foot(shape: &Shape, photo: &str) -> Option<f64> {
    let line = shape.traces.iter().find(|it| it.photo == photo && it.limb == TRUNK)?;
    line.points.first().map(|spot| spot[0])
}

/// The page of a photo.
///
/// # Errors
///
/// [`OutlineError`] when there is no such photo or its picture cannot be opened.
pub fn outline(whole: &Whole, reader: &Reader, key: &str) -> Result<OutlinePage, OutlineError> {
    let (tree, photo) = tree_of(whole, key).ok_or(OutlineError::Missing)?;
    let shape = &tree.shape;
    let same = |it: &&Photo| it.subject == Subject::Whole && it.clock == photo.clock && it.scale.is_some();
    let mut shown: Vec<&Photo> = shape.photos.iter().rev().filter(same).take(BESIDE).collect();
    if !shown.iter().any(|it| it.key == key) {
        shown.insert(0, photo);
    }
    let scale = common_scale(&shown).unwrap_or(Millimetre(1.0));
    let (mut rows, mut boxes, mut refused) = (Vec::new(), Vec::new(), None);
    for it in shown {
        let raster = raster(reader, &it.key)?;
        let told = cut(&raster, it, strokes(shape, &it.key))
            .and_then(|(mask, parts)| measure(&mask, it, parts, foot(shape, &it.key), scale));
        if it.key == key {
            refused = told.as_ref().err().map(NoOutline::to_string);
            if let Ok(told) = &told {
                boxes = told.boxes.iter().map(|it| (it.side, it.any, it.mixed)).collect();
            }
        }
        rows.push(Row {
            photo: it.key.clone(),
            day: words::day(it.day, whole.today),
            open: it.key == key,
            told: told.map(|told| figures(whole, &told)).map_err(|why| why.to_string()),
        });
    }
    Ok(OutlinePage {
        photo: key.into(),
        tree: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        words: format!("{}, from {}", words::day(photo.day, whole.today), hour(photo.clock)),
        wide: photo.wide,
        high: photo.high,
        strokes: strokes_key(strokes(shape, key)),
        refused,
        heads: HEADS.to_vec(),
        rows,
        boxes,
        scale: format!("{} mm a pixel", scale.0),
    })
}

fn figures(whole: &Whole, it: &Measured) -> Vec<String> {
    let units = whole.units();
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let side = match it.balance {
        balance if balance.abs() < 0.01 => "even".into(),
        balance if balance > 0.0 => format!("{} to the right", percent(balance)),
        balance => format!("{} to the left", percent(-balance)),
    };
    vec![
        long(units, it.high),
        long(units, it.wide),
        format!("{:.0} cm²", it.area),
        percent(it.solidity),
        percent(it.porosity),
        it.layers.to_string(),
        side,
        it.tips.to_string(),
        format!("{:.2}", it.dimension),
    ]
}

/// The outline as a picture to lay over the photo: its wood covered, the rest clear; none where it gives no outline.
///
/// # Errors
///
/// [`OutlineError`] when there is no such photo or its picture cannot be opened.
pub fn overlay(whole: &Whole, reader: &Reader, key: &str) -> Result<Option<Vec<u8>>, OutlineError> {
    let (tree, photo) = tree_of(whole, key).ok_or(OutlineError::Missing)?;
    let raster = raster(reader, key)?;
    let Ok((mask, _)) = cut(&raster, photo, strokes(&tree.shape, key)) else { return Ok(None) };
    Ok(Some(png(&mask)?))
}

fn png(mask: &Mask) -> Result<Vec<u8>, image::ImageError> {
    let picture = RgbaImage::from_fn(mask.width() as u32, mask.height() as u32, |x, y| {
        Rgba(if mask.on(x as usize, y as usize) { [255, 216, 77, 170] } else { [0, 0, 0, 0] })
    });
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Png)?;
    Ok(bytes.into_inner())
}
