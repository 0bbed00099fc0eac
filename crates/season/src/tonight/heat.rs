//! Tomorrow's heat: the high of a place, hours above a tree's line for shade, and how hot the root ball gets by the air alone.

use climate::root::{RootState, Rootball};
use dormancy::frost::{ROOT_HEAT, shade_above};
use measure::{
    quantity::{Celsius, Hours},
    sourced::Sourced,
    taxon::Kind,
};

use super::place::PlaceNight;

/// Tomorrow at a place for one tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heat {
    /// The high of the air.
    pub high: Celsius,
    /// Above this the tree is shaded.
    pub line: Sourced<Celsius>,
    /// Hours of air above it.
    pub hours: usize,
    /// The hottest the root ball gets behind the air; sun on the pot comes on top.
    pub roots: Celsius,
}

impl Heat {
    /// Whether shade is wanted: air within a degree of the line, or roots above theirs.
    pub fn wants_shade(&self) -> bool {
        self.high.0 >= self.line.value.0 - NEAR || self.roots.0 > ROOT_HEAT.value.0
    }
}

/// How near a line already asks for something, K (common practice: alarm at one degree).
const NEAR: f64 = 1.0;

/// Days before from which the ball is followed.
const RUN_IN: usize = 2;

/// Tomorrow for a tree of a kind in a ball, at a place.
pub fn heat(place: &PlaceNight, kind: Kind, ball: &Rootball) -> Heat {
    let (hours, morrow) = place.morrow(RUN_IN);
    let line = shade_above(kind);
    let mut state = RootState { temperature: Celsius(hours.first().copied().unwrap_or(0.0)), ice: 0.0 };
    let mut told =
        Heat { high: Celsius(f64::NEG_INFINITY), line, hours: 0, roots: Celsius(f64::NEG_INFINITY) };
    for (at, &hour) in hours.iter().enumerate() {
        state = ball.after(state, Celsius(hour), Hours(1.0));
        if at >= morrow {
            told.high = Celsius(told.high.0.max(hour));
            told.hours += usize::from(hour > line.value.0);
            told.roots = Celsius(told.roots.0.max(state.temperature.0));
        }
    }
    told
}
