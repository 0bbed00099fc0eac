//! What each page says of each tree on a day, as values that can be held against one another. A new page joins by one line in [`PAGES`].
#![allow(dead_code)]

pub mod checks;
mod pages;

use jiff::civil::Date;
use measure::{leaf::Leaf, shelter::Shelter};
use state::work::Work;
use view::{tonight::afternoon, verdicts::Tag, whole::Whole};

/// What may be said of the roots of a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Roots {
    /// Cut them now.
    Now,
    /// Look first.
    Look,
    /// Not now, but their time comes within weeks.
    Soon,
    /// Not now.
    No,
}

impl Roots {
    /// What the words of a tag come to; none where they are no tag's.
    pub fn of(words: &str) -> Option<Roots> {
        let tags = [
            Tag::Repot,
            Tag::WithCare,
            Tag::LookFirst,
            Tag::GetReady,
            Tag::NotYet,
            Tag::Wait,
            Tag::NotNow,
            Tag::TooLate,
            Tag::NotThisYear,
        ];
        let tag = tags.into_iter().find(|tag| tag.words() == words)?;
        Some(match tag {
            Tag::Repot | Tag::WithCare => Roots::Now,
            Tag::LookFirst => Roots::Look,
            Tag::GetReady | Tag::Wait => Roots::Soon,
            Tag::NotYet | Tag::NotNow | Tag::TooLate | Tag::NotThisYear => Roots::No,
        })
    }
}

/// One thing that a page says of a tree.
#[derive(Clone, Debug, PartialEq)]
pub enum Says {
    /// Whether its roots may be cut.
    Roots(Roots),
    /// Its roots may be cut, but its pot comes free after the window.
    NoPot,
    /// Whether a kind of work may be done today.
    May(Work, bool),
    /// When its buds are full.
    Opens(Date),
    /// The last day before green tips.
    Closes(Date),
    /// The likeliest stage of its buds, in words.
    Stage(String),
    /// The likeliest state of its leaves.
    Leaves(Leaf),
    /// Where it stands, by the name of the place.
    Stands(String),
    /// Where it should go, and whether it is for the coming night.
    Goes(Shelter),
    /// It was repotted not long ago and is under care.
    UnderCare,
}

impl Says {
    /// What it is about: two claims about one thing must be equal.
    pub fn about(&self) -> String {
        match self {
            Says::Roots(_) => "roots".into(),
            Says::NoPot => "pot".into(),
            Says::May(work, _) => format!("may {}", work.key()),
            Says::Opens(_) => "opens".into(),
            Says::Closes(_) => "closes".into(),
            Says::Stage(_) => "stage".into(),
            Says::Leaves(_) => "leaves".into(),
            Says::Stands(_) => "stands".into(),
            Says::Goes(_) => "goes".into(),
            Says::UnderCare => "care".into(),
        }
    }
}

/// What a page says of a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// The page.
    pub page: &'static str,
    /// The tree's key.
    pub tree: String,
    /// What it says.
    pub says: Says,
}

/// Reads a page at a moment.
type Read = fn(&Whole, jiff::Timestamp, &mut dyn FnMut(&str, Says));

/// Every page that speaks of trees.
pub const PAGES: &[(&str, Read)] = &[
    ("Today", pages::today),
    ("Waking", pages::waking),
    ("Repots", pages::repots),
    ("repot bench", pages::repot_bench),
    ("tree", pages::tree),
    ("Tonight", pages::tonight),
    ("Round", pages::round),
];

/// Everything that the pages of a day say of trees.
pub fn claims(whole: &Whole) -> Vec<Claim> {
    let now = afternoon(whole);
    let mut claims = Vec::new();
    for &(page, read) in PAGES {
        read(whole, now, &mut |tree, says| claims.push(Claim { page, tree: tree.into(), says }));
    }
    claims
}
