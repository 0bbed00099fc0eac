//! A small collection made for one question, in the north or half a year on in the south: by the same door as anyone's sheets.
#![allow(dead_code)]

use std::{fs, path::Path};

use climate::{
    hours::{Extremes, from_extremes},
    record::HourMean,
};
use intake::import::{Kind, Options, import};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use measure::quantity::{Celsius, Degrees};
use store::store::{Act, Store};
use view::{
    tonight::{Tonight, afternoon, tonight},
    whole::{Whole, whole},
};

/// Where the collection stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    /// At 47° north.
    North,
    /// At 37° south, its year half a year on.
    South,
}

impl Half {
    /// Both.
    pub const BOTH: [Half; 2] = [Half::North, Half::South];

    /// A day of the north's calendar, or the same day of the year in the south.
    pub fn day(self, day: Date) -> Date {
        if self == Half::North { day } else { day - 182.days() }
    }

    fn place(self) -> (f64, f64, &'static str) {
        match self {
            Half::North => (47.3, 9.1, "Europe/Zurich"),
            Half::South => (-37.0, 174.8, "Pacific/Auckland"),
        }
    }
}

/// A tree of the collection, on the first place from a year before.
#[derive(Clone, Debug)]
pub struct Tree {
    /// What the grower calls it.
    pub name: String,
    /// Its taxon.
    pub taxon: &'static str,
    /// How sure the name is.
    pub confidence: &'static str,
    /// Other names it may have.
    pub candidates: &'static str,
    /// Its worth.
    pub worth: &'static str,
    /// The buds as seen on the day before.
    pub stage: Option<u8>,
    /// A root cut, in the north's calendar.
    pub cut: Option<Date>,
    /// Where it stands.
    pub place: &'static str,
}

impl Default for Tree {
    fn default() -> Tree {
        Tree {
            name: String::new(),
            taxon: "acer-palmatum",
            confidence: "sure",
            candidates: "",
            worth: "standing",
            stage: None,
            cut: None,
            place: "Bench",
        }
    }
}

/// A small collection.
pub struct Small {
    /// Its file.
    pub store: Store,
    /// Where.
    pub half: Half,
}

impl Small {
    /// Places as lines of their sheet, trees, and the day on which their buds were last looked at less one.
    pub fn new(half: Half, places: &str, trees: &[Tree], day: Date) -> Small {
        let mut small = Small { store: Store::in_memory().unwrap(), half };
        let (latitude, longitude, zone) = half.place();
        small.import("site", &format!("name,latitude,longitude,elevation,zone,units\nYard,{latitude},{longitude},400,{zone},metric\n"));
        small.import("places", &format!("name,shelter,facing,lamp_umol,lamp_hours,capacity\n{places}"));
        let mut sheets = [
            String::from("name,taxon,confidence,candidates,since,worth,note\n"),
            String::from("tree,place,day\n"),
            String::from("tree,day,stage,sureness,note\n"),
            String::from("tree,day,kind,roots,note\n"),
        ];
        for it in trees {
            sheets[0] +=
                &format!("{},{},{},{},,{},\n", it.name, it.taxon, it.confidence, it.candidates, it.worth);
            sheets[1] += &format!("{},{},{}\n", it.name, it.place, day - 400.days());
            if let Some(stage) = it.stage {
                sheets[2] += &format!("{},{},{stage:02},sure,\n", it.name, day - 1.days());
            }
            if let Some(cut) = it.cut {
                sheets[3] += &format!("{},{},repot,0.35,\n", it.name, half.day(cut));
            }
        }
        for (kind, text) in ["trees", "moves", "looks", "work"].into_iter().zip(sheets) {
            if text.lines().count() > 1 {
                small.import(kind, &text);
            }
        }
        let station =
            fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo/station.csv")).unwrap();
        let moved: String = station
            .lines()
            .enumerate()
            .map(|(at, line)| match line.split_once(',') {
                Some((day, rest)) if at > 0 => format!("{},{rest}\n", half.day(day.parse().unwrap())),
                _ => format!("{line}\n"),
            })
            .collect();
        small.import("weather", &moved);
        small
    }

    /// Takes in a sheet.
    pub fn import(&mut self, kind: &str, text: &str) {
        let name = format!("{kind}.csv");
        let kind = Kind::from_key(kind, "").unwrap();
        import(&mut self.store, &kind, &name, text.as_bytes(), &Options::default()).unwrap();
    }

    /// A forecast from the day before on, of these lows and highs day by day.
    pub fn foretell(&mut self, day: Date, days: &[(f64, f64)]) {
        let (latitude, longitude, _) = self.half.place();
        let extremes: Vec<Extremes> =
            days.iter().map(|&(low, high)| Extremes { low: Celsius(low), high: Celsius(high) }).collect();
        let first = day - 1.days();
        let hours = from_extremes(Degrees(latitude), first, &extremes).unwrap();
        let start = midnight(first, longitude);
        let hours: Vec<HourMean> = (0..)
            .zip(hours)
            .map(|(hour, temperature)| HourMean { at: start + hour * 3600, temperature, filled: false })
            .collect();
        let fetched = start + 86_400 + 13 * 3600;
        self.store
            .transact::<(), store::error::Error>(&Act::Fetch, |change| change.set_forecast(fetched, &hours))
            .unwrap();
    }

    /// Nights of record before a day in which a place was colder than the station.
    pub fn colder_by_night(&mut self, place: &str, colder: f64, nights: i64) {
        let day = self.half.day(date(2026, 4, 3));
        let whole = whole(&self.store.reader().unwrap(), day).unwrap();
        let outside = whole.outside.as_ref().unwrap();
        let (_, longitude, _) = self.half.place();
        let first = day - nights.days();
        let start = midnight(first, longitude);
        let hours: Vec<HourMean> = (0..nights)
            .flat_map(|night| outside.day(first + night.days()).unwrap().0.to_vec())
            .zip(0..)
            .map(|(hour, at)| HourMean {
                at: start + at * 3600,
                temperature: if (7..20).contains(&(at % 24)) { hour } else { hour - colder },
                filled: false,
            })
            .collect();
        self.store
            .transact::<_, store::error::Error>(&Act::Fetch, |change| {
                change.add_logged_hours(place, "", &hours)
            })
            .unwrap();
    }

    /// Everything on a day.
    pub fn whole(&self, day: Date) -> Whole {
        whole(&self.store.reader().unwrap(), day).unwrap()
    }

    /// The night as seen at three in the afternoon.
    pub fn tonight(&self, day: Date) -> Tonight {
        let whole = self.whole(day);
        tonight(&whole, afternoon(&whole)).unwrap()
    }
}

/// The sun's midnight at which a day begins, seconds since 1970.
fn midnight(day: Date, longitude: f64) -> i64 {
    i64::from((day - date(1970, 1, 1)).get_days()) * 86_400 - (longitude * 240.0) as i64
}
