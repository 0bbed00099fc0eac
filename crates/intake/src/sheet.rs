//! The grower's own sheets: places, trees, moves, bud looks and work as CSV, each row checked, each refusal named.

pub mod drink;
pub mod limbs;
pub mod potting;
pub mod shelf;

use std::collections::BTreeMap;

use collection::{
    drink::Worth,
    event::{Look, Move, Sureness, Work, WorkKind},
    key,
    place::{Facing, Lamp, Place},
    site::Site,
    tree::{NameConfidence, Tree},
};
use jiff::{civil::Date, tz::TimeZone};
use measure::{
    quantity::{Degrees, Hours, Metre, PhotonFlux, Units},
    shelter::Shelter,
    stage::Stage,
    taxon::Taxon,
};

use crate::refusal::Refusal;

/// A row as the sheet gives it: cells by lower-case column name, with the line they stand on.
struct Row {
    line: usize,
    cells: BTreeMap<String, String>,
}

impl Row {
    fn cell(&self, name: &str) -> &str {
        self.cells.get(name).map_or("", String::as_str)
    }

    fn refuse(&self, value: &str, why: impl Into<String>) -> Refusal {
        Refusal { line: self.line, value: value.to_string(), why: why.into() }
    }

    fn needed(&self, name: &str) -> Result<&str, Refusal> {
        match self.cell(name) {
            "" => Err(self.refuse("", format!("{name} is empty"))),
            cell if name == "name" && cell.chars().count() > 80 => {
                Err(self
                    .refuse(&cell.chars().take(80).collect::<String>(), "the name is longer than 80 letters"))
            }
            cell => Ok(cell),
        }
    }

    /// A word from a short list; an empty cell gives `otherwise`.
    fn word<T>(&self, name: &str, from: impl Fn(&str) -> Option<T>, otherwise: T) -> Result<T, Refusal> {
        match self.cell(name) {
            "" => Ok(otherwise),
            cell => from(&cell.to_lowercase()).ok_or_else(|| self.refuse(cell, format!("no {name} we know"))),
        }
    }

    fn day(&self, name: &str) -> Result<Date, Refusal> {
        let cell = self.needed(name)?;
        let day: Date = cell
            .parse()
            .map_err(|_| self.refuse(cell, format!("{name} is not a date written as 2026-03-08")))?;
        if (1900..=2200).contains(&day.year()) {
            Ok(day)
        } else {
            Err(self.refuse(cell, format!("{name} lies too far from today to be right")))
        }
    }

    fn number(&self, name: &str, low: f64, high: f64) -> Result<Option<f64>, Refusal> {
        match self.cell(name) {
            "" => Ok(None),
            cell => match cell.parse::<f64>() {
                Ok(number) if (low..=high).contains(&number) => Ok(Some(number)),
                _ => Err(self.refuse(cell, format!("{name} is not a number from {low} to {high}"))),
            },
        }
    }

    fn tree(&self) -> Result<String, Refusal> {
        self.needed("tree").map(key::from_name)
    }

    fn day_if(&self, name: &str) -> Result<Option<Date>, Refusal> {
        if self.cell(name).is_empty() { Ok(None) } else { self.day(name).map(Some) }
    }

    fn yes(&self, name: &str) -> Result<bool, Refusal> {
        let word = |cell: &str| match cell {
            "yes" | "true" | "1" => Some(true),
            "no" | "false" | "0" => Some(false),
            _ => None,
        };
        self.word(name, word, false)
    }

    fn known<T>(&self, name: &str, from: impl Fn(&str) -> Option<T>) -> Result<T, Refusal> {
        let cell = self.needed(name)?;
        from(&cell.to_lowercase()).ok_or_else(|| self.refuse(cell, format!("no {name} we know")))
    }

    fn small(&self, name: &str, most: u8) -> Result<Option<u8>, Refusal> {
        Ok(self.number(name, 0.0, f64::from(most))?.map(|count| count as u8))
    }
}

/// What a sheet held: each row that could be taken with its line, and each that could not.
#[derive(Clone, Debug, PartialEq)]
pub struct Read<T> {
    /// Line in the file and what stood there.
    pub rows: Vec<(usize, T)>,
    /// Lines that cannot be taken.
    pub refused: Vec<Refusal>,
    /// False where the header itself is wrong, so that no line could be read.
    pub readable: bool,
}

impl<T> Read<T> {
    /// Every row, or every refusal: the whole sheet or nothing of it.
    ///
    /// # Errors
    ///
    /// Every line that cannot be taken.
    pub fn whole(self) -> Result<Vec<T>, Vec<Refusal>> {
        if self.refused.is_empty() {
            Ok(self.rows.into_iter().map(|(_, row)| row).collect())
        } else {
            Err(self.refused)
        }
    }
}

/// Reads every row that can be taken and names every line that cannot.
fn rows<T>(text: &str, needed: &[&str], take: impl Fn(&Row) -> Result<T, Refusal>) -> Read<T> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let unreadable = |why: csv::Error| {
        let line = why.position().map_or(1, |place| place.line() as usize);
        Refusal { line, value: String::new(), why: why.to_string() }
    };
    let header = |refusal| Read { rows: Vec::new(), refused: vec![refusal], readable: false };
    let names: Vec<String> = match reader.headers() {
        Ok(names) => names.iter().map(str::to_lowercase).collect(),
        Err(why) => return header(unreadable(why)),
    };
    if let Some(missing) = needed.iter().find(|name| !names.iter().any(|column| column == *name)) {
        let why = format!("the header has no column {missing}");
        return header(Refusal { line: 1, value: names.join(","), why });
    }
    let (mut taken, mut refused) = (Vec::new(), Vec::new());
    for record in reader.records() {
        match record {
            Ok(record) => {
                let line = record.position().map_or(0, |place| place.line() as usize);
                let cells = names.iter().cloned().zip(record.iter().map(str::to_string)).collect();
                match take(&Row { line, cells }) {
                    Ok(noun) => taken.push((line, noun)),
                    Err(why) => refused.push(why),
                }
            }
            Err(why) => refused.push(unreadable(why)),
        }
    }
    Read { rows: taken, refused, readable: true }
}

/// The site: columns `name`, `latitude`, `longitude`, `elevation`, `zone`, and where wished `units`.
///
/// ```
/// let sheet = "name,latitude,longitude,elevation,zone\nHill,47.4,8.5,450,Europe/Zurich\n";
/// assert_eq!(intake::sheet::sites(sheet).whole().unwrap()[0].latitude.0, 47.4);
/// ```
pub fn sites(text: &str) -> Read<Site> {
    rows(text, &["name", "latitude", "longitude", "elevation", "zone"], |row| {
        let number = |name: &str, low, high| {
            row.number(name, low, high)?.ok_or_else(|| row.refuse("", format!("{name} is empty")))
        };
        let zone = row.needed("zone")?;
        if TimeZone::get(zone).is_err() {
            return Err(row.refuse(zone, "no time zone of that name; write it as Europe/Zurich"));
        }
        Ok(Site {
            name: row.needed("name")?.to_string(),
            latitude: Degrees(number("latitude", -90.0, 90.0)?),
            longitude: Degrees(number("longitude", -180.0, 180.0)?),
            elevation: Metre(number("elevation", -430.0, 6000.0)?),
            zone: zone.to_string(),
            units: row.word("units", Units::from_key, Units::Metric)?,
        })
    })
}

/// Places: columns `name`, `shelter`, and where known `facing`, `lamp_umol`, `lamp_hours`, `capacity`.
///
/// ```
/// let places = intake::sheet::places("name,shelter,capacity\nNorth frame,cold-frame,20\n").whole().unwrap();
/// assert_eq!((places[0].key.as_str(), places[0].capacity), ("north-frame", Some(20)));
/// ```
pub fn places(text: &str) -> Read<Place> {
    rows(text, &["name", "shelter"], |row| {
        let name = row.needed("name")?;
        let shelter = row.needed("shelter")?;
        let flux = row.number("lamp_umol", 0.0, 3000.0)?;
        let hours = row.number("lamp_hours", 0.0, 24.0)?;
        let lamp = match (flux, hours) {
            (Some(flux), Some(hours)) => Some(Lamp { flux: PhotonFlux(flux), hours: Hours(hours) }),
            (None, None) => None,
            _ => return Err(row.refuse(name, "a lamp needs both lamp_umol and lamp_hours")),
        };
        Ok(Place {
            key: key::from_name(name),
            name: name.to_string(),
            shelter: Shelter::from_key(&shelter.to_lowercase())
                .ok_or_else(|| row.refuse(shelter, "no shelter we know"))?,
            facing: row.word("facing", |cell| Facing::from_key(cell).map(Some), None)?,
            lamp,
            capacity: row.number("capacity", 0.0, 10_000.0)?.map(|count| count as u32),
        })
    })
}

/// Trees: columns `name`, `taxon`, and where known `confidence`, `since`, `worth`, `note`.
///
/// ```
/// let refused = intake::sheet::trees("name,taxon\nElder,sambucus-imaginaria\n").whole().unwrap_err();
/// assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "sambucus-imaginaria"));
/// ```
pub fn trees(text: &str) -> Read<Tree> {
    rows(text, &["name", "taxon"], |row| {
        let name = row.needed("name")?;
        let taxon = row.needed("taxon")?;
        Ok(Tree {
            key: key::from_name(name),
            name: name.to_string(),
            taxon: Taxon::meant(taxon)
                .ok_or_else(|| row.refuse(taxon, crate::record::unknown_taxon(taxon)))?,
            name_confidence: row.word("confidence", NameConfidence::from_key, NameConfidence::Likely)?,
            since: if row.cell("since").is_empty() { None } else { Some(row.day("since")?) },
            worth: row.word("worth", Worth::from_key, Worth::default())?,
            note: row.cell("note").to_string(),
            revision: 0,
        })
    })
}

/// Moves: columns `tree`, `place`, `day`.
pub fn moves(text: &str) -> Read<Move> {
    rows(text, &["tree", "place", "day"], |row| {
        Ok(Move {
            tree: key::from_name(row.needed("tree")?),
            place: key::from_name(row.needed("place")?),
            day: row.day("day")?,
        })
    })
}

/// Bud looks: columns `tree`, `day`, `stage` (BBCH code), and where known `sureness`, `note`.
///
/// ```
/// let looks = intake::sheet::looks("tree,day,stage\nOld Trident,2026-03-08,03\n").whole().unwrap();
/// assert_eq!(looks[0].stage.code(), 3);
/// ```
pub fn looks(text: &str) -> Read<Look> {
    rows(text, &["tree", "day", "stage"], |row| {
        let code = row.needed("stage")?;
        let stage = code.parse().ok().and_then(Stage::from_code);
        Ok(Look {
            tree: key::from_name(row.needed("tree")?),
            day: row.day("day")?,
            stage: stage.ok_or_else(|| row.refuse(code, "no bud stage with that code"))?,
            sureness: row.word("sureness", Sureness::from_key, Sureness::Fair)?,
            note: row.cell("note").to_string(),
        })
    })
}

/// Work done: columns `tree`, `day`, `kind`, and where known `note`.
pub fn works(text: &str) -> Read<Work> {
    rows(text, &["tree", "day", "kind"], |row| {
        let kind = row.needed("kind")?;
        Ok(Work {
            tree: key::from_name(row.needed("tree")?),
            day: row.day("day")?,
            kind: WorkKind::from_key(&kind.to_lowercase())
                .ok_or_else(|| row.refuse(kind, "no work we know"))?,
            note: row.cell("note").to_string(),
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bad_line_is_named_and_nothing_is_read() {
        let text = "tree,day,stage\nA,2026-03-08,03\nB,8 March,03\nC,2026-03-08,04\n";
        let refused = looks(text).whole().unwrap_err();
        let named: Vec<_> = refused.iter().map(|refusal| (refusal.line, refusal.value.as_str())).collect();
        assert_eq!(named, [(3, "8 March"), (4, "04")]);
    }

    #[test]
    fn a_missing_column_is_named() {
        assert!(works("tree,day\nA,2026-03-08\n").whole().unwrap_err()[0].why.contains("kind"));
    }

    #[test]
    fn half_a_lamp_is_refused() {
        assert!(places("name,shelter,lamp_umol\nShelf,cold-room,40\n").whole().is_err());
    }
}
