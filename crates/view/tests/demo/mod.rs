//! The demo as the tests take it in: by the same door as anyone's files, with sheets changed on the way where a test wants it.
#![allow(dead_code)]

use std::{fs, path::Path};

use intake::import::{Kind, import};
use store::store::Store;

/// The demo, with sheets changed on the way in.
pub fn demo_with(change: impl Fn(&str, String) -> String) -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let mut store = Store::in_memory().unwrap();
    let files = [
        ("site", "", "site.csv"),
        ("places", "", "places.csv"),
        ("trees", "", "trees.csv"),
        ("pots", "", "pots.csv"),
        ("mixes", "", "mixes.csv"),
        ("potted", "", "potted.csv"),
        ("crowns", "", "crowns.csv"),
        ("away", "", "shifts.ics"),
        ("water", "", "water.csv"),
        ("moves", "", "moves.csv"),
        ("looks", "", "looks.csv"),
        ("work", "", "work.csv"),
        ("weather", "", "station.csv"),
        ("logger", "cold-frame", "logger_cold_frame.csv"),
        ("logger", "cold-room", "logger_cold_room.csv"),
        ("logger", "south-sill", "logger_south_sill.csv"),
    ];
    for (kind, place, name) in files {
        let text = change(name, fs::read_to_string(folder.join(name)).unwrap());
        if text.is_empty() {
            continue;
        }
        let kind = Kind::from_key(kind, place).unwrap();
        import(&mut store, &kind, name, text.as_bytes(), false).unwrap();
    }
    store
}

/// The demo as it is.
pub fn demo() -> Store {
    demo_with(|_, text| text)
}
