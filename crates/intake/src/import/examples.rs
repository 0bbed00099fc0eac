//! A small made collection into which the example of every kind of sheet fits.

use store::store::Store;

use super::{Kind, Options, import};
use crate::{
    photo::{PhotoForm, keep},
    sheet::table,
};

/// A photo of no tree at all, as the examples name it.
fn photo(store: &mut Store) {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::from_fn(300, 400, |x, y| image::Rgb([x as u8, y as u8, 90]))
        .write_to(&mut bytes, image::ImageFormat::Png)
        .unwrap();
    let form = PhotoForm { tree: "old-trident", day: "2025-12-14", ..PhotoForm::default() };
    let kept = keep(store, form, bytes.get_ref(), "2025-12-14".parse().unwrap()).unwrap();
    assert_eq!((kept.key.as_str(), kept.wide), ("old-trident-2025-12-14", 300));
}

/// Everything that every example has in it, in an order in which they may come in.
pub(crate) fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    // At noon of 1 November 2026.
    let options = Options { now: Some(1_793_534_400), ..Options::default() };
    for format in table::all() {
        if format.key == "limbs" {
            photo(&mut store);
        }
        let kind = Kind::from_key(format.key, "").unwrap();
        let done =
            import(&mut store, &kind, &format!("{}.csv", format.key), format.example.as_bytes(), &options);
        let done = done.unwrap_or_else(|why| panic!("{}: {why:?}", format.key));
        assert!(done.added > 0 && done.left_out == 0, "{}: {done:?}", format.key);
    }
    store
}

#[test]
fn examples_that_are_no_sheets_are_read_too() {
    let mut store = stocked();
    for (key, _, example) in super::OTHERS {
        let kind = Kind::from_key(key, "long-bench").unwrap();
        let name = if key == "away" { "away.ics" } else { "example.csv" };
        let done = import(&mut store, &kind, name, example.as_bytes(), &Options::default()).unwrap();
        assert!(done.added > 0 && done.added == done.rows, "{key}: {done:?}");
    }
}

#[test]
fn examples_taken_in_one_after_the_other_make_a_sound_collection_and_twice_add_nothing() {
    let mut store = stocked();
    let acts = store.reader().unwrap().last_act().unwrap();
    for format in table::all() {
        let kind = Kind::from_key(format.key, "").unwrap();
        let again =
            import(&mut store, &kind, "again.csv", format.example.as_bytes(), &Options::default()).unwrap();
        assert_eq!(again.added, 0, "{}", format.key);
    }
    let reader = store.reader().unwrap();
    assert_eq!((reader.last_act().unwrap(), reader.faults().unwrap()), (acts, Vec::new()));
}
