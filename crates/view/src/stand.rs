//! Where a tree stands after root work, for every page that speaks of it: from the whole to the season's rule, and in words.

use dormancy::frost::{Facts, RootAge};
use measure::taxon::Taxon;
use season::{
    repot::stand::{Spot, Stand, stand, suits},
    tonight::carry::Load,
    what_if,
};

use crate::{
    frost, tonight,
    whole::{PlaceWhole, TreeWhole, Whole},
};

/// What decides a tree's lines once its roots are cut.
pub fn freshly_cut(whole: &Whole, tree: &TreeWhole) -> Facts {
    Facts { roots: RootAge::Fresh, ..frost::facts(whole, tree, whole.today) }
}

/// Where a tree stands after root work done today, or lately; none without weather or places.
pub fn after(whole: &Whole, tree: &TreeWhole) -> Option<Stand> {
    let load = tonight::load(whole, tree);
    let spots: Option<Vec<Spot>> = whole.places.iter().map(|place| spot(whole, place, load)).collect();
    let spots = spots.filter(|spots| !spots.is_empty())?;
    Some(stand(&freshly_cut(whole, tree), tree.place, &spots))
}

fn spot(whole: &Whole, place: &PlaceWhole, load: Option<Load>) -> Option<Spot> {
    let latitude = whole.site.as_ref()?.latitude;
    let light = what_if::light(latitude, &place.place, whole.today.day_of_year()).daily;
    // Clouds halve the light of a pane; a lamp burns in any weather.
    let clouds = if place.place.lamp.is_some() { 1.0 } else { 0.5 };
    Some(Spot {
        shelter: place.place.shelter,
        ahead: place.ahead?,
        light: light.map(|light| light.value * clouds),
        has_room: has_room(place),
        lift: load.and_then(|load| load.carry(place.place.shelter).ok().flatten()),
    })
}

/// Whether cut roots of a taxon could heal in a place at all: a hardy tree is not sent to a heated room.
pub(crate) fn could_heal(taxon: &Taxon, place: &PlaceWhole) -> bool {
    place.ahead.is_none_or(|it| suits(taxon, place.place.shelter, it.mean))
}

/// Whether a place takes one more tree.
pub(crate) fn has_room(place: &PlaceWhole) -> bool {
    place.place.capacity.is_none_or(|room| place.trees.len() < room as usize)
}

/// Where it stands, as a sentence without its end; empty where it stays or nothing is known.
pub fn words(whole: &Whole, tree: &TreeWhole) -> String {
    let name = |rank: usize| whole.places[rank].place.name.as_str();
    let two = |rank: usize| {
        let lift = tonight::load(whole, tree)
            .and_then(|it| it.carry(whole.places[rank].place.shelter).ok().flatten());
        if lift.is_some_and(|lift| lift.wants_help()) { ", two people" } else { "" }
    };
    match after(whole, tree) {
        None | Some(Stand::Stays) => String::new(),
        Some(Stand::Goes { to, by_steps }) => {
            let steps = if by_steps { ", by steps over some days" } else { "" };
            format!("stand it in {}{}{steps}", name(to), two(to))
        }
        Some(Stand::NightsIn { to }) => format!(
            "leave it where it stands, out of wind and sun, and take it into {}{} on each night that Tonight lists it",
            name(to),
            two(to)
        ),
        Some(Stand::Protect(how)) => {
            format!("no place on record serves its cut roots: {}", tonight::protect(how))
        }
    }
}
