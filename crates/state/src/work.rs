//! The kinds of work that a verdict is given for.

use measure::quantity::Share;
use pot::repot::insult::Insult;

/// A kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Work {
    Repot,
    HardPrune,
    Trim,
    Pinch,
    Defoliate,
    Decandle,
    Wire,
    Unwire,
    Layer,
    Move,
    Feed,
}

/// Shares taken for work of which nobody said how much: wood of a hard prune, twigs of a trim, leaf of a defoliation. Planning figures.
const USUAL_SHARES: [Share; 3] = [Share(1.0 / 3.0), Share(1.0 / 3.0), Share(0.5)];

/// Branches wired in a usual session: up to ten cost the same.
const USUAL_BRANCHES: u16 = 10;

impl Work {
    /// Every kind, in the order in which pages list them.
    pub const ALL: [Work; 11] = [
        Work::Repot,
        Work::HardPrune,
        Work::Trim,
        Work::Pinch,
        Work::Defoliate,
        Work::Decandle,
        Work::Wire,
        Work::Unwire,
        Work::Layer,
        Work::Move,
        Work::Feed,
    ];

    /// The word used in addresses and commands.
    pub fn key(self) -> &'static str {
        match self {
            Work::Repot => "repot",
            Work::HardPrune => "hard-prune",
            Work::Trim => "trim",
            Work::Pinch => "pinch",
            Work::Defoliate => "defoliate",
            Work::Decandle => "decandle",
            Work::Wire => "wire",
            Work::Unwire => "unwire",
            Work::Layer => "layer",
            Work::Move => "move",
            Work::Feed => "feed",
        }
    }

    /// The kind that goes by this word.
    ///
    /// ```
    /// use state::work::Work;
    ///
    /// assert!(Work::ALL.into_iter().all(|work| Work::from_key(work.key()) == Some(work)));
    /// assert_eq!(Work::from_key("paint"), None);
    /// ```
    pub fn from_key(key: &str) -> Option<Work> {
        Work::ALL.into_iter().find(|work| work.key() == key)
    }

    /// What it costs the tree, at a usual amount; a repot at the cut that is planned. None for what costs it nothing.
    pub fn stress(self, planned_cut: Share) -> Option<Insult> {
        let [wood, twigs, leaf] = USUAL_SHARES;
        Some(match self {
            Work::Repot if planned_cut.0 > 0.0 => {
                Insult::RepotFull { cut: Share(planned_cut.0.min(0.7)), bare: false }
            }
            Work::Repot => Insult::SlipPot,
            Work::HardPrune => Insult::HardPrune(wood),
            Work::Trim => Insult::Trim(twigs),
            Work::Pinch => Insult::Pinch,
            Work::Defoliate => Insult::DefoliatePartial(leaf),
            Work::Decandle => Insult::Decandle,
            Work::Wire => Insult::WireStructural(USUAL_BRANCHES),
            Work::Layer => Insult::LayerOn,
            Work::Unwire | Work::Move | Work::Feed => return None,
        })
    }
}
