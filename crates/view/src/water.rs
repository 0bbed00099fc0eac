//! The air's thirst over the collection and each tree's water, gathered for the pages that speak of it.

use collection::event::WorkKind;
use dormancy::forecast::Forecast;
use jiff::{civil::Date, tz::TimeZone};
use measure::{
    quantity::{Gram, Units},
    winter::{Hemisphere, Winter},
};
use season::{
    leaves::Leaves,
    repot::root_cuts::root_cuts,
    watering::{
        after_cut::{Cut, SPOKEN_OF},
        drinking::{Drinking, drinking},
        log::TreeWater,
        plan::Planner,
        pots::{MixFacts, PotFacts},
        thirst::{Spot, Thirst},
        visits::visits,
    },
};

use crate::whole::{TreeWhole, Whole};

/// Demand, mixes and the clock.
#[derive(Clone, Debug)]
pub struct Water {
    /// Demand and rain of all places.
    pub thirst: Thirst,
    /// What each mix holds.
    pub mixes: Vec<MixFacts>,
    /// The site's clock.
    pub zone: TimeZone,
    /// The season of the day numbers.
    pub winter: Winter,
}

impl Whole {
    /// Demand and mixes; none while there is no site or no weather.
    pub fn water(&self) -> Option<&Water> {
        self.water.get_or_init(|| water(self)).as_ref()
    }
}

fn water(whole: &Whole) -> Option<Water> {
    let (site, outside) = (whole.site.as_ref()?, whole.outside.as_ref()?);
    let places: Vec<Spot<'_>> = whole
        .places
        .iter()
        .map(|place| Spot {
            shelter: place.place.shelter,
            air: place.air.as_ref().map_or(outside, |air| &air.air),
        })
        .collect();
    let thirst = Thirst::of(
        [site.latitude, site.longitude],
        site.elevation,
        outside,
        &places,
        &whole.station,
        whole.today,
    );
    Some(Water {
        thirst: thirst.ok()?,
        mixes: whole.mixes.iter().map(MixFacts::of).collect(),
        zone: TimeZone::get(&site.zone).unwrap_or(TimeZone::UTC),
        winter: Winter::holding(whole.today, Hemisphere::of(site.latitude)),
    })
}

/// Days ahead in which a visit is looked for.
pub const LOOK_AHEAD: i64 = 15;

/// Seconds after a round before the next counts as another visit.
const APART: i64 = 1800;

/// When the grower can next be at the pots after a moment; none within [`LOOK_AHEAD`] days.
pub fn next_visit(whole: &Whole, water: &Water, now: i64) -> Option<i64> {
    let home = visits(&water.zone, whole.rounds, &whole.aways, whole.today, LOOK_AHEAD);
    home.into_iter().find(|&at| at > now + APART)
}

/// The round at a moment, ready to plan pot after pot, and the next visit it plans for.
pub(crate) fn planner<'a>(whole: &Whole, water: &'a Water, now: i64) -> (Planner<'a>, Option<i64>) {
    let next = next_visit(whole, water, now);
    let hours = next.map_or(LOOK_AHEAD as f64 * 24.0, |next| (next - now) as f64 / 3600.0);
    (Planner::new(&water.thirst, water.thirst.hour(now), hours), next)
}

/// The pot and mix a tree stands in today.
pub fn stands_in(tree: &TreeWhole) -> Option<(usize, usize)> {
    tree.potted.last().map(|&(_, pot, mix)| (pot, mix))
}

/// A tree's water up to a moment, seconds since 1970, with the leaves of a forecast; none when a stored measure is that of no pot.
pub fn tree_water<'a>(
    whole: &'a Whole,
    water: &Water,
    tree: &'a TreeWhole,
    forecast: Option<&Forecast>,
    until: i64,
) -> Option<TreeWater<'a>> {
    let (pot, mix) = stands_in(tree).unzip();
    let facts =
        PotFacts::of(pot.map(|pot| &whole.pots[pot]), mix.map(|mix| &water.mixes[mix]), tree.crown.as_ref());
    let start = |day: Date| water.thirst.hour(midnight(day, &water.zone));
    let repots =
        tree.works.iter().filter(|(_, work)| matches!(work.kind, WorkKind::Repot | WorkKind::SlipPot));
    let cuts = root_cuts(&tree.standing.repots, tree.works.iter().map(|(_, work)| work));
    let cuts = cuts.iter().map(|cut| Cut { hour: start(cut.day), roots: cut.roots });
    let into_pots = tree.potted.iter().skip(1).map(|&(day, ..)| start(day));
    Some(TreeWater {
        facts: facts.ok()?,
        leaves: Leaves::of(tree.tree.taxon, forecast).in_autumn(&tree.in_leaf),
        stays: tree.moves.iter().map(|&(day, place)| (start(day), place)).collect(),
        drinks: tree
            .drinks
            .iter()
            .filter(|(_, drink)| drink.at <= until)
            .map(|(_, drink)| (water.thirst.hour(drink.at), drink))
            .filter(|(hour, _)| *hour >= 0.0)
            .collect(),
        repotted: repots.map(|(_, work)| start(work.day)).chain(into_pots).collect(),
        cuts: cuts.filter(|cut| cut.hour > -24.0 * SPOKEN_OF).collect(),
        first_day: water.winter.day_number(water.thirst.first),
    })
}

/// Why a weighing of a tree at a moment cannot be right, in words; none where it can, or where nothing is known to hold it against.
pub fn odd_weight(whole: &Whole, key: &str, weighed: Gram, at: i64) -> Option<String> {
    let (water, tree) = (whole.water()?, whole.tree(key)?);
    let own = tree_water(whole, water, tree, None, at)?;
    let known = own.story(&water.thirst).ok()?.known;
    let odd = known.odd(water.thirst.hour(at), weighed)?;
    Some(crate::round::odd_words(odd, whole.site.as_ref().map_or(Units::Metric, |site| site.units)))
}

/// A local time as seconds since 1970.
pub fn moment(local: jiff::civil::DateTime, zone: &TimeZone) -> i64 {
    let at = zone.to_ambiguous_zoned_datetime(local).compatible();
    at.map_or(0, |at| at.timestamp().as_second())
}

/// The first moment of a day by the local clock.
pub fn midnight(day: Date, zone: &TimeZone) -> i64 {
    moment(day.at(0, 0, 0, 0), zone)
}

/// The last moment of a whole's day by the clock of the site.
pub fn last_moment(whole: &Whole) -> i64 {
    end_of(whole, whole.water().map_or(&TimeZone::UTC, |water| &water.zone))
}

/// The last moment of a whole's day.
pub(crate) fn end_of(whole: &Whole, zone: &TimeZone) -> i64 {
    whole.today.tomorrow().map_or(i64::MAX, |next| midnight(next, zone) - 1)
}

/// What a tree's drinking says of its waking; none where its log says nothing of it.
pub(crate) fn drank(whole: &Whole, tree: &TreeWhole, forecast: Option<&Forecast>) -> Option<Drinking> {
    if tree.drinks.is_empty() || tree.moves.is_empty() {
        return None;
    }
    let water = whole.water()?;
    let own = tree_water(whole, water, tree, None, end_of(whole, &water.zone))?;
    drinking(&own, &water.thirst, forecast).ok().flatten()
}
