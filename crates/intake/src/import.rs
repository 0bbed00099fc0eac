//! Files into the collection: previewed, whole or not at all, and the same file twice adds nothing.

#[cfg(test)]
pub(crate) mod examples;
mod look_through;
mod question;
mod write;

pub use look_through::{Preview, preview};
pub use question::{Choice, ImportQuestion, Options};

use sha2::{Digest, Sha256};
use store::store::{Act, Store};

use crate::{
    refusal::Refusal,
    sheet::{limbs::LimbSheet, shelf::ShelfSheet},
    text,
};
use write::Write;

/// What kind of file it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The site's one row.
    Site,
    /// Places.
    Places,
    /// Trees.
    Trees,
    /// Moves of trees between places.
    Moves,
    /// Bud looks.
    Looks,
    /// Work done.
    Works,
    /// Pots.
    Pots,
    /// Mixes.
    Mixes,
    /// What stands in which pot.
    Potted,
    /// Crowns.
    Crowns,
    /// The watering log.
    Drinks,
    /// Limbs, or what is written down about them.
    Limbs(LimbSheet),
    /// Pots, promises, repots and what lies in the shed.
    Shelf(ShelfSheet),
    /// Shifts and absences, as a calendar.
    Aways,
    /// A station's weather, in any format we read.
    Weather,
    /// A logger that hung in this place, and its sensor's name; empty where nobody gave it one.
    Logger {
        /// The place's key.
        place: String,
        /// The sensor's name.
        sensor: String,
    },
}

impl Kind {
    /// The word used in commands and forms; a logger's place is told beside it.
    pub fn key(&self) -> &'static str {
        match self {
            Kind::Site => "site",
            Kind::Places => "places",
            Kind::Trees => "trees",
            Kind::Moves => "moves",
            Kind::Looks => "looks",
            Kind::Works => "work",
            Kind::Pots => "pots",
            Kind::Mixes => "mixes",
            Kind::Potted => "potted",
            Kind::Crowns => "crowns",
            Kind::Drinks => "water",
            Kind::Limbs(sheet) => sheet.key(),
            Kind::Shelf(sheet) => sheet.key(),
            Kind::Aways => "away",
            Kind::Weather => "weather",
            Kind::Logger { .. } => "logger",
        }
    }

    /// The same of a sensor of this name, where it is a logger's file.
    pub fn of_sensor(self, name: &str) -> Kind {
        match self {
            Kind::Logger { place, .. } => Kind::Logger { place, sensor: name.trim().to_string() },
            other => other,
        }
    }

    /// The kind that goes by this word.
    pub fn from_key(key: &str, place: &str) -> Option<Kind> {
        Some(match key {
            "site" => Kind::Site,
            "places" => Kind::Places,
            "trees" => Kind::Trees,
            "moves" => Kind::Moves,
            "looks" => Kind::Looks,
            "work" => Kind::Works,
            "pots" => Kind::Pots,
            "mixes" => Kind::Mixes,
            "potted" => Kind::Potted,
            "crowns" => Kind::Crowns,
            "water" => Kind::Drinks,
            "away" => Kind::Aways,
            "weather" => Kind::Weather,
            "logger" => Kind::Logger { place: place.to_string(), sensor: String::new() },
            key => match LimbSheet::from_key(key) {
                Some(sheet) => Kind::Limbs(sheet),
                None => Kind::Shelf(ShelfSheet::from_key(key)?),
            },
        })
    }
}

/// Kinds of files that are no sheets of ours: the word, what is read, and an example.
pub const OTHERS: [(&str, &str, &str); 3] = [
    (
        "away",
        "shifts and absences, a calendar file (RFC 5545, .ics)",
        include_str!("sheet/examples/away.ics"),
    ),
    (
        "weather",
        "a station's weather: GHCN-Daily (.dly or CSV), ISD-Lite, EPW for a typical year, or a sheet with date,tmin,tmax,rain or time,temp_c",
        include_str!("sheet/examples/weather.csv"),
    ),
    (
        "logger",
        "a logger of one place (--place): CSV with a time and a temperature, °C or °F; a column sensor, or --sensor, keeps each sensor's series apart",
        include_str!("sheet/examples/logger.csv"),
    ),
];

/// What an import did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// Rows in the file.
    pub rows: usize,
    /// Rows that were new or different.
    pub added: usize,
    /// Refused lines left out on purpose.
    pub left_out: usize,
    /// What was dropped, or is worth knowing.
    pub notes: Vec<String>,
}

/// Why nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum ImportError {
    /// Lines that cannot be taken.
    #[error("nothing was imported; lines that cannot be taken: {}", .0.len())]
    Refused(Vec<Refusal>),
    /// The file does not say how its numbers are meant.
    #[error("nothing was imported; the file does not say enough: {}", .0.iter().map(|it| it.words.as_str()).collect::<Vec<_>>().join(" "))]
    Unclear(Vec<ImportQuestion>),
    /// The store did not do it.
    #[error(transparent)]
    Store(#[from] store::error::Error),
}

/// Imports a file whole, or nothing of it.
///
/// With [`Options::leave_out`], lines that cannot be taken are left out on purpose and the rest is taken. While the file
/// leaves a question open, nothing is written.
///
/// # Errors
///
/// [`ImportError`]; then nothing was written.
pub fn import(
    store: &mut Store,
    kind: &Kind,
    name: &str,
    bytes: &[u8],
    options: &Options,
) -> Result<Done, ImportError> {
    let preview = preview(&store.reader()?, kind, name, bytes, options)?;
    take_in(store, ImportFile { kind, name, bytes }, preview, options)
}

/// A file and what it is called.
#[derive(Clone, Copy, Debug)]
pub struct ImportFile<'a> {
    /// What it holds.
    pub kind: &'a Kind,
    /// What it is called.
    pub name: &'a str,
    /// All of it.
    pub bytes: &'a [u8],
}

/// Imports a file that was looked through: all of it, or nothing. What it was looked through against must not have changed.
///
/// # Errors
///
/// [`ImportError`]; then nothing was written.
pub fn take_in(
    store: &mut Store,
    ImportFile { kind, name, bytes }: ImportFile<'_>,
    preview: Preview,
    options: &Options,
) -> Result<Done, ImportError> {
    if preview.questions.iter().any(|it| it.likely.is_none()) {
        return Err(ImportError::Unclear(preview.questions));
    }
    let left_out = preview.refused.len();
    let Some(contents) = preview.contents.filter(|_| left_out == 0 || options.leave_out) else {
        return Err(ImportError::Refused(preview.refused));
    };
    // A file's name may hold signs that nobody sees; it is kept without them.
    let name: String = name.chars().filter(|sign| !text::is_hidden(*sign)).collect();
    let hash: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    let write = Write { reader: store.reader()?, now: options.now };
    let added = store.transact(&Act::Import(name.clone()), |change| {
        let added = write.contents(change, &contents)?;
        change.keep_file(&hash, &name, kind.key(), bytes)?;
        Ok::<usize, ImportError>(added)
    })?;
    // A row of weather may change several tables; it is one row.
    Ok(Done { rows: preview.rows, added: added.min(preview.rows), left_out, notes: preview.notes })
}

#[cfg(test)]
mod tests {
    use super::*;

    const LEFT_OUT: Options = Options {
        leave_out: true,
        update: false,
        strict: false,
        scale: None,
        order: None,
        winters: false,
        now: None,
    };

    fn stocked() -> Store {
        let mut store = Store::in_memory().unwrap();
        let places = b"name,shelter\nFrame,cold-frame\n";
        import(&mut store, &Kind::Places, "places.csv", places, &Options::default()).unwrap();
        let trees = b"name,taxon\nOld Maple,acer-palmatum\n";
        import(&mut store, &Kind::Trees, "trees.csv", trees, &Options::default()).unwrap();
        store
    }

    #[test]
    fn the_same_file_twice_adds_nothing() {
        let mut store = stocked();
        let looks = b"tree,day,stage\nOld Maple,2026-03-08,01\n";
        let first = import(&mut store, &Kind::Looks, "looks.csv", looks, &Options::default()).unwrap();
        let acts = store.reader().unwrap().last_act().unwrap();
        let second = import(&mut store, &Kind::Looks, "looks.csv", looks, &Options::default()).unwrap();
        assert_eq!((first.added, second.added), (1, 0));
        assert_eq!(store.reader().unwrap().last_act().unwrap(), acts);
    }

    #[test]
    fn one_bad_line_keeps_the_whole_file_out_unless_it_is_left_out_on_purpose() {
        let mut store = stocked();
        let looks = b"tree,day,stage\nOld Maple,2026-03-08,01\nNobody,2026-03-08,01\n";
        let Err(ImportError::Refused(refused)) =
            import(&mut store, &Kind::Looks, "l.csv", looks, &Options::default())
        else {
            panic!("it was taken")
        };
        assert_eq!((refused[0].line, refused[0].value.as_str()), (3, "nobody"));
        assert!(store.reader().unwrap().looks().unwrap().is_empty());
        let done = import(&mut store, &Kind::Looks, "l.csv", looks, &LEFT_OUT).unwrap();
        assert_eq!((done.added, done.left_out), (1, 1));
    }

    #[test]
    fn a_name_twice_in_a_sheet_with_other_details_is_refused_and_one_that_stands_is_told() {
        let mut store = stocked();
        let twice = b"name,taxon\nBirch,betula-pendula\nbirch,acer-palmatum\n";
        let Err(ImportError::Refused(refused)) =
            import(&mut store, &Kind::Trees, "t.csv", twice, &Options::default())
        else {
            panic!("it was taken")
        };
        assert!(refused[0].line == 3 && refused[0].why.contains("line 2"), "{refused:?}");
        let other = b"name,taxon\nOld Maple,acer-campestre\n";
        let told =
            preview(&store.reader().unwrap(), &Kind::Trees, "t.csv", other, &Options::default()).unwrap();
        assert_eq!((told.refused[0].line, told.refused[0].value.as_str()), (2, "old-maple"));
    }

    #[test]
    fn a_logger_for_a_place_that_is_not_there_is_refused() {
        let mut store = stocked();
        let kind = Kind::from_key("logger", "attic").unwrap();
        let refused = import(&mut store, &kind, "a.csv", b"time,temp_c\n2026-01-01T00:00,3\n", &LEFT_OUT);
        assert!(matches!(refused, Err(ImportError::Refused(_))));
    }
}
