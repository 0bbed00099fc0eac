//! Photos against the reference set's EXIF cases (checked there with Pillow's `ImageOps.exif_transpose`) and Exif 2.32: upright in every
//! orientation, dated by the camera, and kept without the place.

mod vector;

use std::{fs, io::Cursor};

use collection::photo::Subject;
use image::{ExtendedColorType, Rgb, RgbImage, codecs::jpeg::JpegEncoder};
use intake::{
    limbs::trace,
    photo::{PhotoForm, keep, open},
};
use jiff::civil::date;
use measure::quantity::Units;
use serde_json::{Value, json};
use store::{photo::Size, store::Store};

/// Blocks of the picture, so that its six fields survive the compression.
const BLOCK: u32 = 160;

/// Our own cases, which a picture is made from.
fn cases() -> Value {
    let text = fs::read_to_string(vector::own_file("form/photo_scale.json")).expect("the vectors stand");
    serde_json::from_str::<Value>(&text).unwrap()["exif"].clone()
}

/// A JPEG of two rows and three columns of grey fields, 1 the darkest and 6 the lightest.
fn fields(rows: &[Vec<u32>]) -> Vec<u8> {
    let (high, wide) = (rows.len() as u32, rows[0].len() as u32);
    let picture = RgbImage::from_fn(wide * BLOCK, high * BLOCK, |x, y| {
        let field = rows[(y / BLOCK) as usize][(x / BLOCK) as usize];
        Rgb([(field * 36) as u8; 3])
    });
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 95)
        .encode(&picture, picture.width(), picture.height(), ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

/// The same JPEG with an Exif segment: an orientation, the moment it was taken, and a place.
fn with_exif(jpeg: &[u8], orientation: u16, moment: &str) -> Vec<u8> {
    let mut tiff: Vec<u8> = b"MM\0\x2a\0\0\0\x08".to_vec();
    let entry = |tag: u16, kind: u16, count: u32, value: [u8; 4]| {
        [&tag.to_be_bytes()[..], &kind.to_be_bytes(), &count.to_be_bytes(), &value].concat()
    };
    // The first directory: orientation, where the Exif directory and the GPS directory stand.
    let exif_at = 8 + 2 + 3 * 12 + 4;
    let moment_at = exif_at + 2 + 12 + 4;
    let gps_at = moment_at + 20;
    tiff.extend(3_u16.to_be_bytes());
    let [high, low] = orientation.to_be_bytes();
    tiff.extend(entry(0x0112, 3, 1, [high, low, 0, 0]));
    tiff.extend(entry(0x8769, 4, 1, (exif_at as u32).to_be_bytes()));
    tiff.extend(entry(0x8825, 4, 1, (gps_at as u32).to_be_bytes()));
    tiff.extend([0; 4]);
    tiff.extend(1_u16.to_be_bytes());
    tiff.extend(entry(0x9003, 2, 20, (moment_at as u32).to_be_bytes()));
    tiff.extend([0; 4]);
    tiff.extend(moment.as_bytes());
    tiff.push(0);
    tiff.extend(1_u16.to_be_bytes());
    tiff.extend(entry(0x001d, 2, 4, *b"SPOT"));
    tiff.extend([0; 4]);
    let body = [b"Exif\0\0".as_slice(), &tiff].concat();
    let length = (body.len() as u16 + 2).to_be_bytes();
    [&jpeg[..2], &[0xff, 0xe1], &length[..], &body, &jpeg[2..]].concat()
}

/// The fields of a kept JPEG, read from the middle of each block.
fn read(bytes: &[u8]) -> Vec<Vec<u32>> {
    let picture = image::load(Cursor::new(bytes), image::ImageFormat::Jpeg).unwrap().into_luma8();
    let field = |x: u32, y: u32| {
        let level = picture.get_pixel(x * BLOCK + BLOCK / 2, y * BLOCK + BLOCK / 2).0[0];
        (f64::from(level) / 36.0).round() as u32
    };
    (0..picture.height() / BLOCK)
        .map(|y| (0..picture.width() / BLOCK).map(|x| field(x, y)).collect())
        .collect()
}

fn grid(value: &Value) -> Vec<Vec<u32>> {
    serde_json::from_value(value.clone()).unwrap()
}

#[test]
fn a_picture_is_set_upright_in_every_orientation() {
    let Some(file) = vector::json("form/photo_scale.json") else { return };
    let cases = &file["exif"];
    let jpeg = fields(&grid(&cases["input"]));
    let upright = vector::fields(&cases["upright_after_orientation"]);
    vector::counted("form/photo_scale.json: orientations through the door", upright.len(), 8);
    for (orientation, expected) in upright {
        let taken = open(&with_exif(&jpeg, orientation.parse().unwrap(), "2025:12:14 09:30:00")).unwrap();
        assert_eq!(read(&taken.full), grid(expected), "orientation {orientation}");
        assert_eq!(taken.day, Some(date(2025, 12, 14)));
    }
}

#[test]
fn nothing_but_the_picture_is_kept() {
    let jpeg = fields(&grid(&cases()["input"]));
    let sent = with_exif(&jpeg, 1, "2025:12:14 09:30:00");
    assert!(sent.windows(4).any(|it| it == b"SPOT") && sent.windows(4).any(|it| it == b"Exif"));
    let mut store = stocked();
    let form = PhotoForm { tree: "old-maple", ..PhotoForm::default() };
    let photo = keep(&mut store, form, &sent, date(2026, 1, 3)).unwrap();
    assert_eq!((photo.day, photo.day_told, photo.subject), (date(2025, 12, 14), true, Subject::Whole));
    let reader = store.reader().unwrap();
    for size in [Size::Full, Size::Small] {
        let bytes = reader.picture(&photo.key, size).unwrap().unwrap();
        assert!(
            !bytes.windows(4).any(|it| it == b"SPOT" || it == b"Exif"),
            "{size:?} tells where it was taken"
        );
    }
    let again = keep(&mut store, form, &sent, date(2026, 1, 3)).unwrap_err().to_string();
    assert!(again.contains("kept for this tree already"), "{again}");
    assert_eq!(reader.photos().unwrap().len(), 1);
}

#[test]
fn a_day_nobody_told_is_marked_so_and_one_to_come_is_not_believed() {
    let jpeg = fields(&grid(&cases()["input"]));
    let mut store = stocked();
    let today = date(2026, 1, 3);
    let form = PhotoForm { tree: "old-maple", ..PhotoForm::default() };
    let untold = keep(&mut store, form, &jpeg, today).unwrap();
    assert_eq!((untold.day, untold.day_told, untold.key.as_str()), (today, false, "old-maple-2026-01-03"));
    let ahead = keep(&mut store, form, &with_exif(&jpeg, 1, "2031:01:01 00:00:00"), today).unwrap();
    assert_eq!((ahead.day, ahead.day_told, ahead.key.as_str()), (today, false, "old-maple-2026-01-03-2"));
}

#[test]
fn a_drawing_is_taken_whole_or_not_at_all_and_names_what_is_wrong() {
    let mut store = stocked();
    let today = date(2026, 1, 3);
    let form = PhotoForm { tree: "old-maple", ..PhotoForm::default() };
    let photo = keep(&mut store, form, &fields(&grid(&cases()["input"])), today).unwrap();
    let limb = |number: u32, bearer: Option<u32>, points: Value| json!({ "number": number, "bearer": bearer, "name": "", "clock": "", "tips": "", "thick": "", "points": points });
    let trunk = limb(0, None, json!([[100, 300], [100, 40]]));
    let branch = limb(1, Some(0), json!([[100, 200], [200, 150]]));
    let drawing = |limbs: Value| json!({ "scale": [[0, 310], [400, 310]], "scale_kind": "line", "long": "40 cm", "soil": 300, "limbs": limbs, "at": 0 });
    let bad: [(Value, &str); 6] = [
        (drawing(json!([branch])), "grows from limb 0, which is not there"),
        (
            drawing(json!([
                trunk,
                limb(1, Some(2), json!([[1, 1], [2, 2]])),
                limb(2, Some(1), json!([[1, 1], [2, 2]]))
            ])),
            "by a way round",
        ),
        (drawing(json!([trunk, limb(1, Some(0), json!([[1, 1]]))])), "fewer than two spots"),
        (drawing(json!([trunk, limb(1, Some(0), json!([[1, 1], [9000, 1]]))])), "is not on the photo"),
        (
            json!({ "scale": [[0, 0], [9, 9]], "scale_kind": "line", "long": "", "limbs": [trunk] }),
            "is empty; measure it",
        ),
        (
            json!({ "scale": [[0, 0], [9, 9], [4, 4]], "scale_kind": "card", "limbs": [trunk] }),
            "nor four corners",
        ),
    ];
    for (drawing, why) in &bad {
        let told = trace(&mut store, &photo.key, &drawing.to_string(), Units::Metric, today)
            .unwrap_err()
            .to_string();
        assert!(told.contains(why), "{told}, not {why}");
        assert!(store.reader().unwrap().limbs().unwrap().is_empty(), "half a drawing was kept");
    }
    let text = "{ half";
    assert!(
        trace(&mut store, &photo.key, text, Units::Metric, today)
            .unwrap_err()
            .to_string()
            .contains("cannot be read")
    );
    let good = drawing(json!([branch, trunk])).to_string();
    assert_eq!(trace(&mut store, &photo.key, &good, Units::Metric, today).unwrap(), 2);
    let acts = store.reader().unwrap().last_act().unwrap();
    assert_eq!(trace(&mut store, &photo.key, &good, Units::Metric, today).unwrap(), 2);
    assert_eq!(store.reader().unwrap().last_act().unwrap(), acts, "the same drawing twice is an act");
}

fn stocked() -> Store {
    use intake::import::{Kind, Options, import};
    let mut store = Store::in_memory().unwrap();
    let trees = b"name,taxon\nOld Maple,acer-palmatum\n";
    import(&mut store, &Kind::Trees, "trees.csv", trees, &Options::default()).unwrap();
    store
}
