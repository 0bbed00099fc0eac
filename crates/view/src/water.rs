//! The air's thirst over the collection and each tree's water, gathered for the pages that speak of it.

use collection::event::WorkKind;
use dormancy::forecast::Forecast;
use jiff::{civil::Date, tz::TimeZone};
use measure::winter::{Hemisphere, Winter};
use season::watering::{
    drinking::{Drinking, drinking},
    leaves::Leaves,
    log::TreeWater,
    pots::{MixFacts, PotFacts},
    thirst::{Spot, Thirst},
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
    let into_pots = tree.potted.iter().skip(1).map(|&(day, ..)| start(day));
    Some(TreeWater {
        facts: facts.ok()?,
        leaves: Leaves::of(tree.tree.taxon, forecast),
        stays: tree.moves.iter().map(|&(day, place)| (start(day), place)).collect(),
        drinks: tree
            .drinks
            .iter()
            .filter(|(_, drink)| drink.at <= until)
            .map(|(_, drink)| (water.thirst.hour(drink.at), drink))
            .filter(|(hour, _)| *hour >= 0.0)
            .collect(),
        repotted: repots.map(|(_, work)| start(work.day)).chain(into_pots).collect(),
        first_day: water.winter.day_number(water.thirst.first),
    })
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
