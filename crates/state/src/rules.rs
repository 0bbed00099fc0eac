//! What speaks for and against each kind of work; every rule looks at the facts alone.

mod buds;
mod care;
mod going;
mod leaf;
mod months;
pub(crate) mod roots;
mod stress;
mod wood;

pub(crate) use stress::budget;

use crate::{facts::Facts, reason::Reason, work::Work};

/// Everything found for a kind of work, in no order.
pub(crate) fn findings(work: Work, facts: &Facts) -> Vec<Reason> {
    let mut found = stress::stress(work, facts);
    found.extend(match work {
        Work::Repot => roots::repot(facts),
        Work::HardPrune => wood::hard_prune(facts),
        Work::Trim => wood::trim(facts),
        Work::Pinch => leaf::pinch(facts),
        Work::Defoliate => leaf::defoliate(facts),
        Work::Decandle => leaf::decandle(facts),
        Work::Wire => wood::wire(facts),
        Work::Unwire => wood::unwire(facts),
        Work::Layer => wood::layer(facts),
        Work::Move => going::change_place(facts),
        Work::Feed => care::feed(facts),
    });
    found
}
