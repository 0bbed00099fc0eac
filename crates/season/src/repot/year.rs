//! Which year's repots are planned, and whether a tree's is among them.

use collection::{layer::Way, repot::Meant};
use jiff::civil::Date;
use measure::{
    quantity::Share,
    winter::{Hemisphere, Winter},
};
use pot::repot::{due::Verdict, insult::Strength};

use super::{cut::CutToday, due::Told, record::Record};

/// The year in which the season's repots fall: from September on the coming one, in the south from March on the present one.
///
/// ```
/// use jiff::civil::date;
/// use measure::winter::Hemisphere;
/// use season::repot::year::season_of;
///
/// assert_eq!(season_of(date(2026, 8, 31), Hemisphere::North), 2026);
/// assert_eq!(season_of(date(2026, 9, 1), Hemisphere::North), 2027);
/// assert_eq!(season_of(date(2026, 9, 1), Hemisphere::South), 2026);
/// ```
pub fn season_of(today: Date, hemisphere: Hemisphere) -> i16 {
    Winter::holding(today, hemisphere).spring_year
}

/// Why a tree is repotted this season, or not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// The grower said so, with the reason.
    Word(String),
    /// So many points of signs ask for it.
    Signs(u8),
    /// So many points of signs do not ask for it.
    FewSigns(u8),
    /// It was repotted this season already.
    Done(Date),
    /// It is sick: rescue only.
    Sick,
    /// It is weak: light, water and patience come first.
    Weak,
    /// What it had to bear this year leaves no more than so many hundredths of its roots to be cut.
    Spent(u8),
    /// After three seasons of work it rests.
    Rest,
    /// A layer is on it; meanwhile it keeps its roots.
    Layer,
    /// The verdict bars it for all of this season, for this.
    Barred(String),
    /// Its leaves are out: roots cut now cannot give what they demand.
    Missed,
}

impl Why {
    /// In plain words.
    pub fn words(&self) -> String {
        match self {
            Why::Word(why) if why.is_empty() => "you said so".into(),
            Why::Word(why) => format!("you said so: {why}"),
            Why::Signs(points) => format!("{points} points of signs ask for it"),
            Why::FewSigns(0) => "no sign asks for it".into(),
            Why::FewSigns(1) => "only 1 point of signs asks for it".into(),
            Why::FewSigns(points) => format!("only {points} points of signs ask for it"),
            Why::Done(day) => format!("it was repotted on {day}"),
            Why::Sick => "it is sick; only a rescue is worth the risk".into(),
            Why::Weak => "it is weak; light, water and patience come first".into(),
            Why::Spent(percent) => {
                format!("it had enough to bear this year: no more than {percent} % of its roots could be cut")
            }
            Why::Rest => "three seasons of work are behind it; this one is for rest".into(),
            Why::Missed => "its window is over: in leaf it keeps its roots; if the soil fails, slip it into a larger pot or open the drainage, and cut no root".into(),
            Why::Barred(why) => why.clone(),
            Why::Layer => "a layer is on it; it keeps its roots until that is off".into(),
        }
    }
}

/// Whether a tree is repotted this season.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Goes {
    /// It is, and why; what speaks against it is told all the same.
    Yes {
        /// Why.
        why: Why,
        /// What speaks against it.
        against: Vec<Why>,
    },
    /// It is not, and why.
    No(Vec<Why>),
}

impl Goes {
    /// Whether it is.
    pub fn is_yes(&self) -> bool {
        matches!(self, Goes::Yes { .. })
    }
}

/// A tree of which less may be cut is not lifted for it (our choice).
const WORTH_LIFTING: Share = Share(0.10);

/// Whether no root is meant to be cut: the tree is slipped into a larger pot.
fn is_slip(meant: &Meant) -> bool {
    meant.cut == Some(Share(0.0))
}

/// Whether a tree is repotted this season: the grower's word first, then what bars it, then the signs.
///
/// In leaf no root is cut, whoever says so; only a tree of which the grower means to cut none goes then, into a larger pot. A tree that
/// nobody wants repotted is not called late.
pub fn goes(record: &Record<'_>, told: &Told, cut: &CutToday, today: Date, hemisphere: Hemisphere) -> Goes {
    let season = season_of(today, hemisphere);
    let done = told
        .last
        .filter(|(day, from)| *from != super::due::LastFrom::Potted && season_of(*day, hemisphere) == season);
    let mut against: Vec<Why> = done.map(|(day, _)| Why::Done(day)).into_iter().collect();
    match cut.judged.strength {
        Strength::Sick => against.push(Why::Sick),
        Strength::Weak => against.push(Why::Weak),
        _ if cut.today.limit < WORTH_LIFTING => {
            against.push(Why::Spent((100.0 * cut.today.limit.0).floor() as u8));
        }
        Strength::Normal | Strength::Strong => {}
    }
    if cut.rest.is_due {
        against.push(Why::Rest);
    }
    let layers = record.layers.iter().filter(|layer| layer.tree == record.tree.key);
    if layers
        .filter(|layer| layer.way != Way::Cutting && layer.day <= today)
        .any(|layer| layer.apart.is_none_or(|apart| today < apart))
    {
        against.push(Why::Layer);
    }
    let points = told.due.points;
    let meant = record.meant.filter(|meant| meant.season == season);
    let is_wanted = meant.map_or(told.due.verdict == Verdict::Plan, |meant| meant.repot && !is_slip(meant));
    let is_over = record.missed && done.is_none() && is_wanted;
    match meant {
        Some(meant) if !meant.repot => Goes::No(vec![Why::Word(meant.why.clone())]),
        // Not even the grower's word brings roots back that are cut in leaf.
        _ if is_over => Goes::No(against.into_iter().chain([Why::Missed]).collect()),
        // What the tree cannot take this season it does not get, whoever asks.
        _ if done.is_none() && is_wanted && record.barred.is_some() => {
            Goes::No(record.barred.iter().cloned().map(Why::Barred).collect())
        }
        // What is done is done: a word from before does not ask for it twice.
        Some(meant) if done.is_none() => Goes::Yes { why: Why::Word(meant.why.clone()), against },
        _ if !against.is_empty() => Goes::No(against),
        _ if told.due.verdict == Verdict::Plan => Goes::Yes { why: Why::Signs(points), against },
        _ => Goes::No(vec![Why::FewSigns(points)]),
    }
}

#[cfg(test)]
mod tests {
    use collection::{
        repot::{Meant, PotLook},
        standing::Vigour,
    };
    use jiff::civil::date;
    use measure::quantity::Seconds;
    use pot::repot::insult::Insult;

    use super::*;
    use crate::repot::{
        cut,
        due::due,
        record::tests::{TODAY, repot, tree},
    };

    fn told(record: &Record<'_>) -> Goes {
        let cut = cut::today(record, TODAY, Hemisphere::North).unwrap();
        goes(record, &due(record, TODAY).unwrap(), &cut, TODAY, Hemisphere::North)
    }

    fn meant(season: i16, repot: bool) -> Meant {
        Meant { tree: "maple".into(), season, repot, cut: None, mix: None, show: false, why: "show".into() }
    }

    fn slow() -> [PotLook; 1] {
        let day = date(2026, 9, 1);
        let drained = Some(Seconds(60.0));
        [PotLook { tree: "maple".into(), day, drained, rocks: true, roots: true, ..PotLook::default() }]
    }

    #[test]
    fn signs_plan_it_and_the_growers_word_goes_before_them() {
        let own = tree("maple", "acer-palmatum");
        let looks = slow();
        let due = Record { pot_looks: &looks, ..Record::of(&own) };
        assert_eq!(told(&due), Goes::Yes { why: Why::Signs(6), against: vec![] });
        let (no, yes, last) = (meant(2027, false), meant(2027, true), meant(2026, true));
        assert_eq!(
            told(&Record { meant: Some(&no), ..due.clone() }),
            Goes::No(vec![Why::Word("show".into())])
        );
        assert!(told(&Record { meant: Some(&yes), ..Record::of(&own) }).is_yes());
        assert_eq!(
            told(&Record { meant: Some(&last), ..Record::of(&own) }),
            Goes::No(vec![Why::FewSigns(0)])
        );
    }

    #[test]
    fn a_sick_tree_and_one_with_a_layer_stay_but_for_the_growers_word() {
        let own = tree("maple", "acer-palmatum");
        let looks = slow();
        let sick = [Vigour {
            tree: "maple".into(),
            day: date(2027, 1, 5),
            strength: Strength::Sick,
            why: String::new(),
        }];
        let layer = collection::layer::Layer {
            tree: "maple".into(),
            limb: 1,
            way: Way::AirLayer,
            day: date(2026, 5, 20),
            seen: None,
            roots: None,
            apart: None,
            child: None,
            lean: None,
            note: String::new(),
        };
        let record = Record { pot_looks: &looks, vigours: &sick, layers: vec![&layer], ..Record::of(&own) };
        assert_eq!(told(&record), Goes::No(vec![Why::Sick, Why::Layer]));
        let yes = meant(2027, true);
        let Goes::Yes { against, .. } = told(&Record { meant: Some(&yes), ..record }) else { panic!() };
        assert_eq!(against, [Why::Sick, Why::Layer]);
    }

    #[test]
    fn a_tree_that_bore_enough_this_year_waits() {
        let own = tree("maple", "acer-palmatum");
        let looks = slow();
        let bent = collection::repot::Toll {
            tree: "maple".into(),
            day: date(2026, 11, 1),
            what: Insult::HeavyBend(2),
            note: String::new(),
        };
        let weak = [Vigour {
            tree: "maple".into(),
            day: date(2027, 1, 5),
            strength: Strength::Weak,
            why: String::new(),
        }];
        let record = Record { pot_looks: &looks, tolls: vec![&bent], ..Record::of(&own) };
        assert_eq!(told(&record), Goes::No(vec![Why::Spent(0)]));
        let record = Record { pot_looks: &looks, vigours: &weak, ..Record::of(&own) };
        assert_eq!(told(&record), Goes::No(vec![Why::Weak]));
    }

    #[test]
    fn what_was_repotted_this_season_is_not_planned_again() {
        let own = tree("maple", "acer-palmatum");
        let repots = [repot(date(2027, 2, 1), 0.3)];
        let yes = meant(2027, true);
        let record = Record { repots: &repots, meant: Some(&yes), ..Record::of(&own) };
        assert_eq!(told(&record), Goes::No(vec![Why::Done(date(2027, 2, 1))]));
    }

    #[test]
    fn in_leaf_a_tree_keeps_its_roots_whoever_asks_but_it_may_be_slipped() {
        let own = tree("maple", "acer-palmatum");
        let look = PotLook {
            tree: "maple".into(),
            day: date(2027, 1, 20),
            drained: Some(Seconds(50.0)),
            rocks: true,
            roots: true,
            ..PotLook::default()
        };
        let looks = [look];
        let record = Record { pot_looks: &looks, ..Record::of(&own) };
        assert!(told(&record).is_yes());
        let late = Record { missed: true, ..record };
        assert_eq!(told(&late), Goes::No(vec![Why::Missed]));
        let meant = Meant {
            tree: "maple".into(),
            season: 2027,
            repot: true,
            cut: None,
            mix: None,
            show: false,
            why: String::new(),
        };
        let said = Record { meant: Some(&meant), ..late.clone() };
        assert_eq!(told(&said), Goes::No(vec![Why::Missed]));
        let slip = Meant { cut: Some(Share(0.0)), ..meant };
        let said = Record { meant: Some(&slip), ..late };
        assert_eq!(told(&said), Goes::Yes { why: Why::Word(String::new()), against: vec![] });
        let calm = Record { missed: true, ..Record::of(&own) };
        assert_eq!(told(&calm), Goes::No(vec![Why::FewSigns(0)]), "nobody wanted it repotted");
    }
}
