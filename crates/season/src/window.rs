//! A tree's stages and repotting window from where it stands, its taxon, its past seasons and its bud looks.

use std::{collections::HashMap, sync::Arc};

use collection::event::{LeafLook, Look, Work};
use dormancy::{
    autumn::{Senescence, fading},
    chill::ChillModel,
    forecast::{Caveat, Course, Evidence, Forecast, Pace, SURE, Spread, Waking, forecast, passed},
    needs::Needs,
    table::Figures,
    wake::{BudDay, Reading, START, course, released, sky_weight},
};
use jiff::civil::Date;
use measure::{leaf::Leaf, stage::Stage, taxon::Taxon, winter::Winter};

use crate::{
    autumn::{self, InLeaf, Stood},
    cold::{ColdLine, cold, received},
    ground::{ENOUGH_YEARS, Ground, HORIZON, Stay, last_place},
    second::{Second, over_years, second},
    taught::{PastSeason, Taught, taught},
    watering::drinking::{Drinking, USING},
};

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
    /// What the collection's looks taught of it; none and it is told by its own looks alone.
    pub taught: Option<&'a Taught>,
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
    /// Other trees whose looks told of this one.
    pub others: usize,
    /// Looks of this season that were used.
    pub looks: usize,
    /// Whether its watering log was taken as a doubtful look.
    pub by_drinking: bool,
    /// Cold in every unit.
    pub cold: Arc<Vec<ColdLine>>,
    /// When the portions it needs are received, or none in the season.
    pub cold_met: Option<Spread>,
    /// Chill portions received by today.
    pub portions: f64,
    /// Chill portions it needs.
    pub cold_need: f64,
    /// Chill portions still short today.
    pub cold_short: f64,
    /// When warmth under the sky begins to count, or none in the season.
    pub released: Option<Spread>,
    /// How its taxon wakes, and how that is known.
    pub needs: &'static Needs,
    /// The limits planned with.
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
    waking: Arc<Waking>,
    autumns: Option<Vec<Course>>,
    cold: Arc<Vec<ColdLine>>,
    cold_met: Option<Spread>,
    portions: f64,
    released: Option<Spread>,
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

pub(crate) fn evidence(winter: Winter, look: &Look) -> Evidence {
    Evidence { day: winter.day_number(look.day), stage: look.stage, noise: autumn::noise(look.sureness) }
}

/// Leaves and late growth seen in autumn belong to the summer before; hard buds may be told at any time.
pub(crate) fn tells_of_spring(look: &Evidence) -> bool {
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
        let resting = Figures::of(taxon.key).zip(Needs::of(taxon.key)).filter(|_| taxon.kind.rests());
        let (figures, needs) = resting.ok_or(NoRest(taxon.common))?;
        let by_itself;
        let known = match tree.taught {
            Some(taught) => taught,
            None => {
                by_itself =
                    taught(self, std::slice::from_ref(tree)).pop().flatten().ok_or(NoRest(taxon.common))?;
                &by_itself
            }
        };
        let mut stays = stays(self.ground.winter, &tree.moves);
        if let Some(then) = then {
            stays.retain(|stay| stay.from < then.from);
            stays.push(then);
        }
        let default_air = last_place(&stays).is_some_and(|place| !self.ground.places[place].known);
        let shared = self.shared(taxon, needs, stays.clone());
        let (winter, today) = (self.ground.winter, self.ground.today);
        let evidence: Vec<Evidence> = tree
            .looks
            .iter()
            .map(|look| evidence(winter, look))
            .filter(|look| (self.ground.first_known..=today).contains(&look.day) && tells_of_spring(look))
            .collect();
        let looks = evidence.len();
        let evidence = with_drinking(evidence, tree.drank, today);
        let mut before = known.before;
        if default_air && known.past.is_empty() {
            before.sd = before.sd.hypot(DEFAULT_AIR);
        }
        before.sd = before.sd.hypot(UNREAD * self.ground.unread).hypot(WANTING * self.ground.wanting());
        if !tree.recorded {
            before.sd = before.sd.hypot(UNRECORDED);
        }
        let mut forecast = forecast(&shared.waking, today, before, &evidence);
        forecast.caveats.retain(|caveat| !matches!(caveat, Caveat::FewYears(_)));
        if looks == 0 && !forecast.caveats.contains(&Caveat::NoLook) {
            forecast.caveats.push(Caveat::NoLook);
        }
        if self.ground.measured_years < ENOUGH_YEARS {
            forecast.caveats.push(Caveat::FewYears(self.ground.measured_years));
        }
        Ok(Told {
            leaf: self.leaf(tree, &stays, &shared, &forecast),
            after_look: width_after_look(&shared.waking, today, &forecast),
            forecast,
            before,
            past: known.past.clone(),
            others: known.others,
            looks,
            by_drinking: evidence.len() > looks,
            cold: Arc::clone(&shared.cold),
            cold_met: shared.cold_met,
            portions: shared.portions,
            cold_need: needs.cold(),
            cold_short: (needs.cold() - shared.portions).max(0.0),
            released: shared.released,
            needs,
            figures,
            second: shared.second,
            recorded: tree.recorded,
            cold_cut_short: self.ground.first_known > Winter::FIRST_DAY,
        })
    }

    /// The courses of this season for a tree where it stands; none for kinds without a winter rest.
    pub(crate) fn waking(&mut self, tree: &TreeFacts<'_>) -> Option<Arc<Waking>> {
        let needs = Needs::of(tree.taxon.key)?;
        Some(Arc::clone(&self.shared(tree.taxon, needs, stays(self.ground.winter, &tree.moves)).waking))
    }

    /// The one course of a past season for a tree that stood so, under each reading.
    pub(crate) fn past_waking(&self, needs: &Needs, stays: &[Stay], year: usize) -> Waking {
        let days = self.ground.past_days(stays, year);
        wakings(needs, std::slice::from_ref(&days))
    }

    /// Whether it is in leaf, and when its leaves turn.
    fn leaf(&mut self, tree: &TreeFacts<'_>, stays: &[Stay], shared: &Shared, forecast: &Forecast) -> InLeaf {
        let (winter, today) = (self.ground.winter, self.ground.today);
        // From the first green on, leaves seen are those of spring; a bare tree may be seen for as long as its buds may be shut.
        let breaks = forecast.of(Stage::Breaking);
        let until = |day: fn(Spread) -> i32| breaks.map_or(today, |spread| today.min(day(spread)));
        let (green, bare) = (until(|spread| spread.early), until(|spread| spread.late));
        let mut looks =
            autumn::evidence(winter, tree.leaf_looks.iter().copied(), tree.looks.iter().copied(), bare);
        looks.retain(|look| look.day <= green || look.leaf == Leaf::Bare);
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

    fn shared(&mut self, taxon: &'static Taxon, needs: &'static Needs, stays: Vec<Stay>) -> Arc<Shared> {
        let key = (stays, taxon.key);
        if let Some(shared) = self.shared.get(&key) {
            return Arc::clone(shared);
        }
        let way = self.way(&key.0);
        let need = needs.cold();
        let senescence = Senescence::of(taxon).value;
        let is_heated = |day: i32| way.heated[(day - Winter::FIRST_DAY) as usize];
        let autumns = way.years.iter().map(|days| fading(&senescence, Winter::FIRST_DAY, days, is_heated));
        let met = way.years.iter().filter_map(|days| day_met(days, need)).collect();
        let free = way.years.iter().filter_map(|days| released(needs.wake.release, Winter::FIRST_DAY, days));
        // Where the record ends before today the courses differ; the cold so far is their mean.
        let lived = (self.ground.today - Winter::FIRST_DAY + 1).max(0) as usize;
        let days = way.years.iter().flat_map(|days| days.iter().take(lived));
        let portions = days.map(|day| day.portions).sum::<f64>() / way.years.len() as f64;
        let mut lines = cold(taxon, needs, way.cold);
        // One count on every page: the one that the forecast goes by.
        lines
            .iter_mut()
            .filter(|line| line.model == ChillModel::Dynamic)
            .for_each(|line| line.received = portions);
        let shared = Arc::new(Shared {
            waking: Arc::new(wakings(needs, &way.years)),
            autumns: self.knows_autumn(&way).then(|| autumns.collect()),
            cold: Arc::new(lines),
            cold_met: over_years(met, way.years.len()),
            portions,
            released: over_years(free.collect(), way.years.len()),
            second: second(taxon.key, &way.years, self.ground.first_known),
        });
        self.shared.insert(key, Arc::clone(&shared));
        shared
    }
}

/// The courses of a taxon over the days of some years, under each reading that these days leave open.
pub(crate) fn wakings(needs: &Needs, years: &[Vec<BudDay>]) -> Waking {
    let by = |reading: Reading| -> Vec<Course> {
        years.iter().map(|days| course(&needs.wake, reading, Winter::FIRST_DAY, days)).collect()
    };
    let sky =
        years.iter().map(|days| sky_weight(Winter::FIRST_DAY, days)).sum::<f64>() / years.len().max(1) as f64;
    let mut readings = vec![(sky, by(Reading::Sky))];
    if sky < 0.999 {
        readings.push((1.0 - sky, by(Reading::Entry)));
    }
    Waking { readings, rungs: needs.rungs }
}

/// A window that opens later than this is no reason to look, days.
const LOOK_AHEAD: i32 = 28;

/// The width of the opening if the pace's spread shrank as one sure look is expected to shrink it.
fn width_after_look(waking: &Waking, today: i32, now: &Forecast) -> Option<i32> {
    let window = now.window()?;
    if window.opens.early > today + LOOK_AHEAD || today > window.closes.late {
        return None;
    }
    // The pace's tails are heavy, and a look leaves them lighter; a normal of the same spread is narrower by a fifth.
    let pace = Pace { mean: now.pace.mean, sd: now.pace.sd * (1.0 - now.look_gain) * 0.8 };
    let then = passed(waking, pace, Stage::Full)?;
    Some((then.late - then.early).clamp(0, window.opens.late - window.opens.early))
}

fn day_met(days: &[BudDay], need: f64) -> Option<i32> {
    let mut cold = 0.0;
    let at = days.iter().position(|day| {
        cold += day.portions;
        cold >= need
    })?;
    Some(Winter::FIRST_DAY + at as i32)
}

#[cfg(test)]
mod tests;
