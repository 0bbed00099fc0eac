//! Sheets of pots and water, and calendars, looked through.

use collection::potting::{Crown, Potted};
use jiff::{civil::Date, tz::TimeZone};
use store::{error::Error, reader::Reader};

use super::{
    Contents, Known, Preview, date_of, fine, first_wrong, no_day, once_each, sheet_preview, standing,
    unreadable,
};
use crate::{calendar, sheet};

/// A sheet of pots.
pub(super) fn pots(reader: &Reader, text: &str) -> Result<Preview, Error> {
    let read = once_each(sheet::potting::pots(text), |pot| &pot.key);
    let kept = standing(&read, &reader.pots()?, |pot| &pot.key, |a, b| a == b);
    let told = sheet_preview("sheet of pots", read, no_day, fine, |rows| Some(Contents::Pots(rows)));
    Ok(told.with_note(kept))
}

/// A sheet of mixes.
pub(super) fn mixes(reader: &Reader, text: &str) -> Result<Preview, Error> {
    let read = once_each(sheet::potting::mixes(text), |mix| &mix.key);
    let kept = standing(&read, &reader.mixes()?, |mix| &mix.key, |a, b| a == b);
    let told = sheet_preview("sheet of mixes", read, no_day, fine, |rows| Some(Contents::Mixes(rows)));
    Ok(told.with_note(kept))
}

/// A sheet of what stands in which pot.
pub(super) fn potted(reader: &Reader, known: &Known, text: &str) -> Result<Preview, Error> {
    let pots: Vec<String> = reader.pots()?.into_iter().map(|pot| pot.key).collect();
    let mixes: Vec<String> = reader.mixes()?.into_iter().map(|mix| mix.key).collect();
    let absent = |keys: &[String], key: &String, what: &str| {
        (!keys.contains(key)).then(|| format!("no {what} in the collection has this name"))
    };
    Ok(sheet_preview(
        "sheet of trees in pots",
        sheet::potting::potted(text),
        |row| Some(row.day),
        |row: &Potted| {
            first_wrong([
                (&row.tree, known.tree(&row.tree)),
                (&row.pot, absent(&pots, &row.pot, "pot")),
                (&row.mix, absent(&mixes, &row.mix, "mix")),
            ])
        },
        |rows| Some(Contents::Potted(rows)),
    ))
}

/// A sheet of crowns.
pub(super) fn crowns(known: &Known, text: &str) -> Preview {
    sheet_preview(
        "sheet of crowns",
        sheet::potting::crowns(text),
        |row| Some(row.day),
        |row: &Crown| first_wrong([(&row.tree, known.tree(&row.tree))]),
        |rows| Some(Contents::Crowns(rows)),
    )
}

/// A watering log.
pub(super) fn drinks(known: &Known, text: &str, zone: &TimeZone) -> Preview {
    let day = |at: i64| -> Option<Date> { date_of(at, zone) };
    sheet_preview(
        "watering log",
        sheet::drink::drinks(text, zone),
        |row| day(row.at),
        |row| first_wrong([(&row.tree, known.tree(&row.tree))]),
        |rows| Some(Contents::Drinks(rows)),
    )
}

/// A calendar of shifts and absences.
pub(super) fn aways(text: &str, zone: &TimeZone) -> Preview {
    const FORMAT: &str = "calendar of shifts and absences";
    match calendar::read(text, zone.iana_name().unwrap_or("UTC")) {
        Ok(file) => Preview {
            format: FORMAT.into(),
            rows: file.aways.len(),
            span: file
                .aways
                .first()
                .zip(file.aways.last())
                .and_then(|(first, last)| date_of(first.from, zone).zip(date_of(last.to, zone))),
            notes: file.notes,
            questions: Vec::new(),
            refused: file.refused,
            contents: Some(Contents::Aways(file.aways)),
        },
        Err(why) => unreadable(FORMAT, vec![why]),
    }
}
