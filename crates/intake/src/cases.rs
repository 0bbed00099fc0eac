//! Files of cases for the waking model, and the air they name: days or hours laid out as open records lay them out.

mod air;

use std::collections::HashMap;

use jiff::civil::Date;

use crate::refusal::Refusal;

pub use air::{Weather, weather};

/// One tree and winter to be told.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Line in the file, from 1.
    pub line: usize,
    /// Its name in the answer.
    pub id: String,
    /// A taxon's key, or a botanical or everyday name.
    pub taxon: String,
    /// Degrees north.
    pub latitude: f64,
    /// The file of its air, and after `#` which column or station.
    pub weather: String,
    /// Year of its spring.
    pub winter: i16,
    /// Where it was moved to and when, in order.
    pub moves: Vec<Move>,
}

/// A move into other air.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// The day.
    pub day: Date,
    /// The file of the air there.
    pub weather: String,
    /// `sky`, `window`, `dark`, or hours of a lamp.
    pub light: Light,
}

/// Where a bud gets its light after a move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Light {
    /// The sky, or an unheated house.
    Sky,
    /// A window.
    Window,
    /// None.
    Dark,
    /// A lamp, for so many hours.
    Lamp(f64),
}

/// Reads cases: columns `id`, `taxon`, `latitude`, `weather`, `winter` and, if need be, `moves` (`day file light`, moves apart by `;`).
///
/// # Errors
///
/// A [`Refusal`] for every line that cannot be taken.
pub fn cases(text: &str) -> Result<Vec<Case>, Vec<Refusal>> {
    let refuse = |line: usize, value: &str, why: &str| Refusal { line, value: value.into(), why: why.into() };
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let head: HashMap<String, usize> = match reader.headers() {
        Ok(head) => head.iter().enumerate().map(|(at, name)| (name.to_lowercase(), at)).collect(),
        Err(why) => return Err(vec![refuse(1, "", &why.to_string())]),
    };
    let wanted = ["id", "taxon", "latitude", "weather", "winter"];
    let missing: Vec<Refusal> = wanted
        .iter()
        .filter(|name| !head.contains_key(**name))
        .map(|name| refuse(1, name, "is a column that the file of cases must have"))
        .collect();
    if !missing.is_empty() {
        return Err(missing);
    }
    let (mut cases, mut refused) = (Vec::new(), Vec::new());
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(why) => {
                refused.push(refuse(0, "", &why.to_string()));
                continue;
            }
        };
        let line = record.position().map_or(0, |at| at.line() as usize);
        let cell = |name: &str| head.get(name).and_then(|at| record.get(*at)).unwrap_or("");
        match case(line, &cell) {
            Ok(case) => cases.push(case),
            Err((value, why)) => refused.push(refuse(line, &value, &why)),
        }
    }
    if refused.is_empty() && cases.is_empty() {
        refused.push(refuse(0, "", "the file holds no case"));
    }
    if refused.is_empty() { Ok(cases) } else { Err(refused) }
}

type Refused = (String, String);

fn case<'a>(line: usize, cell: &impl Fn(&str) -> &'a str) -> Result<Case, Refused> {
    let refuse = |value: &str, why: &str| (value.to_owned(), why.to_owned());
    let latitude: f64 = cell("latitude")
        .parse()
        .ok()
        .filter(|it| (-90.0..=90.0).contains(it))
        .ok_or_else(|| refuse(cell("latitude"), "is no latitude: degrees north from -90 to 90"))?;
    let winter: i16 = cell("winter")
        .parse()
        .ok()
        .filter(|year| (1000..=3000).contains(year))
        .ok_or_else(|| refuse(cell("winter"), "is no year of a spring"))?;
    for name in ["id", "taxon", "weather"] {
        if cell(name).is_empty() {
            return Err(refuse(name, "is empty"));
        }
    }
    let mut moves = Vec::new();
    for words in cell("moves").split(';').map(str::trim).filter(|words| !words.is_empty()) {
        moves.push(move_of(words)?);
    }
    moves.sort_by_key(|it| it.day);
    let [id, taxon, weather] = ["id", "taxon", "weather"].map(|name| cell(name).to_owned());
    Ok(Case { line, id, taxon, latitude, weather, winter, moves })
}

fn move_of(words: &str) -> Result<Move, Refused> {
    let refuse = |why: &str| (words.to_owned(), why.to_owned());
    let mut parts = words.split_whitespace();
    let (Some(day), Some(weather), Some(light), None) =
        (parts.next(), parts.next(), parts.next(), parts.next())
    else {
        return Err(refuse("is no move: a day, a file and a light, as in 2026-01-10 room.csv#inside window"));
    };
    let light = match light {
        "sky" => Light::Sky,
        "window" => Light::Window,
        "dark" => Light::Dark,
        hours => match hours.parse() {
            Ok(hours) if (0.0..=24.0).contains(&hours) => Light::Lamp(hours),
            _ => return Err(refuse("names no light: sky, window, dark, or a lamp's hours from 0 to 24")),
        },
    };
    let day = day.parse().map_err(|_| refuse("begins with no day, as 2026-01-10 is one"))?;
    Ok(Move { day, weather: weather.into(), light })
}
