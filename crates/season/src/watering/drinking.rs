//! Whether a bare tree drinks again: its waterings held against its winter's level, with the waking forecast as what is expected.

use dormancy::forecast::Forecast;
use measure::{
    quantity::{Days, Share},
    range::OutOfRange,
    stage::Stage,
};
use water::drink::{Belief, Interval, Judged, Season, WakePrior, Waking, judge};

use crate::watering::{
    log::{Story, TreeWater},
    thirst::Thirst,
};

/// Day number on which the season of the filter begins: mid December in the north.
const BEGINS: i32 = -15;

/// Days that the filter reaches.
const REACH: usize = 160;

/// Chance over which buds are worth a look: half (with a forecast before it, 20 % of the alarms come early; reference Monte Carlo).
pub const LOOK: f64 = 0.5;

/// Chance over which a tree is said to use water.
pub const USING: f64 = 0.95;

/// Error of a kitchen scale, litres.
const SCALE: f64 = 0.005;

/// Chance a day of waking where no forecast is asked: any day alike.
const ANY_DAY: f64 = 0.01;

/// What a tree's drinking says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drinking {
    /// Chance that it drinks again, with the forecast as what was expected.
    pub awake: Share,
    /// The same from the waterings alone, with no day likelier than another.
    pub alone: Share,
    /// Day numbers since when, early, middle and late, from the waterings alone.
    pub since: Option<(i32, i32, i32)>,
    /// Intervals that spoke.
    pub heard: usize,
    /// Intervals that were passed over, for rain, repotting, a move or a gap.
    pub passed: usize,
}

/// Reads a bare tree's log for waking; none for an evergreen, or before the season, or with fewer than three intervals.
///
/// # Errors
///
/// [`OutOfRange`] when a figure of the log is beyond what any pot does.
pub fn drinking(
    tree: &TreeWater<'_>,
    thirst: &Thirst,
    forecast: Option<&Forecast>,
) -> Result<Option<Drinking>, OutOfRange> {
    let season = BEGINS..BEGINS + REACH as i32;
    let today = tree.first_day + thirst.past_days as i32;
    if !tree.leaves.is_bare_in_winter() || !season.contains(&today) {
        return Ok(None);
    }
    // Held against a tree that sleeps on: leaves that the forecast expects must not hide what they are to show.
    let asleep = TreeWater { leaves: tree.leaves.asleep(), ..tree.clone() };
    let story = &asleep.story(thirst)?;
    let expected = match forecast.and_then(|forecast| forecast.of(Stage::Swelling)) {
        Some(spread) => {
            let sd = f64::from(spread.late - spread.early) / 2.563;
            Some(WakePrior::about(Days(f64::from(spread.middle - BEGINS)), Days(sd.max(2.0)), REACH)?)
        }
        None => None,
    };
    let any = || WakePrior::any_day(ANY_DAY, REACH);
    let Some((alone, heard, passed)) = filtered(tree, story, any()?)? else { return Ok(None) };
    let awake = match expected {
        Some(prior) => filtered(tree, story, prior)?.map_or(alone, |(waking, ..)| waking),
        None => alone,
    };
    let day = |days: Days| BEGINS + days.0.round() as i32;
    Ok(Some(Drinking {
        awake: awake.awake,
        alone: alone.awake,
        since: alone.began.map(|(early, middle, late)| (day(early), day(middle), day(late))),
        heard,
        passed,
    }))
}

/// The filter over the season's intervals; none where fewer than three spoke.
fn filtered(
    tree: &TreeWater<'_>,
    story: &Story,
    prior: WakePrior,
) -> Result<Option<(Waking, usize, usize)>, OutOfRange> {
    let start = f64::from(BEGINS - tree.first_day) * 24.0;
    let mut season = Season::new(prior.clone(), Belief::default())?;
    let (mut waking, mut heard, mut passed, mut last) = (None, 0, 0, None);
    for drawn in story.drawn.iter().filter(|drawn| drawn.to > start) {
        let interval = Interval {
            last,
            end: Days((drawn.to - start) / 24.0),
            span: Days((drawn.to - drawn.from) / 24.0),
            loss: drawn.loss,
            predicted: drawn.predicted,
            scale: drawn.weighed.then_some(measure::quantity::Litre(SCALE)),
            rain: drawn.rained,
            repotted: tree.repotted.iter().any(|at| (drawn.from..=drawn.to).contains(at)),
            leaves_changed: false,
            moved: drawn.moved,
        };
        match judge(&interval) {
            Judged::Take { used, restart, .. } => {
                if restart {
                    season = Season::new(prior.clone(), Belief::default())?;
                    heard = 0;
                }
                last = Some(used.day);
                waking = Some(season.seen(used)?);
                heard += 1;
            }
            Judged::Leave(_) => passed += 1,
        }
    }
    Ok(waking.filter(|_| heard >= 3).map(|waking| (waking, heard, passed)))
}
