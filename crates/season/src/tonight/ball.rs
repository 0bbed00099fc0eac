//! A root ball through the night: how cold it gets, when it reaches freezing and when it is frozen through.

use climate::root::{RootState, Rootball};
use measure::quantity::{Celsius, Hours, Share};

use super::place::PlaceNight;

/// Days before the night from which the ball is followed.
const RUN_IN: usize = 4;

/// What a night does to a root ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Freeze {
    /// The coldest it gets.
    pub coldest: Celsius,
    /// From the night's beginning until some of it is frozen; none if it does not come to that.
    pub to_zero: Option<Hours>,
    /// From the night's beginning until it is frozen through.
    pub through: Option<Hours>,
    /// Share of its water that is ice at the end.
    pub ice: Share,
}

/// A ball through a night that is lower than told by this many K (below 0) or higher.
///
/// The ball follows the air as [`Rootball::after`] tells, hour by hour, from days before.
pub fn through(ball: &Rootball, place: &PlaceNight, shift: f64) -> Freeze {
    let (hours, night) = place.run_in(RUN_IN);
    let first = hours.first().copied().unwrap_or(0.0);
    let mut state = RootState { temperature: Celsius(first), ice: if first < 0.0 { 1.0 } else { 0.0 } };
    let mut told = Freeze { coldest: Celsius(f64::INFINITY), to_zero: None, through: None, ice: Share(0.0) };
    for (at, &hour) in hours.iter().enumerate() {
        let shift = if at >= night { shift } else { 0.0 };
        state = ball.after(state, Celsius(hour + shift), Hours(1.0));
        if at < night {
            continue;
        }
        let since = Hours((at - night + 1) as f64);
        told.coldest = Celsius(told.coldest.0.min(state.temperature.0));
        if state.ice > 0.0 {
            told.to_zero.get_or_insert(since);
        }
        if state.ice >= 1.0 {
            told.through.get_or_insert(since);
        }
        told.ice = Share(state.ice);
    }
    told
}

/// Hours of the night that the ball spends below a line.
pub fn hours_below(ball: &Rootball, place: &PlaceNight, line: Celsius) -> usize {
    let (hours, night) = place.run_in(RUN_IN);
    let roots = ball.series(hours);
    roots[night..].iter().filter(|&&root| root < line.0 - 1e-9).count()
}

/// Widest shift of a night that is tried, K.
const WIDEST: f64 = 15.0;

/// Halvings of the span between a shift that hurts and one that does not: to 0.03 K.
const HALVINGS: u32 = 10;

/// The chance that the ball passes a line: that of the night being so much colder than told as to bring it there.
pub fn chance_below(ball: &Rootball, place: &PlaceNight, line: Celsius) -> Share {
    let passes = |shift: f64| through(ball, place, shift).coldest.0 < line.0 - 1e-9;
    let (mut hurts, mut spares) = (-WIDEST, WIDEST);
    if !passes(hurts) {
        return Share(0.0);
    }
    if passes(spares) {
        return Share(1.0);
    }
    for _ in 0..HALVINGS {
        let middle = (hurts + spares) / 2.0;
        if passes(middle) { hurts = middle } else { spares = middle }
    }
    place.chance_of_shift(hurts)
}
