//! What a file holds, written inside one transaction; a row that the collection's own rules speak against is named by its line.

use std::collections::{HashMap, HashSet};

use collection::ware::{Ware, Whereabouts};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::{change::Change, reader::Reader};

use super::{ImportError, look_through::Contents};
use crate::{
    record::FormError,
    refusal::Refusal,
    sheet::{Entry, Taken, limbs::LimbRow, shelf::ShelfRow},
    shelf::{Shed, change_measures, change_ware},
};

/// What writing rests on: the collection as it stood before.
pub(super) struct Write {
    pub reader: Reader,
    pub now: Option<i64>,
}

impl Write {
    /// Writes all of it, and counts what was new or changed.
    pub(super) fn contents(&self, change: &Change<'_>, contents: &Contents) -> Result<usize, ImportError> {
        match contents {
            Contents::Site(rows) => put(rows, |row| Ok(change.set_site(&row.it)?)),
            Contents::Places(rows) => put(rows, |row| match &row.stood {
                Some(_) => Ok(change.edit_place(&row.it)?),
                None => Ok(change.add_place(&row.it)?),
            }),
            Contents::Trees(rows) => put(rows, |row| match &row.stood {
                Some(_) => Ok(change.edit_tree(&row.it).map(|()| true)?),
                None => Ok(change.add_tree(&row.it)?),
            }),
            Contents::Moves(rows) => put(rows, |row| Ok(change.add_move(&row.it)?)),
            Contents::Looks(rows) => put(rows, |row| Ok(change.add_look(&row.it)?)),
            Contents::Works(rows) => put(rows, |row| Ok(change.add_work(&row.it)?)),
            Contents::Pots(rows) => {
                let wares = self.wares()?;
                put(rows, |row| match &row.stood {
                    Some(_) => change_measures(change, &row.it, wares.get(&row.it.key)),
                    None => Ok(change.add_pot(&row.it)?),
                })
            }
            Contents::Mixes(rows) => put(rows, |row| Ok(change.add_mix(&row.it)?)),
            Contents::Potted(rows) => put(rows, |row| Ok(change.add_potted(&row.it)?)),
            Contents::Crowns(rows) => put(rows, |row| Ok(change.add_crown(&row.it)?)),
            Contents::Drinks(rows) => put(rows, |row| Ok(change.add_drink(&row.it)?)),
            Contents::Limbs(rows) => self.limbs(change, rows),
            Contents::Shelf(rows) => self.shelf(change, rows),
            Contents::Aways(rows) => {
                let mut added = 0;
                for row in rows {
                    added += usize::from(change.add_away(row)?);
                }
                Ok(added)
            }
            Contents::Weather(kept) => Ok(kept.add(change)?),
        }
    }

    fn wares(&self) -> Result<HashMap<String, Ware>, ImportError> {
        Ok(self.reader.wares()?.into_iter().map(|ware| (ware.pot.clone(), ware)).collect())
    }

    fn limbs(&self, change: &Change<'_>, rows: &[Taken<LimbRow>]) -> Result<usize, ImportError> {
        let changed = rows.iter().find(|row| row.stood.is_some());
        let numbers = changed.map(|row| row.it.numbers(&self.reader)).transpose()?.unwrap_or_default();
        put(rows, |row| match &row.stood {
            Some(stood) => Ok(row.it.put(change, numbers.get(&stood.identity()).copied())?),
            None => Ok(row.it.add(change)?),
        })
    }

    fn shelf(&self, change: &Change<'_>, rows: &[Taken<ShelfRow>]) -> Result<usize, ImportError> {
        let pots: HashMap<String, _> =
            self.reader.pots()?.into_iter().map(|pot| (pot.key.clone(), pot)).collect();
        let leaves = |row: &ShelfRow| match row {
            ShelfRow::Ware(it) => !it.training || it.whereabouts != Whereabouts::Shelf,
            _ => false,
        };
        let leaving: HashSet<&str> = rows
            .iter()
            .filter(|row| leaves(&row.it))
            .flat_map(|row| row.it.pots())
            .map(String::as_str)
            .collect();
        let shed = Shed::of(&self.reader)?.without(&leaving);
        let today = self.today()?;
        put(rows, |row| {
            let stood = row.stood.as_ref();
            let ShelfRow::Ware(it) = &row.it else { return Ok(row.it.add(change)?) };
            let Some(pot) = pots.get(&it.pot) else { return Ok(row.it.add(change)?) };
            match stood {
                Some(ShelfRow::Ware(stood)) => change_ware(change, &shed, pot, [stood, it], today),
                // Nothing was known of it, so it was taken to be on the shelf.
                _ if it.whereabouts != Whereabouts::Shelf => {
                    change_ware(change, &shed, pot, [&Ware::unknown(pot), it], today)
                }
                _ => Ok(row.it.add(change)?),
            }
        })
    }

    /// The day of the import by the site's clock, where a moment was told.
    fn today(&self) -> Result<Option<Date>, ImportError> {
        let zone =
            self.reader.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
        let now = self.now.and_then(|now| Timestamp::from_second(now).ok());
        Ok(now.map(|now| zone.to_datetime(now).date()))
    }
}

/// Writes each row and counts those that were new or changed.
fn put<T: Entry>(
    rows: &[Taken<T>],
    write: impl Fn(&Taken<T>) -> Result<bool, FormError>,
) -> Result<usize, ImportError> {
    let refused = |row: &Taken<T>, value: String, why: String| {
        ImportError::Refused(vec![Refusal { line: row.line, value, why }])
    };
    let mut added = 0;
    for row in rows {
        match write(row) {
            Ok(is_new) if is_new || row.stood.is_none() => added += usize::from(is_new),
            Ok(_) => {
                let why = "was not changed by the row; change it on its page, or leave the row out".into();
                return Err(refused(row, row.it.identity(), why));
            }
            Err(FormError::Field { field, value, why }) => {
                return Err(refused(row, value, format!("{field} {why}")));
            }
            Err(FormError::Store(why)) => return Err(why.into()),
            // Sheets hold history: what moves change of a winter was asked of the whole sheet before.
            Err(why @ (FormError::NoVersion | FormError::Asked { .. })) => {
                return Err(refused(row, row.it.identity(), why.to_string()));
            }
        }
    }
    Ok(added)
}
