//! The verdict on moving a tree to a place, for what-if, the form of a move and Tonight alike; and the steps of one into the sun.

use collection::place::Place;
use dormancy::frost::shade_above;
use jiff::{ToSpan, civil::Date};
use measure::shelter::Shelter;
use season::{
    coming::{Coming, coming},
    tonight::{judge::is_resting, share_out::is_heated},
    what_if::{DIM, light},
};
use state::{
    going::{Going, There},
    verdict::{Verdict, verdict},
    work::Work,
};

use super::facts;
use crate::{
    frost,
    whole::{TreeWhole, Whole},
    words,
};

/// The verdict on moving a tree to a place on a day of this season.
pub fn moving(whole: &Whole, tree: &TreeWhole, to: usize, day: Date) -> Verdict {
    let mut facts = facts(whole, tree);
    facts.going = Some(going(whole, tree, to, day));
    verdict(Work::Move, &facts)
}

fn going(whole: &Whole, tree: &TreeWhole, to: usize, day: Date) -> Going {
    let place = &whole.places[to];
    let there = at(whole, to, day).map(|coming| there(whole, tree, (to, coming), day));
    let room = |room: u32| place.trees.len() < room as usize || tree.place == Some(to);
    Going {
        there,
        is_dark: place.place.shelter == Shelter::ColdRoom && place.place.lamp.is_none(),
        light: light_at(whole, to, day),
        is_into_sun: place.place.shelter == Shelter::OpenBench
            && tree.place.is_some_and(|here| is_dim(whole, here, day)),
        has_room: place.place.capacity.is_none_or(room),
    }
}

fn at(whole: &Whole, place: usize, day: Date) -> Option<Coming> {
    let ground = whole.ground.as_ref().ok()?;
    coming(ground, place, ground.winter.day_number(day))
}

fn there(whole: &Whole, tree: &TreeWhole, (to, coming): (usize, Coming), day: Date) -> There {
    let lines = frost::facts(whole, tree, day);
    There {
        low: coming.low,
        on: coming.on,
        low_here: tree.place.and_then(|here| at(whole, here, day)).map(|here| here.low),
        line: lines.above().map(|limit| limit.line.value),
        ball: coming.ball,
        ball_line: lines.roots().line.value,
        mean: coming.mean,
        high: coming.high,
        shade_above: shade_above(tree.tree.taxon.kind).value,
        is_heated: is_heated(whole.places[to].place.shelter, coming.mean),
        is_resting: is_resting(&lines),
    }
}

/// Light in a place, mol/m² a day; clouds halve that of a pane.
fn light_at(whole: &Whole, place: usize, day: Date) -> Option<f64> {
    let latitude = whole.site.as_ref()?.latitude;
    let place: &Place = &whole.places[place].place;
    let daily = light(latitude, place, day.day_of_year()).daily?.value;
    Some(if place.lamp.is_some() { daily } else { daily / 2.0 })
}

/// Whether leaves that grew in a place are soft against the sun: a room, a store or shade.
fn is_dim(whole: &Whole, place: usize, day: Date) -> bool {
    match whole.places[place].place.shelter {
        Shelter::ColdRoom | Shelter::WarmSill | Shelter::ShadedBench => true,
        Shelter::CoolSill => light_at(whole, place, day).is_none_or(|light| light < 2.0 * DIM),
        Shelter::ColdFrame | Shelter::ColdGlasshouse | Shelter::OpenBench => false,
    }
}

/// A step out into the sun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// From this day.
    pub from: Date,
    /// A place of the collection for it, where one serves.
    pub place: Option<String>,
    /// What to do, with the days.
    pub words: String,
}

/// Days of each step: shade and wind shelter, half sun; 3 to 7 are usual, the middle is taken (common practice, no source).
const DAYS: i64 = 5;

/// The steps of a move out of weak light into the sun, with their dates and places; none where the move asks for none.
pub fn steps(whole: &Whole, tree: &TreeWhole, to: usize, day: Date) -> Vec<Step> {
    let asks = moving(whole, tree, to, day).reasons.contains(&state::reason::Reason::BySteps);
    if !asks || whole.places[to].place.shelter != Shelter::OpenBench {
        return Vec::new();
    }
    let has_room = |rank: &usize| {
        let place = &whole.places[*rank];
        place.place.capacity.is_none_or(|room| place.trees.len() < room as usize)
    };
    let shaded = (0..whole.places.len())
        .filter(|&rank| whole.places[rank].place.shelter == Shelter::ShadedBench)
        .find(has_room);
    let name = |rank: usize| whole.places[rank].place.name.clone();
    let step = |days: i64, place: Option<usize>, what: &str| {
        let from = day.saturating_add(days.days());
        let at = place.map_or_else(String::new, |rank| format!("{}: ", name(rank)));
        let words = format!("from {}, {at}{what}", words::day(from, whole.today));
        Step { from, place: place.map(name), words }
    };
    vec![
        step(0, shaded, "full shade, out of the wind, 3 to 7 days"),
        step(DAYS, Some(to), "half sun, mornings only, 3 to 7 days"),
        step(2 * DAYS, Some(to), "its full place; in again on any night that Tonight lists it"),
    ]
}
