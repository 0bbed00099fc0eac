//! A file looked through before anything is written: what can be taken, and every line that cannot.

mod potting;
mod shelf;

use std::collections::{BTreeMap, BTreeSet};

use climate::record::{HourMean, StationDay};
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
    logger,
    refusal::Refusal,
    sheet::{
        self, Read,
        limbs::{LimbRow, LimbSheet},
        shelf::ShelfRow,
    },
    weather,
};

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
    Weather(Vec<StationDay>, Vec<HourMean>),
    Typical(Vec<(f64, f64)>),
    Logger(String, Vec<HourMean>),
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
    _options: &Options,
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
        Kind::Weather => weather_preview(name, bytes, &zone),
        Kind::Logger(place) => logger_preview(place, &known, bytes, &zone),
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

/// Lowest and highest of a series, for the reader to see whether the unit was read right.
fn range_note(celsius: impl Iterator<Item = f64> + Clone) -> Option<String> {
    let low = celsius.clone().fold(f64::INFINITY, f64::min);
    let high = celsius.fold(f64::NEG_INFINITY, f64::max);
    (low <= high).then(|| {
        let shown =
            |celsius| measure::quantity::Units::Metric.temperature(measure::quantity::Celsius(celsius));
        format!("read as {} to {}", shown(low), shown(high))
    })
}

fn weather_preview(name: &str, bytes: &[u8], zone: &TimeZone) -> Preview {
    let file = match weather::read(name, bytes, zone) {
        Ok(file) => file,
        Err(refused) => return unreadable("weather file", refused),
    };
    let mut notes: Vec<String> = file.notes.iter().map(ToString::to_string).collect();
    let days: Vec<StationDay> = file
        .days
        .iter()
        .filter_map(|day| Some(StationDay { date: day.date, low: day.low?, high: day.high?, rain: day.rain }))
        .collect();
    let hours: Vec<HourMean> = file
        .hours
        .iter()
        .map(|hour| HourMean { at: hour.at, temperature: hour.temperature, filled: false })
        .collect();
    let days_range = days.iter().flat_map(|day| [day.low, day.high]);
    notes.extend(range_note(days_range.chain(hours.iter().map(|hour| hour.temperature))));
    if file.format == weather::Format::Epw {
        return typical_preview(&hours, notes, file.refused);
    }
    let refused = file.refused;
    let ends = days
        .first()
        .zip(days.last())
        .map(|(a, b)| (a.date, b.date))
        .or_else(|| Some((date_of(hours.first()?.at, zone)?, date_of(hours.last()?.at, zone)?)));
    Preview {
        format: file.format.words().into(),
        rows: days.len() + hours.len(),
        span: ends,
        notes,
        questions: Vec::new(),
        refused,
        contents: Some(Contents::Weather(days, hours)),
    }
}

/// A typical year: no record of any season, but a stand-in for past years where the station has none.
fn typical_preview(hours: &[HourMean], mut notes: Vec<String>, mut refused: Vec<Refusal>) -> Preview {
    let mut days: Vec<Option<(f64, f64)>> = vec![None; 366];
    for hour in hours {
        // The stamp is the hour's end; the middle of the hour tells its day.
        let Some(date) = date_of(hour.at - 1800, &TimeZone::UTC) else { continue };
        let leap = Date::constant(2024, date.month(), date.day());
        let day = &mut days[leap.day_of_year() as usize - 1];
        let (low, high) = day.unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        *day = Some((low.min(hour.temperature), high.max(hour.temperature)));
    }
    let leap_day = Date::constant(2024, 2, 29).day_of_year() as usize - 1;
    days[leap_day] = days[leap_day].or(days[leap_day - 1]);
    let known: Vec<(f64, f64)> = days.iter().flatten().copied().collect();
    let whole = known.len() == days.len();
    if !whole {
        refused.push(Refusal {
            line: 0,
            value: format!("{} days", known.len()),
            why: "a typical year must tell every day of the year".into(),
        });
    }
    notes.push(
        "a typical year is stitched from many years: it stands in for past years and for days nobody measured, and \
         never counts as a record"
            .into(),
    );
    Preview {
        format: weather::Format::Epw.words().into(),
        rows: known.len(),
        span: None,
        notes,
        questions: Vec::new(),
        refused,
        contents: whole.then_some(Contents::Typical(known)),
    }
}

fn logger_preview(place: &str, known: &Known, bytes: &[u8], zone: &TimeZone) -> Preview {
    if let Some(why) = known.place(place) {
        return unreadable("logger file", vec![Refusal { line: 0, value: place.into(), why }]);
    }
    let file = match logger::read(bytes, zone) {
        Ok(file) => file,
        Err(refused) => return unreadable("logger file", refused),
    };
    let mut notes: Vec<String> = file.notes.iter().map(ToString::to_string).collect();
    if file.unit_guessed {
        notes.push("the file does not say °C or °F; the range of the readings decided".into());
    }
    if file.date_order_guessed {
        notes.push("no day above 12 tells whether day or month comes first; day first was taken".into());
    }
    let hours: Vec<HourMean> = logger::hourly(&file.readings);
    notes.extend(range_note(hours.iter().map(|hour| hour.temperature)));
    notes.push(format!("{} readings make {} hours", file.readings.len(), hours.len()));
    Preview {
        format: "logger file".into(),
        rows: hours.len(),
        span: hours.first().zip(hours.last()).and_then(|(a, b)| date_of(a.at, zone).zip(date_of(b.at, zone))),
        notes,
        questions: Vec::new(),
        refused: file.refused,
        contents: Some(Contents::Logger(place.into(), hours)),
    }
}
