//! The care after a repot: its timetable by days, what it says today, and what it does to water, feed and frost.

use dormancy::frost::{Facts, RootAge};
use jiff::{ToSpan, civil::Date};
use measure::{
    quantity::{Days, Share},
    sourced::{Sourced, Standing},
    stage::Stage,
    winter::{Hemisphere, Winter},
};
use water::after_cut::NO_FEED;

use super::record::days;

/// What is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Watered through, labelled, into shelter.
    Settle,
    /// Watered only as the surface dries.
    Sparing,
    /// Pushed, whether it stands firm.
    Push,
    /// Half sun.
    HalfSun,
    /// By steps to its full place.
    FullPlace,
    /// The first feed.
    FirstFeed,
    /// Running tips trimmed.
    TrimTips,
    /// Usual care, but nothing harsh.
    NothingHarsh,
    /// Roots kept warmer.
    WarmRoots,
}

/// A row of the timetable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// What.
    pub what: What,
    /// From and to which day after the repot, both counted.
    pub days: [u16; 2],
    /// What to do, in plain words.
    pub words: &'static str,
    /// What would change it; none where nothing would.
    pub unless: Option<&'static str>,
    /// How far to trust it.
    pub standing: Standing,
}

const CP: Standing = Standing::Practice;
const OURS: Standing = Standing::Estimate("a figure made for planning");

const fn r(
    what: What,
    days: [u16; 2],
    words: &'static str,
    unless: Option<&'static str>,
    standing: Standing,
) -> Row {
    Row { what, days, words, unless, standing }
}

/// The timetable, by its first days.
#[rustfmt::skip]
pub const ROWS: [Row; 9] = [
    r(What::Settle, [0, 0], "water it three times until the water runs clear; label it with the day and the cut; out of the wind, under less than half the sun, its pot above freezing", None, CP),
    r(What::Sparing, [1, 14], "water only as the surface dries; keep the soil mild; mist an evergreen", Some("the soil smells sour or brown roots slip: then they rot, and it needs an open mix at once"), CP),
    r(What::Push, [3, 3], "push the trunk: it must not move; tie it again if it does", None, CP),
    r(What::HalfSun, [14, 21], "half sun if the buds move", Some("leaves hang at dawn: back into the shade"), CP),
    r(What::FullPlace, [21, 28], "by steps to its full place; guard it from frost as if it were a stage further on", None, OURS),
    r(What::FirstFeed, [28, 42], "a first feed at half strength, only if new growth hardens", Some("nothing grows: wait"), CP),
    r(What::TrimTips, [42, 56], "tips that run away may be trimmed", None, CP),
    r(What::NothingHarsh, [60, 150], "care as usual, but leave its leaves on and bend nothing hard", None, CP),
    r(What::WarmRoots, [150, 365], "keep its roots five degrees warmer than usual until the summer after its first winter", None, OURS),
];

/// From this day after a repot on care is as usual but for the first winter: the day after tips were trimmed for the last time.
pub const USUAL_CARE: Sourced<i32> = Sourced { value: 57, standing: OURS };

/// Up to this day after a repot its own care is told in place of the next one's: while leaves are left on and nothing is bent hard.
pub const OWN_CARE: Sourced<i32> = Sourced { value: 150, standing: OURS };

/// Where a step stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Its days are over.
    Past,
    /// It is its time.
    Now,
    /// It lies ahead.
    Ahead,
}

/// A step of one tree's care.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// From this day.
    pub from: Date,
    /// To this day.
    pub to: Date,
    /// What.
    pub row: &'static Row,
    /// Where it stands today.
    pub state: State,
}

/// The care of a tree repotted on a day, with where each step stands today. Of a tree slipped into a larger pot no root was cut: it
/// is settled and pushed, and cared for as usual.
///
/// ```
/// use jiff::civil::date;
/// use measure::quantity::Share;
/// use season::repot::aftercare::{State, What, timetable};
///
/// let told = timetable(date(2027, 3, 10), Share(0.35), date(2027, 3, 27));
/// let now: Vec<What> = told.iter().filter(|step| step.state == State::Now).map(|step| step.row.what).collect();
/// assert_eq!(now, [What::HalfSun]);
/// assert_eq!(told[5].from, date(2027, 4, 7));
/// ```
pub fn timetable(repotted: Date, cut: Share, today: Date) -> Vec<Step> {
    let age = days(repotted, today);
    let is_cut = cut.0 > 0.0;
    let rows = ROWS.iter().filter(|row| is_cut || matches!(row.what, What::Settle | What::Push));
    rows.map(|row| {
        let [from, to] = row.days.map(i32::from);
        let state = match age {
            age if age > to => State::Past,
            age if age >= from => State::Now,
            _ => State::Ahead,
        };
        Step { from: repotted + from.days(), to: repotted + to.days(), row, state }
    })
    .collect()
}

/// What the timetable says today.
pub fn now(repotted: Date, cut: Share, today: Date) -> Vec<Step> {
    timetable(repotted, cut, today).into_iter().filter(|step| step.state == State::Now).collect()
}

/// The days from which the first feed may be given: the soonest, if growth hardens, and the latest wait.
pub fn no_feed_until(repotted: Date) -> [Date; 2] {
    NO_FEED.value.map(|days| repotted + (days as i64).days())
}

/// The days from which it goes by steps to its full place, and by which it stands there.
pub fn shade_until(repotted: Date) -> [Date; 2] {
    let row = ROWS.iter().find(|row| row.what == What::FullPlace);
    row.map_or([repotted; 2], |row| row.days.map(|day| repotted + i64::from(day).days()))
}

/// Light for a tree that was repotted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Light {
    /// Shelter: under half the sun, no wind.
    Shade,
    /// Half sun if buds move.
    HalfSun,
    /// By steps to its full place.
    Steps,
    /// As usual.
    Full,
}

/// Feed for a tree that was repotted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Feed {
    /// None, for so many days yet.
    None {
        /// Until it may first be given.
        left: Days,
    },
    /// Half strength, only if new growth hardens.
    IfGrowthHardens,
    /// Half strength.
    Half,
    /// As usual.
    Usual,
}

/// Days for which feed stays at half strength after the wait is over: four weeks.
pub const HALF_FEED: Sourced<f64> = Sourced { value: 28.0, standing: Standing::Practice };

/// Days in which frost is reckoned one stage stricter.
pub const STRICT: Sourced<i32> = Sourced { value: 28, standing: OURS };

/// Days after a root cut in which roots are kept warmer: to the end of the first winter.
pub const WARM: Sourced<i32> = Sourced { value: 365, standing: OURS };

/// What the round must heed of a tree whose roots were cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Care {
    /// Time since the cut.
    pub since: Days,
    /// Its light.
    pub light: Light,
    /// Its feed.
    pub feed: Feed,
    /// Water only as the surface dries.
    pub sparing: bool,
    /// Frost is reckoned one stage stricter.
    pub strict_frost: bool,
}

/// What the round must heed so long after a root cut; none once light and feed are as usual.
///
/// ```
/// use measure::quantity::Days;
/// use season::repot::aftercare::{Feed, Light, care};
///
/// let told = care(Days(10.5)).unwrap();
/// assert_eq!((told.light, told.feed), (Light::Shade, Feed::None { left: Days(17.5) }));
/// assert_eq!(care(Days(80.0)), None);
/// ```
pub fn care(since: Days) -> Option<Care> {
    let Days(age) = since;
    let [soon, late] = NO_FEED.value;
    if !(0.0..late + HALF_FEED.value).contains(&age) {
        return None;
    }
    let first = |what: What| {
        let row = ROWS.iter().find(|row| row.what == what);
        row.map_or(0.0, |row| f64::from(row.days[0]))
    };
    let last = |what: What| {
        let row = ROWS.iter().find(|row| row.what == what);
        row.map_or(0.0, |row| f64::from(row.days[1]))
    };
    let light = match age {
        age if age < first(What::HalfSun) => Light::Shade,
        age if age < first(What::FullPlace) => Light::HalfSun,
        age if age < last(What::FullPlace) => Light::Steps,
        _ => Light::Full,
    };
    let feed = match age {
        age if age < soon => Feed::None { left: Days(soon - age) },
        age if age < late => Feed::IfGrowthHardens,
        _ => Feed::Half,
    };
    let sparing = age < last(What::Sparing) + 1.0;
    Some(Care { since, light, feed, sparing, strict_frost: age < f64::from(STRICT.value) + 1.0 })
}

/// The last day of the raised line: the end of the year after the cut, and no sooner than the summer after the first winter.
///
/// ```
/// use jiff::civil::date;
/// use measure::winter::Hemisphere;
/// use season::repot::aftercare::raised_until;
///
/// assert_eq!(raised_until(date(2025, 3, 20), Hemisphere::North), date(2026, 6, 1));
/// assert_eq!(raised_until(date(2025, 10, 4), Hemisphere::North), date(2026, 10, 4));
/// assert_eq!(raised_until(date(2025, 9, 20), Hemisphere::South), date(2026, 11, 29));
/// ```
pub fn raised_until(repotted: Date, hemisphere: Hemisphere) -> Date {
    let winter = Winter::holding(repotted, hemisphere);
    let is_before_it = winter.day_number(repotted) < 1;
    let first = if is_before_it { winter } else { Winter { spring_year: winter.spring_year + 1, ..winter } };
    first.date(SUMMER).max(repotted + i64::from(WARM.value).days())
}

/// Day number on which summer begins: about 1 June in the north, and the end of November in the south.
const SUMMER: i32 = 152;

/// How old cut roots count in frost: fresh in the weeks of the timetable, settling while care goes by it, then cut within the year.
pub fn root_age(repotted: Date, cut: Share, today: Date, hemisphere: Hemisphere) -> RootAge {
    let age = days(repotted, today);
    if cut.0 <= 0.0 || age < 0 || today > raised_until(repotted, hemisphere) {
        RootAge::Old
    } else if age < USUAL_CARE.value {
        RootAge::Fresh
    } else if age <= OWN_CARE.value {
        RootAge::Settling
    } else {
        RootAge::FirstWinter
    }
}

/// What decides a tree's lines in frost, after a repot: its roots count as cut until the summer after their first winter, and for four
/// weeks its buds count as one stage further on. Of a tree slipped into a larger pot nothing changes.
///
/// What the facts say already stays: roots cut earlier that still count as such do.
///
/// ```
/// use dormancy::frost::{Candidates, Facts, RootAge};
/// use jiff::civil::date;
/// use measure::{quantity::Share, stage::Stage, taxon::Taxon, winter::Hemisphere};
/// use season::repot::aftercare::in_frost;
///
/// let taxon = Taxon::of("larix-decidua").unwrap();
/// let facts = Facts { taxon, candidates: Candidates::None, stage: Some(Stage::Dormant), roots: RootAge::Old };
/// let on = |day| in_frost(facts, date(2026, 3, 20), Share(0.3), day, Hemisphere::North).roots().line.value.0;
/// assert_eq!([date(2026, 4, 10), date(2026, 6, 10), date(2027, 1, 15)].map(on), [1.0, 0.0, -3.0]);
/// assert_eq!(on(date(2027, 6, 2)), -8.0);
/// ```
pub fn in_frost(facts: Facts, repotted: Date, cut: Share, today: Date, hemisphere: Hemisphere) -> Facts {
    let roots = root_age(repotted, cut, today, hemisphere);
    if roots == RootAge::Old {
        return facts;
    }
    let further = |stage: Stage| stage.next().unwrap_or(stage);
    let is_strict = days(repotted, today) <= STRICT.value;
    let stage = if is_strict { facts.stage.map(further) } else { facts.stage };
    Facts { roots: roots.max(facts.roots), stage, ..facts }
}

#[cfg(test)]
mod tests {
    use dormancy::frost::Candidates;
    use jiff::civil::date;
    use measure::taxon::Taxon;
    use water::after_cut::RootCut;

    use super::*;

    const DAY: Date = date(2027, 3, 10);
    const CUT: Share = Share(0.35);

    #[test]
    fn every_day_of_the_first_weeks_has_its_care_and_the_states_follow_each_other() {
        for age in 0..=56_i32 {
            let told = timetable(DAY, CUT, DAY + age.days());
            let now = told.iter().filter(|step| step.state == State::Now).count();
            assert!(now > 0, "day {age}");
            assert_eq!(now, super::now(DAY, CUT, DAY + age.days()).len());
        }
        let told = timetable(DAY, CUT, DAY + 400.days());
        assert!(told.iter().all(|step| step.state == State::Past));
    }

    #[test]
    fn a_tree_slipped_into_a_larger_pot_is_only_settled_and_pushed() {
        let told: Vec<What> = timetable(DAY, Share(0.0), DAY).iter().map(|step| step.row.what).collect();
        assert_eq!(told, [What::Settle, What::Push]);
    }

    #[test]
    fn the_days_of_the_pages_are_those_of_the_timetable() {
        let to = |what: What| ROWS.iter().find(|row| row.what == what).map(|row| i32::from(row.days[1]));
        assert_eq!(to(What::TrimTips), Some(USUAL_CARE.value - 1));
        assert_eq!(to(What::NothingHarsh), Some(OWN_CARE.value));
        let steps = |cut: Share| timetable(DAY, cut, DAY).len();
        assert_eq!(steps(RootCut::unnoted().value.likely), steps(CUT));
    }

    #[test]
    fn feed_and_light_come_back_by_steps() {
        assert_eq!(no_feed_until(DAY), [date(2027, 4, 7), date(2027, 4, 21)]);
        assert_eq!(shade_until(DAY), [date(2027, 3, 31), date(2027, 4, 7)]);
        let told = |age: f64| care(Days(age)).map(|it| (it.light, it.feed));
        assert_eq!(told(-1.0), None);
        assert_eq!(told(13.9).unwrap().0, Light::Shade);
        assert_eq!(told(20.0).unwrap().0, Light::HalfSun);
        assert_eq!(told(22.0).unwrap().0, Light::Steps);
        assert_eq!(told(29.0), Some((Light::Full, Feed::IfGrowthHardens)));
        assert_eq!(told(50.0), Some((Light::Full, Feed::Half)));
        assert_eq!(told(70.0), None);
    }

    #[test]
    fn frost_is_a_stage_stricter_for_four_weeks_and_roots_come_back_by_steps() {
        let taxon = Taxon::of("acer-palmatum").unwrap();
        let facts =
            Facts { taxon, candidates: Candidates::None, stage: Some(Stage::Swelling), roots: RootAge::Old };
        let on = |age: i32, cut| in_frost(facts, DAY, Share(cut), DAY + age.days(), Hemisphere::North);
        let above = |age: i32| on(age, 0.35).above().unwrap().line.value.0;
        assert_eq!([above(-1), above(0), above(28), above(29)], [-10.0, -7.0, -7.0, -10.0]);
        let age = |age: i32| on(age, 0.3).roots;
        assert_eq!([age(-1), age(0), age(56)], [RootAge::Old, RootAge::Fresh, RootAge::Fresh]);
        assert_eq!([age(57), age(150), age(151)].map(|it| it as u8), [2, 2, 1]);
        // From 10 March 2027 to the last day of May 2028, a leap year.
        assert_eq!([age(448), age(449)], [RootAge::FirstWinter, RootAge::Old]);
        assert_eq!(on(10, 0.0).roots, RootAge::Old, "nothing was cut");
        let grown = Facts { stage: Some(Stage::Grown), ..facts };
        let fresh = in_frost(grown, DAY, CUT, DAY, Hemisphere::North);
        assert_eq!(fresh.stage, Some(Stage::Grown), "there is no stage further");
    }

    #[test]
    fn the_south_keeps_the_raised_line_to_its_own_summer() {
        let roots = |today| root_age(date(2026, 4, 4), CUT, today, Hemisphere::South);
        assert_eq!(roots(date(2026, 5, 20)), RootAge::Fresh);
        assert_eq!(roots(date(2026, 8, 20)), RootAge::Settling);
        assert_eq!(roots(date(2027, 4, 4)), RootAge::FirstWinter);
        assert_eq!(roots(date(2027, 4, 5)), RootAge::Old);
    }
}
