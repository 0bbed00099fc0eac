//! Bad days of a place, out of its logger: when, how far off or how cold, which trees stood there, and what it cost each in cold and in
//! days; those that nobody answered yet, and those the grower kept.

mod frost;
mod kept;

use collection::incident::{Cause, Cost, Incident as Record, Said, Under};
use dormancy::chill::{ChillModel, sum};
use jiff::{
    Timestamp,
    civil::{Date, DateTime},
    tz::TimeZone,
};
use measure::{quantity::Celsius, stage::Stage};
use pot::repot::insult::Strength;
use season::{
    air::{PlaceAir, Spot},
    ground::Ground,
    odd_hours::OddHours,
    window::Outlook,
};

use crate::{
    whole::{PlaceWhole, TreeWhole, Whole, facts, stand, stands},
    words,
};

pub use kept::{Kept, of as kept_of, of_tree};

/// A tree that stood in the place.
#[derive(Clone, Debug, PartialEq)]
pub struct Touched {
    /// In addresses.
    pub key: String,
    /// What the grower calls it.
    pub name: String,
    /// Days of cold it lost by that; less than 0 where it gained some.
    pub cold: f64,
    /// Days by which its buds are full later; none where that is not known.
    pub later: Option<i32>,
    /// The line that was passed by most.
    pub under: Option<Under>,
    /// What it came to, in words.
    pub words: String,
    /// What to look at.
    pub look: &'static str,
}

/// A stretch of hours that do not go with the others, or that were too cold for a tree that stood there.
#[derive(Clone, Debug, PartialEq)]
pub struct Incident {
    /// What it was.
    pub cause: Cause,
    /// From and to, seconds since 1970.
    pub span: [i64; 2],
    /// How many hours were odd or too cold.
    pub hours: usize,
    /// The lowest and the highest read in it.
    pub read: [Celsius; 2],
    /// What was to be expected where it was furthest off.
    pub expected: Option<Celsius>,
    /// First and last day.
    pub days: [Date; 2],
    /// What happened, in words.
    pub words: String,
    /// The trees that stood there, those to look at first before others.
    pub trees: Vec<Touched>,
    /// The sensors of the place by their names, where it has more than one.
    pub sensors: Vec<String>,
    /// It has gone on since it was kept.
    pub goes_on: bool,
}

/// What to look at: warm hours, cold ones, roots below their line, leaves and buds below theirs, roots that did not freeze.
const LOOKS: [&str; 5] = [
    "look at the buds: swelling after warm hours is tender in frost (common practice, no source)",
    "look for soft or dark buds and bark (common practice, no source)",
    "once thawed, tip it out and look at the outer roots: white and firm, or brown and soft; keep it shaded and just moist until that is \
     known, and prune nothing (common practice, no source)",
    "look in a few days, when it shows: limp or black leaves, soft buds, dark bark under a scratch; cut nothing before it is clear what \
     died (common practice, no source)",
    "the pot did not freeze, but was colder than is planned for it: stand it where it stays above its line, cool and in no heated room while it \
     rests, and water little (common practice, no source)",
];

/// Hours by which a stretch may outgrow what was kept of it and still be the same.
const SAME: i64 = 6 * 3600;

/// Cold hours between which so many others may lie in one cold spell: a day and what a frosty night leaves of the next.
const ONE_SPELL: usize = 24;

/// The bad days of a place in this winter that nobody answered yet, the last first.
pub fn of_place(whole: &Whole, rank: usize) -> &[Incident] {
    let all = whole.bad_days.get_or_init(|| (0..whole.places.len()).map(|it| found(whole, it)).collect());
    all.get(rank).map_or(&[], Vec::as_slice)
}

/// Days for which odd hours are asked about on Today, and those that were too cold, which Tonight told of before.
const RECENT: [i32; 2] = [14, 3];

/// A bad day as Today asks about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Recent {
    /// The place: in addresses, and its name.
    pub place: [String; 2],
    /// It.
    pub incident: Incident,
}

/// Trees of a bad day that Today names.
const NAMED: usize = 3;

impl Recent {
    /// The trees to look at first.
    pub fn first(&self) -> &[Touched] {
        &self.incident.trees[..self.incident.trees.len().min(NAMED)]
    }
}

/// Of each place the last odd stretch of the last fortnight and the last that was too cold of the last days, where trees stood and nobody
/// answered yet.
pub fn recent(whole: &Whole) -> Vec<Recent> {
    let mut told = Vec::new();
    for (rank, place) in whole.places.iter().enumerate() {
        // Of a bench that only the station's air tells of, Tonight and its morning say enough.
        let has_log = place.air.as_ref().is_some_and(|air| air.logged > 0);
        for (is_frost, days) in [false, true].into_iter().zip(RECENT) {
            let is_recent = |it: &&Incident| (whole.today - it.days[1]).get_days() <= days;
            let of_kind =
                |it: &&Incident| (it.cause == Cause::Frost) == is_frost && has_log && !it.trees.is_empty();
            let last = of_place(whole, rank).iter().filter(of_kind).find(is_recent);
            told.extend(last.map(|incident| Recent {
                place: [&place.place.key, &place.place.name].map(Clone::clone),
                incident: incident.clone(),
            }));
        }
    }
    told
}

/// The record of a bad day of a place that its page shows; none where it shows none of that stretch.
pub fn record(whole: &Whole, place: &str, span: [i64; 2]) -> Option<Record> {
    let rank = whole.places.iter().position(|it| it.place.key == place)?;
    let it = of_place(whole, rank).iter().find(|it| it.span == span)?;
    let cost = |tree: &Touched| Cost {
        tree: tree.key.clone(),
        cold: tree.cold,
        later: tree.later,
        under: tree.under,
    };
    Some(Record {
        place: place.into(),
        cause: it.cause,
        said: Said::Happened,
        sensor: None,
        span,
        hours: u32::try_from(it.hours).ok()?,
        lowest: it.read[0],
        highest: it.read[1],
        expected: it.expected,
        day: whole.today,
        trees: it.trees.iter().map(cost).collect(),
    })
}

fn spot(whole: &Whole) -> Option<Spot> {
    whole.site.as_ref().map(|it| Spot { latitude: it.latitude, longitude: it.longitude })
}

/// A moment by the clock of the site.
fn local(whole: &Whole, at: i64) -> DateTime {
    let zone = whole.site.as_ref().and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    Timestamp::from_second(at).map_or_else(|_| DateTime::default(), |at| zone.to_datetime(at))
}

/// From when to when, by the clock of the site.
fn span_words(whole: &Whole, span: [i64; 2]) -> String {
    let [from, to] = span.map(|at| local(whole, at));
    let at = |it: DateTime| format!("{} {}", words::day(it.date(), whole.today), it.strftime("%H:%M"));
    let to_words = if from.date() == to.date() { to.strftime("%H:%M").to_string() } else { at(to) };
    format!("{} to {to_words}", at(from))
}

/// What happened, in words.
fn said(
    whole: &Whole,
    cause: Cause,
    hours: usize,
    span: [i64; 2],
    figures: (&[Celsius; 2], Option<Celsius>),
) -> String {
    let shown = |it: Celsius| whole.units().temperature(it);
    let (when, (read, expected)) = (span_words(whole, span), figures);
    let expected = expected.map_or_else(String::new, |it| format!(" where {} was to be expected", shown(it)));
    match cause {
        Cause::Warm => {
            format!(
                "{} too warm, {when}: up to {}{expected}",
                words::count(hours, "hour", "hours"),
                shown(read[1])
            )
        }
        Cause::Cold => {
            format!(
                "{} too cold, {when}: down to {}{expected}",
                words::count(hours, "hour", "hours"),
                shown(read[0])
            )
        }
        Cause::Frost => {
            let hours = words::count(hours, "hour", "hours");
            format!("{hours} below the line of a tree, {when}: down to {}", shown(read[0]))
        }
    }
}

/// A stretch before its trees are looked at: ranks of its first and last hour, how many of them count, and where it was odd.
struct Stretch {
    first: usize,
    last: usize,
    hours: usize,
    odd: Option<OddHours>,
}

fn found(whole: &Whole, rank: usize) -> Vec<Incident> {
    let place = &whole.places[rank];
    let (Some(air), Ok(ground), Some(spot)) = (&place.air, &whole.ground, spot(whole)) else {
        return Vec::new();
    };
    let begun = ground.winter.first_date();
    let is_of_winter = |first: usize| begun <= spot.solar_date(air.air.moment(spot, first));
    let odd = air.odd.iter().filter(|it| is_of_winter(it.first));
    let mut all: Vec<Stretch> =
        odd.map(|it| Stretch { first: it.first, last: it.last, hours: it.hours, odd: Some(*it) }).collect();
    let is_told = air.logged > 0 || place.place.shelter == measure::shelter::Shelter::OpenBench;
    let below = if is_told { frost::below(whole, rank, begun) } else { Vec::new() };
    let mut cold: Vec<usize> = below.iter().map(|(hour, ..)| *hour).collect();
    cold.dedup();
    let in_odd = |hour: &usize| all.iter().any(|it| (it.first..=it.last).contains(hour));
    let cold: Vec<usize> = cold.into_iter().filter(|hour| !in_odd(hour)).collect();
    for hours in cold.chunk_by(|a, b| b - a <= ONE_SPELL) {
        let (Some(&first), Some(&last)) = (hours.first(), hours.last()) else { continue };
        all.push(Stretch { first, last, hours: hours.len(), odd: None });
    }
    all.sort_by_key(|it| std::cmp::Reverse(it.first));
    all.iter().filter_map(|it| incident(whole, rank, (air, spot), it, &below)).collect()
}

fn incident(
    whole: &Whole,
    rank: usize,
    (air, spot): (&PlaceAir, Spot),
    it: &Stretch,
    below: &[frost::Below],
) -> Option<Incident> {
    let place = &whole.places[rank];
    let span = [it.first, it.last + 1].map(|hour| air.air.moment(spot, hour));
    let own = whole.kept.iter().map(|(_, kept)| kept).filter(|kept| kept.place == place.place.key);
    let mut goes_on = false;
    for kept in own.filter(|kept| kept.said == Said::Happened && overlap(kept.span, span)) {
        if kept.span[0] - SAME <= span[0] && span[1] <= kept.span[1] + SAME {
            return None;
        }
        goes_on = true;
    }
    let within = it.first..it.last + 1;
    let lowest = air.in_frost().air.hours[within.clone()].iter().copied().fold(f64::INFINITY, f64::min);
    let highest = air.air.hours[within].iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let read = [Celsius(lowest), Celsius(highest.max(lowest))];
    let cause = match it.odd {
        Some(odd) if odd.is_warm() => Cause::Warm,
        Some(_) => Cause::Cold,
        None => Cause::Frost,
    };
    let expected = it.odd.map(|odd| odd.expected);
    let days = [span[0], span[1] - 1].map(|at| local(whole, at).date());
    let names = place.sensors.names();
    Some(Incident {
        cause,
        span,
        hours: it.hours,
        read,
        expected,
        days,
        words: said(whole, cause, it.hours, span, (&read, expected)),
        trees: touched(whole, rank, (it, days), below),
        sensors: if names.len() > 1 { names } else { Vec::new() },
        goes_on,
    })
}

fn overlap(a: [i64; 2], b: [i64; 2]) -> bool {
    a[0] < b[1] && b[0] < a[1]
}

/// The ground as it would have been had the odd hours been as expected, and the days of cold that they cost.
fn as_expected(whole: &Whole, rank: usize, odd: &OddHours) -> Option<(Ground, f64)> {
    let (mut place, outside): (PlaceWhole, _) = (whole.places[rank].clone(), whole.outside.as_ref()?);
    let (spot, air) = (spot(whole)?, place.air.as_mut()?);
    let sun = season::air::sun_on(spot, outside);
    let modelled = air.model.value.series(&outside.hours, &sun);
    let span = odd.first..odd.last + 1;
    let read = sum(ChillModel::HoursC, &air.air.hours[span.clone()]);
    air.air.hours[span.clone()].copy_from_slice(&modelled[span.clone()]);
    let lost = sum(ChillModel::HoursC, &air.air.hours[span]) - read;
    let mut ground = whole.ground.as_ref().ok()?.clone();
    let own = stand(std::slice::from_ref(&place), Some(outside), Some(spot), whole.today).ok()?;
    ground.places[rank] = own.places.into_iter().next()?;
    Some((ground, lost / 24.0))
}

fn touched(
    whole: &Whole,
    rank: usize,
    (it, [from, to]): (&Stretch, [Date; 2]),
    below: &[frost::Below],
) -> Vec<Touched> {
    let without = it.odd.as_ref().and_then(|odd| as_expected(whole, rank, odd));
    let cold = without.as_ref().map_or(0.0, |(_, cold)| *cold);
    let full = |ground: Option<&Ground>, tree: &TreeWhole| {
        let told = Outlook::new(ground?).tell(&facts(tree, whole)).ok()?;
        Some(told.forecast.of(Stage::Full)?.middle)
    };
    let stood = |tree: &TreeWhole| {
        stands(&tree.moves, from) == Some(rank)
            || tree.moves.iter().any(|(day, place)| *place == rank && from < *day && *day <= to)
    };
    let worst = |number: usize| {
        let own =
            below.iter().filter(|(hour, tree, _)| *tree == number && (it.first..=it.last).contains(hour));
        own.map(|(.., under)| *under).max_by(|a, b| a.depth().total_cmp(&b.depth()))
    };
    let told = |(number, tree): (usize, &TreeWhole)| {
        let under = worst(number);
        // A night as the weather made it touches only those that it was too cold for.
        (it.odd.is_some() || under.is_some()).then_some(())?;
        let without = without.as_ref().map(|(ground, _)| ground);
        let later =
            full(whole.ground.as_ref().ok(), tree).zip(full(without, tree)).map(|(now, then)| now - then);
        let look = LOOKS[look(under, it.odd.is_some_and(|odd| odd.is_warm()))];
        let cost = Cost { tree: tree.tree.key.clone(), cold, later, under };
        let (name, words) = (tree.tree.name.clone(), cost_words(whole, &cost));
        Some((weak(tree, to), Touched { key: cost.tree, name, cold, later, under, words, look }))
    };
    let standing = whole.trees.iter().enumerate().filter(|(_, tree)| stood(tree));
    let mut trees: Vec<(bool, Touched)> = standing.filter_map(told).collect();
    let depth = |it: &Touched| it.under.map_or(0, |under| (under.depth() * 10.0).round() as i64 + 1);
    trees.sort_by_cached_key(|(is_weak, it)| {
        use std::cmp::Reverse;
        let days = it.later.map_or(0, i32::abs);
        (Reverse(it.under.is_some()), Reverse(*is_weak), Reverse(depth(it)), Reverse(days), it.name.clone())
    });
    trees.into_iter().map(|(_, it)| it).collect()
}

fn look(under: Option<Under>, is_warm: bool) -> usize {
    match under {
        Some(under) if under.part.is_root() && under.reached.0 > 0.0 => 4,
        Some(under) if under.part.is_root() => 2,
        Some(_) => 3,
        None => usize::from(!is_warm),
    }
}

/// Whether it was last judged weak.
fn weak(tree: &TreeWhole, day: Date) -> bool {
    let last = tree.standing.vigours.iter().rfind(|it| it.day <= day);
    last.is_some_and(|it| matches!(it.strength, Strength::Weak))
}

/// What a bad day cost a tree, in words.
fn cost_words(whole: &Whole, it: &Cost) -> String {
    let mut told: Vec<String> = Vec::new();
    if let Some(under) = it.under {
        let [line, reached] = [under.line, under.reached].map(|it| whole.units().temperature(it));
        let where_ = if under.part.is_root() { "the pot, if dry, down to" } else { "the air down to" };
        told.push(format!("below the line of {} ({line}): {where_} {reached}", kept::part_words(under.part)));
    }
    match it.cold {
        cold if cold >= 0.05 => told.push(format!("{cold:.1} days of cold lost")),
        cold if cold <= -0.05 => told.push(format!("{:.1} days of cold gained", -cold)),
        _ => {}
    }
    match it.later {
        Some(0) => told.push("buds full on the same day".into()),
        Some(days) => {
            let count = words::count(days.abs(), "day", "days");
            told.push(format!("buds full {count} {}", if days > 0 { "later" } else { "sooner" }));
        }
        None if told.is_empty() => told.push("what it cost is not known".into()),
        None => {}
    }
    told.join(", ")
}
