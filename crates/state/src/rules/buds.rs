//! Root work by the buds: on the whole spread of the forecast and the last look, never on the likeliest stage.

use measure::stage::Stage;

use crate::{
    facts::{Facts, Seen},
    reason::Reason,
};

/// Chance of green tips over which the window is called past without a look.
const PAST: f64 = 0.9;

/// Chance of full or just breaking buds from which root work is advised without a look of the last week.
const READY: f64 = 0.8;

/// Chance of green tips over which buds that were ready at a look of the week are looked at again.
const RUN_ON: f64 = 0.5;

/// A look older than this no longer says yes by itself, days.
const FRESH: i32 = 7;

/// Chance of full buds or further from which the buds must be looked at before a "not yet" is believed.
const WATCH: f64 = 0.1;

/// What the buds say of root work today.
pub(super) fn window(facts: &Facts) -> Reason {
    if let Some(seen) = facts.seen.filter(|seen| seen.stage >= Stage::GreenTip && !seen.is_doubtful) {
        return Reason::GreenSeen { day: seen.day, stage: seen.stage };
    }
    let fresh = facts.seen.filter(|seen| is_fresh(facts, seen));
    let Some(buds) = facts.buds else {
        return match fresh {
            Some(seen) if is_ready(seen.stage) => Reason::BudsReady { chance: 1.0, seen: Some(seen.day) },
            _ => Reason::BudsUnknown,
        };
    };
    let (ready, past) = (buds.ready(), buds.at_least(Stage::GreenTip));
    if past > PAST {
        return Reason::WindowPast { chance: past };
    }
    if let Some(seen) = fresh.filter(|seen| is_ready(seen.stage) && past <= RUN_ON) {
        return Reason::BudsReady { chance: ready, seen: Some(seen.day) };
    }
    if ready >= READY {
        return Reason::BudsReady { chance: ready, seen: None };
    }
    if ready + past >= WATCH {
        return Reason::WindowUnsure { ready, past };
    }
    match buds.window {
        Some([opens, _]) => Reason::BudsNotFull { opens },
        None => Reason::NoWindow,
    }
}

fn is_ready(stage: Stage) -> bool {
    matches!(stage, Stage::Full | Stage::Breaking)
}

fn is_fresh(facts: &Facts, seen: &Seen) -> bool {
    (0..=FRESH).contains(&facts.days_since(seen.day)) && !seen.is_doubtful
}
