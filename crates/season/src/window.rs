//! A tree's stages and repotting window from where it stands, its taxon, its past seasons and its bud looks.

use std::{collections::HashMap, sync::Arc};

use collection::event::{Look, Sureness, Work, WorkKind};
use dormancy::{
    forecast::{Caveat, Course, Evidence, Forecast, Pace, SURE, Spread, forecast, pace_seen, passed},
    learn::{PastSeason, pace, this_season},
    table::Figures,
    wake::{BudDay, START, Wake, course},
};
use jiff::civil::Date;
use measure::{stage::Stage, taxon::Taxon, winter::Winter};

use crate::{
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
    /// All its work.
    pub works: Vec<&'a Work>,
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

/// What is told of one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Stages, chances today, pace and caveats; days are numbers of the ground's winter.
    pub forecast: Forecast,
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

/// The days of one way of spending the winter, shared by all trees that spent it so.
struct Way {
    years: Vec<Vec<BudDay>>,
    cold: [f64; 8],
}

/// What trees that stand alike and are alike share.
struct Shared {
    courses: Vec<Course>,
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
    Evidence {
        day: winter.day_number(look.day),
        stage: look.stage,
        noise: match look.sureness {
            Sureness::Sure => SURE,
            Sureness::Fair => 2.0 * SURE,
            Sureness::Doubtful => 4.0 * SURE,
        },
    }
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
        let shared = self.shared(taxon, figures, stays);
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
        let way = Arc::new(Way { years, cold: received(&self.ground.lived_hours(stays)) });
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
        let met = way.years.iter().filter_map(|days| day_met(days, need)).collect();
        let so_far: f64 = way.years[0]
            .iter()
            .take((self.ground.today - Winter::FIRST_DAY + 1).max(0) as usize)
            .map(|day| day.cold)
            .sum();
        let shared = Arc::new(Shared {
            courses,
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
mod tests {
    use super::*;
    use climate::record::StationDay;
    use jiff::{ToSpan, civil::date};
    use measure::{quantity::Degrees, shelter::Shelter};

    use crate::{
        air::{Air, Spot, outside},
        ground::{NoGround, Roof, ground},
    };

    /// Thirteen invented years of a cool temperate place, each a little different.
    fn air(latitude: f64) -> Air {
        let first = date(2012, 1, 1);
        let south = if latitude < 0.0 { 182.6 } else { 0.0 };
        let days: Vec<StationDay> = (0..365 * 13)
            .map(|at| {
                let day = f64::from(at);
                let season = -((day - 18.0 - south) * std::f64::consts::TAU / 365.25).cos();
                let mean = 9.0 + 9.5 * season + 2.5 * (day / 9.0).sin() + 1.5 * (day / 401.0).sin();
                StationDay::of_extremes(first + at.days(), mean - 4.0, mean + 4.0)
            })
            .collect();
        let spot = Spot { latitude: Degrees(latitude), longitude: Degrees(8.0) };
        outside(spot, &days, &[], &[], first, &[]).unwrap().unwrap()
    }

    fn standing(latitude: f64, today: Date) -> Result<Ground, NoGround> {
        let roof = Roof { shelter: Shelter::OpenBench, lamp: None, known: true };
        ground(Degrees(latitude), &[(&air(latitude), roof)], today)
    }

    fn opens(ground: &Ground, key: &str, looks: &[Look]) -> i32 {
        let facts = TreeFacts {
            taxon: Taxon::of(key).unwrap(),
            moves: vec![(date(2012, 1, 1), 0)],
            looks: looks.iter().collect(),
            works: vec![],
            recorded: true,
            drank: None,
        };
        let told = Outlook::new(ground).tell(&facts).unwrap();
        told.forecast.window().expect("a window").opens.middle
    }

    fn seen(day: Date, stage: Stage) -> Look {
        Look { tree: "old-maple".into(), day, stage, sureness: Sureness::Sure, note: String::new() }
    }

    #[test]
    fn quince_opens_before_maple_and_maple_before_beech() {
        let ground = standing(47.4, date(2024, 2, 1)).unwrap();
        let days: Vec<i32> = ["chaenomeles-speciosa", "acer-palmatum", "fagus-sylvatica"]
            .iter()
            .map(|key| opens(&ground, key, &[]))
            .collect();
        assert!(days[0] < days[1] && days[1] < days[2], "{days:?}");
        assert!(days[0] > 0 && days[2] < 150, "{days:?}");
    }

    #[test]
    fn buds_seen_further_on_open_the_window_sooner() {
        let today = date(2024, 4, 8);
        let ground = standing(47.4, today).unwrap();
        let [hard, swelling, full] = [Stage::Dormant, Stage::Swelling, Stage::Full]
            .map(|stage| opens(&ground, "acer-palmatum", &[seen(today, stage)]));
        assert!(full < swelling && swelling < hard, "{full} {swelling} {hard}");
        assert!(full <= ground.today, "full buds seen today, yet the window opens on day {full}");
    }

    #[test]
    fn a_tree_that_was_late_in_past_springs_is_expected_late() {
        let ground = standing(47.4, date(2024, 2, 1)).unwrap();
        let usual = opens(&ground, "acer-palmatum", &[]);
        let looks: Vec<Look> =
            [2021, 2022, 2023].map(|year| seen(date(year, 5, 12), Stage::Full)).into_iter().collect();
        assert!(opens(&ground, "acer-palmatum", &looks) > usual + 3);
    }

    #[test]
    fn the_southern_winter_gives_the_same_season_half_a_year_on() {
        let north = opens(&standing(47.4, date(2024, 2, 1)).unwrap(), "acer-palmatum", &[]);
        let south = opens(&standing(-47.4, date(2024, 8, 1)).unwrap(), "acer-palmatum", &[]);
        assert!((north - south).abs() <= 14, "north {north}, south {south}");
    }

    #[test]
    fn thin_records_and_tropicals_are_told_apart_from_answers() {
        assert!(matches!(standing(47.4, date(2030, 1, 1)), Err(NoGround::TodayOutside { .. })));
        assert_eq!(standing(47.4, date(2012, 2, 1)), Err(NoGround::NoPastYear));
        let ground = standing(47.4, date(2024, 2, 1)).unwrap();
        let facts = TreeFacts {
            taxon: Taxon::of("ficus-rubiginosa").unwrap(),
            moves: vec![],
            looks: vec![],
            works: vec![],
            recorded: true,
            drank: None,
        };
        assert!(Outlook::new(&ground).tell(&facts).is_err());
    }

    #[test]
    fn stays_begin_with_where_the_tree_stood_when_the_winter_came() {
        let winter = Winter::holding(date(2024, 2, 1), measure::winter::Hemisphere::North);
        let moves =
            [(date(2022, 5, 1), 3), (date(2023, 6, 1), 1), (date(2023, 11, 20), 2), (date(2024, 3, 1), 1)];
        let places: Vec<(i32, usize)> =
            stays(winter, &moves).iter().map(|stay| (stay.from, stay.place)).collect();
        assert_eq!(places, [(-121, 1), (-41, 2), (61, 1)]);
    }
}
