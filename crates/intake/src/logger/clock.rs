//! Clocks on the wall to moments, through both changes of the clock.

use jiff::tz::{AmbiguousOffset, Offset, TimeZone};

use super::stamp::{self, Stamp};
use crate::weather::note::{Tally, Why};

/// Turns stamps, given from oldest to newest, into unix seconds; a time the clock never showed is `None`.
///
/// The spring hour that is skipped is no gap. In the autumn hour that comes twice the first pass is
/// summer time, and from where the clock steps back the second pass is standard time. A fixed offset
/// knows neither.
pub(crate) fn moments(
    stamps: &[Stamp],
    zone: &TimeZone,
    fixed: Option<Offset>,
    tally: &mut Tally,
) -> Vec<Option<i64>> {
    let mut moments: Vec<Option<i64>> = Vec::with_capacity(stamps.len());
    let mut twice = Vec::new();
    for (place, stamp) in stamps.iter().enumerate() {
        moments.push(match (stamp, fixed) {
            (Stamp::Moment(at), _) => Some(*at),
            (Stamp::Wall(wall), Some(offset)) => stamp::on_clock(offset, *wall),
            (Stamp::Wall(wall), None) => match zone.to_ambiguous_timestamp(*wall).offset() {
                AmbiguousOffset::Unambiguous { offset } => stamp::on_clock(offset, *wall),
                AmbiguousOffset::Gap { .. } => None,
                AmbiguousOffset::Fold { before, after } => {
                    twice.push(Twice { place, wall: *wall, before, after });
                    None
                }
            },
        });
    }
    for run in twice.chunk_by(|one, next| one.place + 1 == next.place) {
        let back = step_back(run);
        let why = if back.is_some() { Why::AutumnHourByOrder } else { Why::AutumnHourUnclear };
        tally.add(why, run.len());
        for (nth, one) in run.iter().enumerate() {
            let second_pass = back.is_some_and(|back| nth >= back);
            let offset = if second_pass { one.after } else { one.before };
            moments[one.place] = stamp::on_clock(offset, one.wall);
        }
    }
    moments
}

/// Whether stamps run from newest to oldest.
pub(crate) fn newest_first(stamps: &[Stamp]) -> bool {
    let order = |stamp: &Stamp| match stamp {
        Stamp::Moment(at) => Some(*at),
        Stamp::Wall(wall) => stamp::on_clock(Offset::UTC, *wall),
    };
    let falls = stamps.windows(2).filter(|pair| order(&pair[1]) < order(&pair[0])).count();
    let rises = stamps.windows(2).filter(|pair| order(&pair[1]) > order(&pair[0])).count();
    falls > rises
}

/// A stamp in the hour that comes twice.
struct Twice {
    place: usize,
    wall: jiff::civil::DateTime,
    before: Offset,
    after: Offset,
}

/// Where the second pass begins: where the clock steps back, or the second of two that are alike.
fn step_back(run: &[Twice]) -> Option<usize> {
    let steps = run.windows(2).position(|pair| pair[1].wall < pair[0].wall).map(|before| before + 1);
    let alike = run.len() == 2 && run[0].wall == run[1].wall;
    steps.or(alike.then_some(1))
}
