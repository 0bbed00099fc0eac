//! The log of the repots that were done, in words.

use collection::repot::Repot;
use measure::quantity::Units;

use super::case;
use crate::{limbs, whole::Whole, words};

/// A repot that was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done {
    /// When.
    pub day: String,
    /// The day for machines.
    pub iso: String,
    /// What was done: cut, pot, mix.
    pub words: String,
    /// Depth of the flare.
    pub depth: String,
    /// Front and lean.
    pub front: String,
    /// What was found.
    pub found: String,
    /// Anything else, and how long it took.
    pub note: String,
}

/// A line of the log in words.
pub(super) fn done(whole: &Whole, it: &Repot) -> Done {
    let pot = crate::pots::rank_of(whole, &it.pot).map_or(it.pot.as_str(), |at| whole.pots[at].name.as_str());
    let mix =
        whole.mixes.iter().find(|mix| mix.key == it.mix).map_or(it.mix.as_str(), |mix| mix.name.as_str());
    let cut = if it.cut.0 > 0.0 {
        format!("{} of the roots cut", case::share(it.cut))
    } else {
        "no root cut".into()
    };
    let bared = if it.bare { ", bared" } else { "" };
    let depth =
        it.proud.map_or("nobody wrote down how deep it stands".into(), |proud| depth(whole.units(), proud.0));
    let took = it.took.map(|it| format!("took {:.0} minutes", it.0));
    let note = Some(it.note.clone()).filter(|it| !it.is_empty());
    Done {
        day: words::day(it.day, whole.today),
        iso: it.day.to_string(),
        words: format!("{cut}{bared}, into {pot} with {mix}"),
        depth,
        front: [
            it.clock.and_then(turned),
            it.lean.and_then(|[sideways, forward]| leant(sideways.0, forward.0)),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", "),
        found: it.found.clone(),
        note: note.into_iter().chain(took).collect::<Vec<_>>().join("; "),
    }
}

/// How far it was turned; nothing where the front stayed the front.
fn turned(clock: u8) -> Option<String> {
    match clock {
        6 => None,
        12 => Some("turned so that the back came to the front".into()),
        hour => Some(format!("turned so that the side at {hour} o'clock came to the front")),
    }
}

/// How it was leant, each way by its name; nothing where it stands as before.
fn leant(sideways: f64, forward: f64) -> Option<String> {
    let part = |degrees: f64, plus: &str, minus: &str| {
        let way = if degrees > 0.0 { plus } else { minus };
        (degrees.abs() >= 0.5).then(|| format!("{:.0}° {way}", degrees.abs()))
    };
    let parts =
        [part(sideways, "to the right", "to the left"), part(forward, "towards you", "away from you")];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| format!("leant {}", parts.join(", ")))
}

/// How the flare stands to the rim, in words.
fn depth(units: Units, proud: f64) -> String {
    let far = limbs::long(units, measure::quantity::Millimetre(proud.abs()));
    if proud >= 0.0 {
        format!("the flare stood {far} above the rim")
    } else {
        format!("the flare lay {far} below the rim")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lean_is_told_by_its_side_and_no_lean_not_at_all() {
        assert_eq!(leant(-3.0, 5.0).unwrap(), "leant 3° to the left, 5° towards you");
        assert_eq!(leant(2.0, -4.0).unwrap(), "leant 2° to the right, 4° away from you");
        assert_eq!(leant(-0.2, 0.0), None);
    }

    #[test]
    fn a_front_that_stayed_the_front_is_not_told() {
        assert_eq!(turned(6), None);
        assert_eq!(turned(3).unwrap(), "turned so that the side at 3 o'clock came to the front");
    }
}
