//! The grower's own sheets: places, trees, moves, bud looks and work as CSV, each row checked, each refusal named.

use std::collections::BTreeMap;

use collection::{
    event::{Look, Move, Sureness, Work, WorkKind},
    key,
    place::{Facing, Lamp, Place},
    tree::{NameConfidence, Tree},
};
use jiff::civil::Date;
use measure::{
    quantity::{Hours, PhotonFlux},
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
        cell.parse().map_err(|_| self.refuse(cell, format!("{name} is not a date written as 2026-03-08")))
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
}

/// Reads every row, or names every line that cannot be taken.
fn rows<T>(
    text: &str,
    needed: &[&str],
    take: impl Fn(&Row) -> Result<T, Refusal>,
) -> Result<Vec<T>, Vec<Refusal>> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader =
        csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes());
    let unreadable = |why: csv::Error| {
        let line = why.position().map_or(1, |place| place.line() as usize);
        Refusal { line, value: String::new(), why: why.to_string() }
    };
    let names: Vec<String> = match reader.headers() {
        Ok(names) => names.iter().map(str::to_lowercase).collect(),
        Err(why) => return Err(vec![unreadable(why)]),
    };
    if let Some(missing) = needed.iter().find(|name| !names.iter().any(|column| column == *name)) {
        let why = format!("the header has no column {missing}");
        return Err(vec![Refusal { line: 1, value: names.join(","), why }]);
    }
    let (mut taken, mut refused) = (Vec::new(), Vec::new());
    for record in reader.records() {
        match record {
            Ok(record) => {
                let line = record.position().map_or(0, |place| place.line() as usize);
                let cells = names.iter().cloned().zip(record.iter().map(str::to_string)).collect();
                match take(&Row { line, cells }) {
                    Ok(noun) => taken.push(noun),
                    Err(why) => refused.push(why),
                }
            }
            Err(why) => refused.push(unreadable(why)),
        }
    }
    if refused.is_empty() { Ok(taken) } else { Err(refused) }
}

/// Places: columns `name`, `shelter`, and where known `facing`, `lamp_umol`, `lamp_hours`, `capacity`.
///
/// # Errors
///
/// Every line that cannot be taken.
///
/// ```
/// let places = intake::sheet::places("name,shelter,capacity\nNorth frame,cold-frame,20\n").unwrap();
/// assert_eq!((places[0].key.as_str(), places[0].capacity), ("north-frame", Some(20)));
/// ```
pub fn places(text: &str) -> Result<Vec<Place>, Vec<Refusal>> {
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

/// Trees: columns `name`, `taxon`, and where known `confidence`, `since`, `note`.
///
/// # Errors
///
/// Every line that cannot be taken.
///
/// ```
/// let refused = intake::sheet::trees("name,taxon\nElder,sambucus-imaginaria\n").unwrap_err();
/// assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "sambucus-imaginaria"));
/// ```
pub fn trees(text: &str) -> Result<Vec<Tree>, Vec<Refusal>> {
    rows(text, &["name", "taxon"], |row| {
        let name = row.needed("name")?;
        let taxon = row.needed("taxon")?;
        Ok(Tree {
            key: key::from_name(name),
            name: name.to_string(),
            taxon: Taxon::meant(taxon).ok_or_else(|| row.refuse(taxon, "no taxon we know by that name"))?,
            name_confidence: row.word("confidence", NameConfidence::from_key, NameConfidence::Likely)?,
            since: if row.cell("since").is_empty() { None } else { Some(row.day("since")?) },
            note: row.cell("note").to_string(),
            revision: 0,
        })
    })
}

/// Moves: columns `tree`, `place`, `day`.
///
/// # Errors
///
/// Every line that cannot be taken.
pub fn moves(text: &str) -> Result<Vec<Move>, Vec<Refusal>> {
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
/// # Errors
///
/// Every line that cannot be taken.
///
/// ```
/// let looks = intake::sheet::looks("tree,day,stage\nOld Trident,2026-03-08,03\n").unwrap();
/// assert_eq!(looks[0].stage.code(), 3);
/// ```
pub fn looks(text: &str) -> Result<Vec<Look>, Vec<Refusal>> {
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
///
/// # Errors
///
/// Every line that cannot be taken.
pub fn works(text: &str) -> Result<Vec<Work>, Vec<Refusal>> {
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
        let refused = looks(text).unwrap_err();
        let named: Vec<_> = refused.iter().map(|refusal| (refusal.line, refusal.value.as_str())).collect();
        assert_eq!(named, [(3, "8 March"), (4, "04")]);
    }

    #[test]
    fn a_missing_column_is_named() {
        assert!(works("tree,day\nA,2026-03-08\n").unwrap_err()[0].why.contains("kind"));
    }

    #[test]
    fn half_a_lamp_is_refused() {
        assert!(places("name,shelter,lamp_umol\nShelf,cold-room,40\n").is_err());
    }
}
