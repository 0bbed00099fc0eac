//! The grower's own sheets: places, trees, moves, bud looks and work as CSV, each row checked, each refusal named.

#[cfg(test)]
mod asked;
#[cfg(test)]
mod bounds;
mod cells;
pub mod drink;
mod entry;
pub mod format;
pub mod limbs;
pub mod potting;
mod read;
mod row;
pub mod shelf;
pub mod table;

use collection::{
    drink::Worth,
    event::{Look, Move, Sureness, Work, WorkKind},
    place::{Facing, Lamp, Place},
    site::Site,
    tree::{NameConfidence, Tree},
};
use jiff::tz::TimeZone;
use measure::{
    quantity::{Degrees, Hours, Metre, PhotonFlux, Share, Units},
    shelter::Shelter,
    stage::Stage,
    taxon::Taxon,
};

use crate::refusal::Refusal;

pub(crate) use entry::{Cells, Change, Entry, Settled, Taken, differences, settle};
pub use read::Read;
pub(crate) use read::rows;
pub(crate) use row::Row;

/// The site: columns `name`, `latitude`, `longitude`, `elevation`, `zone`, and where wished `units`.
///
/// ```
/// let sheet = "name,latitude,longitude,elevation,zone\nHill,47.4,8.5,450,Europe/Zurich\n";
/// assert_eq!(intake::sheet::sites(sheet).whole().unwrap()[0].latitude.0, 47.4);
/// ```
pub fn sites(text: &str) -> Read<Site> {
    rows(text, &table::SITE, None).take(site)
}

pub(crate) fn site(row: &Row) -> Result<Site, Refusal> {
    let (_, name) = row.name()?;
    let zone = row.needed("zone")?;
    if TimeZone::get(zone).is_err() {
        return Err(row.refuse(zone, "no time zone of that name; write it as Europe/Zurich"));
    }
    Ok(Site {
        name,
        latitude: Degrees(row.must("latitude")?),
        longitude: Degrees(row.must("longitude")?),
        elevation: Metre(row.must("elevation")?),
        zone: zone.to_string(),
        units: row.word("units", Units::from_key, Units::Metric)?,
    })
}

/// Places: columns `name`, `shelter`, and where known `facing`, `lamp_umol`, `lamp_hours`, `capacity`.
///
/// ```
/// let places = intake::sheet::places("name,shelter,capacity\nNorth frame,cold-frame,20\n").whole().unwrap();
/// assert_eq!((places[0].key.as_str(), places[0].capacity), ("north-frame", Some(20)));
/// ```
pub fn places(text: &str) -> Read<Place> {
    rows(text, &table::PLACES, None).take(place)
}

pub(crate) fn place(row: &Row) -> Result<Place, Refusal> {
    let (key, name) = row.name()?;
    let lamp = match (row.number("lamp_umol")?, row.number("lamp_hours")?) {
        (Some(flux), Some(hours)) => Some(Lamp { flux: PhotonFlux(flux), hours: Hours(hours) }),
        (None, None) => None,
        _ => return Err(row.refuse(&name, "a lamp needs both lamp_umol and lamp_hours")),
    };
    Ok(Place {
        key,
        name,
        shelter: row.known("shelter", Shelter::from_key)?,
        facing: row.word_if("facing", Facing::from_key)?,
        lamp,
        capacity: row.whole("capacity")?,
    })
}

/// Trees: columns `name`, `taxon`, and where known `confidence`, `candidates`, `since`, `worth`, `note`.
///
/// ```
/// let refused = intake::sheet::trees("name,taxon\nElder,sambucus-imaginaria\n").whole().unwrap_err();
/// assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "sambucus-imaginaria"));
/// ```
pub fn trees(text: &str) -> Read<Tree> {
    rows(text, &table::TREES, None).take(tree)
}

pub(crate) fn tree(row: &Row) -> Result<Tree, Refusal> {
    let (key, name) = row.name()?;
    let taxon = row.needed("taxon")?;
    Ok(Tree {
        key,
        name,
        taxon: Taxon::meant(taxon).ok_or_else(|| row.refuse(taxon, crate::record::unknown_taxon(taxon)))?,
        candidates: crate::record::candidates(row.cell("candidates"))
            .map_err(|(value, why)| row.refuse(&value, why))?,
        name_confidence: row.word("confidence", NameConfidence::from_key, NameConfidence::Likely)?,
        since: row.day_if("since")?,
        worth: row.word("worth", Worth::from_key, Worth::default())?,
        note: row.text("note")?,
        revision: 0,
    })
}

/// Moves: columns `tree`, `place`, `day`.
pub fn moves(text: &str) -> Read<Move> {
    rows(text, &table::MOVES, None).take(moved)
}

pub(crate) fn moved(row: &Row) -> Result<Move, Refusal> {
    Ok(Move { tree: row.tree()?, place: row.named("place")?, day: row.day("day")? })
}

/// Bud looks: columns `tree`, `day`, `stage` (BBCH code), and where known `sureness`, `note`.
///
/// ```
/// let looks = intake::sheet::looks("tree,day,stage\nOld Trident,2026-03-08,03\n").whole().unwrap();
/// assert_eq!(looks[0].stage.code(), 3);
/// ```
pub fn looks(text: &str) -> Read<Look> {
    rows(text, &table::LOOKS, None).take(look)
}

pub(crate) fn look(row: &Row) -> Result<Look, Refusal> {
    Ok(Look {
        tree: row.tree()?,
        day: row.day("day")?,
        stage: row.known("stage", |code| code.parse().ok().and_then(Stage::from_code))?,
        sureness: row.word("sureness", Sureness::from_key, Sureness::Fair)?,
        note: row.text("note")?,
    })
}

/// Work done: columns `tree`, `day`, `kind`, and where known `roots` (share of the roots that a repot cut), `note`.
pub fn works(text: &str) -> Read<Work> {
    rows(text, &table::WORK, None).take(work)
}

pub(crate) fn work(row: &Row) -> Result<Work, Refusal> {
    let (kind, roots) = (row.known("kind", WorkKind::from_key)?, row.number("roots")?.map(Share));
    if roots.is_some() && kind != WorkKind::Repot {
        return Err(row.refuse(row.cell("roots"), "roots are cut by a repot alone"));
    }
    Ok(Work { tree: row.tree()?, day: row.day("day")?, kind, roots, note: row.text("note")? })
}

#[cfg(test)]
mod tests;
