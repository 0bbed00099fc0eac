//! The reference set's pictures through the door for photos: opened, kept as JPEG, read back as grey, cut out, measured.
//!
//! `form/images/*.png` and `silhouette.json`: black or dark figures on white or light, with their areas and frames by scikit-image and
//! what lies under their grey thresholds by OpenCV. The set's figures are of the PNG, and what the door keeps is a JPEG, so the bar
//! allows what that loses: a thousandth of the area. Frames are equal.

mod vector;

use std::fs;

use form::silhouette::{Mask, Raster, shape, threshold};
use image::ImageFormat;
use intake::photo::open;
use serde_json::Value;
use vector::{Tally, counted, file, json, names, not_ours, rows};

/// Of an area, what the JPEG may take or add.
const SHARE: f64 = 0.001;

/// The picture as it is kept, in grey.
fn kept(png: &[u8]) -> Raster {
    let taken = open(png).unwrap();
    let grey = image::load_from_memory_with_format(&taken.full, ImageFormat::Jpeg).unwrap().into_luma8();
    let (wide, high) = (grey.width() as usize, grey.height() as usize);
    assert_eq!((grey.width(), grey.height()), (taken.wide, taken.high), "no side of these is shortened");
    Raster::new(wide, high, grey.into_raw()).unwrap()
}

/// The dark part by the picture's own threshold; the whole of a picture of one grey.
fn dark(raster: &Raster) -> Mask {
    let level = threshold::otsu(&threshold::histogram(raster)).map_or(127, |found| found.level);
    threshold::darker(raster, level)
}

/// Name, picture and what the set says of it.
fn pictures() -> Vec<(String, Vec<u8>, Value)> {
    let Some(stored) = json("form/silhouette.json") else { return Vec::new() };
    let mut pictures = Vec::new();
    for name in names("form/images", ".png") {
        let figure = name.trim_end_matches(".png").trim_end_matches("_gray");
        if stored[figure].is_null() {
            not_ours(&name);
            continue;
        }
        let path = file(&format!("form/images/{name}")).expect("it is listed");
        pictures.push((name.clone(), fs::read(path).unwrap(), stored[figure]["expected"].clone()));
    }
    if !pictures.is_empty() {
        counted("form/images: pictures", pictures.len(), 9);
    }
    pictures
}

#[test]
fn figures_keep_their_area_and_frame_through_the_door() {
    let (mut areas, mut frames) = (Tally::default(), Tally::default());
    for (name, png, expected) in pictures() {
        let mask = dark(&kept(&png));
        let stored = expected["area_px"].as_f64().unwrap();
        println!("{name}: area {} of {stored}", mask.area());
        areas.agrees(mask.area() as f64 / stored, 1.0, SHARE);
        if let Some(ours) = shape::frame(&mask) {
            let ours = [ours.left, ours.top, ours.right, ours.bottom];
            for (ours, stored) in ours.iter().zip(rows(&expected["shape"]["bbox_xyxy_inclusive"])) {
                frames.agrees(*ours as f64, stored.as_f64().unwrap(), 0.0);
            }
        }
    }
    if areas.count > 0 {
        areas.tell("form/images: areas, share of themselves", 9);
        frames.tell("form/images: frames, pixels", 20);
    }
}

#[test]
fn grey_pictures_part_where_the_set_parts_them_and_are_cut_out_whole() {
    let (mut parted, mut areas) = (Tally::default(), Tally::default());
    for (name, png, expected) in pictures() {
        if !name.ends_with("_gray.png") {
            continue;
        }
        let raster = kept(&png);
        // The set's level is the figure's lightest grey, for the greys above it are empty in the PNG: in the JPEG they are not, and the
        // level lies higher. What it parts is the same.
        let foreground = expected["otsu"]["foreground_le_threshold"].as_f64().unwrap();
        parted.agrees(dark(&raster).area() as f64 / foreground, 1.0, SHARE);
        // The way of the pages: cloth evened, largest pieces kept, the whole mask beside the set's.
        let cut = threshold::cut_out(&raster, None).unwrap();
        areas.agrees(cut.mask.area() as f64 / expected["area_px"].as_f64().unwrap(), 1.0, SHARE);
    }
    if parted.count > 0 {
        parted.tell("form/images: parted by a level, share of the foreground", 2);
        areas.tell("form/images: cut out, share of the area", 2);
    }
}
