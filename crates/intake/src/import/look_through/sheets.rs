//! Sheets and calendars looked through: each row held against the collection, and every name that nobody knows.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{civil::Date, tz::TimeZone};
use store::{error::Error, reader::Reader};

use super::{Contents, Known, Preview, date_of, unreadable};
use crate::{
    calendar,
    import::Kind,
    refusal::Refusal,
    sheet::{
        self, Change, Entry, Read, Row, Settled, Taken, drink,
        format::Format,
        limbs::{LimbRow, LimbSheet},
        potting, rows, settle, table,
    },
    text::{Lines, fault},
};

/// What a sheet is held against.
pub(super) struct Ground<'a> {
    pub reader: &'a Reader,
    pub known: Known,
    pub zone: TimeZone,
    /// The day the sheet is read on.
    pub today: Option<Date>,
    /// Whether rows may change what stands.
    pub update: bool,
}

/// A cell that is wrong, and why.
type Wrong = Option<(String, String)>;

impl Ground<'_> {
    /// Whether a record may be changed by a sheet that can.
    pub(super) fn change(&self) -> Change {
        if self.update { Change::Asked } else { Change::NotAsked }
    }

    pub(super) fn rows(&self, format: &'static Format, text: &str) -> Read<Row> {
        rows(text, format, self.today)
    }

    /// A sheet, or a calendar.
    pub(super) fn sheet(&self, kind: &Kind, text: &str) -> Result<Preview, Error> {
        let (reader, known) = (self.reader, &self.known);
        let of_tree = |tree: &String| first_wrong([(tree, known.tree(tree))]);
        Ok(match kind {
            Kind::Site => {
                let standing = reader.site()?.into_iter().collect();
                let settled = self.settled(&table::SITE, text, sheet::site, standing);
                told("site sheet", settled, no_day, fine, Contents::Site)
            }
            Kind::Places => {
                let settled = self.settled(&table::PLACES, text, sheet::place, reader.places()?);
                told("sheet of places", settled, no_day, fine, Contents::Places)
            }
            Kind::Trees => {
                let settled = self.settled(&table::TREES, text, sheet::tree, reader.trees()?);
                told("sheet of trees", settled, no_day, fine, Contents::Trees)
            }
            Kind::Moves => {
                let settled = self.settled(&table::MOVES, text, sheet::moved, reader.moves()?);
                let wrong = |row: &collection::event::Move| {
                    first_wrong([(&row.tree, known.tree(&row.tree)), (&row.place, known.place(&row.place))])
                };
                told("sheet of moves", settled, |row| Some(row.day), wrong, Contents::Moves)
            }
            Kind::Looks => {
                let settled = self.settled(&table::LOOKS, text, sheet::look, plain(reader.looks()?));
                let wrong = |row: &collection::event::Look| of_tree(&row.tree);
                told("sheet of bud looks", settled, |row| Some(row.day), wrong, Contents::Looks)
            }
            Kind::Works => {
                let settled = self.settled(&table::WORK, text, sheet::work, plain(reader.works()?));
                let wrong = |row: &collection::event::Work| of_tree(&row.tree);
                told("sheet of work", settled, |row| Some(row.day), wrong, Contents::Works)
            }
            Kind::Pots => {
                let settled = self.settled(&table::POTS, text, potting::pot, reader.pots()?);
                told("sheet of pots", settled, no_day, fine, Contents::Pots)
            }
            Kind::Mixes => {
                let read = self.rows(&table::MIXES, text);
                let settled = settle(read, potting::mix, reader.mixes()?, |_, _| Change::Never);
                told("sheet of mixes", settled, no_day, fine, Contents::Mixes)
            }
            Kind::Potted => self.potted(text)?,
            Kind::Crowns => {
                let settled = self.settled(&table::CROWNS, text, potting::crown, reader.crowns()?);
                let wrong = |row: &collection::potting::Crown| of_tree(&row.tree);
                told("sheet of crowns", settled, |row| Some(row.day), wrong, Contents::Crowns)
            }
            Kind::Drinks => {
                let take = |row: &Row| drink::drink(row, &self.zone);
                let standing = plain(reader.drinks()?);
                let settled = settle(self.rows(&table::WATER, text), take, standing, |_, _| Change::Never);
                let wrong = |row: &collection::drink::Drink| of_tree(&row.tree);
                told("watering log", settled, |row| date_of(row.at, &self.zone), wrong, Contents::Drinks)
            }
            Kind::Limbs(sheet) => self.limbs(*sheet, text)?,
            Kind::Shelf(sheet) => super::shelf::shelf(self, *sheet, text)?,
            Kind::Aways => self.aways(text)?,
            Kind::Weather | Kind::Logger { .. } => unreadable("text file", Vec::new()),
        })
    }

    /// A sheet whose rows may change what stands.
    fn settled<T: Entry>(
        &self,
        format: &'static Format,
        text: &str,
        take: impl Fn(&Row) -> Result<T, Refusal>,
        standing: Vec<T>,
    ) -> Settled<T> {
        settle(self.rows(format, text), take, standing, |_, _| self.change())
    }

    /// A sheet of what stands in which pot.
    fn potted(&self, text: &str) -> Result<Preview, Error> {
        let reader = self.reader;
        let pots: BTreeSet<String> = reader.pots()?.into_iter().map(|pot| pot.key).collect();
        let mixes: BTreeSet<String> = reader.mixes()?.into_iter().map(|mix| mix.key).collect();
        let absent = |keys: &BTreeSet<String>, key: &String, what: &str| {
            (!keys.contains(key)).then(|| format!("no {what} in the collection has this name"))
        };
        let settled = self.settled(&table::POTTED, text, potting::in_pot, reader.potted()?);
        let wrong = |row: &collection::potting::Potted| {
            first_wrong([
                (&row.tree, self.known.tree(&row.tree)),
                (&row.pot, absent(&pots, &row.pot, "pot")),
                (&row.mix, absent(&mixes, &row.mix, "mix")),
            ])
        };
        Ok(told("sheet of trees in pots", settled, |row| Some(row.day), wrong, Contents::Potted))
    }

    /// A sheet of limbs, or of what is written down about them.
    fn limbs(&self, sheet: LimbSheet, text: &str) -> Result<Preview, Error> {
        let reader = self.reader;
        let mut limbs: BTreeSet<(String, u32)> =
            reader.limbs()?.into_iter().map(|limb| (limb.tree, limb.number)).collect();
        let photos: BTreeMap<String, String> =
            reader.photos()?.into_iter().map(|photo| (photo.key, photo.tree)).collect();
        let change = |stood: &LimbRow, told: &LimbRow| match sheet.changes() && !told.is_past(stood) {
            true => self.change(),
            false => Change::Never,
        };
        let standing = sheet.standing(reader)?;
        let settled = settle(self.rows(sheet.format(), text), |row| sheet.row(row), standing, change);
        let wrong = |row: &LimbRow| sheet::limbs::wrong(row, &self.known.trees, &mut limbs, &photos);
        Ok(told(&sheet.words(), settled, LimbRow::day, wrong, Contents::Limbs))
    }

    /// A calendar of shifts and absences.
    fn aways(&self, text: &str) -> Result<Preview, Error> {
        const FORMAT: &str = "calendar of shifts and absences";
        let zone = &self.zone;
        let file = match calendar::read(text, zone.iana_name().unwrap_or("UTC")) {
            Ok(file) => file,
            Err(why) => return Ok(unreadable(FORMAT, vec![why])),
        };
        let (mut aways, mut refused, mut notes) = (Vec::new(), file.refused, file.notes);
        let ahead: BTreeMap<(String, i64), (i64, String)> =
            self.reader.aways()?.into_iter().map(|it| ((it.uid, it.from), (it.to, it.words))).collect();
        let mut moved = 0;
        for away in file.aways {
            if let Some(why) = fault(&away.words, Lines::Many).or_else(|| fault(&away.uid, Lines::One)) {
                refused.push(Refusal { line: 0, value: away.words, why });
                continue;
            }
            let stood = ahead.get(&(away.uid.clone(), away.from));
            moved += usize::from(stood.is_some_and(|(to, words)| (*to, words) != (away.to, &away.words)));
            aways.push(away);
        }
        if moved > 0 {
            notes.push(format!("entries that change what is in the collection: {moved}"));
        }
        Ok(Preview {
            format: FORMAT.into(),
            rows: aways.len(),
            span: aways
                .first()
                .zip(aways.last())
                .and_then(|(first, last)| date_of(first.from, zone).zip(date_of(last.to, zone))),
            notes,
            questions: Vec::new(),
            refused,
            contents: Some(Contents::Aways(aways)),
        })
    }
}

/// Records without their numbers.
fn plain<T>(numbered: Vec<(i64, T)>) -> Vec<T> {
    numbered.into_iter().map(|(_, it)| it).collect()
}

fn no_day<T>(_: &T) -> Option<Date> {
    None
}

pub(super) fn fine<T>(_: &T) -> Wrong {
    None
}

pub(super) fn first_wrong<const N: usize>(cells: [(&String, Option<String>); N]) -> Wrong {
    cells.into_iter().find_map(|(cell, why)| Some((cell.clone(), why?)))
}

/// Changed records named in a preview.
const NAMED: usize = 5;

/// What a sheet tells, once it is held against what stands.
pub(super) fn told<T: Entry>(
    format: &str,
    settled: Settled<T>,
    day: impl Fn(&T) -> Option<Date>,
    mut wrong: impl FnMut(&T) -> Wrong,
    contents: impl FnOnce(Vec<Taken<T>>) -> Contents,
) -> Preview {
    let Settled { read, same } = settled;
    let (mut refused, mut notes) = (read.refused, read.notes);
    let mut rows = Vec::with_capacity(read.rows.len());
    for (line, row) in read.rows {
        match wrong(&row.it) {
            Some((value, why)) => refused.push(Refusal { line, value, why }),
            None => rows.push(row),
        }
    }
    if read.readable && rows.is_empty() && refused.is_empty() && same == 0 {
        refused.push(Refusal {
            line: 2,
            value: String::new(),
            why: "the sheet holds a header and no rows".into(),
        });
    }
    if same > 0 {
        notes.push(format!("rows that say what is in the collection already: {same}"));
    }
    let changed: Vec<&Taken<T>> = rows.iter().filter(|row| row.stood.is_some()).collect();
    for row in changed.iter().take(NAMED) {
        let gaps = row.stood.as_ref().map(|stood| sheet::differences(&stood.cells(), &row.it.cells()));
        notes.push(format!("changes {}: {}", row.it.identity(), gaps.unwrap_or_default().join("; ")));
    }
    if changed.len() > NAMED {
        notes.push(format!("and changes {} more", changed.len() - NAMED));
    }
    refused.sort_by_key(|refusal| refusal.line);
    let days: Vec<Date> = rows.iter().filter_map(|row| day(&row.it)).collect();
    Preview {
        format: format.into(),
        rows: rows.len() + same,
        span: days.iter().min().copied().zip(days.iter().max().copied()),
        notes,
        questions: Vec::new(),
        refused,
        contents: read.readable.then(|| contents(rows)),
    }
}
