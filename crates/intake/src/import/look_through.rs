//! A file looked through before anything is written: what can be taken, and every line that cannot.

mod pots;
mod sheets;
mod shelf;
mod weather;

use std::collections::BTreeSet;

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
    sheet::{Taken, limbs::LimbRow, shelf::ShelfRow},
    text,
};
use sheets::Ground;
use weather::WeatherContents;

/// What stood in the file, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Contents {
    Site(Vec<Taken<Site>>),
    Places(Vec<Taken<Place>>),
    Trees(Vec<Taken<Tree>>),
    Moves(Vec<Taken<Move>>),
    Looks(Vec<Taken<Look>>),
    Works(Vec<Taken<Work>>),
    Pots(Vec<Taken<Pot>>),
    Mixes(Vec<Taken<Mix>>),
    Potted(Vec<Taken<Potted>>),
    Crowns(Vec<Taken<Crown>>),
    Drinks(Vec<Taken<Drink>>),
    Limbs(Vec<Taken<LimbRow>>),
    Shelf(Vec<Taken<ShelfRow>>),
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

    /// Asks what the collection's own answers leave open: nothing is written before it is answered.
    pub fn ask(&mut self, question: Option<ImportQuestion>) {
        self.questions.extend(question);
    }

    /// Moves that the file adds or changes.
    pub fn moves(&self) -> Vec<Move> {
        let Some(Contents::Moves(rows)) = &self.contents else { return Vec::new() };
        rows.iter().filter(|row| row.stood.as_ref() != Some(&row.it)).map(|row| row.it.clone()).collect()
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
    match kind {
        Kind::Weather => weather::station(reader, name, bytes, &zone, options),
        Kind::Logger { place, sensor } => weather::logger(reader, [place, sensor], bytes, &zone, options),
        _ => {
            let decoded = match text::decode(bytes) {
                Ok(decoded) => decoded,
                Err(why) => return Ok(unreadable("text file", vec![why])),
            };
            let today = options.now.and_then(|now| date_of(now, &zone));
            let ground = Ground { reader, known, zone, today, update: options.update };
            let told = ground.sheet(kind, &decoded.text)?;
            Ok(told.with_note(decoded.note()))
        }
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
