//! What is meant for a limb this season, what was cut, and whether the one speaks against the other.

use jiff::civil::Date;
use measure::quantity::Millimetre;

/// What shall be done with a limb.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wish {
    /// Not cut, so that it thickens.
    LetRun,
    /// Cut back whenever it grows beyond so many nodes.
    KeepShort,
    /// Cut back once.
    Shorten,
    /// Taken off.
    Remove,
    /// Some shoots of a cluster taken off.
    Thin,
    /// Wired.
    Wire,
    /// Pulled by a guy.
    Guy,
    /// Not touched.
    LeaveAlone,
}

impl Wish {
    /// All.
    pub const ALL: [Wish; 8] = [
        Wish::LetRun,
        Wish::KeepShort,
        Wish::Shorten,
        Wish::Remove,
        Wish::Thin,
        Wish::Wire,
        Wish::Guy,
        Wish::LeaveAlone,
    ];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Wish::LetRun => "let-run",
            Wish::KeepShort => "keep-short",
            Wish::Shorten => "shorten",
            Wish::Remove => "remove",
            Wish::Thin => "thin",
            Wish::Wire => "wire",
            Wish::Guy => "guy",
            Wish::LeaveAlone => "leave-alone",
        }
    }

    /// The wish that goes by this word.
    pub fn from_key(key: &str) -> Option<Wish> {
        Wish::ALL.into_iter().find(|wish| wish.key() == key)
    }

    /// The wish in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Wish::LetRun => "let run",
            Wish::KeepShort => "keep short",
            Wish::Shorten => "shorten",
            Wish::Remove => "remove",
            Wish::Thin => "thin the cluster",
            Wish::Wire => "wire",
            Wish::Guy => "guy",
            Wish::LeaveAlone => "leave alone",
        }
    }

    /// Whether a cut of this kind goes against it.
    pub fn forbids(self, cut: CutKind) -> bool {
        match self {
            Wish::LetRun | Wish::LeaveAlone => true,
            Wish::KeepShort | Wish::Shorten | Wish::Thin | Wish::Wire | Wish::Guy => cut == CutKind::Remove,
            Wish::Remove => false,
        }
    }

    /// Whether a cut of this kind does what was meant, so that the intention may end.
    pub fn done_by(self, cut: CutKind) -> bool {
        matches!(
            (self, cut),
            (Wish::Remove, CutKind::Remove) | (Wish::Shorten, CutKind::Shorten) | (Wish::Thin, CutKind::Thin)
        )
    }
}

/// What is meant for a limb, or for all above it that has no intention of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Intention {
    /// The tree's key.
    pub tree: String,
    /// Which limb.
    pub limb: u32,
    /// The season it is for, by the year of its spring.
    pub season: i16,
    /// What.
    pub wish: Wish,
    /// Until it is this thick.
    pub until: Option<Millimetre>,
    /// To so many nodes.
    pub nodes: Option<u8>,
    /// By this day.
    pub by: Option<Date>,
    /// Which shoots stay, or anything else to know at the bench.
    pub which: String,
    /// Why.
    pub why: String,
    /// Since.
    pub made: Date,
    /// Ended on this day; an intention has no end of its own.
    pub ended: Option<Date>,
    /// How it ended.
    pub end: String,
}

impl Intention {
    /// Whether it holds on a day.
    pub fn holds(&self, day: Date) -> bool {
        self.made <= day && self.ended.is_none_or(|ended| day < ended)
    }

    /// Whether its day has passed undone.
    pub fn is_late(&self, day: Date) -> bool {
        self.holds(day) && self.by.is_some_and(|by| by < day)
    }
}

/// Kinds of cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutKind {
    /// The tip of a growing shoot.
    Pinch,
    /// Shoots back to a few nodes.
    Trim,
    /// The limb itself cut back.
    Shorten,
    /// Some shoots of a cluster.
    Thin,
    /// The whole limb.
    Remove,
}

impl CutKind {
    /// All.
    pub const ALL: [CutKind; 5] =
        [CutKind::Pinch, CutKind::Trim, CutKind::Shorten, CutKind::Thin, CutKind::Remove];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            CutKind::Pinch => "pinch",
            CutKind::Trim => "trim",
            CutKind::Shorten => "shorten",
            CutKind::Thin => "thin",
            CutKind::Remove => "remove",
        }
    }

    /// The kind that goes by this word.
    pub fn from_key(key: &str) -> Option<CutKind> {
        CutKind::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The kind in plain words, as done.
    pub fn words(self) -> &'static str {
        match self {
            CutKind::Pinch => "pinched",
            CutKind::Trim => "trimmed",
            CutKind::Shorten => "shortened",
            CutKind::Thin => "thinned",
            CutKind::Remove => "removed",
        }
    }
}

/// A cut on a limb.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The tree's key.
    pub tree: String,
    /// Which limb.
    pub limb: u32,
    /// When.
    pub day: Date,
    /// What.
    pub kind: CutKind,
    /// Nodes left.
    pub nodes: Option<u8>,
    /// Of the buds behind the cut, how many broke and how many there were, once counted.
    pub broke: Option<[u8; 2]>,
    /// Why it was done although an intention spoke against it.
    pub despite: String,
    /// Anything else.
    pub note: String,
}

/// What a limb is meant for on a day: its own intention, else that of the nearest limb below it which has one.
///
/// `intentions` are in the order they were made; `bearer` tells the limb that bears one.
pub fn meant<'a>(
    intentions: impl DoubleEndedIterator<Item = &'a Intention> + Clone,
    limb: u32,
    day: Date,
    bearer: impl Fn(u32) -> Option<u32>,
) -> Option<&'a Intention> {
    let mut at = Some(limb);
    // A circle of bearers cannot be longer than the limbs there are.
    for _ in 0..=u16::MAX {
        let here = at?;
        let own = intentions.clone().rev().find(|it| it.limb == here && it.holds(day));
        if own.is_some() {
            return own;
        }
        at = bearer(here);
    }
    None
}

/// Every open wish of the limbs that a limb bears, however far out.
pub fn above<'a>(
    intentions: impl Iterator<Item = &'a Intention>,
    limb: u32,
    day: Date,
    bearer: impl Fn(u32) -> Option<u32>,
) -> Vec<&'a Intention> {
    let borne = |mut at: u32| {
        for _ in 0..=u16::MAX {
            match bearer(at) {
                Some(below) if below == limb => return true,
                Some(below) => at = below,
                None => return false,
            }
        }
        false
    };
    intentions.filter(|it| it.holds(day) && borne(it.limb)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn intention(limb: u32, wish: Wish) -> Intention {
        Intention {
            tree: "old-maple".into(),
            limb,
            season: 2026,
            wish,
            until: None,
            nodes: None,
            by: Some(date(2026, 6, 1)),
            which: String::new(),
            why: String::new(),
            made: date(2026, 3, 1),
            ended: None,
            end: String::new(),
        }
    }

    #[test]
    fn a_branch_without_a_wish_of_its_own_follows_the_one_that_bears_it() {
        let wishes = [intention(1, Wish::LetRun), intention(4, Wish::Remove)];
        let bearer = |limb| match limb {
            0 => None,
            4 | 5 => Some(1),
            _ => Some(0),
        };
        let meant = |limb, day| meant(wishes.iter(), limb, day, bearer).map(|it| it.wish);
        assert_eq!(meant(5, date(2026, 5, 1)), Some(Wish::LetRun));
        assert_eq!(meant(4, date(2026, 5, 1)), Some(Wish::Remove));
        assert_eq!((meant(2, date(2026, 5, 1)), meant(5, date(2026, 2, 1))), (None, None));
    }

    #[test]
    fn what_a_branch_bears_has_its_wishes_too() {
        let wishes = [intention(5, Wish::LetRun), intention(1, Wish::KeepShort), intention(2, Wish::Remove)];
        let bearer = |limb| match limb {
            0 => None,
            5 => Some(4),
            4 => Some(1),
            _ => Some(0),
        };
        let borne: Vec<u32> =
            above(wishes.iter(), 1, date(2026, 5, 1), bearer).iter().map(|it| it.limb).collect();
        assert_eq!(borne, [5]);
    }

    #[test]
    fn only_the_cut_that_was_meant_ends_an_intention() {
        assert!(Wish::LetRun.forbids(CutKind::Pinch) && Wish::KeepShort.forbids(CutKind::Remove));
        assert!(!Wish::KeepShort.forbids(CutKind::Pinch) && !Wish::Remove.forbids(CutKind::Remove));
        assert!(Wish::Remove.done_by(CutKind::Remove) && !Wish::Remove.done_by(CutKind::Trim));
    }

    #[test]
    fn an_intention_past_its_day_is_late_until_it_is_ended() {
        let mut wish = intention(1, Wish::Remove);
        assert!(!wish.is_late(date(2026, 6, 1)) && wish.is_late(date(2026, 6, 2)));
        wish.ended = Some(date(2026, 6, 10));
        assert!(!wish.is_late(date(2026, 6, 10)));
    }
}
