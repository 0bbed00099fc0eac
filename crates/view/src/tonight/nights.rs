//! Every night that the fetched forecast tells, one by one: who is at risk where it stands, and who must be moved for the first time.

use std::collections::HashSet;

use jiff::{Timestamp, civil::Date};
use season::{
    air::{Air, Spot},
    tonight::{
        judge::{TreeNight, judge},
        place::PlaceNight,
        sky::{Known, Night, sky},
    },
};

use super::{Page, gather::Gathered, named, say};
use crate::{frost, words};

/// A night of the forecast.
#[derive(Clone, Debug, PartialEq)]
pub struct NightAhead {
    /// The date of its evening.
    pub evening: Date,
    /// In words.
    pub date: String,
    /// By when trees are moved for it.
    pub move_by: Timestamp,
    /// The coldest place with trees, and how cold, in words.
    pub low: String,
    /// The same in °C.
    pub coldest: f64,
    /// Trees at risk where they stand today: key and name.
    pub at_risk: Vec<(String, String)>,
    /// Of those, the ones for which it is the first such night.
    pub first: Vec<(String, String)>,
}

impl NightAhead {
    /// Who must be moved for the first time, in words.
    pub fn first_names(&self) -> String {
        self.first.iter().map(|(_, name)| name.as_str()).collect::<Vec<_>>().join(", ")
    }
}

/// The nights from the coming one on, as long as the forecast tells them; none where it tells none.
pub(super) fn nights(
    page: &Page<'_>,
    spot: Spot,
    outside: &Air,
    coming: &[PlaceNight],
    trees: &[Gathered<'_>],
) -> Vec<NightAhead> {
    let mut seen = HashSet::new();
    let first = night(page, &page.night, coming, trees, &mut seen);
    let mut told = vec![first];
    let mut next = page.night.next(&page.zone);
    // A forecast reaches some two weeks; the air ends sooner or later in any case.
    while let Some(sky) = sky(spot, outside, &next).filter(|sky| sky.known == Known::Forecast) {
        let places: Vec<PlaceNight> = page
            .whole
            .places
            .iter()
            .filter_map(|it| Some(PlaceNight::of(&sky, it.air.as_ref()?, it.place.shelter)))
            .collect();
        if places.len() != page.whole.places.len() {
            break;
        }
        told.push(night(page, &next, &places, trees, &mut seen));
        next = next.next(&page.zone);
    }
    told
}

fn night(
    page: &Page<'_>,
    night: &Night,
    places: &[PlaceNight],
    trees: &[Gathered<'_>],
    seen: &mut HashSet<String>,
) -> NightAhead {
    let is_at_risk = |it: &&Gathered<'_>| {
        let facts = frost::facts(page.whole, it.tree, night.evening.max(page.whole.today));
        let tree = TreeNight { facts, ..it.night };
        judge(&tree, &places[it.place]).is_endangered(tree.worth)
    };
    let named_tree = |it: &Gathered<'_>| (it.tree.tree.key.clone(), it.tree.tree.name.clone());
    let at_risk: Vec<(String, String)> = trees.iter().filter(is_at_risk).map(named_tree).collect();
    let first = at_risk.iter().filter(|(key, _)| seen.insert(key.clone())).cloned().collect();
    let coldest =
        trees.iter().map(|it| it.place).min_by(|&a, &b| places[a].low.0.total_cmp(&places[b].low.0));
    NightAhead {
        evening: night.evening,
        date: format!("{} {}", say::weekday(night.evening), named(night.evening, page.whole)),
        move_by: night.move_by(&page.zone),
        low: coldest.map_or_else(String::new, |rank| {
            format!("{} {}", page.whole.places[rank].place.name, page.units.temperature(places[rank].low))
        }),
        coldest: coldest.map_or(f64::NAN, |rank| places[rank].low.0),
        at_risk,
        first,
    }
}

/// The next nights that ask for a move, in half a sentence; nothing where none does.
pub(super) fn next(nights: &[NightAhead], page: &Page<'_>) -> String {
    let coming = nights.iter().skip(1).find(|night| !night.first.is_empty());
    coming.map_or_else(String::new, |night| {
        let at = say::clock(page, night.move_by);
        let trees = words::count(night.first.len(), "more tree", "more trees");
        format!("; {trees} by {at} on {}", night.date)
    })
}
