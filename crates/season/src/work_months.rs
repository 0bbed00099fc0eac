//! In which months each kind of tree is worked: roots, hard pruning, trimming, leaves and wire.

mod own;
mod table;
mod why;

use jiff::{ToSpan, civil::Date};
use measure::{
    sourced::Standing,
    taxon::{Kind, Taxon},
    winter::Hemisphere,
};

/// Spans of months, from the first day of the first to the last day of the last, in the months of the north.
///
/// A span may run over the turn of the year. In the south every month falls six later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Months(pub &'static [[i8; 2]]);

impl Months {
    /// Whether a date lies in one of the spans.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use measure::winter::Hemisphere::{North, South};
    /// use season::work_months::Months;
    ///
    /// let autumn = Months(&[[11, 2]]);
    /// assert!(autumn.hold(date(2026, 1, 31), North) && !autumn.hold(date(2026, 3, 1), North));
    /// assert!(autumn.hold(date(2026, 7, 31), South));
    /// ```
    pub fn hold(self, date: Date, hemisphere: Hemisphere) -> bool {
        let month = northern(date.month(), hemisphere);
        self.0.iter().any(|&[from, to]| {
            if from <= to { (from..=to).contains(&month) } else { month >= from || month <= to }
        })
    }

    /// The first day of the next span that begins after a date, within a year; none where there is no span.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use measure::winter::Hemisphere::{North, South};
    /// use season::work_months::Months;
    ///
    /// let summer = Months(&[[6, 7]]);
    /// assert_eq!(summer.next_start(date(2026, 6, 2), North), Some(date(2027, 6, 1)));
    /// assert_eq!(summer.next_start(date(2026, 6, 2), South), Some(date(2026, 12, 1)));
    /// ```
    pub fn next_start(self, after: Date, hemisphere: Hemisphere) -> Option<Date> {
        let first = after.first_of_month();
        (1..=12)
            .filter_map(|ahead| first.checked_add(ahead.months()).ok())
            .find(|start| self.0.iter().any(|[from, _]| *from == northern(start.month(), hemisphere)))
    }

    /// The last day of the span that holds a date; none where none does.
    ///
    /// ```
    /// use jiff::civil::date;
    /// use measure::winter::Hemisphere::{North, South};
    /// use season::work_months::Months;
    ///
    /// let spring = Months(&[[3, 4]]);
    /// assert_eq!(spring.last_day(date(2026, 3, 28), North), Some(date(2026, 4, 30)));
    /// assert_eq!(spring.last_day(date(2026, 9, 28), South), Some(date(2026, 10, 31)));
    /// assert_eq!(spring.last_day(date(2026, 5, 1), North), None);
    /// ```
    pub fn last_day(self, date: Date, hemisphere: Hemisphere) -> Option<Date> {
        if !self.hold(date, hemisphere) {
            return None;
        }
        let month = date.first_of_month();
        let next = |ahead: i32| month.checked_add(ahead.months()).ok();
        let ends = (1..=12).filter_map(next).find(|start| !self.hold(*start, hemisphere));
        ends.and_then(|start| start.yesterday().ok())
    }

    /// Whether there is no span at all.
    pub fn is_empty(self) -> bool {
        self.0.is_empty()
    }
}

/// The month of the north that a month of a hemisphere stands for.
fn northern(month: i8, hemisphere: Hemisphere) -> i8 {
    match hemisphere {
        Hemisphere::North => month,
        Hemisphere::South => (month + 5) % 12 + 1,
    }
}

/// What tells when the roots of a kind may be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RootCue {
    /// Its buds: full and still shut.
    Buds,
    /// Its buds, once its flowers are over.
    BudsAfterFlower,
    /// The months, while candles or tips have not yet run.
    Tips,
    /// The months, as its new growth begins.
    Evergreen,
    /// Warm nights.
    WarmNights,
}

/// How much of its leaf a kind may lose at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Defoliation {
    /// None.
    Never,
    /// A part.
    Partial,
    /// All of it, on a strong tree.
    Full,
}

/// When a kind of tree is worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkMonths {
    /// Which kind.
    pub kind: Kind,
    /// What tells when roots may be cut.
    pub root_cue: RootCue,
    /// When roots are usually cut.
    pub root: Months,
    /// When else they may be, on the condition of [`WorkMonths::root_if`].
    pub root_also: Months,
    /// The condition; empty where there is no second window.
    pub root_if: &'static str,
    /// When live wood is cut hard.
    pub hard_prune: Months,
    /// When it is not.
    pub no_prune: Months,
    /// When shoots are trimmed.
    pub trim: Months,
    /// How much leaf may be taken.
    pub defoliation: Defoliation,
    /// When.
    pub defoliate: Months,
    /// When wire is put on.
    pub wire: Months,
    /// Why roots are cut then.
    pub root_why: &'static str,
    /// Why live wood is cut hard then.
    pub hard_why: &'static str,
    /// Why shoots are trimmed then.
    pub trim_why: &'static str,
    /// Why wire is put on then.
    pub wire_why: &'static str,
}

/// What the rows stand on.
pub const STANDING: Standing = Standing::Practice;

impl WorkMonths {
    /// The row of a kind.
    pub fn of_kind(kind: Kind) -> WorkMonths {
        let row = table::ROWS.iter().find(|row| row.kind == kind).expect("a row stands for every kind");
        let whys = why::of(kind);
        WorkMonths {
            root_why: whys.root,
            hard_why: whys.hard,
            trim_why: whys.trim,
            wire_why: whys.wire,
            ..*row
        }
    }

    /// The months of a taxon: those of its kind, with what the trade does differently for it.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    /// use season::work_months::{Months, WorkMonths};
    ///
    /// let of = |key| WorkMonths::of(Taxon::of(key).unwrap());
    /// assert_eq!(of("juniperus-chinensis").root, Months(&[[3, 5]]));
    /// assert_eq!(of("juniperus-communis").root, Months(&[[5, 7]]));
    /// ```
    pub fn of(taxon: &Taxon) -> WorkMonths {
        own::with_own(taxon, WorkMonths::of_kind(taxon.kind))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use measure::taxon::TAXA;

    #[test]
    fn every_kind_of_the_house_has_its_row() {
        for taxon in TAXA {
            let row = WorkMonths::of(taxon);
            assert!(!row.root.is_empty() && !row.hard_prune.is_empty() && !row.wire.is_empty(), "{row:?}");
            assert_eq!(row.root_also.is_empty(), row.root_if.is_empty(), "{row:?}");
            assert_eq!(row.defoliate.is_empty(), row.defoliation == Defoliation::Never, "{row:?}");
        }
    }

    #[test]
    fn the_south_works_half_a_year_on() {
        for row in &table::ROWS {
            for month in 1..=12 {
                let [north, south] = [date(2026, month, 15), date(2026, (month + 5) % 12 + 1, 15)];
                for months in [row.root, row.root_also, row.hard_prune, row.trim, row.defoliate, row.wire] {
                    assert_eq!(
                        months.hold(north, Hemisphere::North),
                        months.hold(south, Hemisphere::South),
                        "{month} {row:?}"
                    );
                }
            }
        }
    }
}
