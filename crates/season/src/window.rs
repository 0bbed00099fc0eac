//! A tree's stages and repotting window from where it stands, its taxon, its past seasons and its bud looks.

use std::{collections::HashMap, sync::Arc};

use collection::event::{LeafLook, Look, Work, WorkKind};
use dormancy::{
    autumn::{Senescence, fading},
    forecast::{Caveat, Course, Evidence, Forecast, Pace, SURE, Spread, forecast, pace_seen, passed},
    learn::{PastSeason, pace, this_season},
    table::Figures,
    wake::{BudDay, START, Wake, course},
};
use jiff::civil::Date;
use measure::{leaf::Leaf, stage::Stage, taxon::Taxon, winter::Winter};

use crate::{
    autumn::{self, InLeaf, Stood},
    cold::{ColdLine, cold, received},
    ground::{ENOUGH_YEARS, Ground, HORIZON, Stay, last_place},
    second::{Second, over_years, second},
    watering::drinking::{Drinking, USING},
};

/// A tree's pace before anything is known of it: a third either way, because the taxon's need is a planning
/// figure; the 3 to 4 days between trees of one kind are small beside that. Our estimate.
pub const PRIOR: Pace = Pace { mean: 0.0, sd: 0.35 };

/// The taxon keeps no winter rest, so no cold is counted and no window of this kind exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0} keeps no winter rest; its repotting is set by warmth, not by this forecast")]
pub struct NoRest(pub &'static str);

/// What is known of one tree, as far as waking goes.
#[derive(Clone, Debug)]
pub struct TreeFacts<'a> {
    /// What it is.
    pub taxon: &'static Taxon,
    /// Where it was put and when, by date; the place is its number in the ground.
    pub moves: Vec<(Date, usize)>,
    /// All its looks.
    pub looks: Vec<&'a Look>,
    /// All its looks at leaves.
    pub leaf_looks: Vec<&'a LeafLook>,
    /// All its work.
    pub works: Vec<&'a Work>,
    /// The looks at each of its sisters: trees of its taxon that stand where it stands.
    pub sisters: Vec<&'a [Look]>,
    /// Whether it was ever written down where it stands.
    pub recorded: bool,
    /// What its drinking says, where its log speaks.
    pub drank: Option<Drinking>,
}

/// Spread that a place of default air adds to an unlearned pace, log of need; our estimate for some 2 K of doubt.
const DEFAULT_AIR: f64 = 0.15;

/// Spread that a season of usual weather in place of readings adds to a pace, log of need; our estimate.
const UNREAD: f64 = 0.4;

/// Spread that past years wholly wanting add to a pace beside their warmer and colder runs, log of need: the few there
/// are may happen to be alike. Our estimate.
const WANTING: f64 = 0.15;

/// Observer's noise of a waking that only the watering log tells: six times that of a sure look (our estimate; the filter's day is a week or
/// two late and use rises by reserves as well as by buds).
const DRUNK: f64 = 6.0 * SURE;

/// Widest span of days between which drinking must have begun to count as a date (our estimate).
const DATED: i32 = 30;

/// Spread that an unrecorded place adds to a pace, log of need; our estimate.
const UNRECORDED: f64 = 0.25;

/// How much of what looks moved its sisters' pace by moves a tree's own: a quarter. Trees of one kind in one place share weather and
/// nursery, and wake days apart. Our estimate.
pub const SISTERS: f64 = 0.25;

/// Observer's noise from which a look counts as doubtful.
const DOUBTFUL: f64 = 4.0 * SURE;

/// A day whose mean is below this hardens wood and roots, °C; our estimate.
const HARDENING: f64 = 10.0;

/// So many such days and a tree counts as hardened; our estimate.
const HARDENED: usize = 10;

/// Days of an autumn that may be missing from the record before its cold is not summed.
const UNKNOWN_DAYS: usize = 14;

/// What is told of one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Stages, chances today, pace and caveats; days are numbers of the ground's winter.
    pub forecast: Forecast,
    /// Whether it is in leaf today, and when its leaves turn.
    pub leaf: InLeaf,
    /// Pace before this season's looks.
    pub before: Pace,
    /// What each past season taught, newest first.
    pub past: Vec<PastSeason>,
    /// Looks of this season that were used.
    pub looks: usize,
    /// Whether its watering log was taken as a doubtful look.
    pub by_drinking: bool,
    /// Cold in every unit.
    pub cold: Arc<Vec<ColdLine>>,
    /// When the planned chilling hours are met, or none in the season.
    pub cold_met: Option<Spread>,
    /// Chilling hours still short today.
    pub hours_short: f64,
    /// Chilling hours received by today.
    pub hours: f64,
    /// The planning figures used.
    pub figures: &'static Figures,
    /// What another model says of leaf-out, where one knows the taxon.
    pub second: Option<Second>,
    /// Days from the early to the late opening that a sure look today is expected to leave; none where the window
    /// is too far off for a look to tell.
    pub after_look: Option<i32>,
    /// Whether it was ever written down where it stands.
    pub recorded: bool,
    /// True where the record begins after the winter did, so that early cold is missing from the count.
    pub cold_cut_short: bool,
}

/// What a tree shows on a day: its leaves while they are on, else its buds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stands {
    /// In leaf, whatever the colour, with the chance of the state.
    InLeaf(Leaf, f64),
    /// The likeliest bud stage, with its chance.
    Buds(Stage, f64),
}

impl Told {
    /// What the tree shows today.
    pub fn stands(&self, today: i32) -> Stands {
        let stage = self.forecast.stage_today();
        let chance = self.forecast.today[stage.rank()];
        if self.leaf.is_evergreen || stage >= Stage::Breaking {
            return Stands::Buds(stage, chance);
        }
        if self.leaf.state() != Leaf::Bare {
            return Stands::InLeaf(self.leaf.state(), self.leaf.chance());
        }
        Stands::Buds(stage, if today < START { chance * (1.0 - self.leaf.on()) } else { chance })
    }

    /// Chance of each bud stage as frost is to take the tree: see [`InLeaf::in_frost`].
    pub fn in_frost(&self, today: i32) -> [f64; 9] {
        self.leaf.in_frost(self.forecast.today, today)
    }
}

/// The days of one way of spending the winter, shared by all trees that spent it so.
struct Way {
    years: Vec<Vec<BudDay>>,
    heated: Vec<bool>,
    cold: [f64; 8],
}

/// What trees that stand alike and are alike share.
struct Shared {
    courses: Vec<Course>,
    autumns: Option<Vec<Course>>,
    cold: Arc<Vec<ColdLine>>,
    cold_met: Option<Spread>,
    hours_short: f64,
    hours: f64,
    second: Option<Second>,
}

/// Tells trees from a ground; what trees share is worked out once.
pub struct Outlook<'a> {
    /// The places and their days.
    pub ground: &'a Ground,
    ways: HashMap<Vec<Stay>, Arc<Way>>,
    shared: HashMap<(Vec<Stay>, &'static str), Arc<Shared>>,
}

/// The stays of one winter out of a tree's moves.
pub fn stays(winter: Winter, moves: &[(Date, usize)]) -> Vec<Stay> {
    let first = winter.first_date();
    let before = moves.iter().rev().find(|(day, _)| *day <= first).or(moves.first());
    let mut stays: Vec<Stay> =
        before.iter().map(|&&(_, place)| Stay { from: Winter::FIRST_DAY, place }).collect();
    let last = winter.date(winter.last_day());
    for &(day, place) in moves.iter().filter(|(day, _)| first < *day && *day <= last) {
        if stays.last().is_none_or(|stay| stay.place != place) {
            stays.push(Stay { from: winter.day_number(day), place });
        }
    }
    stays
}

fn evidence(winter: Winter, look: &Look) -> Evidence {
    Evidence { day: winter.day_number(look.day), stage: look.stage, noise: autumn::noise(look.sureness) }
}

/// Leaves and late growth seen in autumn belong to the summer before; hard buds may be told at any time.
fn tells_of_spring(look: &Evidence) -> bool {
    look.stage == Stage::Dormant || look.day >= START
}

/// Adds what the drinking says as a doubtful look on the day it is said to have begun; a bud look from that day on stands instead.
fn with_drinking(mut looks: Vec<Evidence>, drank: Option<Drinking>, today: i32) -> Vec<Evidence> {
    let since = drank.filter(|drank| drank.alone.0 >= USING).and_then(|drank| drank.since);
    let Some((_, began, _)) = since.filter(|(early, _, late)| late - early <= DATED) else { return looks };
    let seen_since = looks.iter().any(|look| look.day >= began);
    if !seen_since && (START..=today).contains(&began) {
        looks.push(Evidence { day: began, stage: Stage::Swelling, noise: DRUNK });
        looks.sort_by_key(|look| look.day);
    }
    looks
}

impl<'a> Outlook<'a> {
    /// Nothing worked out yet.
    pub fn new(ground: &'a Ground) -> Outlook<'a> {
        Outlook { ground, ways: HashMap::new(), shared: HashMap::new() }
    }

    /// The forecast of one tree where it stands.
    ///
    /// # Errors
    ///
    /// [`NoRest`] for tropicals and succulents.
    pub fn tell(&mut self, tree: &TreeFacts<'_>) -> Result<Told, NoRest> {
        self.tell_with(tree, None)
    }

    /// The forecast of one tree if it is moved once more.
    ///
    /// # Errors
    ///
    /// [`NoRest`] for tropicals and succulents.
    pub fn tell_if(&mut self, tree: &TreeFacts<'_>, then: Stay) -> Result<Told, NoRest> {
        self.tell_with(tree, Some(then))
    }

    fn tell_with(&mut self, tree: &TreeFacts<'_>, then: Option<Stay>) -> Result<Told, NoRest> {
        let taxon = tree.taxon;
        let figures = Figures::of(taxon.key).filter(|_| taxon.kind.rests()).ok_or(NoRest(taxon.common))?;
        let mut stays = stays(self.ground.winter, &tree.moves);
        if let Some(then) = then {
            stays.retain(|stay| stay.from < then.from);
            stays.push(then);
        }
        let default_air = last_place(&stays).is_some_and(|place| !self.ground.places[place].known);
        let shared = self.shared(taxon, figures, stays.clone());
        let (winter, today) = (self.ground.winter, self.ground.today);
        let evidence: Vec<Evidence> = tree
            .looks
            .iter()
            .map(|look| evidence(winter, look))
            .filter(|look| (self.ground.first_known..=today).contains(&look.day) && tells_of_spring(look))
            .collect();
        let looks = evidence.len();
        let evidence = with_drinking(evidence, tree.drank, today);
        let past = self.past(tree, figures);
        let mut before = if past.is_empty() { PRIOR } else { this_season(pace(PRIOR, &past)) };
        if default_air && past.is_empty() {
            before.sd = before.sd.hypot(DEFAULT_AIR);
        }
        before.mean += self.sisters(tree, &shared, before, &evidence);
        before.sd = before.sd.hypot(UNREAD * self.ground.unread).hypot(WANTING * self.ground.wanting());
        if !tree.recorded {
            before.sd = before.sd.hypot(UNRECORDED);
        }
        let mut forecast = forecast(&shared.courses, today, before, &evidence);
        forecast.caveats.retain(|caveat| !matches!(caveat, Caveat::FewYears(_)));
        if looks == 0 && !forecast.caveats.contains(&Caveat::NoLook) {
            forecast.caveats.push(Caveat::NoLook);
        }
        if self.ground.measured_years < ENOUGH_YEARS {
            forecast.caveats.push(Caveat::FewYears(self.ground.measured_years));
        }
        Ok(Told {
            leaf: self.leaf(tree, &stays, &shared, &forecast),
            after_look: width_after_look(&shared.courses, today, &forecast),
            forecast,
            before,
            past,
            looks,
            by_drinking: evidence.len() > looks,
            cold: Arc::clone(&shared.cold),
            cold_met: shared.cold_met,
            hours_short: shared.hours_short,
            hours: shared.hours,
            figures,
            second: shared.second,
            recorded: tree.recorded,
            cold_cut_short: self.ground.first_known > Winter::FIRST_DAY,
        })
    }

    /// What the looks of this season at its sisters move its pace by; nothing once it was looked at itself, close up or at a glance.
    fn sisters(&self, tree: &TreeFacts<'_>, shared: &Shared, before: Pace, own: &[Evidence]) -> f64 {
        let Some(course) = shared.courses.first().filter(|_| own.iter().all(|look| look.noise >= DOUBTFUL))
        else {
            return 0.0;
        };
        let (winter, today) = (self.ground.winter, self.ground.today);
        let known = self.ground.first_known..=today;
        let of = |looks: &&[Look]| {
            let seen = looks.iter().map(|look| evidence(winter, look));
            let seen: Vec<Evidence> =
                seen.filter(|look| known.contains(&look.day) && tells_of_spring(look)).collect();
            (!seen.is_empty()).then(|| pace_seen(course, before, &seen).mean - before.mean)
        };
        let moved: Vec<f64> = tree.sisters.iter().filter_map(of).collect();
        if moved.is_empty() { 0.0 } else { SISTERS * moved.iter().sum::<f64>() / moved.len() as f64 }
    }

    /// Whether it is in leaf, and when its leaves turn.
    fn leaf(&mut self, tree: &TreeFacts<'_>, stays: &[Stay], shared: &Shared, forecast: &Forecast) -> InLeaf {
        let (winter, today) = (self.ground.winter, self.ground.today);
        // From the first green on, leaves seen are those of spring.
        let until = forecast.of(Stage::Breaking).map_or(today, |spread| today.min(spread.early));
        let looks =
            autumn::evidence(winter, tree.leaf_looks.iter().copied(), tree.looks.iter().copied(), until);
        // Of a tree that came this winter nobody knows where it stood before.
        let here = tree.moves.first().map_or(Winter::FIRST_DAY, |(day, _)| winter.day_number(*day));
        let from = here.max(Winter::FIRST_DAY);
        let days = &self.way(stays).years[0];
        let lived = days.iter().zip(Winter::FIRST_DAY..).filter(|(_, day)| (from..=today).contains(day));
        let cold = lived.filter(|(day, _)| day.mean < HARDENING).count();
        let stood = Stood {
            courses: shared.autumns.as_deref(),
            today,
            is_hardened: cold >= HARDENED,
            new: forecast.today[Stage::GreenTip.rank()..].iter().sum(),
        };
        InLeaf::of(tree.taxon, &looks, &stood)
    }

    /// Whether nearly every day of this autumn is known, so that its cold can be summed.
    fn knows_autumn(&self, way: &Way) -> bool {
        let until = self.ground.today.min(START);
        let days = way.years[0].iter().zip(Winter::FIRST_DAY..).take_while(|(_, day)| *day <= until);
        days.filter(|(day, _)| day.mean.is_nan()).count() <= UNKNOWN_DAYS
    }

    fn way(&mut self, stays: &[Stay]) -> Arc<Way> {
        if let Some(way) = self.ways.get(stays) {
            return Arc::clone(way);
        }
        let years = (0..self.ground.courses())
            .map(|year| {
                let mut days = Vec::with_capacity((HORIZON - Winter::FIRST_DAY + 1) as usize);
                self.ground.course_days(stays, year, &mut days);
                days
            })
            .collect();
        let heated = (Winter::FIRST_DAY..=HORIZON).map(|day| self.ground.is_heated(stays, day)).collect();
        let way = Arc::new(Way { years, heated, cold: received(&self.ground.lived_hours(stays)) });
        self.ways.insert(stays.to_vec(), Arc::clone(&way));
        way
    }

    fn shared(&mut self, taxon: &'static Taxon, figures: &'static Figures, stays: Vec<Stay>) -> Arc<Shared> {
        let key = (stays, taxon.key);
        if let Some(shared) = self.shared.get(&key) {
            return Arc::clone(shared);
        }
        let way = self.way(&key.0);
        let wake = Wake::of(figures).value;
        let need = figures.cold.value;
        let courses = way.years.iter().map(|days| course(&wake, Winter::FIRST_DAY, days)).collect();
        let senescence = Senescence::of(taxon).value;
        let is_heated = |day: i32| way.heated[(day - Winter::FIRST_DAY) as usize];
        let autumns = way.years.iter().map(|days| fading(&senescence, Winter::FIRST_DAY, days, is_heated));
        let met = way.years.iter().filter_map(|days| day_met(days, need)).collect();
        // Where the record ends before today the courses differ; the cold so far is their mean.
        let lived = (self.ground.today - Winter::FIRST_DAY + 1).max(0) as usize;
        let days = way.years.iter().flat_map(|days| days.iter().take(lived));
        let so_far = days.map(|day| day.cold).sum::<f64>() / way.years.len() as f64;
        let shared = Arc::new(Shared {
            courses,
            autumns: self.knows_autumn(&way).then(|| autumns.collect()),
            cold: Arc::new(cold(taxon, figures, way.cold)),
            cold_met: over_years(met, way.years.len()),
            hours_short: (need - so_far).max(0.0),
            hours: so_far,
            second: second(taxon.key, &way.years, self.ground.first_known),
        });
        self.shared.insert(key, Arc::clone(&shared));
        shared
    }

    /// What each past season with looks taught of this tree's pace.
    fn past(&self, tree: &TreeFacts<'_>, figures: &'static Figures) -> Vec<PastSeason> {
        let wake = Wake::of(figures).value;
        let repot = tree
            .works
            .iter()
            .filter(|work| matches!(work.kind, WorkKind::Repot | WorkKind::HardPrune))
            .map(|work| work.day)
            .filter(|day| *day <= self.ground.winter.date(self.ground.today))
            .max();
        let Some(place) = self.ground.places.first() else { return Vec::new() };
        let mut past = Vec::new();
        for (year, known) in place.past.iter().enumerate() {
            let winter = self.ground.winter.earlier(known.years_ago);
            let looks: Vec<Evidence> = tree
                .looks
                .iter()
                .filter(|look| Winter::holding(look.day, winter.hemisphere) == winter)
                .map(|look| evidence(winter, look))
                .filter(|look| look.stage != Stage::Dormant && tells_of_spring(look))
                .collect();
            if looks.is_empty() || !known.whole {
                continue;
            }
            let days = self.ground.past_days(&stays(winter, &tree.moves), year);
            let seen = pace_seen(&course(&wake, Winter::FIRST_DAY, &days), PRIOR, &looks);
            past.push(PastSeason {
                residual: seen.mean,
                years_ago: known.years_ago.unsigned_abs().into(),
                before_repot: repot.is_some_and(|day| day > winter.date(HORIZON)),
            });
        }
        past
    }
}

/// A window that opens later than this is no reason to look, days.
const LOOK_AHEAD: i32 = 28;

/// The width of the opening if the pace's spread shrank as one sure look is expected to shrink it.
fn width_after_look(courses: &[Course], today: i32, now: &Forecast) -> Option<i32> {
    let window = now.window()?;
    if window.opens.early > today + LOOK_AHEAD || today > window.closes.late {
        return None;
    }
    // The pace's tails are heavy, and a look leaves them lighter; a normal of the same spread is narrower by a fifth.
    let pace = Pace { mean: now.pace.mean, sd: now.pace.sd * (1.0 - now.look_gain) * 0.8 };
    let then = passed(courses, pace, Stage::Full)?;
    Some((then.late - then.early).clamp(0, window.opens.late - window.opens.early))
}

fn day_met(days: &[BudDay], need: f64) -> Option<i32> {
    let mut cold = 0.0;
    let at = days.iter().position(|day| {
        cold += day.cold;
        cold >= need
    })?;
    Some(Winter::FIRST_DAY + at as i32)
}

#[cfg(test)]
mod tests;
