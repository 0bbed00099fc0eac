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
    /// Hours of the night below the line asked about.
    pub below: usize,
}

/// A ball in a place on one evening.
#[derive(Clone, Copy, Debug)]
pub struct Evening<'a> {
    ball: &'a Rootball,
    place: &'a PlaceNight,
    state: RootState,
}

/// Passing a line counts from here on, K; a ball that freezes stands at 0 °C exactly.
const HAIR: f64 = 1e-9;

impl<'a> Evening<'a> {
    /// The ball as the last days left it; it follows the air as [`Rootball::after`] tells, hour by hour.
    pub fn of(ball: &'a Rootball, place: &'a PlaceNight) -> Evening<'a> {
        let (hours, night) = place.run_in(RUN_IN);
        let first = hours.first().copied().unwrap_or(0.0);
        let mut state = RootState { temperature: Celsius(first), ice: if first < 0.0 { 1.0 } else { 0.0 } };
        for &hour in &hours[..night] {
            state = ball.after(state, Celsius(hour), Hours(1.0));
        }
        Evening { ball, place, state }
    }

    /// The ball through the night as it is told, against a line.
    pub fn night(&self, line: Celsius) -> Freeze {
        let mut state = self.state;
        let mut told =
            Freeze { coldest: state.temperature, to_zero: None, through: None, ice: Share(0.0), below: 0 };
        for (at, &hour) in self.place.night().iter().enumerate() {
            state = self.ball.after(state, Celsius(hour), Hours(1.0));
            let since = Hours((at + 1) as f64);
            told.coldest = Celsius(told.coldest.0.min(state.temperature.0));
            told.below += usize::from(state.temperature.0 < line.0 - HAIR);
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

    /// The chance that the ball passes a line: that of the night being so much colder than told as to bring it there.
    pub fn chance_below(&self, line: Celsius) -> Share {
        let (mut hurts, mut spares) = (-WIDEST, WIDEST);
        if !self.passes(line, hurts) {
            return Share(0.0);
        }
        if self.passes(line, spares) {
            return Share(1.0);
        }
        for _ in 0..HALVINGS {
            let middle = (hurts + spares) / 2.0;
            if self.passes(line, middle) { hurts = middle } else { spares = middle }
        }
        self.place.chance_of_shift(hurts)
    }

    /// How far below a line the ball's coldest is expected to be over the spread of the night, each counted up to `most`, K.
    pub fn expected_below(&self, line: Celsius, most: f64) -> f64 {
        let shifts = self.place.shifts();
        let depth = |shift: f64| (line.0 - self.coldest(shift)).clamp(0.0, most);
        shifts.into_iter().map(depth).sum::<f64>() / shifts.len() as f64
    }

    /// The ball's coldest in a night that is warmer by this, °C.
    fn coldest(&self, shift: f64) -> f64 {
        let mut state = self.state;
        let hours = self.place.night().iter();
        hours.fold(state.temperature.0, |coldest, &hour| {
            state = self.ball.after(state, Celsius(hour + shift), Hours(1.0));
            coldest.min(state.temperature.0)
        })
    }

    fn passes(&self, line: Celsius, shift: f64) -> bool {
        let mut state = self.state;
        self.place.night().iter().any(|&hour| {
            state = self.ball.after(state, Celsius(hour + shift), Hours(1.0));
            state.temperature.0 < line.0 - HAIR
        })
    }
}

/// Widest shift of a night that is tried, K.
const WIDEST: f64 = 15.0;

/// Halvings of the span between a shift that hurts and one that does not: to 0.03 K.
const HALVINGS: u32 = 10;
