//! Soil, mesh and wire for the season's repots.

use super::{bench::RepotBench, case::Case};
use crate::whole::{TreeWhole, Whole};

/// What to mix and cut for a tree.
pub(crate) fn say(_whole: &Whole, _tree: &TreeWhole, _case: &Case<'_>, _page: &mut RepotBench) {}
