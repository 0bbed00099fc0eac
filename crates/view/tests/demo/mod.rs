//! The demo as the tests take it in: by the same door as anyone's files, with sheets changed on the way where a test wants it.
#![allow(dead_code)]

pub mod south;

use std::{fs, path::Path};

use intake::{
    import::{Kind, Options, import},
    photo::{PhotoForm, keep},
};
use jiff::civil::{Date, date};
use store::store::Store;

/// The demo, with sheets changed on the way in.
pub fn demo_with(change: impl Fn(&str, String) -> String) -> Store {
    let mut store = Store::in_memory().unwrap();
    take_in(&mut store, change);
    store
}

/// Takes the demo into a store, with sheets changed on the way in; one that is changed to nothing is left out.
pub fn take_in(store: &mut Store, change: impl Fn(&str, String) -> String) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
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
        ("wares", "", "wares.csv"),
        ("grown", "", "grown.csv"),
        ("statures", "", "statures.csv"),
        ("tints", "", "tints.csv"),
        ("vigour", "", "vigour.csv"),
        ("pot_looks", "", "pot_looks.csv"),
        ("meant", "", "meant.csv"),
        ("repots", "", "repots.csv"),
        ("tolls", "", "tolls.csv"),
        ("reservations", "", "reservations.csv"),
        ("likings", "", "likings.csv"),
        ("stock", "", "stock.csv"),
        ("blends", "", "blends.csv"),
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
        import(store, &kind, name, text.as_bytes(), &Options::default()).unwrap();
    }
}

/// The demo with its photos and what is written down about limbs, with sheets changed on the way in.
pub fn demo_with_limbs(change: impl Fn(&str, String) -> String) -> Store {
    let mut store = demo_with(&change);
    take_in_limbs(&mut store, change);
    store
}

/// Takes the demo's photos and limbs into a store that holds the rest, with sheets changed on the way in.
pub fn take_in_limbs(store: &mut Store, change: impl Fn(&str, String) -> String) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let mut photos: Vec<_> =
        fs::read_dir(folder.join("photos")).unwrap().map(|it| it.unwrap().path()).collect();
    photos.sort();
    for photo in photos {
        let name = photo.file_stem().unwrap().to_str().unwrap().to_string();
        let (tree, day) = name.split_at(name.len() - "-2025-12-14".len());
        let day = change("photos", day[1..].to_string());
        let form = PhotoForm { tree, day: &day, ..PhotoForm::default() };
        keep(store, form, &fs::read(&photo).unwrap(), date(2026, 12, 31)).unwrap();
    }
    let sheets = [
        "limbs",
        "scales",
        "traces",
        "calipers",
        "fronts",
        "aims",
        "intentions",
        "cuts",
        "wires",
        "coils",
        "layers",
        "wounds",
    ];
    for sheet in sheets {
        let name = format!("{sheet}.csv");
        let text = change(&name, fs::read_to_string(folder.join(&name)).unwrap());
        let kind = Kind::from_key(sheet, "").unwrap();
        import(store, &kind, &name, text.as_bytes(), &Options::default()).unwrap();
    }
}

/// The demo as it is.
pub fn demo() -> Store {
    demo_with(|_, text| text)
}

/// Words in which a figure stands with a metric unit.
pub fn metric(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split([' ', '\n', '"', '(', ')']).filter(|it| !it.is_empty()).collect();
    let is_figure = |word: &str| word.trim_matches(['-', '−', ',']).parse::<f64>().is_ok();
    let units = ["mm", "cm", "cm²", "m", "L", "mL", "kg", "g", "°C"];
    let is_unit = |word: &str| units.contains(&word.trim_end_matches([',', ';', '.', ':']));
    let pairs = words.windows(2).filter(|pair| is_figure(pair[0]) && is_unit(pair[1]));
    pairs.map(|pair| pair.join(" ")).collect()
}

/// "12 Apr" or "12 Apr 2027" as a date; without a year it lies within 200 days of today.
pub fn dated(words: &str, today: Date) -> Date {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let parts: Vec<&str> = words.split(' ').collect();
    let month = MONTHS.iter().position(|it| *it == parts[1]).unwrap() as i8 + 1;
    let of = |year| date(year, month, parts[0].parse().unwrap());
    match parts.get(2) {
        Some(year) => of(year.parse().unwrap()),
        // A day without its year is less than 200 days off; one that is not ahead lies behind.
        None => [1, 0, -1]
            .map(|off| of(today.year() + off))
            .into_iter()
            .find(|day| (*day - today).get_days() < 200)
            .unwrap(),
    }
}
