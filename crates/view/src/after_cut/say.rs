//! The answer after a root cut in the reader's words: what it draws, what was expected, and what to do.

use measure::quantity::Celsius;
use season::watering::after_cut::AfterCut;
use water::after_cut::{NO_FEED, Recovering, SHOOTS, UseLeft};

use super::{Told, WET, per_cent};
use crate::words::count;

/// Days after which to look again: our estimate, half a fortnight of weighings.
const LOOK_AGAIN: f64 = 7.0;

fn span(left: UseLeft) -> String {
    format!("{} ({:.0} to {})", per_cent(left.middle), left.low.0 * 100.0, per_cent(left.high))
}

fn cut(it: &AfterCut) -> String {
    match it.cut.roots.is_noted() {
        true => format!("a cut of {}", per_cent(it.cut.roots.likely)),
        false => "a cut nobody noted".into(),
    }
}

/// Whether the mix is wet, or dry; neither where it lies between or is not known.
fn mix(told: &Told<'_>) -> (bool, bool) {
    let left = told.left.map(|left| left.0);
    (left.is_some_and(|left| left >= WET[0]), left.is_some_and(|left| left < WET[1]))
}

/// The answer in one sentence.
pub fn answer(told: &Told<'_>) -> String {
    let it = told.it;
    let days = count(it.days.floor().max(0.0), "day", "days");
    let expected = format!("{} expected {days} after {}", span(it.late.expected), cut(it));
    let Some(share) = it.late.share else {
        return format!(
            "nothing of its use was weighed since; {} expected {days} after {}",
            span(it.expected),
            cut(it)
        );
    };
    let left = told.left.map_or_else(String::new, |left| format!(", {} of its water left", per_cent(left)));
    let judged = match (it.late.told, mix(told)) {
        (Recovering::Thin, _) if it.seen < 2 => "too little was seen to tell, one use alone".into(),
        (Recovering::Thin, _) => "its use before the cut is not known well enough to tell".into(),
        (Recovering::AsExpected, _) => "as it should be".into(),
        (Recovering::Above, _) => "more than expected, the roots run again sooner than planned".into(),
        (Recovering::Below, (true, _)) => {
            format!("well below expected, and the mix is still wet{left}: roots, not thirst")
        }
        (Recovering::Below, (_, true)) => {
            format!("well below expected, but the mix is dry{left}: it may be thirst")
        }
        (Recovering::Below, _) => {
            format!("well below expected{left}: roots rather than thirst, if the mix feels wet")
        }
    };
    format!("uses {} of what it used before; {expected}: {judged}", per_cent(share))
}

fn feed(told: &Told<'_>) -> String {
    let [soon, late] = NO_FEED.value;
    let until = if told.it.late.told == Recovering::Below { late } else { soon };
    if told.it.days >= until {
        return "feed at half strength at first, and only if new growth hardens (common practice, no source)"
            .into();
    }
    format!(
        "no feed until {}; then at half strength at first, and only if new growth hardens (common practice, no source)",
        told.day_after(until)
    )
}

/// What to do, and until when.
pub fn todo(told: &Told<'_>) -> Vec<String> {
    let it = told.it;
    let ((wet, dry), below) = (mix(told), it.late.told == Recovering::Below);
    let again = told.day_after(it.days.floor() + LOOK_AGAIN);
    let mut lines = Vec::new();
    if below && dry {
        lines.push("water it through once, let it drain, and weigh it again in a day or two".into());
    } else if below {
        let feel = if wet {
            "do not water more: only as the surface dries"
        } else {
            "feel the mix before you water"
        };
        lines.push(format!("{feel}; water cannot help roots that do not take it up"));
    } else {
        lines.push("water as the surface dries, and not by the old routine".into());
    }
    lines.push(feed(told));
    if below {
        let warm = [10.0, 20.0].map(|celsius| told.units.temperature(Celsius(celsius)));
        lines.extend([
            "shade, under half the sun, and shelter from wind; mist an evergreen".to_string(),
            "see that the holes run free and water does not stand in a tray".to_string(),
            format!("keep its nights mild and free of frost; roots heal with the mix at {} to {}", warm[0], warm[1]),
            "a sour smell or brown roots that slip would change this: then they rot, and it goes into open mix with no further cut, whatever the month"
                .to_string(),
            format!("look again on {again}, and weigh it every day or two until then (our estimate)"),
        ]);
    } else {
        let [soon, late] = SHOOTS.value;
        if it.days < late {
            lines.push(format!(
                "by steps to its full place from {} to {}, if shoots grow",
                told.day_after(soon),
                told.day_after(late)
            ));
        }
        if it.late.told == Recovering::Thin {
            lines.push(
                "weigh it when it is watered and drained, and again a day or two later without rain: two such pairs tell more than any look"
                    .into(),
            );
        }
    }
    lines
}

/// The row of the round.
pub fn row(told: &Told<'_>) -> String {
    let it = told.it;
    let share = match it.cut.roots.is_noted() {
        true => format!("roots cut by {} on {}", per_cent(it.cut.roots.likely), told.day_after(0.0)),
        false => format!("repotted on {}, the cut not noted", told.day_after(0.0)),
    };
    let reckoned = format!("{share}: reckoned at {} of its use, with wider doubt", span(it.expected));
    match (it.late.told, it.late.share, mix(told)) {
        (Recovering::Below, Some(share), (false, true)) => {
            format!("{reckoned}; seen at {}, well below: water it once and weigh again", per_cent(share))
        }
        (Recovering::Below, Some(share), _) => {
            format!(
                "{reckoned}; seen at {}, well below: roots, not thirst, so do not water a wet mix",
                per_cent(share)
            )
        }
        _ => reckoned,
    }
}
