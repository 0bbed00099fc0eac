//! Sheets of what is known of pots, of how trees stand, of repots, and of what lies in the shed.

mod entry;
mod repot;
mod row;
mod table;
mod ware;

use std::collections::{BTreeMap, BTreeSet};

use collection::{
    potting::Pot,
    repot::{Meant, PotLook, Repot, Toll},
    reserve::{Liking, Reservation},
    standing::{Grown, Stature, Tint, Vigour},
    stock::{Blend, Stock},
    ware::Ware,
};
use jiff::civil::Date;
use pot::table::Component;

use super::{Read, Row, format::Format, rows};
use crate::refusal::Refusal;

pub use row::ShelfRow;

/// Which of these sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum ShelfSheet {
    Wares,
    Grown,
    Statures,
    Tints,
    Vigours,
    PotLooks,
    Meant,
    Repots,
    Tolls,
    Reservations,
    Likings,
    Stock,
    Blends,
}

impl ShelfSheet {
    /// All, in an order in which they may come in.
    pub const ALL: [ShelfSheet; 13] = [
        ShelfSheet::Wares,
        ShelfSheet::Grown,
        ShelfSheet::Statures,
        ShelfSheet::Tints,
        ShelfSheet::Vigours,
        ShelfSheet::PotLooks,
        ShelfSheet::Meant,
        ShelfSheet::Repots,
        ShelfSheet::Tolls,
        ShelfSheet::Reservations,
        ShelfSheet::Likings,
        ShelfSheet::Stock,
        ShelfSheet::Blends,
    ];

    /// The word used in commands and forms.
    pub fn key(self) -> &'static str {
        self.format().key
    }

    /// What a file of it is called.
    pub fn words(self) -> &'static str {
        match self {
            ShelfSheet::Wares => "sheet of what is known of pots",
            ShelfSheet::Grown => "sheet of how trees are grown",
            ShelfSheet::Statures => "sheet of heights and trunks",
            ShelfSheet::Tints => "sheet of colours of trees",
            ShelfSheet::Vigours => "sheet of how strong trees are",
            ShelfSheet::PotLooks => "sheet of looks at trees in their pots",
            ShelfSheet::Meant => "sheet of what is meant for the season",
            ShelfSheet::Repots => "sheet of repots",
            ShelfSheet::Tolls => "sheet of what trees had to bear",
            ShelfSheet::Reservations => "sheet of pots promised",
            ShelfSheet::Likings => "sheet of pots liked better",
            ShelfSheet::Stock => "sheet of the shed",
            ShelfSheet::Blends => "sheet of what mixes are made of",
        }
    }

    /// The sheet that goes by this word.
    pub fn from_key(key: &str) -> Option<ShelfSheet> {
        ShelfSheet::ALL.into_iter().find(|sheet| sheet.key() == key)
    }

    /// Its columns, and an example of it.
    pub fn format(self) -> &'static Format {
        match self {
            ShelfSheet::Wares => &table::WARES,
            ShelfSheet::Grown => &table::GROWN,
            ShelfSheet::Statures => &table::STATURES,
            ShelfSheet::Tints => &table::TINTS,
            ShelfSheet::Vigours => &table::VIGOUR,
            ShelfSheet::PotLooks => &table::POT_LOOKS,
            ShelfSheet::Meant => &table::MEANT,
            ShelfSheet::Repots => &table::REPOTS,
            ShelfSheet::Tolls => &table::TOLLS,
            ShelfSheet::Reservations => &table::RESERVATIONS,
            ShelfSheet::Likings => &table::LIKINGS,
            ShelfSheet::Stock => &table::STOCK,
            ShelfSheet::Blends => &table::BLENDS,
        }
    }

    pub(crate) fn row(self, row: &Row, pots: &BTreeMap<String, Pot>) -> Result<ShelfRow, Refusal> {
        Ok(match self {
            ShelfSheet::Wares => ShelfRow::Ware(Box::new(ware::ware(row, pots)?)),
            ShelfSheet::Grown => ShelfRow::Grown(ware::grown(row)?),
            ShelfSheet::Statures => ShelfRow::Stature(ware::stature(row)?),
            ShelfSheet::Tints => ShelfRow::Tint(ware::tint(row)?),
            ShelfSheet::Vigours => ShelfRow::Vigour(ware::vigour(row)?),
            ShelfSheet::PotLooks => ShelfRow::PotLook(repot::look(row)?),
            ShelfSheet::Meant => ShelfRow::Meant(repot::meant(row)?),
            ShelfSheet::Repots => ShelfRow::Repot(Box::new(repot::repot(row)?)),
            ShelfSheet::Tolls => ShelfRow::Toll(repot::toll(row)?),
            ShelfSheet::Reservations => ShelfRow::Reservation(repot::reservation(row)?),
            ShelfSheet::Likings => ShelfRow::Liking(repot::liking(row)?),
            ShelfSheet::Stock => ShelfRow::Stock(repot::stock(row)?),
            ShelfSheet::Blends => {
                let (mix, component, parts) = repot::part(row)?;
                ShelfRow::Part(mix, component, parts)
            }
        })
    }
}

/// Reads one of these sheets; lengths of trees, roots and pots are centimetres, holes and heights over the rim millimetres, shares run
/// from 0 to 1, and money is written as `120 CHF`. What a sheet of pots leaves open is taken from the pot's own measures.
///
/// ```
/// use std::collections::BTreeMap;
/// use intake::sheet::shelf::{ShelfRow, ShelfSheet, read};
///
/// let sheet = "tree,day,height,trunk\nOld Trident,2025-11-20,44,6.5\n";
/// let rows = read(ShelfSheet::Statures, sheet, &BTreeMap::new()).whole().unwrap();
/// assert!(matches!(&rows[0], ShelfRow::Stature(it) if it.height.0 == 44.0 && it.tree == "old-trident"));
/// ```
pub fn read(sheet: ShelfSheet, text: &str, pots: &BTreeMap<String, Pot>) -> Read<ShelfRow> {
    rows(text, sheet.format(), None).take(|row| sheet.row(row, pots))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sheet_names_its_missing_column_and_goes_by_its_word() {
        for sheet in ShelfSheet::ALL {
            let refused = read(sheet, "nothing\nA\n", &BTreeMap::new()).whole().unwrap_err();
            assert!(refused[0].why.contains("no column"), "{sheet:?}: {refused:?}");
            assert_eq!(ShelfSheet::from_key(sheet.key()), Some(sheet));
        }
    }

    #[test]
    fn a_cell_that_cannot_be_is_named_with_its_line() {
        let wrong = |sheet, text: &str| {
            let refused = read(sheet, text, &BTreeMap::new()).whole().unwrap_err();
            (refused[0].line, refused[0].value.clone())
        };
        let cut = wrong(ShelfSheet::Repots, "tree,day,pot,mix,cut\nA,2026-03-01,B,C,35\n");
        assert_eq!(cut, (2, "35".into()));
        let toll = wrong(ShelfSheet::Tolls, "tree,day,what,amount\nA,2026-03-01,pest,\n");
        assert_eq!(toll, (2, "pest".into()));
        let both = "tree,season,swatch,l,a,b\nA,leaf,leaf_spring,50,1,2\n";
        assert_eq!(wrong(ShelfSheet::Tints, both), (2, "leaf_spring".into()));
        let pot = wrong(ShelfSheet::Wares, "pot\nNobody's\n");
        assert_eq!(pot, (2, "nobody-s".into()));
        assert_eq!(wrong(ShelfSheet::Stock, "item,left,day\npeat,3,2026-01-01\n"), (2, "peat".into()));
    }
}
