//! Whatever is sent as a photo, a drawing, strokes or a sheet of branches ends in values that can be or in a refusal, and nothing is half kept.

use std::io::Cursor;

use image::{ImageFormat, Rgb, RgbImage};
use intake::{
    import::{Kind, Options, import},
    limbs::{graph, trace},
    photo::{LONGEST, PhotoForm, brush, keep, open},
    sheet::limbs::{LimbSheet, read},
};
use jiff::civil::date;
use measure::quantity::Units;
use proptest::{collection::vec, prelude::*, sample::Index};
use store::store::Store;

fn picture(format: ImageFormat) -> Vec<u8> {
    let picture = RgbImage::from_fn(210, 220, |x, y| Rgb([x as u8, y as u8, (x * y % 251) as u8]));
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    import(&mut store, &Kind::Trees, "t.csv", b"name,taxon\nOld Maple,acer-palmatum\n", &Options::default())
        .unwrap();
    store
}

/// Numbers and nothings where a drawing has spots.
fn spots() -> impl Strategy<Value = serde_json::Value> {
    let number = prop_oneof![0.0..210.0_f64, any::<f64>().prop_filter("JSON has none", |it| it.is_finite())];
    vec(vec(number, 0..3), 0..4).prop_map(|rows| serde_json::json!(rows))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_harmed_photo_is_opened_or_refused(
        png: bool,
        harms in vec((any::<Index>(), any::<u8>()), 0..6),
        cut in any::<Option<Index>>(),
    ) {
        let mut bytes = picture(if png { ImageFormat::Png } else { ImageFormat::Jpeg });
        for (at, byte) in harms {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(taken) = open(&bytes) {
            prop_assert!(taken.wide.max(taken.high) <= LONGEST && !taken.small.is_empty());
        }
    }

    #[test]
    fn a_drawing_is_kept_whole_or_not_at_all(
        numbers in vec((0..4_u32, proptest::option::of(0..5_u32), spots(), "[0-9a-z ]{0,4}"), 0..5),
        scale in spots(),
        kind in "(line|card|a6|none)",
    ) {
        let mut store = stocked();
        let today = date(2026, 1, 3);
        let form = PhotoForm { tree: "old-maple", ..PhotoForm::default() };
        let photo = keep(&mut store, form, &picture(ImageFormat::Png), today).unwrap();
        let limbs: Vec<_> = numbers
            .iter()
            .map(|(number, bearer, points, word)| serde_json::json!({
                "number": number, "bearer": bearer, "points": points, "name": word, "clock": word, "tips": "", "thick": word,
            }))
            .collect();
        let drawing = serde_json::json!({ "limbs": limbs, "scale": scale, "scale_kind": kind, "long": "20 cm", "soil": null });
        let told = trace(&mut store, &photo.key, &drawing.to_string(), Units::Metric, today);
        let reader = store.reader().unwrap();
        prop_assert!(reader.faults().unwrap().is_empty());
        if told.is_err() {
            prop_assert!(reader.limbs().unwrap().is_empty() && reader.photos().unwrap()[0].scale.is_none());
        }
    }

    #[test]
    fn any_text_is_strokes_a_sheet_or_a_tree_graph_or_refused(text in "\\PC{0,200}|(on|off) [0-9., ;]{0,80}") {
        let mut store = stocked();
        let form = PhotoForm { tree: "old-maple", ..PhotoForm::default() };
        let photo = keep(&mut store, form, &picture(ImageFormat::Png), date(2026, 1, 3)).unwrap();
        let _ = brush(&mut store, &photo.key, &text);
        let _ = graph::take(&mut store, "old-maple", &text, date(2026, 1, 3));
        for sheet in LimbSheet::ALL {
            let _ = read(sheet, &text);
        }
        prop_assert!(store.reader().unwrap().faults().unwrap().is_empty());
    }
}
