//! How much root may go today, out of the tree's book, with everything that speaks against it.

use jiff::civil::Date;
use measure::{quantity::Share, range::OutOfRange, winter::Hemisphere};
use pot::repot::{
    insult::{Insult, Objection, objections},
    roots::{self, Age, Today},
};

use super::{
    book::{Entry, Judged, Rest, book, left, pasts, rest, spent, strength},
    record::Record,
};

/// The root cut of today.
#[derive(Clone, Debug, PartialEq)]
pub struct CutToday {
    /// Usual, most and today's figures, with the reasons of the rules. Where a rest is due its figures are held to a small cut too.
    pub today: Today,
    /// What is planned: as the grower said, else as advised.
    pub planned: Share,
    /// The grower said so.
    pub is_said: bool,
    /// What the grower said is more than today's limit.
    pub is_over: bool,
    /// What speaks against the planned cut.
    pub objections: Vec<Objection>,
    /// How strong the tree counts.
    pub judged: Judged,
    /// The tree's book.
    pub book: Vec<Entry>,
    /// Points spent in twelve months.
    pub spent: f64,
    /// Points left of them.
    pub left: f64,
    /// When it last rested.
    pub rest: Rest,
}

/// The most roots that can be cut without a major, so that a rest stays one: under 0.4 points at 1.5 for each share.
pub const NO_MAJOR: Share = Share(0.4 / 1.5 - 0.01);

/// How much root may go today.
///
/// # Errors
///
/// [`OutOfRange`] when something in the book is not such.
///
/// # Example
///
/// ```
/// use collection::{drink::Worth, tree::{NameConfidence, Tree}};
/// use jiff::civil::date;
/// use measure::{taxon::Taxon, winter::Hemisphere};
/// use season::repot::{cut, record::Record};
///
/// let tree = Tree {
///     key: "old-maple".into(),
///     name: "Old maple".into(),
///     taxon: Taxon::of("acer-palmatum").unwrap(),
///     candidates: Vec::new(),
///     name_confidence: NameConfidence::Sure,
///     since: None,
///     worth: Worth::Standing,
///     note: String::new(),
///     revision: 1,
/// };
/// let told = cut::today(&Record::of(&tree), date(2027, 3, 1), Hemisphere::North)?;
/// assert_eq!((told.planned.0, told.today.most.0), (0.35, 0.60));
/// assert!(told.objections.is_empty() && told.judged.day.is_none());
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn today(record: &Record<'_>, today: Date, hemisphere: Hemisphere) -> Result<CutToday, OutOfRange> {
    let book = book(record, today);
    let judged = strength(record, today);
    let pasts = pasts(&book, today);
    let age = record.grown.and_then(|it| it.age).unwrap_or(Age::Middle);
    let mut told = roots::today(record.work(), age, judged.strength, &pasts)?;
    let rest = rest(&book, record.tree.since, today, hemisphere);
    if rest.is_due {
        told.limit = Share(told.limit.0.min(NO_MAJOR.0));
        told.advised = Share(told.advised.0.min(NO_MAJOR.0));
    }
    let said = record.meant.and_then(|meant| meant.cut);
    let planned = said.unwrap_or(told.advised);
    let insult = if planned.0 > 0.0 {
        Insult::RepotFull { cut: Share(planned.0.clamp(0.0, 0.7)), bare: false }
    } else {
        Insult::SlipPot
    };
    Ok(CutToday {
        is_over: planned.0 > told.limit.0 + 1e-9,
        objections: objections(insult, judged.strength, &pasts)?,
        planned,
        is_said: said.is_some(),
        spent: spent(&book, today),
        left: left(judged.strength, &book, today),
        today: told,
        judged,
        book,
        rest,
    })
}

#[cfg(test)]
mod tests {
    use collection::repot::Meant;
    use jiff::civil::date;

    use super::*;
    use crate::repot::record::tests::{TODAY, repot, tree};

    #[test]
    fn where_a_rest_is_due_no_cut_is_a_major() {
        let own = tree("maple", "acer-palmatum");
        let repots =
            [(2024, 0.35), (2025, 0.35), (2026, 0.25)].map(|(year, cut)| repot(date(year, 3, 20), cut));
        let record = Record { repots: &repots, ..Record::of(&own) };
        let told = today(&record, date(2027, 4, 1), Hemisphere::North).unwrap();
        assert!(told.rest.is_due && told.today.limit.0 < 0.27, "{told:?}");
        assert!(!Insult::RepotFull { cut: NO_MAJOR, bare: false }.is_major().unwrap());
        let fewer = Record { repots: &repots[1..], ..Record::of(&own) };
        let told = today(&fewer, date(2027, 4, 1), Hemisphere::North).unwrap();
        assert!(!told.rest.is_due && told.today.limit.0 > 0.5);
    }

    #[test]
    fn the_growers_own_figure_stands_and_is_called_over_where_it_is() {
        let own = tree("maple", "acer-palmatum");
        let meant = Meant {
            tree: "maple".into(),
            season: 2027,
            repot: true,
            cut: Some(Share(0.6)),
            mix: None,
            show: false,
            why: "roots in a ring".into(),
        };
        let told =
            today(&Record { meant: Some(&meant), ..Record::of(&own) }, TODAY, Hemisphere::North).unwrap();
        assert!(told.is_over && told.is_said && told.planned == Share(0.6));
        assert!(matches!(told.objections[..], [Objection::OverBudget { .. }]), "0.90 of 0.80: {told:?}");
    }
}
