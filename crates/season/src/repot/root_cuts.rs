//! The root cuts of a tree out of its records: one truth for water, frost, care and the stress log. Notes are never read.

use collection::{
    event::{Work, WorkKind},
    repot::Repot,
};
use jiff::civil::Date;
use measure::quantity::Share;
use water::after_cut::RootCut;

/// A day on which roots were cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutOn {
    /// When.
    pub day: Date,
    /// How much of them: as recorded, else [`RootCut::unnoted`].
    pub roots: RootCut,
    /// They were washed or shaken bare.
    pub bare: bool,
}

/// How much of the roots a line of work cut: its typed share, else the one that is taken where nobody recorded it.
///
/// ```
/// use collection::event::{Work, WorkKind};
/// use measure::quantity::Share;
/// use season::repot::root_cuts::worked;
///
/// let day = "2026-03-20".parse().unwrap();
/// let note = "cut 40 % of the branches".to_string();
/// let work = Work { tree: "larch".into(), day, kind: WorkKind::Repot, roots: None, note };
/// assert!(!worked(&work).is_noted(), "a note is not data");
/// assert_eq!(worked(&Work { roots: Some(Share(0.375)), ..work }).likely, Share(0.375));
/// ```
pub fn worked(work: &Work) -> RootCut {
    let told = work.roots.and_then(|share| RootCut::noted(share).ok());
    told.unwrap_or(RootCut::unnoted().value)
}

/// Every day on which roots were cut, the oldest first: by the log of the repot, and by a line of work where no log of that day stands.
/// A tree slipped into a larger pot lost none.
pub fn root_cuts<'a>(repots: &[Repot], works: impl IntoIterator<Item = &'a Work>) -> Vec<CutOn> {
    let noted = |share: Share| RootCut::noted(share).unwrap_or(RootCut::unnoted().value);
    let logged = |it: &Repot| CutOn { day: it.day, roots: noted(it.cut), bare: it.bare };
    let mut cuts: Vec<CutOn> = repots.iter().map(logged).collect();
    let is_logged = |day: Date| repots.iter().any(|it| it.day == day);
    let works = works.into_iter().filter(|it| it.kind == WorkKind::Repot && !is_logged(it.day));
    cuts.extend(works.map(|it| CutOn { day: it.day, roots: worked(it), bare: false }));
    cuts.retain(|cut| cut.bare || cut.roots.most.0 > 0.0);
    cuts.sort_by_key(|cut| cut.day);
    cuts
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::repot::record::tests::repot;

    fn work(day: Date, roots: Option<f64>, note: &str) -> Work {
        Work { tree: "maple".into(), day, kind: WorkKind::Repot, roots: roots.map(Share), note: note.into() }
    }

    #[test]
    fn a_note_is_never_read_and_a_log_stands_before_the_line_of_work_of_its_day() {
        let days = [20, 21, 22, 23].map(|day| date(2026, 3, day));
        let works = [
            work(days[0], None, "cut 37.5 % of the roots"),
            work(days[1], None, "40 % of the branches"),
            work(days[2], Some(0.375), ""),
            work(days[3], Some(0.1), ""),
        ];
        let repots = [repot(days[3], 0.35)];
        let told = root_cuts(&repots, &works);
        let unnoted = RootCut::unnoted().value;
        let noted = |share| RootCut::noted(Share(share)).unwrap();
        let roots: Vec<RootCut> = told.iter().map(|cut| cut.roots).collect();
        assert_eq!(roots, [unnoted, unnoted, noted(0.375), noted(0.35)]);
    }

    #[test]
    fn a_tree_slipped_into_a_larger_pot_lost_no_root_and_a_bared_one_did() {
        let slipped = [repot(date(2026, 3, 20), 0.0)];
        assert_eq!(root_cuts(&slipped, &[]), []);
        let bared = [Repot { bare: true, ..slipped[0].clone() }];
        assert_eq!(root_cuts(&bared, &[]).len(), 1);
    }
}
