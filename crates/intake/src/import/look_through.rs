//! A file looked through before anything is written: what can be taken, and every line that cannot.

mod potting;
mod shelf;
mod weather;

use std::collections::{BTreeMap, BTreeSet};

use collection::{
    drink::{Away, Drink},
    event::{Look, Move, Work},
    place::Place,
    potting::{Crown, Mix, Pot, Potted},
    site::Site,
    tree::Tree,
};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::reader::Reader;

use crate::{
    import::{ImportQuestion, Kind, Options},
    refusal::Refusal,
    sheet::{
        self, Read,
        limbs::{LimbRow, LimbSheet},
        shelf::ShelfRow,
    },
};
use weather::WeatherContents;

/// What stood in the file, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Contents {
    Site(Site),
    Places(Vec<Place>),
    Trees(Vec<Tree>),
    Moves(Vec<Move>),
    Looks(Vec<Look>),
    Works(Vec<Work>),
    Pots(Vec<Pot>),
    Mixes(Vec<Mix>),
    Potted(Vec<Potted>),
    Crowns(Vec<Crown>),
    Drinks(Vec<Drink>),
    Limbs(Vec<LimbRow>),
    Shelf(Vec<ShelfRow>),
    Aways(Vec<Away>),
    Weather(WeatherContents),
}

/// A file looked through, before anything is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Preview {
    /// The format, in words.
    pub format: String,
    /// How many rows can be taken.
    pub rows: usize,
    /// First and last date told.
    pub span: Option<(Date, Date)>,
    /// What was dropped or is worth knowing.
    pub notes: Vec<String>,
    /// What the file does not say and must be answered first; while there are any, nothing is written.
    pub questions: Vec<ImportQuestion>,
    /// Lines that cannot be taken; while there are any, nothing is written unless they are left out on purpose.
    pub refused: Vec<Refusal>,
    pub(super) contents: Option<Contents>,
}

impl Preview {
    fn with_note(mut self, note: Option<String>) -> Preview {
        self.notes.extend(note);
        self
    }

    /// Whether the rest could be taken without the refused lines.
    pub fn can_leave_out(&self) -> bool {
        self.contents.is_some() && self.rows > 0
    }
}

/// Names that rows may refer to.
struct Known {
    trees: BTreeSet<String>,
    places: BTreeSet<String>,
}

impl Known {
    fn tree(&self, key: &str) -> Option<String> {
        (!self.trees.contains(key)).then(|| "no tree in the collection has this name".into())
    }

    fn place(&self, key: &str) -> Option<String> {
        (!self.places.contains(key)).then(|| "no place in the collection has this name".into())
    }
}

/// Looks a file through without writing anything.
///
/// # Errors
///
/// [`store::error::Error`] when the collection cannot be read.
pub fn preview(
    reader: &Reader,
    kind: &Kind,
    name: &str,
    bytes: &[u8],
    options: &Options,
) -> Result<Preview, store::error::Error> {
    let known = Known {
        trees: reader.trees()?.into_iter().map(|tree| tree.key).collect(),
        places: reader.places()?.into_iter().map(|place| place.key).collect(),
    };
    let zone = reader.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    let text = || String::from_utf8_lossy(bytes).into_owned();
    Ok(match kind {
        Kind::Site => sheet_preview("site sheet", sheet::sites(&text()), no_day, fine, |mut sites| {
            sites.pop().map(Contents::Site)
        }),
        Kind::Places => {
            let read = once_each(sheet::places(&text()), |place| &place.key);
            let kept = standing(&read, &reader.places()?, |place| &place.key, |a, b| a == b);
            let told =
                sheet_preview("sheet of places", read, no_day, fine, |rows| Some(Contents::Places(rows)));
            told.with_note(kept)
        }
        Kind::Trees => {
            let read = once_each(sheet::trees(&text()), |tree| &tree.key);
            let same = |a: &Tree, b: &Tree| *a == Tree { revision: a.revision, ..b.clone() };
            let kept = standing(&read, &reader.trees()?, |tree| &tree.key, same);
            let told =
                sheet_preview("sheet of trees", read, no_day, fine, |rows| Some(Contents::Trees(rows)));
            told.with_note(kept)
        }
        Kind::Moves => sheet_preview(
            "sheet of moves",
            sheet::moves(&text()),
            |row| Some(row.day),
            |row: &Move| {
                first_wrong([(&row.tree, known.tree(&row.tree)), (&row.place, known.place(&row.place))])
            },
            |rows| Some(Contents::Moves(rows)),
        ),
        Kind::Looks => sheet_preview(
            "sheet of bud looks",
            sheet::looks(&text()),
            |row| Some(row.day),
            |row: &Look| first_wrong([(&row.tree, known.tree(&row.tree))]),
            |rows| Some(Contents::Looks(rows)),
        ),
        Kind::Works => sheet_preview(
            "sheet of work",
            sheet::works(&text()),
            |row| Some(row.day),
            |row: &Work| first_wrong([(&row.tree, known.tree(&row.tree))]),
            |rows| Some(Contents::Works(rows)),
        ),
        Kind::Pots => potting::pots(reader, &text())?,
        Kind::Mixes => potting::mixes(reader, &text())?,
        Kind::Potted => potting::potted(reader, &known, &text())?,
        Kind::Crowns => potting::crowns(&known, &text()),
        Kind::Drinks => potting::drinks(&known, &text(), &zone),
        Kind::Limbs(sheet) => limbs(reader, &known, *sheet, &text())?,
        Kind::Shelf(sheet) => shelf::shelf(reader, &known, *sheet, &text())?,
        Kind::Aways => potting::aways(&text(), &zone),
        Kind::Weather => weather::station(reader, name, bytes, &zone, options)?,
        Kind::Logger(place) => weather::logger(reader, place, bytes, &zone, options)?,
    })
}

/// A sheet of limbs, or of what is written down about them.
fn limbs(
    reader: &Reader,
    known: &Known,
    sheet: LimbSheet,
    text: &str,
) -> Result<Preview, store::error::Error> {
    let mut limbs: BTreeSet<(String, u32)> =
        reader.limbs()?.into_iter().map(|limb| (limb.tree, limb.number)).collect();
    let photos: BTreeMap<String, String> =
        reader.photos()?.into_iter().map(|photo| (photo.key, photo.tree)).collect();
    let mut read = sheet::limbs::read(sheet, text);
    let rows = std::mem::take(&mut read.rows);
    for (line, row) in rows {
        match sheet::limbs::wrong(&row, &known.trees, &mut limbs, &photos) {
            Some((value, why)) => read.refused.push(Refusal { line, value, why }),
            None => read.rows.push((line, row)),
        }
    }
    Ok(sheet_preview(&sheet.words(), read, LimbRow::day, fine, |rows| Some(Contents::Limbs(rows))))
}

/// Refuses a row whose name stands further up in the same sheet with other details.
fn once_each<T: PartialEq>(mut read: Read<T>, key: impl Fn(&T) -> &String) -> Read<T> {
    let mut kept: Vec<(usize, T)> = Vec::with_capacity(read.rows.len());
    for (line, row) in read.rows {
        match kept.iter().find(|(_, other)| key(other) == key(&row)) {
            Some((first, other)) if *other != row => read.refused.push(Refusal {
                line,
                value: key(&row).clone(),
                why: format!("this name stands on line {first} already, with other details"),
            }),
            Some(_) => {}
            None => kept.push((line, row)),
        }
    }
    Read { rows: kept, ..read }
}

/// How many rows name what stands in the collection already, with other details.
fn standing<T>(
    read: &Read<T>,
    known: &[T],
    key: impl Fn(&T) -> &String,
    same: impl Fn(&T, &T) -> bool,
) -> Option<String> {
    let differs = |row: &T| known.iter().any(|other| key(other) == key(row) && !same(other, row));
    match read.rows.iter().filter(|(_, row)| differs(row)).count() {
        0 => None,
        count => {
            Some(format!("{count} stand in the collection already with other details, and stay as they are"))
        }
    }
}

fn no_day<T>(_: &T) -> Option<Date> {
    None
}

fn fine<T>(_: &T) -> Option<(String, String)> {
    None
}

fn first_wrong<const N: usize>(cells: [(&String, Option<String>); N]) -> Option<(String, String)> {
    cells.into_iter().find_map(|(cell, why)| Some((cell.clone(), why?)))
}

fn sheet_preview<T>(
    format: &str,
    read: Read<T>,
    day: impl Fn(&T) -> Option<Date>,
    wrong: impl Fn(&T) -> Option<(String, String)>,
    contents: impl FnOnce(Vec<T>) -> Option<Contents>,
) -> Preview {
    let mut refused = read.refused;
    let mut rows = Vec::with_capacity(read.rows.len());
    for (line, row) in read.rows {
        match wrong(&row) {
            Some((value, why)) => refused.push(Refusal { line, value, why }),
            None => rows.push(row),
        }
    }
    if read.readable && rows.is_empty() && refused.is_empty() {
        refused.push(Refusal {
            line: 2,
            value: String::new(),
            why: "the sheet holds a header and no rows".into(),
        });
    }
    refused.sort_by_key(|refusal| refusal.line);
    let days: Vec<Date> = rows.iter().filter_map(day).collect();
    Preview {
        format: format.into(),
        rows: rows.len(),
        span: days.iter().min().copied().zip(days.iter().max().copied()),
        notes: Vec::new(),
        questions: Vec::new(),
        refused,
        contents: if read.readable { contents(rows) } else { None },
    }
}

fn unreadable(format: &str, refused: Vec<Refusal>) -> Preview {
    Preview {
        format: format.into(),
        rows: 0,
        span: None,
        notes: Vec::new(),
        questions: Vec::new(),
        refused,
        contents: None,
    }
}

fn date_of(at: i64, zone: &TimeZone) -> Option<Date> {
    Some(zone.to_datetime(Timestamp::from_second(at).ok()?).date())
}
