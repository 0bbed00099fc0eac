//! What the night in a place does to one tree: its lines, how far and how long they are passed, and the chance.

use collection::drink::Worth;
use dormancy::frost::{Facts, Limit};
use jiff::civil::Date;
use measure::quantity::{Celsius, Share};

use super::{
    ball::{Evening, Freeze},
    carry::Load,
    place::PlaceNight,
};
use crate::repot::aftercare::in_frost;

/// A tree and the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TreeNight {
    /// What decides its lines.
    pub facts: Facts,
    /// What harm would cost.
    pub worth: Worth,
    /// Its pot.
    pub load: Load,
}

impl TreeNight {
    /// The same after its roots were cut on a day: stricter in frost as its aftercare says.
    #[must_use]
    pub fn repotted(self, day: Date, cut: Share, today: Date) -> TreeNight {
        TreeNight { facts: in_frost(self.facts, day, cut, today), ..self }
    }
}

/// A line against the night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Threat {
    /// The line.
    pub limit: Limit,
    /// The lowest expected there.
    pub low: Celsius,
    /// Hours expected below it.
    pub hours: usize,
    /// Chance of passing it.
    pub chance: Share,
}

/// What a night in a place does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Above the soil; none for bare wood at rest.
    pub above: Option<Threat>,
    /// At the root, the ball watered.
    pub roots: Threat,
    /// The watered ball.
    pub wet: Freeze,
    /// The ball, had it been let dry.
    pub dry: Freeze,
    /// Chance of harm to the roots of a dry ball.
    pub dry_chance: Share,
    /// The greater of the two chances.
    pub chance: Share,
}

/// What carrying a tree in and out again costs, in the units of [`Worth::loss_over_cost`]: as much as four waterings. Our estimate.
const CARRY: f64 = 4.0;

/// The chance of harm above which carrying is worth it: its cost over the loss.
///
/// ```
/// use collection::drink::Worth;
/// use season::tonight::judge::worth_carrying;
///
/// assert_eq!(worth_carrying(Worth::Standing).0, 0.2);
/// ```
pub fn worth_carrying(worth: Worth) -> Share {
    Share(CARRY / worth.loss_over_cost())
}

/// The low within this of a line asks for a second look, K (common practice: alarm at one degree).
const NEAR: f64 = 1.0;

impl Judged {
    /// Whether the tree is worth carrying.
    pub fn is_endangered(&self, worth: Worth) -> bool {
        self.chance >= worth_carrying(worth)
    }

    /// Whether a second look in the evening is worth it.
    pub fn wants_watch(&self, worth: Worth) -> bool {
        let near = |threat: &Threat| threat.low.0 < threat.limit.line.value.0 + NEAR;
        self.chance.0 >= worth_carrying(worth).0 / 2.0 || self.above.as_ref().is_some_and(near)
    }

    /// Whether a dry ball would be hurt where a watered one is not.
    pub fn wants_water(&self, worth: Worth) -> bool {
        self.dry_chance >= worth_carrying(worth) && self.roots.chance < worth_carrying(worth)
    }
}

/// Judges a tree in a place.
pub fn judge(tree: &TreeNight, place: &PlaceNight) -> Judged {
    let above = tree.facts.above().map(|limit| Threat {
        limit,
        low: place.low,
        hours: place.hours_below(limit.line.value),
        chance: place.chance_below(limit.line.value),
    });
    let limit = tree.facts.roots();
    let line = limit.line.value;
    let [wet, dry] = [&tree.load.wet, &tree.load.dry].map(|ball| Evening::of(ball, place));
    let (frozen, chance) = (wet.night(line), wet.chance_below(line));
    let roots = Threat { limit, low: frozen.coldest, hours: frozen.below, chance };
    let over = above.map_or(0.0, |threat| threat.chance.0);
    Judged {
        above,
        roots,
        wet: frozen,
        dry: dry.night(line),
        dry_chance: dry.chance_below(line),
        chance: Share(over.max(roots.chance.0)),
    }
}
