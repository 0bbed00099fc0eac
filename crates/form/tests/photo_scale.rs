//! A card sets the scale; depth; turning pictures upright.
//!
//! `photo_scale.json`: homographies by the reference set's own solver, met by OpenCV in single precision; orientations by Pillow.

mod vector;

use form::silhouette::{
    scale::{Card, Scale, behind},
    upright,
};
use measure::quantity::Millimetre;
use serde_json::Value;
use vector::{Tally, counted, fields, json, not_ours, number, rows};

fn pair(value: &Value) -> [f64; 2] {
    [0, 1].map(|at| value[at].as_f64().unwrap())
}

#[test]
fn cards_of_known_size_set_the_scale() {
    let Some(file) = json("form/photo_scale.json") else { return };
    let mut tally = Tally::default();
    for (name, size) in fields(&file["standard_sizes_mm"]) {
        let card = match name {
            "ISO/IEC 7810 ID-1" => Card::Id1,
            "ISO 216 A4" => Card::A4,
            "ISO 216 A6" => Card::A6,
            "US Letter" => Card::Letter,
            other => {
                not_ours(other);
                continue;
            }
        };
        for (ours, stored) in card.size().iter().zip(pair(size)) {
            tally.agrees(ours.0, stored, 0.0);
        }
    }
    for row in rows(&file["homography"]) {
        let corners = [0, 1, 2, 3].map(|at| pair(&row["corners_px"][at]));
        let scale = Scale::new(corners, pair(&row["card_mm"]).map(Millimetre)).unwrap();
        let stored = rows(&row["H_px_to_mm"]).iter().flat_map(rows);
        for (ours, stored) in scale.figures().iter().zip(stored) {
            let stored = stored.as_f64().unwrap();
            tally.agrees(*ours, stored, 1e-10 * (1.0 + stored.abs()));
        }
        for measure in rows(&row["measures"]) {
            let [one, other] = [0, 1].map(|at| pair(&measure["px"][at]));
            for (pixel, at) in [(one, 0), (other, 1)] {
                for (ours, stored) in scale.place(pixel).iter().zip(pair(&measure["mm"][at])) {
                    tally.agrees(ours.0, stored, 1e-8);
                }
            }
            tally.agrees(scale.apart(one, other).0, number(measure, "length_mm"), 1e-8);
        }
        let stored = number(row, "mm_per_px_at_card_centre");
        tally.agrees(scale.at_card().0, stored, 1e-9);
    }
    tally.tell("form/photo_scale.json: sizes and scales", 63);
}

#[test]
fn a_missed_corner_is_refused() {
    let corners = [[100.0, 100.0], [528.0, 100.0], [528.0, 395.0], [100.0, 369.9]];
    assert!(Scale::new(corners, Card::Id1.size()).is_err());
    let line = [[100.0, 100.0]; 4];
    assert!(Scale::new(line, Card::Id1.size()).is_err());
}

#[test]
fn depth_is_told() {
    let mut tally = Tally::default();
    let Some(file) = json("form/photo_scale.json") else { return };
    for row in rows(&file["depth_error"]) {
        let mm = |name| Millimetre(number(row, name));
        let ours = behind(mm("length_read_mm"), mm("camera_to_card_mm"), mm("tree_behind_card_mm")).unwrap();
        tally.agrees(ours.length.0, number(row, "length_true_mm"), 1e-9 * 1000.0);
        tally.agrees(ours.off, number(row, "relative_error"), 1e-12);
    }
    assert!(behind(Millimetre(100.0), Millimetre(500.0), Millimetre(-500.0)).is_err());
    tally.tell("form/photo_scale.json: depth", 6);
}

#[test]
fn pictures_are_turned_upright() {
    let Some(file) = json("form/photo_scale.json") else { return };
    let exif = &file["exif"];
    let flat = |value: &Value| -> Vec<i64> {
        rows(value).iter().flat_map(rows).map(|n| n.as_i64().unwrap()).collect()
    };
    let input = flat(&exif["input"]);
    let (high, wide) = (rows(&exif["input"]).len(), rows(&exif["input"][0]).len());
    let mut count = 0;
    for (orientation, stored) in fields(&exif["upright_after_orientation"]) {
        let (width, height, ours) = upright(wide, high, &input, orientation.parse().unwrap()).unwrap();
        assert_eq!((height, width), (rows(stored).len(), rows(&stored[0]).len()));
        assert_eq!(ours, flat(stored), "orientation {orientation}");
        count += 1;
    }
    assert!(upright(wide, high, &input, 9).is_err() && upright(wide, high + 1, &input, 1).is_err());
    counted("form/photo_scale.json: orientations", count, 8);
}
