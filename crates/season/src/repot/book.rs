//! The tree's book: what it had to bear, out of every record, each thing once; what is left of its year; when it last rested.

use collection::{
    event::{Work, WorkKind},
    layer::Way,
};
use jiff::civil::Date;
use measure::{
    quantity::{Days, Share},
    sourced::{Sourced, Standing},
    winter::{Hemisphere, Winter},
};
use pot::repot::insult::{Insult, Past, Strength};

use super::{
    record::{Record, days},
    root_cuts,
};

/// Which record an entry comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A repot as logged at the bench.
    Repot,
    /// A line of work.
    Work,
    /// A toll written down.
    Toll,
    /// Wires put on.
    Wire,
    /// A layer.
    Layer,
}

impl Source {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Source::Repot => "from the log of the repot",
            Source::Work => "from the work written down",
            Source::Toll => "as written down",
            Source::Wire => "from the wires put on",
            Source::Layer => "from the layers",
        }
    }
}

/// A line of the tree's book.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// When.
    pub day: Date,
    /// What.
    pub insult: Insult,
    /// What it cost.
    pub points: f64,
    /// Nobody wrote down how much: a usual share is taken.
    pub assumed_share: bool,
    /// Where it comes from.
    pub from: Source,
}

/// Shares taken where nobody wrote them down: wood of a hard prune, twigs of a trim.
pub const UNNOTED: Sourced<[Share; 2]> = Sourced {
    value: [Share(1.0 / 3.0), Share(1.0 / 3.0)],
    standing: Standing::Estimate("a third, where nobody wrote it down"),
};

/// Branches taken for a wiring of which nobody wrote them down: up to ten cost the same.
const UNNOTED_BRANCHES: u16 = 10;

/// A wire from this gauge on holds structure, mm (common practice: fine twigs take less).
const STRUCTURAL: f64 = 2.0;

/// The most roots that the rule of points was made for.
const MOST_CUT: f64 = 0.7;

/// The tree's book up to a day, the oldest first; each thing once, though two records tell of it.
///
/// A repot stands by its own log, not by its line of work as well; work stands by the toll of its day where there is one of that
/// kind; wiring by the wires. How a root cut was made is not written down, so none is taken for a light one.
pub fn book(record: &Record<'_>, today: Date) -> Vec<Entry> {
    let mut book = Vec::new();
    let mut enter = |day: Date, insult: Insult, assumed_share: bool, from: Source| {
        if day <= today {
            // Shares are held within the rule above, so that points are always told.
            let points = insult.points().unwrap_or(0.0);
            book.push(Entry { day, insult, points, assumed_share, from });
        }
    };
    for repot in record.repots {
        enter(repot.day, repotted(repot.cut, repot.bare), false, Source::Repot);
    }
    for work in &record.works {
        if let Some((insult, assumed)) = worked(work).filter(|_| !is_told_elsewhere(record, work)) {
            enter(work.day, insult, assumed, Source::Work);
        }
    }
    for toll in &record.tolls {
        enter(toll.day, toll.what, false, Source::Toll);
    }
    for (day, insult) in wired(record) {
        enter(day, insult, false, Source::Wire);
    }
    for layer in record.layers.iter().filter(|layer| layer.way != Way::Cutting) {
        if layer.tree == record.tree.key {
            enter(layer.day, Insult::LayerOn, false, Source::Layer);
        }
        let Some(apart) = layer.apart else { continue };
        if layer.tree == record.tree.key {
            enter(apart, Insult::LayerOffParent, false, Source::Layer);
        } else if layer.child.as_ref() == Some(&record.tree.key) {
            enter(apart, Insult::LayerOffNew, false, Source::Layer);
        }
    }
    book.sort_by_key(|entry| entry.day);
    book
}

fn repotted(cut: Share, bare: bool) -> Insult {
    if cut.0 > 0.0 || bare {
        Insult::RepotFull { cut: Share(cut.0.clamp(0.0, MOST_CUT)), bare }
    } else {
        Insult::SlipPot
    }
}

/// What a line of work cost, and whether its share was taken for granted.
fn worked(work: &Work) -> Option<(Insult, bool)> {
    let [prune, trim] = UNNOTED.value;
    Some(match work.kind {
        WorkKind::Repot => {
            let roots = root_cuts::worked(work);
            (repotted(roots.likely, false), !roots.is_noted())
        }
        WorkKind::SlipPot => (Insult::SlipPot, false),
        WorkKind::HardPrune => (Insult::HardPrune(prune), true),
        WorkKind::Trim => (Insult::Trim(trim), true),
        WorkKind::Wire => (Insult::WireStructural(UNNOTED_BRANCHES), true),
        WorkKind::Defoliate => (Insult::DefoliateFull, true),
        WorkKind::Fed | WorkKind::Other => return None,
    })
}

/// Whether another record of the same day tells of this work.
fn is_told_elsewhere(record: &Record<'_>, work: &Work) -> bool {
    let toll = |is_kind: fn(&Insult) -> bool| {
        record.tolls.iter().any(|toll| toll.day == work.day && is_kind(&toll.what))
    };
    match work.kind {
        WorkKind::Repot | WorkKind::SlipPot => record.repots.iter().any(|repot| repot.day == work.day),
        WorkKind::HardPrune => toll(|it| matches!(it, Insult::HardPrune(_))),
        WorkKind::Trim => toll(|it| matches!(it, Insult::Trim(_) | Insult::Pinch)),
        WorkKind::Wire => {
            toll(|it| matches!(it, Insult::WireStructural(_)))
                || record.wires.iter().any(|wire| wire.on == work.day)
        }
        WorkKind::Defoliate => {
            toll(|it| matches!(it, Insult::DefoliateFull | Insult::DefoliatePartial(_) | Insult::Decandle))
        }
        WorkKind::Fed | WorkKind::Other => false,
    }
}

/// Wires by the day they went on: structure counted by limbs, fine wire once; not where a toll of that day tells of it.
fn wired(record: &Record<'_>) -> Vec<(Date, Insult)> {
    let mut all: Vec<Date> = record.wires.iter().map(|wire| wire.on).collect();
    all.sort_unstable();
    all.dedup();
    let told = |day: Date| {
        let mut tolls = record.tolls.iter().filter(|toll| toll.day == day);
        tolls.any(|toll| matches!(toll.what, Insult::WireStructural(_)))
    };
    let of_day = |day: Date| {
        let on = || record.wires.iter().filter(move |wire| wire.on == day);
        let mut limbs: Vec<u32> =
            on().filter(|wire| wire.gauge.0 >= STRUCTURAL).map(|wire| wire.limb).collect();
        limbs.sort_unstable();
        limbs.dedup();
        let is_fine = on().any(|wire| wire.gauge.0 < STRUCTURAL);
        let structure = u16::try_from(limbs.len()).unwrap_or(u16::MAX);
        let structure = (structure > 0).then_some((day, Insult::WireStructural(structure)));
        structure.into_iter().chain(is_fine.then_some((day, Insult::WireDetail)))
    };
    all.into_iter().filter(|&day| !told(day)).flat_map(of_day).collect()
}

/// The book as the rules read it.
pub fn pasts(book: &[Entry], today: Date) -> Vec<Past> {
    let past = |entry: &Entry| Past { insult: entry.insult, ago: Days(f64::from(days(entry.day, today))) };
    book.iter().map(past).collect()
}

/// Points spent in the twelve months before a day.
pub fn spent(book: &[Entry], today: Date) -> f64 {
    book.iter().filter(|entry| f64::from(days(entry.day, today)) < YEAR).map(|entry| entry.points).sum()
}

/// Points left of the twelve months' on a day; below 0 when more was spent than the tree could bear.
pub fn left(strength: Strength, book: &[Entry], today: Date) -> f64 {
    strength.budget().points - spent(book, today)
}

const YEAR: f64 = 365.25;

/// How strong a tree counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Judged {
    /// How strong.
    pub strength: Strength,
    /// When that was judged; none where nobody did: normal is taken.
    pub day: Option<Date>,
    /// Judged more than a year ago.
    pub is_old: bool,
}

/// How strong a tree counts on a day: as last judged, else normal.
pub fn strength(record: &Record<'_>, today: Date) -> Judged {
    let last = record.vigours.iter().filter(|it| it.day <= today).max_by_key(|it| it.day);
    last.map_or(Judged { strength: Strength::Normal, day: None, is_old: false }, |it| Judged {
        strength: it.strength,
        day: Some(it.day),
        is_old: f64::from(days(it.day, today)) > YEAR,
    })
}

/// Points up to which a season counts as rest.
pub const RESTED: Sourced<f64> = Sourced {
    value: 0.3,
    standing: Standing::Estimate("no major and little else; put in points for planning"),
};
/// One season in so many is a rest.
pub const REST_IN: Sourced<usize> = Sourced { value: 4, standing: Standing::Practice };

/// When a tree last rested.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The seasons before this, the last first, each by the year of its spring with its points.
    pub seasons: Vec<(i16, f64)>,
    /// Seasons since one of rest: 1 when the last was; none where none is known.
    pub since: Option<u16>,
    /// The three seasons before were all of work: this one is for rest.
    pub is_due: bool,
}

/// When a tree last rested, by seasons from autumn to autumn.
///
/// A season without any line counts as rest only if the tree was here, or in the book, before it began.
pub fn rest(book: &[Entry], here_since: Option<Date>, today: Date, hemisphere: Hemisphere) -> Rest {
    let now = Winter::holding(today, hemisphere);
    let known = here_since.into_iter().chain(book.first().map(|entry| entry.day)).min();
    let back = known.map_or(0, |known| now.spring_year - Winter::holding(known, hemisphere).spring_year);
    let points = |season: i16| -> f64 {
        let within = book.iter().filter(|it| Winter::holding(it.day, hemisphere).spring_year == season);
        within.map(|entry| entry.points).sum()
    };
    let seasons: Vec<(i16, f64)> =
        (1..=back).map(|ago| now.spring_year - ago).map(|season| (season, points(season))).collect();
    let whole = |season: i16| {
        known.is_some_and(|known| known <= Winter { spring_year: season, hemisphere }.first_date())
    };
    let is_rest = |&(season, points): &(i16, f64)| points <= RESTED.value && whole(season);
    let worked = seasons.iter().take_while(|(_, points)| *points > RESTED.value).count();
    Rest {
        since: seasons.iter().position(is_rest).map(|at| at as u16 + 1),
        is_due: worked >= REST_IN.value - 1,
        seasons,
    }
}

#[cfg(test)]
mod tests {
    use collection::{
        repot::{Repot, Toll},
        wire::Wire,
    };
    use form::wire::metal::Metal;
    use jiff::civil::date;
    use measure::quantity::Millimetre;
    use pot::repot::insult::{Objection, objections};

    use super::*;
    use crate::repot::record::tests::{TODAY, repot, tree};

    fn work(day: Date, kind: WorkKind, roots: Option<f64>) -> Work {
        Work { tree: "maple".into(), day, kind, roots: roots.map(Share), note: String::new() }
    }

    fn toll(day: Date, what: Insult) -> Toll {
        Toll { tree: "maple".into(), day, what, note: String::new() }
    }

    fn wire(day: Date, limb: u32, gauge: f64) -> Wire {
        Wire {
            tree: "maple".into(),
            limb,
            on: day,
            metal: Metal::Aluminium,
            gauge: Millimetre(gauge),
            strands: 1,
            thick: None,
            bend: None,
            seen: None,
            off: None,
            outcome: None,
            grown_in: false,
            photo: None,
            note: String::new(),
        }
    }

    const SPRING: Date = date(2026, 3, 20);

    /// The examples of the reference set's account, from the records on.
    #[test]
    fn a_maple_repotted_in_spring_cannot_bear_half_its_leaves_taken() {
        let own = tree("maple", "acer-palmatum");
        let repots = [repot(SPRING, 0.35)];
        let book = book(&Record { repots: &repots, ..Record::of(&own) }, TODAY);
        assert!((spent(&book, TODAY) - 0.525).abs() < 1e-12, "0.53");
        assert!((left(Strength::Normal, &book, TODAY) - 0.275).abs() < 1e-12, "0.27");
        let leaves = Insult::DefoliatePartial(Share(0.5));
        let told = objections(leaves, Strength::Normal, &pasts(&book, TODAY)).unwrap();
        assert!(matches!(told[..], [Objection::OverBudget { .. }]), "{told:?}");
        assert_eq!(spent(&book, date(2027, 3, 21)), 0.0, "a year later it is forgiven");
    }

    #[test]
    fn an_old_conifer_loses_a_fifth_and_that_is_no_major() {
        let own = tree("pine", "pinus-parviflora");
        let repots = [repot(SPRING, 0.20)];
        let book = book(&Record { repots: &repots, ..Record::of(&own) }, TODAY);
        assert!((book[0].points - 0.30).abs() < 1e-12 && !book[0].insult.is_major().unwrap());
    }

    #[test]
    fn a_trident_loses_three_fifths_only_when_it_is_strong() {
        let cut = Insult::RepotFull { cut: Share(0.60), bare: false };
        assert!((cut.points().unwrap() - 0.90).abs() < 1e-12);
        let told = |strength| objections(cut, strength, &[]).unwrap();
        assert!(matches!(told(Strength::Normal)[..], [Objection::OverBudget { .. }]));
        assert_eq!(told(Strength::Strong), []);
    }

    #[test]
    fn what_two_records_tell_of_is_entered_once() {
        let own = tree("maple", "acer-palmatum");
        let repots = [repot(SPRING, 0.35)];
        let works = [
            work(SPRING, WorkKind::Repot, Some(0.35)),
            work(date(2026, 6, 10), WorkKind::Defoliate, None),
            work(date(2026, 11, 5), WorkKind::Wire, None),
            work(date(2026, 11, 30), WorkKind::Other, None),
        ];
        let tolls = [toll(date(2026, 6, 10), Insult::DefoliatePartial(Share(0.4)))];
        let wires = [
            wire(date(2026, 11, 5), 1, 3.0),
            wire(date(2026, 11, 5), 1, 2.5),
            wire(date(2026, 11, 5), 2, 2.0),
            wire(date(2026, 11, 5), 3, 1.0),
        ];
        let record = Record {
            repots: &repots,
            works: works.iter().collect(),
            tolls: tolls.iter().collect(),
            wires: wires.iter().collect(),
            ..Record::of(&own)
        };
        let told: Vec<(Insult, Source, bool)> = book(&record, TODAY)
            .into_iter()
            .map(|entry| (entry.insult, entry.from, entry.assumed_share))
            .collect();
        assert_eq!(
            told,
            [
                (Insult::RepotFull { cut: Share(0.35), bare: false }, Source::Repot, false),
                (Insult::DefoliatePartial(Share(0.4)), Source::Toll, false),
                (Insult::WireStructural(2), Source::Wire, false),
                (Insult::WireDetail, Source::Wire, false),
            ]
        );
    }

    #[test]
    fn work_without_a_share_takes_a_usual_one_and_says_so() {
        let own = tree("maple", "acer-palmatum");
        let works = [
            work(date(2026, 2, 20), WorkKind::Repot, None),
            work(date(2026, 3, 20), WorkKind::Repot, Some(0.2)),
            work(date(2026, 6, 1), WorkKind::HardPrune, None),
            work(date(2027, 6, 1), WorkKind::HardPrune, None),
        ];
        let book = book(&Record { works: works.iter().collect(), ..Record::of(&own) }, TODAY);
        let told: Vec<(f64, bool)> = book.iter().map(|entry| (entry.points, entry.assumed_share)).collect();
        for ((points, assumed), by_hand) in told.iter().zip([(0.495, true), (0.30, false), (0.4, true)]) {
            assert!((points - by_hand.0).abs() < 1e-12 && *assumed == by_hand.1, "{told:?}");
        }
        assert_eq!(told.len(), 3);
    }

    #[test]
    fn a_layer_costs_its_parent_and_its_child() {
        let layer = collection::layer::Layer {
            tree: "maple".into(),
            limb: 3,
            way: Way::AirLayer,
            day: date(2026, 5, 20),
            seen: None,
            roots: None,
            apart: Some(date(2026, 8, 20)),
            child: Some("young".into()),
            lean: None,
            note: String::new(),
        };
        let cost = |key: &str| {
            let own = tree(key, "acer-palmatum");
            spent(&book(&Record { layers: vec![&layer], ..Record::of(&own) }, TODAY), TODAY)
        };
        assert!((cost("maple") - 0.5).abs() < 1e-12 && (cost("young") - 0.8).abs() < 1e-12);
        assert_eq!(cost("stranger"), 0.0);
    }

    fn rested(years: &[(i16, f64)], since: Option<Date>) -> Rest {
        let own = tree("maple", "acer-palmatum");
        let repots: Vec<Repot> = years.iter().map(|&(year, cut)| repot(date(year, 3, 20), cut)).collect();
        let book = book(&Record { repots: &repots, ..Record::of(&own) }, TODAY);
        rest(&book, since, TODAY, Hemisphere::North)
    }

    #[test]
    fn after_three_seasons_of_work_a_rest_is_due() {
        let worked = [(2024, 0.3), (2025, 0.3), (2026, 0.3)];
        let told = rested(&worked, None);
        assert!(told.is_due && told.since.is_none(), "{told:?}");
        let told = rested(&[(2024, 0.3), (2025, 0.1), (2026, 0.3)], None);
        assert_eq!((told.is_due, told.since), (false, Some(2)));
        let told = rested(&worked, Some(date(2020, 1, 1)));
        assert_eq!((told.is_due, told.since), (true, Some(4)));
    }

    #[test]
    fn a_season_that_nobody_knows_of_is_no_rest() {
        assert_eq!(rested(&[], None).since, None);
        assert_eq!(rested(&[], Some(date(2026, 1, 10))).since, None, "it came in the middle of that season");
        assert_eq!(rested(&[], Some(date(2025, 8, 10))).since, Some(1));
    }

    #[test]
    fn the_last_judgement_counts_and_an_old_one_says_so() {
        let own = tree("maple", "acer-palmatum");
        let vigour = |day, strength| collection::standing::Vigour {
            tree: "maple".into(),
            day,
            strength,
            why: String::new(),
        };
        let vigours = [vigour(date(2025, 6, 1), Strength::Weak), vigour(date(2027, 6, 1), Strength::Strong)];
        let told = strength(&Record { vigours: &vigours, ..Record::of(&own) }, TODAY);
        assert_eq!((told.strength, told.is_old), (Strength::Weak, true));
        assert_eq!(strength(&Record::of(&own), TODAY).day, None);
    }
}
