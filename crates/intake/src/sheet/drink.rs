//! Sheets of the watering log.

use collection::drink::{Deed, Drink, Remark};
use jiff::{civil::DateTime, tz::TimeZone};

use super::{Read, Row, rows, table};
use crate::refusal::Refusal;

/// Whose hand a sheet's rows are.
pub const SHEET: &str = "sheet";

impl Row {
    /// A moment of the local clock, on a day that has come.
    fn moment(&self, name: &str, zone: &TimeZone) -> Result<i64, Refusal> {
        let cell = self.needed(name)?;
        let local: DateTime = cell
            .parse()
            .map_err(|_| self.refuse(cell, format!("{name} is not a moment written as 2026-07-14T06:40")))?;
        self.come(name, cell, local.date())?;
        zone.to_ambiguous_zoned_datetime(local)
            .compatible()
            .map(|at| at.timestamp().as_second())
            .map_err(|why| self.refuse(cell, why.to_string()))
    }
}

/// The watering log: columns `tree`, `at` (local clock, as 2026-07-14T06:40), `deed` (watered, left, weighed or weighed-full), and where
/// known `weight` (with kg, g, lb or oz; grams without), `remark` (wet, right or dry).
///
/// ```
/// use jiff::tz::TimeZone;
///
/// let sheet = "tree,at,deed,weight\nOld Trident,2026-07-14T06:40,weighed,1.84 kg\n";
/// let log = intake::sheet::drink::drinks(sheet, &TimeZone::UTC).whole().unwrap();
/// assert_eq!(log[0].deed.grams().unwrap().0, 1840.0);
/// ```
pub fn drinks(text: &str, zone: &TimeZone) -> Read<Drink> {
    rows(text, &table::WATER, None).take(|row| drink(row, zone))
}

pub(crate) fn drink(row: &Row, zone: &TimeZone) -> Result<Drink, Refusal> {
    let (word, grams) = (row.needed("deed")?.to_lowercase(), row.weight("weight")?);
    Ok(Drink {
        tree: row.tree()?,
        at: row.moment("at", zone)?,
        deed: Deed::from_key(&word, grams).ok_or_else(|| {
            let why = "no deed we know, or a weight stands where none belongs, or is wanting where one does";
            row.refuse(&word, why)
        })?,
        remark: row.word_if("remark", Remark::from_key)?,
        hand: SHEET.into(),
        sure: false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weighing_without_a_weight_and_a_negative_one_are_named() {
        let sheet = "tree,at,deed,weight\nA,2026-07-14T06:40,weighed,\nA,2026-07-14T06:41,weighed,-3 kg\n";
        let refused = drinks(sheet, &TimeZone::UTC).whole().unwrap_err();
        let named: Vec<_> = refused.iter().map(|refusal| (refusal.line, refusal.value.as_str())).collect();
        assert_eq!(named, [(2, "weighed"), (3, "-3 kg")]);
    }

    #[test]
    fn the_local_clock_is_turned_into_one_moment() {
        let zone = TimeZone::get("Europe/Zurich").unwrap();
        let sheet = "tree,at,deed\nA,2026-07-14T06:40,watered\n";
        let log = drinks(sheet, &zone).whole().unwrap();
        assert_eq!(log[0].at, "2026-07-14T04:40:00Z".parse::<jiff::Timestamp>().unwrap().as_second());
    }
}
