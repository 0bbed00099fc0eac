//! Whether a tree is due for a repot, out of its records.

use collection::event::WorkKind;
use jiff::civil::Date;
use measure::{
    quantity::{Seconds, Years},
    range::OutOfRange,
    sourced::{Sourced, Standing},
};
use pot::{
    repot::{
        due::{Due, Seen, due as reckon},
        roots::Age,
    },
    table::SizeClass,
};

use super::record::{Record, days};

/// Which record tells of the last repot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LastFrom {
    /// The log of a repot.
    Repot,
    /// A line of work.
    Work,
    /// The day it was put into its pot.
    Potted,
}

impl LastFrom {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            LastFrom::Repot => "from the log of its repot",
            LastFrom::Work => "from the work written down",
            LastFrom::Potted => "since it stands in its pot",
        }
    }
}

/// Whether a tree is due, and by what.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The signs and what they come to.
    pub due: Due,
    /// What was seen in the pot since the last repot that was written down.
    pub seen: Seen,
    /// How old it counts.
    pub age: Age,
    /// Nobody said how old it counts: refined is taken.
    pub age_assumed: bool,
    /// Its size.
    pub size: SizeClass,
    /// Nobody measured it: kifu is taken, the middle one.
    pub size_assumed: bool,
    /// When it was last repotted, and which record says so.
    pub last: Option<(Date, LastFrom)>,
}

/// Longer than this for the last of three passes of water drains slowly.
pub const SLOW: Sourced<Seconds> =
    Sourced { value: Seconds(30.0), standing: Standing::Estimate("a sign put in seconds for planning") };

/// When the tree was last repotted: by its log, else by its work, else since it stands in its pot. Being slipped into a larger pot
/// is no repot: the old soil is still there. Nor is a move into a box where a pot broke: without log and work the last potting counts
/// that was into no training pot, else the first of all.
pub fn last(record: &Record<'_>, today: Date) -> Option<(Date, LastFrom)> {
    let logs = record.repots.iter().filter(|it| it.day <= today && (it.cut.0 > 0.0 || it.bare));
    let logged = logs.map(|repot| (repot.day, LastFrom::Repot)).max_by_key(|told| told.0);
    let works = record.works.iter().filter(|work| work.kind == WorkKind::Repot && work.day <= today);
    let worked = works.map(|work| (work.day, LastFrom::Work)).max_by_key(|told| told.0);
    // The later of the two; the log on the same day.
    let known = match (logged, worked) {
        (Some(log), Some(work)) => Some(if work.0 > log.0 { work } else { log }),
        (log, work) => log.or(work),
    };
    known.or_else(|| {
        let pottings = || record.pottings.iter().filter(|(day, _)| *day <= today);
        let shown = pottings().filter(|(_, training)| !training).map(|it| it.0).max();
        let first = || pottings().map(|it| it.0).min();
        let since = || record.stands_in.map(|it| it.since).filter(|since| *since <= today);
        Some((shown.or_else(first).or_else(since)?, LastFrom::Potted))
    })
}

/// What was seen in the pot since the last repot; of the drain only the last look counts. A potting without log or work takes no sign
/// away.
fn seen(record: &Record<'_>, last: Option<(Date, LastFrom)>, today: Date) -> Seen {
    let since = last.filter(|told| told.1 != LastFrom::Potted).map(|told| told.0);
    let looks = || {
        let looks = record.pot_looks.iter().filter(move |look| look.day <= today);
        looks.filter(move |look| since.is_none_or(|since| look.day > since))
    };
    let drained = looks().filter(|look| look.drained.is_some()).max_by_key(|look| look.day);
    let falling = looks().max_by_key(|look| look.day).is_some_and(|look| look.falling);
    let wants_show = record.meant.is_some_and(|meant| meant.show);
    Seen {
        drains_slowly: drained.and_then(|look| look.drained).is_some_and(|time| time > SLOW.value),
        twice_a_day: looks().any(|look| look.twice_a_day),
        rocks: looks().any(|look| look.rocks),
        roots: looks().any(|look| look.roots),
        crumbled: looks().any(|look| look.crumbled),
        show: wants_show && record.stands_in.is_some_and(|it| it.ware.training),
        falling,
        years: last.map(|told| Years(f64::from(days(told.0, today)) / 365.25)),
    }
}

/// Whether the tree is due.
///
/// # Errors
///
/// [`OutOfRange`] when its last repot is more than a hundred years ago.
pub fn due(record: &Record<'_>, today: Date) -> Result<Told, OutOfRange> {
    let said = record.grown.and_then(|it| it.age);
    let (age, age_assumed) = (said.unwrap_or(Age::Middle), said.is_none());
    let stature = record.stature();
    let size = stature.map_or(SizeClass::Kifu, |it| SizeClass::of_height(it.height));
    let last = last(record, today);
    let seen = seen(record, last, today);
    let due = reckon(record.work(), age, size, &seen)?;
    Ok(Told { due, seen, age, age_assumed, size, size_assumed: stature.is_none(), last })
}

#[cfg(test)]
mod tests {
    use collection::{event::Work, repot::PotLook, ware::Ware};
    use jiff::civil::date;
    use pot::repot::due::{Sign, Verdict};

    use super::*;
    use crate::repot::record::{
        StandsIn,
        tests::{TODAY, mix, tray, tree},
    };

    fn look(day: Date) -> PotLook {
        PotLook { tree: "maple".into(), day, ..PotLook::default() }
    }

    #[test]
    fn signs_from_before_the_last_repot_are_gone() {
        let own = tree("maple", "acer-palmatum");
        let old = PotLook { rocks: true, drained: Some(Seconds(90.0)), ..look(date(2024, 9, 1)) };
        let new = PotLook { roots: true, drained: Some(Seconds(40.0)), ..look(date(2026, 9, 1)) };
        let looks = [old, new];
        let work = Work {
            tree: "maple".into(),
            day: date(2025, 3, 15),
            kind: WorkKind::Repot,
            roots: None,
            note: String::new(),
        };
        let record = Record { pot_looks: &looks, works: vec![&work], ..Record::of(&own) };
        let told = due(&record, TODAY).unwrap();
        let signs: Vec<Sign> = told.due.signs.iter().map(|sign| sign.0).collect();
        assert_eq!(signs, [Sign::DrainsSlowly, Sign::RootsSeen, Sign::Years]);
        assert_eq!((told.last, told.due.verdict), (Some((work.day, LastFrom::Work)), Verdict::Watch));
        assert!(told.age_assumed && told.size_assumed);
        let before = due(&record, date(2025, 1, 1)).unwrap();
        assert!(before.last.is_none() && before.due.years_unknown && before.seen.rocks);
    }

    #[test]
    fn the_last_look_says_how_it_drains() {
        let own = tree("maple", "acer-palmatum");
        let slow = PotLook { drained: Some(Seconds(50.0)), ..look(date(2026, 5, 1)) };
        let quick = PotLook { drained: Some(Seconds(12.0)), ..look(date(2026, 9, 1)) };
        let looks = [slow, quick, look(date(2026, 10, 1))];
        let told = due(&Record { pot_looks: &looks, ..Record::of(&own) }, TODAY).unwrap();
        assert!(!told.seen.drains_slowly);
    }

    #[test]
    fn a_box_after_a_broken_pot_is_no_repot() {
        let own = tree("maple", "acer-palmatum");
        let looks = [PotLook { rocks: true, roots: true, ..look(date(2025, 9, 1)) }];
        let ((pot, ware), mix) = (tray("box", [30.0, 22.0, 9.0]), mix());
        let (potted, broken) = (date(2018, 3, 20), date(2027, 1, 12));
        let stands_in = Some(StandsIn { pot: &pot, ware: &ware, mix: &mix, since: broken });
        let pottings = vec![(date(2015, 3, 1), true), (potted, false), (broken, true)];
        let record = Record { pot_looks: &looks, stands_in, pottings, ..Record::of(&own) };
        let told = due(&record, TODAY).unwrap();
        assert_eq!(told.last, Some((potted, LastFrom::Potted)));
        assert!(told.seen.rocks && told.seen.roots && told.seen.years.is_some_and(|it| it.0 > 8.8));
        let boxes = Record { pottings: vec![(date(2015, 3, 1), true), (broken, true)], ..record.clone() };
        assert_eq!(last(&boxes, TODAY), Some((date(2015, 3, 1), LastFrom::Potted)));
        let work = Work {
            tree: "maple".into(),
            day: broken,
            kind: WorkKind::Repot,
            roots: None,
            note: String::new(),
        };
        let told = due(&Record { works: vec![&work], ..record }, TODAY).unwrap();
        assert_eq!((told.last, told.seen.rocks), (Some((broken, LastFrom::Work)), false));
    }

    #[test]
    fn a_tree_meant_for_show_wants_out_of_its_training_pot() {
        let own = tree("maple", "acer-palmatum");
        let ((pot, ware), mix) = (tray("box", [30.0, 22.0, 9.0]), mix());
        let training = Ware { training: true, ..ware.clone() };
        let meant = collection::repot::Meant {
            tree: "maple".into(),
            season: 2027,
            repot: true,
            cut: None,
            mix: None,
            show: true,
            why: String::new(),
        };
        let show = |ware: &Ware| {
            let stands_in = Some(StandsIn { pot: &pot, ware, mix: &mix, since: date(2025, 3, 1) });
            let record = Record { stands_in, meant: Some(&meant), ..Record::of(&own) };
            let told = due(&record, TODAY).unwrap();
            (told.seen.show, told.last)
        };
        assert_eq!(show(&training), (true, Some((date(2025, 3, 1), LastFrom::Potted))));
        assert!(!show(&ware).0);
    }
}
