//! May a tree go to a place today? Harm comes first: frost at its line, the dark, a heated room.

use measure::stage::Stage;

use crate::{
    facts::{Facts, Foliage},
    going::{Going, There},
    reason::Reason,
};

/// The chance of full buds from which a tree counts as waking.
const WAKES: f64 = 0.5;

/// Air under which cold is counted, °C (the upper bound of chilling hours).
const COLD: f64 = 7.2;

/// What speaks for and against a move; without a place only what the tree itself says of any.
pub(super) fn change_place(facts: &Facts) -> Vec<Reason> {
    let full = facts.buds.map_or(0.0, |buds| buds.at_least(Stage::Full));
    let is_waking = full >= WAKES;
    let is_soft = matches!(facts.foliage, Foliage::Soft | Foliage::Full);
    let in_leaf = is_soft && facts.taxon.kind.is_bare_in_winter();
    let mut found = Vec::new();
    if let Some(going) = &facts.going {
        found.extend(harm(facts, going, in_leaf || is_waking));
    }
    let to_dark = facts.going.is_some_and(|going| going.is_dark);
    if facts.in_dark && is_waking && !to_dark {
        found.push(Reason::WakesInDark);
    }
    let is_cold = facts.going.and_then(|going| going.there).is_some_and(|there| there.mean_is_cold());
    if !is_cold {
        found.extend(facts.cold_short.map(|portions| Reason::ColdShort { portions }));
    }
    let by_steps = facts.going.map_or(in_leaf, |going| going.is_into_sun && (is_soft || is_waking));
    if by_steps {
        found.push(Reason::BySteps);
    }
    found
}

impl There {
    /// Whether its days count as cold received.
    fn mean_is_cold(&self) -> bool {
        self.mean.0 < COLD
    }
}

fn harm(facts: &Facts, going: &Going, is_awake: bool) -> Vec<Reason> {
    let kind = facts.taxon.kind;
    let mut found = Vec::new();
    match going.there {
        Some(there) => found.extend(weather(facts, &there)),
        None => found.push(Reason::PlaceUnknown),
    }
    let wants_light = is_awake || !kind.rests();
    // Closed buds may be held in the cold and dark for a little; green may not.
    let is_green = facts.buds.is_none_or(|buds| buds.at_least(Stage::GreenTip) >= WAKES);
    if going.is_dark && wants_light && (facts.foliage != Foliage::Bare || is_green || !kind.rests()) {
        found.push(Reason::DarkThere);
    } else if going.is_dark && wants_light {
        found.push(Reason::HoldsInDark);
    } else if let Some(light) = going.light.filter(|light| *light < season::what_if::DIM && wants_light) {
        found.push(Reason::DimThere { light });
    }
    if !going.has_room {
        found.push(Reason::NoRoomThere);
    }
    found
}

fn weather(facts: &Facts, there: &There) -> Vec<Reason> {
    let mut found = Vec::new();
    let is_better = there.low_here.is_some_and(|here| there.low.0 > here.0);
    if let Some(line) = there.line.filter(|line| there.low.0 <= line.0) {
        found.push(Reason::FrostThere { low: there.low, on: there.on, line, is_better });
    }
    if there.ball.0 <= there.ball_line.0 {
        found.push(Reason::BallFrostThere { ball: there.ball, line: there.ball_line, is_better });
    }
    if there.high.0 > there.shade_above.0 {
        found.push(Reason::HeatThere { high: there.high, line: there.shade_above });
    }
    if there.is_heated && there.is_resting {
        let is_short = facts.cold_short.is_some();
        let wakes = facts.taxon.kind.is_bare_in_winter() && !is_short;
        found.push(if wakes { Reason::WarmthWakes } else { Reason::HeatedRoom });
    }
    found
}
