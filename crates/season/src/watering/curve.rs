//! How a pot dries: what was left and what will be, for a quick, a middling and a slow drinker of what is believed.

use measure::quantity::{Days, LitresPerDay, Share};

use crate::watering::{
    log::{Belief, Story, TreeWater},
    thirst::Thirst,
};

/// Hours between the points of a curve.
const STEP: f64 = 6.0;

/// Hours ahead that a curve reaches.
const REACH: f64 = 168.0;

/// One in ten drinks quicker, one in ten slower.
const TENTHS: [f64; 3] = [1.281_551_565_545, 0.0, -1.281_551_565_545];

/// One moment of a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Hour of the thirst.
    pub hour: f64,
    /// Share left for a quick, a middling and a slow drinker.
    pub left: [Share; 3],
}

/// The pot from when its water was last known to a week ahead; rain of the days to come is the mean of the past years'.
///
/// Empty where the pot was never seen full.
pub fn curve(tree: &TreeWater<'_>, thirst: &Thirst, story: &Story, now: f64) -> Vec<Point> {
    let Some(start) = story.start else { return Vec::new() };
    let belief: Belief = tree.believed(story, now);
    let holds = tree.facts.store.holds().0;
    let mut left = [start.left; 3];
    let mut points = vec![Point { hour: start.hour, left }];
    let mut hour = start.hour;
    while hour < now + REACH {
        let next = if hour < now { (hour + STEP).min(now) } else { hour + STEP };
        let drawn = tree.expected(thirst, hour, next).0;
        let rain = tree.expected_rain(thirst, hour, next).0;
        let span = Days((next - hour) / 24.0);
        for (left, z) in left.iter_mut().zip(TENTHS) {
            let demand = LitresPerDay(drawn * (belief.mean + z * belief.spread).exp() / span.0);
            let wet = Share((left.0 + rain / holds).min(1.0));
            *left = tree.facts.store.after(wet, demand, span).0;
        }
        hour = next;
        points.push(Point { hour, left });
    }
    points
}
