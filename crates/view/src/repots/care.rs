//! After a repot: what is to be done on which day, and what the other pages must know of it.

use crate::whole::Whole;

/// Trees under aftercare today: key, name, what to do.
pub fn today(_whole: &Whole) -> Vec<(String, String, String)> {
    Vec::new()
}

/// The care of a tree.
pub(crate) fn say(
    _whole: &Whole,
    _tree: &crate::whole::TreeWhole,
    _case: &super::case::Case<'_>,
    _page: &mut super::bench::RepotBench,
) {
}
