//! A small made collection north and south: weather of some years, a few places, and whatever sheets a test brings.
#![allow(dead_code)]

pub mod logged;

use std::fmt::Write;

use intake::import::{Kind, Options, import};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use store::store::Store;
use view::whole::{Whole, whole};

/// A side of the world.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At 47 degrees north.
    North,
    /// At 37 degrees south.
    South,
}

/// Both.
pub const SIDES: [Side; 2] = [Side::North, Side::South];

impl Side {
    /// A day of the north, or the same half a year on.
    pub fn day(self, north: Date) -> Date {
        match self {
            Side::North => north,
            Side::South => north + 6.months(),
        }
    }

    fn site(self) -> &'static str {
        match self {
            Side::North => {
                "name,latitude,longitude,elevation,zone,units\nHere,47.4,8.5,450,Europe/Zurich,metric\n"
            }
            Side::South => {
                "name,latitude,longitude,elevation,zone,units\nThere,-37.0,174.8,20,Pacific/Auckland,metric\n"
            }
        }
    }
}

/// Weather of one day: low and high by a smooth year with a change every few days, the same on both sides half a year apart.
pub fn weather(side: Side, day: Date) -> [f64; 2] {
    let north = if side == Side::North { day } else { day - 6.months() };
    let at = f64::from(north.day_of_year()) / 365.25 * std::f64::consts::TAU;
    let mean = 9.5 - 9.5 * (at - 0.35).cos();
    let rank = f64::from((north - date(2000, 1, 1)).get_days());
    let turn = 3.0 * (rank / 4.3).sin() + 2.0 * (rank / 11.7).sin();
    [mean + turn - 4.0, mean + turn + 4.0]
}

/// The sheet of the station over some days.
pub fn station(side: Side, [from, to]: [Date; 2]) -> String {
    let mut text = String::from("date,tmin,tmax,rain\n");
    let mut day = side.day(from);
    while day <= side.day(to) {
        let [low, high] = weather(side, day);
        writeln!(text, "{day},{low:.1},{high:.1},0.0").unwrap();
        day = day.tomorrow().unwrap();
    }
    text
}

/// A store of a side with its weather and these sheets: kind, place, text.
pub fn store(side: Side, days: [Date; 2], sheets: &[(&str, &str, &str)]) -> Store {
    let mut store = Store::in_memory().unwrap();
    take(&mut store, "site", "", side.site());
    for (kind, place, text) in sheets {
        take(&mut store, kind, place, text);
    }
    take(&mut store, "weather", "", &station(side, days));
    store
}

/// Takes a sheet in.
pub fn take(store: &mut Store, kind: &str, place: &str, text: &str) {
    let known = Kind::from_key(kind, place).unwrap();
    import(store, &known, "sheet.csv", text.as_bytes(), &Options::default())
        .unwrap_or_else(|why| panic!("{kind}: {why:?}"));
}

/// Everything for a day.
pub fn on(store: &Store, day: Date) -> Whole {
    whole(&store.reader().unwrap(), day).unwrap()
}
