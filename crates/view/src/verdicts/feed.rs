//! Feed on the round: which trees may be fed today, and which not and until when, by the verdict.

use collection::event::WorkKind;
use state::{
    reason::{ByKind, Reason},
    verdict::Answer,
    work::Work,
};

use super::{on, reason};
use crate::whole::{TreeWhole, Whole};

/// Trees with one answer on feed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fed {
    /// The answer, with why where it is no plain yes.
    pub words: String,
    /// Whether they may be.
    pub may: bool,
    /// Their keys and names.
    pub trees: Vec<(String, String)>,
}

/// A tree that was fed on the day, with the number of the line in its diary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FedToday {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Number of the line, for undo.
    pub id: i64,
}

/// The trees that were fed today.
pub fn fed_today(whole: &Whole) -> Vec<FedToday> {
    let of = |tree: &TreeWhole| {
        let fed = tree.works.iter().find(|(_, it)| it.kind == WorkKind::Fed && it.day == whole.today)?;
        Some(FedToday { key: tree.tree.key.clone(), name: tree.tree.name.clone(), id: fed.0 })
    };
    whole.trees.iter().filter_map(of).collect()
}

/// The trees that have leaves to be fed, by their answer: those that may first.
pub fn feed(whole: &Whole) -> Vec<Fed> {
    let mut told: Vec<(u8, Fed)> = Vec::new();
    for tree in &whole.trees {
        let verdict = on(whole, tree, Work::Feed);
        let is_today =
            matches!(verdict.because(), Reason::ByKind(ByKind::FedLately { day, .. }) if day == whole.today);
        if is_today || verdict.reasons.contains(&Reason::NoLeaves) {
            continue;
        }
        let why = || reason(verdict.because(), whole.today, whole.units());
        let (rank, words) = match verdict.answer {
            Answer::Yes => (0, "may be fed".to_string()),
            Answer::Caution | Answer::LookFirst => (1, format!("with care: {}", why())),
            Answer::NotNow { .. } | Answer::NotThisSeason => (2, format!("not now: {}", why())),
        };
        let own = (tree.tree.key.clone(), tree.tree.name.clone());
        match told.iter_mut().find(|(_, it)| it.words == words) {
            Some((_, it)) => it.trees.push(own),
            None => told.push((rank, Fed { words, may: rank < 2, trees: vec![own] })),
        }
    }
    told.sort_by_key(|(rank, it)| (*rank, std::cmp::Reverse(it.trees.len())));
    told.into_iter().map(|(_, it)| it).collect()
}
