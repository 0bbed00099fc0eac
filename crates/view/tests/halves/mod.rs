//! A small collection on both halves of the Earth: the demo's weather as it is, and half a year on at 37 degrees south.
#![allow(dead_code)]

use std::{fs, path::Path};

use intake::import::{Kind, Options, import};
use jiff::{ToSpan, civil::Date};
use store::store::Store;
use view::whole::{TreeWhole, Whole, whole};

/// Days from a day of the north to the same day of the season in the south: from 1 January to 1 July.
const HALF_A_YEAR: i64 = 181;

/// A half of the Earth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    /// 47 degrees north, on the days as named.
    North,
    /// 37 degrees south, half a year on.
    South,
}

/// Five places: an open bench, a shaded one, a glasshouse, a dark cold room and a heated sill.
const PLACES: &str = "name,shelter,facing,lamp_umol,lamp_hours,capacity\nBench,open-bench,,,,\nWall,shaded-bench,,,,\n\
                      House,cold-glasshouse,,,,\nStore,cold-room,,,,\nSill,warm-sill,,,,\nPane,cool-sill,,,,\n";

impl Half {
    /// Both.
    pub const BOTH: [Half; 2] = [Half::North, Half::South];

    /// A day of the north on this half.
    pub fn day(self, day: Date) -> Date {
        match self {
            Half::North => day,
            Half::South => day.checked_add(HALF_A_YEAR.days()).unwrap(),
        }
    }

    /// A text with every date in it, written as 2026-03-28, on this half.
    fn turned(self, text: &str) -> String {
        let mut shown = String::new();
        let mut rest = text;
        while let Some(letter) = rest.chars().next() {
            let day =
                rest.get(..10).filter(|it| it.as_bytes()[4] == b'-').and_then(|it| it.parse::<Date>().ok());
            match day {
                Some(day) => {
                    shown.push_str(&self.day(day).to_string());
                    rest = &rest[10..];
                }
                None => {
                    shown.push(letter);
                    rest = &rest[letter.len_utf8()..];
                }
            }
        }
        shown
    }

    /// A collection of these trees, with sheets by kind; a logger's kind is followed by its place, as `logger:house`.
    pub fn store(self, sheets: &[(&str, &str)]) -> Store {
        let mut store = Store::in_memory().unwrap();
        let (latitude, zone) = match self {
            Half::North => ("47.3", "Europe/Zurich"),
            Half::South => ("-37.3", "Etc/UTC"),
        };
        let site =
            format!("name,latitude,longitude,elevation,zone,units\nYard,{latitude},9.1,560,{zone},metric\n");
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
        let station = fs::read_to_string(demo.join("station.csv")).unwrap();
        let own = [("site", site.as_str()), ("places", PLACES), ("weather", &station)];
        for (kind, text) in own.iter().chain(sheets) {
            let (kind, place) = kind.split_once(':').unwrap_or((kind, ""));
            let kind = Kind::from_key(kind, place).unwrap();
            import(&mut store, &kind, "a.csv", self.turned(text).as_bytes(), &Options::default()).unwrap();
        }
        store
    }

    /// The collection on a day of the north, turned to this half.
    pub fn on(self, store: &Store, day: Date) -> Whole {
        whole(&store.reader().unwrap(), self.day(day)).unwrap()
    }
}

/// A tree by its key.
pub fn of<'a>(whole: &'a Whole, key: &str) -> &'a TreeWhole {
    whole.tree(key).unwrap()
}

/// A place's rank by its key.
pub fn place(whole: &Whole, key: &str) -> usize {
    whole.places.iter().position(|it| it.place.key == key).unwrap()
}
