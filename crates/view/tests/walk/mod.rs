//! What each page says of each tree on a day, as values that can be held against one another. A new page joins by one line in [`PAGES`].
#![allow(dead_code)]

pub mod checks;
mod pages;

use jiff::civil::Date;
use measure::{leaf::Leaf, shelter::Shelter};
use season::watering::plan::Verdict;
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
    /// The sign of the verdict on a kind of work, as its line carries it.
    Sign(Work, &'static str),
    /// What is to be done with a wire, by its number.
    Wire(i64, &'static str),
    /// The sign of the verdict on a move to a place, by the place's key.
    MoveTo(String, &'static str),
    /// When its buds would be full, were it moved to a place today.
    OpensAt(String, Option<Date>),
    /// The pot that it goes into.
    Pot(String),
    /// Whether it goes this season.
    GoesThisSeason(bool),
    /// What to do at the pot now.
    Water(Verdict),
    /// What to do at the pot half a day later, with nothing done in between.
    WaterAhead(Verdict),
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
            Says::Sign(work, _) => format!("sign {}", work.key()),
            Says::Wire(id, _) => format!("wire {id}"),
            Says::MoveTo(place, _) => format!("move to {place}"),
            Says::OpensAt(place, _) => format!("opens in {place}"),
            Says::Pot(_) => "into".into(),
            Says::GoesThisSeason(_) => "goes this season".into(),
            Says::Water(_) => "water".into(),
            Says::WaterAhead(_) => "water ahead".into(),
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
    ("Round ahead", pages::round_ahead),
    ("Places", pages::places),
    ("Wires", pages::wires),
    ("wires of a tree", pages::wires_of_tree),
    ("layers", pages::layers),
    ("branches", pages::branches),
    ("What if", pages::what_if),
    ("Pots", pages::pots),
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
