//! Whether a tree is in leaf, in words, and the question where that is not known.

use measure::{ladder::Ladder, leaf::Leaf, stage::Stage, winter::Winter};
use season::{
    autumn::{InLeaf, Keeps},
    window::Stands,
};

use crate::{
    whole::{TreeWhole, Whole},
    words::{self, Days},
};

/// What a page says of a tree's leaves in autumn and winter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeafRow {
    /// The likeliest state.
    pub state: Leaf,
    /// The state and what comes next, with its dates.
    pub words: String,
    /// Chance of the state.
    pub chance: String,
    /// Whether the grower is asked.
    pub is_asked: bool,
    /// When leaves colour, begin to fall and are down.
    pub turns: Vec<(&'static str, Option<Days>)>,
    /// Chance of each state.
    pub chances: Vec<(&'static str, String)>,
    /// What else is to be known: why it keeps its leaves, and that they are soft.
    pub note: String,
    /// Where the dates come from.
    pub standing: String,
}

/// A tree whose leaves are asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// Name in addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Where it stands.
    pub place: String,
    /// What is told of it.
    pub words: String,
    /// What is not known, 1 at most: the chance that the likeliest state is wrong, in hundredths.
    pub doubt: i32,
}

/// The words and the buttons of the question: the form's word and what it says.
pub const ANSWERS: [(&str, &str); 4] =
    [("full", "full"), ("colouring", "colouring"), ("falling", "falling"), ("bare", "bare")];

/// What is said of a tree's leaves: none of an evergreen, and none in spring and summer, when its buds and new leaves are told.
pub fn leaf(whole: &Whole, tree: &TreeWhole) -> Option<LeafRow> {
    let winter = Winter::holding(whole.today, crate::limbs::grows::hemisphere(whole));
    let today = winter.day_number(whole.today);
    let it = &tree.in_leaf;
    let told = tree.told.as_ref().ok();
    let green = told.map_or(SPRING, |told| told.forecast.of(Stage::Breaking).map_or(SPRING, |at| at.early));
    if it.is_evergreen || today >= green {
        return None;
    }
    let turns = TURNS.into_iter().zip(it.turns);
    Some(LeafRow {
        state: it.state(),
        words: in_words(it, winter, whole),
        chance: words::percent(it.chance()),
        is_asked: it.is_asked(today),
        turns: turns.map(|(of, at)| (of, at.map(|at| words::days(winter, at, whole.today)))).collect(),
        chances: Leaf::ALL.iter().map(|leaf| (leaf.words(), words::percent(it.today[leaf.rank()]))).collect(),
        note: note(it),
        standing: it.standing.words(),
    })
}

/// Day number from which nobody speaks of last year's leaves, where no forecast tells of green.
const SPRING: i32 = 90;

const TURNS: [&str; 3] = ["colouring", "falling", "bare"];

/// The state with the next dates.
fn in_words(it: &InLeaf, winter: Winter, whole: &Whole) -> String {
    let state = it.state();
    let next = match state {
        Leaf::Full => it.turns[0].map(|at| ("colouring", at)),
        Leaf::Colouring | Leaf::Falling => it.turns[2].map(|at| ("bare", at)),
        Leaf::Bare => None,
    };
    match next {
        Some((what, at)) => {
            let days = words::days(winter, at, whole.today);
            format!("{}, {what} about {} ({} to {})", state.words(), days.middle, days.early, days.late)
        }
        None if state != Leaf::Bare => format!("{}, until you see them fall", state.words()),
        None => state.words().into(),
    }
}

fn note(it: &InLeaf) -> String {
    let keeps = match it.keeps {
        Some(Keeps::SemiEvergreen) => {
            "semi-evergreen: it counts as in leaf until a look says its leaves fell"
        }
        Some(Keeps::Warm) => {
            "it stands too warm for its leaves to turn: it counts as in leaf until a look says they fell"
        }
        Some(Keeps::OutOfStep) => {
            "seen in leaf when trees outside here would be bare: it counts as in leaf until a look says they fell"
        }
        None => "",
    };
    let soft = "not hardened: no frost; move it into the cold by steps over two to three weeks (common practice, no source)";
    match (keeps, it.is_soft() && it.keeps != Some(Keeps::SemiEvergreen)) {
        ("", _) => String::new(),
        (keeps, true) => format!("{keeps}; {soft}"),
        (keeps, false) => keeps.into(),
    }
}

/// The trees whose leaves are asked about, those most in doubt first.
pub fn asked(whole: &Whole) -> Vec<Asked> {
    let mut asked: Vec<Asked> = whole
        .trees
        .iter()
        .filter_map(|tree| {
            let row = leaf(whole, tree).filter(|row| row.is_asked)?;
            Some(Asked {
                key: tree.tree.key.clone(),
                name: tree.tree.name.clone(),
                place: tree.place.map_or_else(String::new, |rank| whole.places[rank].place.name.clone()),
                words: row.words,
                doubt: ((1.0 - tree.in_leaf.chance()) * 100.0).round() as i32,
            })
        })
        .collect();
    asked.sort_by(|a, b| (b.doubt, &a.name).cmp(&(a.doubt, &b.name)));
    asked
}

/// What stands for a tree's stage on a page: its leaves in autumn, its buds in spring; with the chance of it.
pub fn stage(whole: &Whole, tree: &TreeWhole, stands: Stands) -> (String, String) {
    match stands {
        Stands::InLeaf(state, chance) => {
            let words = leaf(whole, tree).map_or_else(|| state.words().into(), |row| row.words);
            (words, words::percent(chance))
        }
        Stands::Buds(stage, chance) => (Ladder::of(tree.tree.taxon).told(stage), words::percent(chance)),
    }
}
