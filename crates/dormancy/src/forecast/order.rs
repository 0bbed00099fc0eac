//! Buds do not go back: looks and dates held to their order.

use measure::stage::Stage;

use super::{Evidence, Spread};

/// Looks with less noise than this bind the calendar too: what was seen has happened, the rest has not; our choice.
const SHARP: f64 = 0.07;

/// A spread held to the last sharp look.
pub(super) fn bounded(spread: Spread, stage: Stage, looks: &[Evidence]) -> Spread {
    let Some(last) = looks.iter().filter(|look| look.noise < SHARP).max_by_key(|look| look.day) else {
        return spread;
    };
    let hold = |day: i32| if stage <= last.stage { day.min(last.day) } else { day.max(last.day + 1) };
    Spread { early: hold(spread.early), middle: hold(spread.middle), late: hold(spread.late) }
}

/// Looks with less noise than this are never gone back on: those close up and at a glance.
const BELIEVED: f64 = 0.11;

/// Chances without the stages behind the last look that is believed: buds do not go back.
pub(super) fn not_before(mut chances: [f64; 9], looks: &[Evidence]) -> [f64; 9] {
    let seen = looks.iter().filter(|look| look.noise < BELIEVED).max_by_key(|look| look.day);
    let Some(rank) = seen.map(|look| look.stage.rank()) else { return chances };
    chances[..rank].fill(0.0);
    let total: f64 = chances.iter().sum();
    if total <= 1e-9 {
        chances[rank] = 1.0;
        return chances;
    }
    chances.map(|chance| chance / total)
}

/// The looks without those that a later one contradicts: buds do not go back. True where any was left out.
pub(super) fn in_line(looks: &[Evidence]) -> (Vec<Evidence>, bool) {
    let mut kept: Vec<Evidence> = looks.to_vec();
    kept.sort_by_key(|look| look.day);
    let mut lowest = Stage::Grown;
    for at in (0..kept.len()).rev() {
        if kept[at].stage > lowest {
            kept.remove(at);
        } else {
            lowest = kept[at].stage;
        }
    }
    let slipped = kept.len() < looks.len();
    (kept, slipped)
}

/// Holds each stage's dates at or after those of the stage before.
pub(super) fn in_order(stages: &mut [(Stage, Option<Spread>)]) {
    let mut before: Option<Spread> = None;
    for spread in stages.iter_mut().filter_map(|(_, spread)| spread.as_mut()) {
        if let Some(before) = before {
            spread.early = spread.early.max(before.early);
            spread.middle = spread.middle.max(before.middle);
            spread.late = spread.late.max(before.late);
        }
        spread.middle = spread.middle.max(spread.early);
        spread.late = spread.late.max(spread.middle);
        before = Some(*spread);
    }
}
