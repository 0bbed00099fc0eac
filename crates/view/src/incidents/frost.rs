//! Hours of a place's log that were too cold for a tree that stood there: by its own lines of that day, above the soil and in its pot.

use std::collections::BTreeMap;

use climate::root::{RootState, Rootball};
use collection::incident::{Part, Under};
use dormancy::frost::{Limit, Part as Line};
use jiff::civil::Date;
use measure::quantity::{Celsius, Hours};
use season::air::{Air, Origin};

use crate::{
    tonight::load,
    whole::{TreeWhole, Whole},
};

/// An hour of the air, by rank, in which a tree, by rank, was below a line.
pub(super) type Below = (usize, usize, Under);

/// Days before a cold day from which the root ball is followed.
const RUN_IN: usize = 4;

/// Soil of a pot that nobody recorded, L.
const LITRES: f64 = season::roots::LITRES;

/// Passing a line counts from here on, K; a ball that freezes stands at 0 °C exactly.
const HAIR: f64 = 1e-9;

/// A part as it is kept.
fn part(line: Line) -> Part {
    match line {
        Line::Buds => Part::Buds,
        Line::FlowerBuds(_) => Part::FlowerBuds,
        Line::Leaves => Part::Leaves,
        Line::Evergreen => Part::Evergreen,
        Line::NewGrowth => Part::NewGrowth,
        Line::Roots => Part::Roots,
        Line::CutRoots(_) => Part::CutRoots,
        Line::WokenRoots => Part::WokenRoots,
    }
}

/// Whether an hour was read: by a logger there, or on an open bench by the station.
fn is_read(origin: Origin) -> bool {
    matches!(origin, Origin::Measured | Origin::Rebuilt)
}

/// Every hour from a day to today in which a tree that stood in the place was below one of its lines, by hour and tree; where it was below
/// several, the one that was passed by most.
pub(super) fn below(whole: &Whole, rank: usize, from: Date) -> Vec<Below> {
    let Some(air) = whole.places[rank].air.as_ref().map(|it| &it.in_frost().air) else { return Vec::new() };
    let mut told = BTreeMap::new();
    for (number, tree) in whole.trees.iter().enumerate() {
        let mut day = from.max(air.first);
        while day <= whole.today {
            if crate::whole::stands(&tree.moves, day) == Some(rank) {
                of_day(whole, air, (number, tree), day, &mut told);
            }
            let Ok(next) = day.tomorrow() else { break };
            day = next;
        }
    }
    told.into_iter().map(|((hour, tree), under)| (hour, tree, under)).collect()
}

fn of_day(
    whole: &Whole,
    air: &Air,
    (number, tree): (usize, &TreeWhole),
    day: Date,
    told: &mut BTreeMap<(usize, usize), Under>,
) {
    let Some((hours, origin)) = air.day(day) else { return };
    let read = || hours.iter().zip(origin).filter(|(_, origin)| is_read(**origin)).map(|(hour, _)| *hour);
    let low = read().fold(f64::INFINITY, f64::min);
    if low > WARMEST {
        return;
    }
    let facts = crate::frost::facts(whole, tree, day);
    let first = (day - air.first).get_days() as usize * 24;
    let mut add = |limit: Limit, at: usize, reached: f64| {
        let under = Under { part: part(limit.part), line: limit.line.value, reached: Celsius(reached) };
        let stands = told.entry((first + at, number)).or_insert(under);
        if under.depth() > stands.depth() {
            *stands = under;
        }
    };
    for limit in [facts.above(), facts.flowers()].into_iter().flatten() {
        for (at, (&hour, &origin)) in hours.iter().zip(origin).enumerate() {
            if is_read(origin) && hour < limit.line.value.0 - HAIR {
                add(limit, at, hour);
            }
        }
    }
    // A ball is never colder than the coldest air that it has felt.
    let roots = facts.roots();
    let since = first.saturating_sub(RUN_IN * 24);
    let felt = &air.hours[since..first + 24];
    if felt.iter().all(|hour| *hour >= roots.line.value.0) {
        return;
    }
    let ball = load(whole, tree).map(|load| load.dry).or_else(|| Some(Rootball::typical(LITRES).ok()?.value));
    let Some(ball) = ball else { return };
    let start = felt[0];
    let mut state = RootState { temperature: Celsius(start), ice: if start < 0.0 { 1.0 } else { 0.0 } };
    for (at, &hour) in felt.iter().enumerate() {
        state = ball.after(state, Celsius(hour), Hours(1.0));
        let Some(at) = (since + at).checked_sub(first) else { continue };
        if is_read(origin[at]) && state.temperature.0 < roots.line.value.0 - HAIR {
            add(roots, at, state.temperature.0);
        }
    }
}

/// Air above which no tree has a line, °C: the tenderest tropicals' is cooler.
const WARMEST: f64 = 16.0;
