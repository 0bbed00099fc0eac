//! Outlines made by formula: area, hull, edge, canopy, sides, layers, boxes, threshold, ends of lines.
//!
//! `silhouette.json`: scikit-image 0.26, OpenCV (threshold), scipy (peaks), porespy's definition (mixed boxes) and the reference
//! set's own script. Counts are equal; figures to nine digits of ten; ends of lines within 15 % as thinning methods differ.

mod picture;
mod vector;

use form::silhouette::{Mask, Raster, boxes, canopy, end_points, parts, shape, sides, thinned, threshold};
use picture::{grey, mask};
use serde_json::Value;
use vector::{Tally, counted, json, nine, number, own_file, rows};

fn pictures() -> Vec<(String, Value)> {
    let Some(Value::Object(file)) = json("form/silhouette.json") else { return Vec::new() };
    counted("form/silhouette.json: pictures", file.len(), 7);
    file.into_iter().collect()
}

/// What agreed; nothing where another folder has no pictures at all, which [`pictures`] has said.
fn told(tally: &Tally, what: &str, own: u32) {
    if tally.count > 0 || !pictures().is_empty() {
        tally.tell(&format!("form/silhouette.json: {what}"), own);
    }
}

#[test]
fn boxes_are_counted_alike() {
    let mut tally = Tally::default();
    for (name, row) in pictures() {
        let mask = mask(&row["recipe"]);
        assert_eq!(mask.area(), row["expected"]["area_px"].as_u64().unwrap(), "area of {name}");
        let fractal = &row["expected"]["fractal"];
        let sizes: Vec<usize> =
            rows(&fractal["sizes"]).iter().map(|size| size.as_u64().unwrap() as usize).collect();
        let counts: Vec<_> = sizes.iter().map(|&side| boxes::boxes(&mask, side).unwrap()).collect();
        for (at, count) in counts.iter().enumerate() {
            assert_eq!(Some(count.any), fractal["N_any"][at].as_u64(), "{name}, side {}", count.side);
            assert_eq!(Some(count.mixed), fractal["N_mixed"][at].as_u64(), "{name}, side {}", count.side);
            tally.agrees(count.any as f64, fractal["N_any"][at].as_f64().unwrap(), 0.0);
            tally.agrees(count.mixed as f64, fractal["N_mixed"][at].as_f64().unwrap(), 0.0);
        }
        let fit = [0, 1].map(|at| fractal["fit_range"][at].as_u64().unwrap() as usize);
        tally.agrees(boxes::dimension(&counts, fit).unwrap(), number(fractal, "D_any"), 2e-9);
    }
    // Sierpinski and carpet are known in closed form.
    told(&tally, "boxes and dimensions", 111);
}

#[test]
fn shapes_edges_and_crowns() {
    let (mut tally, mut seen) = (Tally::default(), 0);
    for (name, row) in pictures() {
        let stored = &row["expected"]["shape"];
        if stored.is_null() {
            continue;
        }
        seen += 1;
        let mask = mask(&row["recipe"]);
        let ours = shape::shape(&mask).unwrap();
        let frame = [ours.frame.left, ours.frame.top, ours.frame.right, ours.frame.bottom];
        for (ours, stored) in frame.iter().zip(rows(&stored["bbox_xyxy_inclusive"])) {
            tally.agrees(*ours as f64, stored.as_f64().unwrap(), 0.0);
        }
        for (ours, stored) in ours.middle.iter().zip(rows(&stored["centroid_xy_pixel_centres"])) {
            tally.agrees(*ours, stored.as_f64().unwrap(), 5e-7);
        }
        for (ours, field) in [
            (ours.area as f64, "area_px"),
            (ours.hull_area, "hull_area_pixel_corners"),
            (ours.hull_around, "hull_perimeter_pixel_corners"),
            (ours.solidity, "solidity_pixel_corners"),
            (ours.crack as f64, "crack_edge_length"),
            (ours.edge, "skimage_perimeter_crofton_4"),
            (ours.compactness, "compactness_crofton"),
            (parts::pieces(&mask) as f64, "components_8"),
            (parts::holes(&mask) as f64, "holes_4"),
        ] {
            assert!(
                (ours - number(stored, field)).abs() <= nine(number(stored, field)),
                "{name} {field}: {ours}"
            );
            tally.agrees(ours, number(stored, field), nine(number(stored, field)));
        }
        let axis = number(stored, "mirror_axis_x");
        let both = sides::sides(&mask, axis).unwrap();
        tally.agrees(both.mirror, number(stored, "mirror_iou"), 1e-9);
        tally.agrees(both.rows, number(stored, "row_symmetry"), 1e-9);
        tally.agrees(both.balance, number(stored, "balance_offset"), 1e-9);
        let peaks = sides::layers(&mask);
        let at: Vec<u64> = peaks.iter().map(|peak| peak.at as u64).collect();
        let stored_at: Vec<u64> =
            rows(&stored["row_peaks"]["y"]).iter().map(|y| y.as_u64().unwrap()).collect();
        assert_eq!(at, stored_at, "layers of {name}");
        for (peak, value) in peaks.iter().zip(rows(&stored["row_peaks"]["value"])) {
            tally.agrees(peak.height, value.as_f64().unwrap(), 0.0);
        }
        let crown = &stored["canopy"];
        let radius = crown["closing_disc_radius"].as_u64().unwrap() as usize;
        let ours = canopy::canopy(&mask, radius);
        assert_eq!(Some(ours.outline.area()), crown["outline_area_px"].as_u64(), "{name}");
        tally.agrees(ours.porosity, number(crown, "porosity"), 1e-9);
    }
    println!("{seen} shapes");
    told(&tally, "shapes", 68);
}

#[test]
fn one_threshold_cuts_the_tree_out() {
    let (mut tally, mut seen) = (Tally::default(), 0);
    for (name, row) in pictures() {
        let stored = &row["expected"]["otsu"];
        if stored.is_null() {
            continue;
        }
        seen += 1;
        let mask = mask(&row["recipe"]);
        let raster = grey(&mask, &row["recipe"]["otsu"]);
        let histogram = threshold::histogram(&raster);
        for (grey, count) in histogram.iter().enumerate() {
            let stored = stored["histogram_nonzero"][grey.to_string()].as_u64().unwrap_or(0);
            assert_eq!(*count, stored, "{name}, grey {grey}");
        }
        let ours = threshold::otsu(&histogram).unwrap();
        tally.agrees(f64::from(ours.level), number(stored, "threshold_first_max"), 0.0);
        tally.agrees(f64::from(ours.level), number(stored, "opencv"), 0.0);
        let dark = threshold::darker(&raster, ours.level);
        tally.agrees(dark.area() as f64, number(stored, "foreground_le_threshold"), 0.0);
        assert_eq!(dark, mask);
        // On a cloth that grows lighter to one side the tree is still cut out whole.
        let sloped: Vec<u8> = raster
            .luma()
            .iter()
            .enumerate()
            .map(|(at, grey)| {
                let x = (at % raster.width()) as f64 / raster.width() as f64;
                (f64::from(*grey) * 0.9 + 24.0 * x).clamp(0.0, 255.0) as u8
            })
            .collect();
        let sloped = Raster::new(raster.width(), raster.height(), sloped).unwrap();
        let cut = threshold::cut_out(&sloped, None).unwrap();
        let wrong = (0..mask.height())
            .flat_map(|y| (0..mask.width()).map(move |x| (x, y)))
            .filter(|&(x, y)| cut.mask.on(x, y) != mask.on(x, y))
            .count();
        assert!(wrong as f64 <= 0.01 * mask.area() as f64, "{name}: {wrong} pixels differ");
    }
    println!("{seen} grey pictures");
    told(&tally, "thresholds", 6);
}

#[test]
fn a_tree_that_does_not_part_from_its_cloth_is_refused() {
    // An even spread of greys parts by three quarters, so a bell is made of the sum of three.
    let grey = |at: u64| ((at * 7919 % 83) + (at * 104_729 % 85) + (at * 1_299_709 % 79)) as u8;
    let bell = Raster::new(200, 200, (0..200 * 200).map(grey).collect()).unwrap();
    let told = threshold::cut_out(&bell, None);
    assert!(matches!(told, Err(form::error::Error::OutOfRange(_))), "{told:?}");
    assert!(threshold::cut_out(&Raster::new(2, 2, vec![9; 4]).unwrap(), None).is_err());
}

#[test]
fn ends_of_lines_are_counted_within_what_methods_differ() {
    let mut tally = Tally::default();
    for (name, row) in pictures() {
        // A disc thins to a point or a line by the method's choice alone.
        let Some(stored) = row["expected"]["shape"]["skeleton_zhang_skimage"]["endpoints"].as_f64() else {
            continue;
        };
        if name == "disc" {
            continue;
        }
        let ours = end_points(&thinned(&mask(&row["recipe"])));
        tally.agrees(ours as f64, stored, 0.15 * stored);
    }
    told(&tally, "ends of lines", 2);
}

#[test]
fn the_pot_is_taken_off_and_a_smaller_picture_keeps_the_share() {
    // A picture of our own.
    let text = std::fs::read_to_string(own_file("form/silhouette.json")).unwrap();
    let file: Value = serde_json::from_str(&text).unwrap();
    let mask = mask(&file["pads_a"]["recipe"]);
    assert!(mask.clone().above(300).row_counts()[300..].iter().all(|count| *count == 0));
    let small: Mask = mask.smaller(4);
    let share = |mask: &Mask| mask.area() as f64 / (mask.width() * mask.height()) as f64;
    let ratio = share(&small) / share(&mask);
    assert!((ratio - 1.0).abs() < 0.02, "{ratio}");
}
