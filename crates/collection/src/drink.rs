//! What was seen and done at a watering round, and when the grower is away.

use jiff::civil::Time;
use measure::quantity::Gram;

/// How the soil was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remark {
    /// Still wet: it could have waited.
    Wet,
    /// As it should be.
    Right,
    /// Too dry.
    Dry,
}

impl Remark {
    /// All, from wet to dry.
    pub const ALL: [Remark; 3] = [Remark::Wet, Remark::Right, Remark::Dry];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Remark::Wet => "wet",
            Remark::Right => "right",
            Remark::Dry => "dry",
        }
    }

    /// The remark that goes by this word.
    pub fn from_key(key: &str) -> Option<Remark> {
        Remark::ALL.into_iter().find(|remark| remark.key() == key)
    }
}

/// What was done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Deed {
    /// Watered until it ran through.
    Watered,
    /// Put on the scale before any watering.
    Weighed(Gram),
    /// Put on the scale after watering, when it had drained.
    WeighedFull(Gram),
    /// Felt or lifted, and left.
    Left,
}

impl Deed {
    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Deed::Watered => "watered",
            Deed::Weighed(_) => "weighed",
            Deed::WeighedFull(_) => "weighed-full",
            Deed::Left => "left",
        }
    }

    /// The deed that goes by this word, with its weight where it needs one.
    pub fn from_key(key: &str, grams: Option<Gram>) -> Option<Deed> {
        match (key, grams) {
            ("watered", None) => Some(Deed::Watered),
            ("left", None) => Some(Deed::Left),
            ("weighed", Some(grams)) => Some(Deed::Weighed(grams)),
            ("weighed-full", Some(grams)) => Some(Deed::WeighedFull(grams)),
            _ => None,
        }
    }

    /// The weight, where it was weighed.
    pub fn grams(self) -> Option<Gram> {
        match self {
            Deed::Weighed(grams) | Deed::WeighedFull(grams) => Some(grams),
            Deed::Watered | Deed::Left => None,
        }
    }

    /// Whether the pot was full afterwards.
    pub fn fills(self) -> bool {
        matches!(self, Deed::Watered | Deed::WeighedFull(_))
    }
}

/// A line of the watering log.
#[derive(Clone, Debug, PartialEq)]
pub struct Drink {
    /// The tree's key.
    pub tree: String,
    /// Seconds since 1970, UTC.
    pub at: i64,
    /// What was done.
    pub deed: Deed,
    /// How the soil was found.
    pub remark: Option<Remark>,
    /// Whose hand or telephone, so that two rounds at once are both kept.
    pub hand: String,
    /// Whether the grower said that its weight is right though it is odd.
    pub sure: bool,
}

/// A stretch in which nobody can water.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Away {
    /// Its name in the calendar it came from, unique there with its start.
    pub uid: String,
    /// Leaves, seconds since 1970.
    pub from: i64,
    /// Is back, seconds since 1970.
    pub to: i64,
    /// What for.
    pub words: String,
}

/// When the rounds are walked on a day at home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RoundTimes {
    /// The morning round.
    pub morning: Time,
    /// The evening round.
    pub evening: Time,
}

impl RoundTimes {
    /// Until the grower says otherwise.
    pub const USUAL: RoundTimes =
        RoundTimes { morning: Time::constant(6, 30, 0, 0), evening: Time::constant(19, 0, 0, 0) };
}

/// What it would cost to lose a tree's shoots to drought, beside the minutes of one watering.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Worth {
    /// In training: a lost twig grows again.
    Training,
    /// Like most.
    #[default]
    Standing,
    /// To be shown: a lost branch is a lost year or more.
    Show,
}

impl Worth {
    /// All, from least to most.
    pub const ALL: [Worth; 3] = [Worth::Training, Worth::Standing, Worth::Show];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Worth::Training => "training",
            Worth::Standing => "standing",
            Worth::Show => "show",
        }
    }

    /// The worth that goes by this word.
    pub fn from_key(key: &str) -> Option<Worth> {
        Worth::ALL.into_iter().find(|worth| worth.key() == key)
    }

    /// The worth in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Worth::Training => "grows again soon",
            Worth::Standing => "is set back",
            Worth::Show => "is lost for years",
        }
    }

    /// Loss of the tree's drying out over the cost of one watering, our estimate.
    pub fn loss_over_cost(self) -> f64 {
        match self {
            Worth::Training => 8.0,
            Worth::Standing => 20.0,
            Worth::Show => 50.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_weighing_needs_its_weight_and_a_watering_has_none() {
        assert_eq!(Deed::from_key("weighed", None), None);
        assert_eq!(Deed::from_key("watered", Some(Gram(900.0))), None);
        assert_eq!(Deed::from_key("weighed", Some(Gram(900.0))).and_then(Deed::grams), Some(Gram(900.0)));
    }
}
