//! Whatever comes to a collection is taken whole or refused and then nothing is written, and a second time nothing is new.

use std::{cell::RefCell, io::Cursor};

use intake::{
    bucket::{self, BucketForm},
    import::{self as imports, ImportError, Kind, Options, preview},
    limbs::{graph, trace},
    logger::{Order, Scale},
    photo::{PhotoForm, brush, keep},
    readings as batches, token,
};
use jiff::civil::{Date, date};
use measure::quantity::Units;
use store::store::Store;

use super::{cells, named};

/// The day on which everything is tried.
pub const TODAY: Date = date(2026, 3, 28);

/// The afternoon of that day, seconds since 1970.
const NOW: i64 = 1_774_710_000;

/// As a file is brought first: whatever is unclear is asked.
const ASKS: Options = Options {
    leave_out: false,
    update: false,
    strict: false,
    scale: None,
    order: None,
    winters: false,
    now: Some(NOW),
};

/// As it is brought when everything was answered.
const ANSWERED: Options = Options {
    leave_out: true,
    update: true,
    strict: false,
    scale: Some(Scale::Celsius),
    order: Some(Order::DayFirst),
    winters: true,
    now: Some(NOW),
};

/// The photo of the small collection.
const PHOTO: &str = "stone-elm-2026-03-01";

thread_local! {
    /// A small collection that nothing was written to yet.
    static FRESH: RefCell<Option<Store>> = const { RefCell::new(None) };
}

/// Runs on a small collection; it is used again as long as nothing is written.
pub fn on_collection(act: impl FnOnce(&mut Store)) {
    let mut store = FRESH.with(|fresh| fresh.take()).unwrap_or_else(stocked);
    let before = changes(&store);
    act(&mut store);
    if changes(&store) == before {
        FRESH.with(|fresh| fresh.replace(Some(store)));
    }
}

/// Runs an act that says whether it was taken: refused, it has written nothing; taken, the collection is sound.
pub fn whole_or_nothing(act: impl FnOnce(&mut Store) -> bool) {
    on_collection(|store| {
        let before = changes(store);
        let taken = act(store);
        let wrote = changes(store) != before;
        assert!(taken || !wrote, "refused, and yet something was written");
        if wrote {
            sound(store);
        }
    });
}

fn changes(store: &Store) -> i64 {
    store.reader().expect("a reader").changes().expect("a count")
}

fn sound(store: &Store) {
    assert_eq!(store.reader().expect("a reader").faults().expect("an answer"), Vec::<String>::new());
}

/// Everything that an import may write, as text.
fn contents(store: &Store) -> String {
    let it = store.reader().expect("a reader");
    let grower =
        (it.site(), it.places(), it.trees(), it.moves(), it.looks(), it.works(), it.drinks(), it.aways());
    let potting = (it.pots(), it.mixes(), it.potted(), it.crowns(), it.wares(), it.stock(), it.blends());
    let branches =
        (it.limbs(), it.traces(), it.calipers(), it.fronts(), it.aims(), it.intentions(), it.photos());
    let treated = (it.cuts(), it.wires(), it.coils(), it.layers(), it.wounds());
    let shelf =
        (it.grown(), it.statures(), it.tints(), it.vigours(), it.pot_looks(), it.meant(), it.repots());
    let said = (it.tolls(), it.reservations(), it.likings());
    let air = (it.station_days(), it.station_hours(), it.logged_hours("long-bench"));
    let others = (it.weather_days(), it.weather_kept(), it.logged_humidity("long-bench"));
    format!("{grower:?} {potting:?} {branches:?} {treated:?} {shelf:?} {said:?} {air:?} {others:?}")
}

fn stocked() -> Store {
    let mut store = Store::in_memory().expect("memory");
    let sheets = [
        ("site", "name,latitude,longitude,elevation,zone\nHill,47.3,9.1,560,Europe/Zurich\n"),
        (
            "places",
            "name,shelter,facing\nLong bench,open-bench,\nCold room,cold-room,\nSill,cool-sill,south\n",
        ),
        (
            "trees",
            "name,taxon\nOld trident,acer-buergerianum\nStone elm,ulmus-parvifolia\nOlive,olea-europaea\n",
        ),
        ("moves", "tree,place,day\nOld trident,Long bench,2023-05-20\n"),
        ("pots", "name,outline,length,width,height\nOval,oval,46,34,8\nRound,round,30,30,7\n"),
        ("mixes", "name,grain_low,grain_high,height,volume\nFine mix,1,3,,\nStandard mix,3,6,,\n"),
        ("potted", "tree,day,pot,mix\nOld trident,2023-05-20,Oval,Standard mix\n"),
        (
            "limbs",
            "tree,number,bearer,name,clock,tips,since\nStone elm,0,,trunk,,20+,2024-11-30\nStone elm,1,0,left,9,,2024-11-30\n",
        ),
    ];
    for (key, text) in sheets {
        let kind = Kind::from_key(key, "").expect("a kind");
        imports::import(&mut store, &kind, key, text.as_bytes(), &ASKS)
            .expect("the small collection is sound");
    }
    let form = PhotoForm { tree: "stone-elm", day: "2026-03-01", ..PhotoForm::default() };
    let photo = keep(&mut store, form, &picture(), TODAY).expect("the picture is one");
    assert_eq!(photo.key, PHOTO);
    token::make(&mut store, "hut", NOW).expect("a token");
    store
}

/// A small picture.
fn picture() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(210, 220, |x, y| image::Rgb([x as u8, y as u8, 90]));
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a PNG");
    bytes.into_inner()
}

/// A kind of file on the first line, with a logger's place after it, and the file below.
pub fn import(bytes: &[u8]) {
    let end = bytes.iter().position(|byte| *byte == b'\n').unwrap_or(bytes.len());
    let (head, file) = (String::from_utf8_lossy(&bytes[..end]), bytes.get(end + 1..).unwrap_or(&[]));
    let (key, place) = head.trim().split_once(' ').unwrap_or((head.trim(), "long-bench"));
    let Some(kind) = Kind::from_key(key, place) else { return };
    whole_or_nothing(|store| {
        let reader = store.reader().expect("a reader");
        let before = changes(store);
        let told = preview(&reader, &kind, "any.csv", file, &ASKS).expect("the collection can be read");
        assert_eq!(
            told,
            preview(&reader, &kind, "any.csv", file, &ASKS).expect("and again"),
            "looked at twice, seen otherwise"
        );
        named(file, &told.refused);
        assert_eq!(changes(store), before, "a preview wrote");
        match imports::import(store, &kind, "any.csv", file, &ASKS) {
            Ok(done) => {
                assert!(
                    told.refused.is_empty()
                        && told.questions.iter().all(|question| question.likely.is_some())
                        && done.added <= done.rows
                        && done.rows == told.rows
                );
                let stands = contents(store);
                imports::import(store, &kind, "any.csv", file, &ASKS).expect("taken once");
                assert_eq!(contents(store), stands, "the same file twice changes something");
                true
            }
            Err(ImportError::Refused(refused)) => {
                assert_eq!(refused, told.refused, "the preview says something else");
                assert!(!refused.is_empty());
                assert_eq!(changes(store), before, "half an import");
                imports::import(store, &kind, "any.csv", file, &ANSWERED).is_ok()
            }
            Err(ImportError::Unclear(asked)) => {
                assert_eq!(asked, told.questions, "the preview asks something else");
                assert!(asked.iter().all(|question| question.choices.len() > 1));
                assert_eq!(changes(store), before, "half an import");
                imports::import(store, &kind, "any.csv", file, &ANSWERED).is_ok()
            }
            Err(ImportError::Store(why)) => panic!("the store refused what the preview took: {why}"),
        }
    });
}

/// Any bytes posted by a sensor.
pub fn readings(bytes: &[u8]) {
    let Ok(batch) = batches::read(bytes, NOW) else { return };
    let rows = serde_json::from_slice::<serde_json::Value>(bytes).expect("it was read")["readings"]
        .as_array()
        .map_or(0, Vec::len);
    on_collection(|store| {
        let first = batches::keep(store, "hut", batch.clone()).expect("kept or refused row by row");
        assert_eq!(first.taken + first.known + first.refused.len(), rows, "every reading is counted once");
        assert!(first.refused.iter().all(|refused| refused.index < rows && !refused.why.is_empty()));
        let again = batches::keep(store, "hut", batch).expect("and again");
        assert_eq!((again.taken, &again.refused), (0, &first.refused), "sent twice, kept twice");
        sound(store);
    });
}

/// A drawing, strokes, or a tree graph.
pub fn traces(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    whole_or_nothing(|store| trace(store, PHOTO, &text, Units::Metric, TODAY).is_ok());
    whole_or_nothing(|store| trace(store, PHOTO, &text, Units::Imperial, TODAY).is_ok());
    whole_or_nothing(|store| brush(store, PHOTO, &text).is_ok());
    whole_or_nothing(|store| graph::take(store, "olive", &text, TODAY).is_ok());
}

/// A bucket test, one field a line.
pub fn buckets(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let [height, volume, vessel, dry, flooded, drained, grains_dry, grains_wet] = cells::<8>(&text);
    let form = BucketForm { height, volume, vessel, dry, flooded, drained, grains_dry, grains_wet };
    for units in [Units::Metric, Units::Imperial] {
        whole_or_nothing(|store| match bucket::test(store, "standard-mix", form, units) {
            Ok(test) => {
                assert!(test.dry.0 > 0.0 && test.dry.0 < test.drained.0 && test.drained.0 <= test.flooded.0);
                true
            }
            Err(why) => {
                assert!(!why.to_string().is_empty());
                false
            }
        });
    }
}
