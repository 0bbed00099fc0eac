//! Bad days of a place, out of its logger: when, how far off, which trees stood there, and what it cost each in cold and in days.

use dormancy::chill::{ChillModel, sum};
use jiff::civil::{Date, DateTime};
use measure::{quantity::Celsius, stage::Stage};
use season::{air::Spot, ground::Ground, odd_hours::OddHours, window::Outlook};

use crate::{
    whole::{PlaceWhole, TreeWhole, Whole, facts, stand},
    words,
};

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
    /// What to look at.
    pub look: &'static str,
}

/// A stretch of hours that do not go with the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Incident {
    /// The stretch.
    pub odd: OddHours,
    /// First and last day.
    pub days: [Date; 2],
    /// What happened, in words.
    pub words: String,
    /// The trees that stood there, those it cost most first.
    pub trees: Vec<Touched>,
}

/// What to look at after warm hours, and after cold ones.
const LOOKS: [&str; 2] = [
    "look at the buds: swelling after warm hours is tender in frost (common practice, no source)",
    "look for soft or dark buds and bark, and tip it out to see the outer roots once thawed (common practice, no source)",
];

/// The bad days of a place in this winter, the last first.
pub fn of_place(whole: &Whole, rank: usize) -> Vec<Incident> {
    let place = &whole.places[rank];
    let (Some(air), Ok(ground)) = (&place.air, &whole.ground) else { return Vec::new() };
    let begun = ground.winter.first_date();
    let recent = air.odd.iter().filter(|it| begun <= it.span(&air.air)[0].date());
    let mut all: Vec<Incident> = recent.map(|odd| incident(whole, rank, *odd)).collect();
    all.reverse();
    all
}

/// Days for which a bad day is told on Today.
const RECENT: i32 = 14;

/// Bad days of the last fortnight: the place in addresses, its name, what happened, and how many trees stand there.
pub fn recent(whole: &Whole) -> Vec<(String, String, String, usize)> {
    let told = whole.places.iter().filter_map(|place| {
        let air = place.air.as_ref()?;
        let is_recent = |it: &&OddHours| {
            let ago = (whole.today - it.span(&air.air)[1].date()).get_days();
            (0..=RECENT).contains(&ago)
        };
        let odd = air.odd.iter().rev().find(is_recent).filter(|_| !place.trees.is_empty())?;
        let [key, name] = [&place.place.key, &place.place.name].map(Clone::clone);
        Some((key, name, said(whole, *odd, odd.span(&air.air)), place.trees.len()))
    });
    told.collect()
}

fn said(whole: &Whole, odd: OddHours, span: [DateTime; 2]) -> String {
    let shown = |it: Celsius| whole.units().temperature(it);
    let [from, to] =
        span.map(|at| format!("{} {}", words::day(at.date(), whole.today), at.strftime("%H:%M")));
    format!(
        "{} from {from} to {to}: {} where {} was to be expected",
        words::count(odd.hours, "odd hour", "odd hours"),
        shown(odd.read),
        shown(odd.expected)
    )
}

fn incident(whole: &Whole, rank: usize, odd: OddHours) -> Incident {
    let air = whole.places[rank].air.as_ref().map(|it| &it.air);
    let span = air.map_or([DateTime::default(); 2], |air| odd.span(air));
    let days = span.map(|at| at.date());
    Incident { odd, days, words: said(whole, odd, span), trees: touched(whole, rank, odd, days) }
}

/// The place as it would have been without the odd hours.
fn as_expected(place: &PlaceWhole, odd: OddHours, whole: &Whole) -> Option<(PlaceWhole, f64)> {
    let (mut place, outside) = (place.clone(), whole.outside.as_ref()?);
    let site = whole.site.as_ref()?;
    let air = place.air.as_mut()?;
    let sun = season::air::sun_on(Spot { latitude: site.latitude, longitude: site.longitude }, outside);
    let modelled = air.model.value.series(&outside.hours, &sun);
    let span = odd.first..odd.last + 1;
    let read = sum(ChillModel::HoursC, &air.air.hours[span.clone()]);
    air.air.hours[span.clone()].copy_from_slice(&modelled[span.clone()]);
    let lost = sum(ChillModel::HoursC, &air.air.hours[span]) - read;
    Some((place, lost / 24.0))
}

fn touched(whole: &Whole, rank: usize, odd: OddHours, [from, to]: [Date; 2]) -> Vec<Touched> {
    let stood = |tree: &&TreeWhole| {
        let before = tree.moves.iter().rev().find(|(day, _)| *day <= from).map(|(_, place)| *place);
        before == Some(rank)
            || tree.moves.iter().any(|(day, place)| *place == rank && from < *day && *day <= to)
    };
    let Some((place, cold)) = as_expected(&whole.places[rank], odd, whole) else { return Vec::new() };
    let mut places = whole.places.clone();
    places[rank] = place;
    let spot = whole.site.as_ref().map(|it| Spot { latitude: it.latitude, longitude: it.longitude });
    let without = stand(&places, whole.outside.as_ref(), spot, whole.today).ok();
    let full = |ground: Option<&Ground>, tree: &TreeWhole| {
        let told = Outlook::new(ground?).tell(&facts(tree, whole)).ok()?;
        Some(told.forecast.of(Stage::Full)?.middle)
    };
    let mut trees: Vec<Touched> = whole
        .trees
        .iter()
        .filter(stood)
        .map(|tree| Touched {
            key: tree.tree.key.clone(),
            name: tree.tree.name.clone(),
            cold,
            later: full(whole.ground.as_ref().ok(), tree)
                .zip(full(without.as_ref(), tree))
                .map(|(now, then)| now - then),
            look: LOOKS[usize::from(!odd.is_warm())],
        })
        .collect();
    trees.sort_by_key(|it| (std::cmp::Reverse(it.later.map_or(0, i32::abs)), it.name.clone()));
    trees
}
