//! Sheets, bare series, springs, shelves and calendars: every row has its line, every refusal names one, and sizes are bounded.

use std::{collections::BTreeMap, fmt::Debug};

use intake::{
    calendar, instance as instances, series as bare,
    sheet::{
        self, Read,
        drink::drinks,
        limbs::{self, LimbSheet},
        potting,
        shelf::{self, ShelfSheet},
    },
    springs,
};
use jiff::tz::TimeZone;

use super::{most_lines, named};

/// Longest name, letters.
const LONGEST_NAME: usize = 80;

fn held<T: PartialEq + Debug>(text: &str, read: impl Fn(&str) -> Read<T>) -> Vec<T> {
    let told = read(text);
    assert_eq!(told, read(text), "read twice, read otherwise");
    named(text.as_bytes(), &told.refused);
    // Lines that end in a lone return are not counted.
    let counted = !text.replace("\r\n", "\n").contains('\r');
    assert!(
        told.rows.windows(2).all(|pair| pair[0].0 < pair[1].0 + usize::from(!counted)),
        "rows out of their order"
    );
    assert!(told.rows.last().is_none_or(|(line, _)| *line <= most_lines(text.as_bytes())));
    assert!(told.readable || (told.rows.is_empty() && !told.refused.is_empty()));
    told.rows.into_iter().map(|(_, row)| row).collect()
}

fn short(names: impl IntoIterator<Item = String>) {
    for name in names {
        assert!(
            !name.is_empty() && name.chars().count() <= LONGEST_NAME,
            "a name of another length: {name:?}"
        );
    }
}

/// Any text as each of the grower's sheets.
pub fn sheets(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    short(held(&text, sheet::places).into_iter().map(|place| place.name));
    short(held(&text, sheet::trees).into_iter().map(|tree| tree.name));
    short(held(&text, potting::pots).into_iter().map(|pot| pot.name));
    short(held(&text, potting::mixes).into_iter().map(|mix| mix.name));
    held(&text, sheet::sites);
    held(&text, sheet::moves);
    held(&text, sheet::looks);
    held(&text, sheet::works);
    held(&text, potting::potted);
    held(&text, potting::crowns);
    held(&text, |text| drinks(text, &TimeZone::UTC));
    for sheet in LimbSheet::ALL {
        held(&text, |text| limbs::read(sheet, text));
    }
    for sheet in ShelfSheet::ALL {
        held(&text, |text| shelf::read(sheet, text, &BTreeMap::new()));
    }
}

/// Any text as a bare series, or as a station's means and observations.
pub fn series(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match bare::read(&text) {
        Ok(bare::Series::Hours(hours)) => assert!(hours.iter().all(|it| (-60.0..=60.0).contains(it))),
        Ok(bare::Series::Days(days)) => {
            assert!(days.windows(2).all(|pair| pair[0].date < pair[1].date));
            assert!(days.iter().all(|day| day.low <= day.high));
        }
        Err(refused) => named(bytes, &refused),
    }
    match springs::means(&text) {
        Ok(means) => assert!(means.values().all(|mean| mean.is_finite())),
        Err(refused) => named(bytes, &refused),
    }
    if let Err(refused) = springs::observations(&text) {
        named(bytes, &refused);
    }
}

/// Any text as a shelf to be shared out.
pub fn instance(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match instances::read(&text) {
        Ok(told) => {
            assert_eq!(told.trees.len(), told.shelf.trees.len());
            let (trees, pots) = (told.trees.len(), told.pots.len());
            assert!(told.shelf.choices.iter().all(|it| it.tree < trees && it.pot < pots));
            assert!(told.shelf.trees.iter().all(|tree| tree.stands_in.is_none_or(|pot| pot < pots)));
        }
        Err(refused) => {
            assert!(!refused.is_empty() && refused.iter().all(|it| it.value.chars().count() <= 81))
        }
    }
}

/// Any text as a calendar of shifts.
pub fn calendars(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match calendar::read(&text, "Europe/Zurich") {
        Ok(file) => {
            named(bytes, &file.refused);
            assert!(file.aways.iter().all(|away| away.from < away.to && away.words.chars().count() <= 80));
            assert!(
                file.aways.windows(2).all(|pair| (pair[0].from, &pair[0].uid) < (pair[1].from, &pair[1].uid))
            );
            // A repeating event is taken at most 800 times, and an event needs its own line.
            assert!(file.aways.len() <= 800 * most_lines(bytes));
        }
        Err(refusal) => named(bytes, &[refusal]),
    }
}
