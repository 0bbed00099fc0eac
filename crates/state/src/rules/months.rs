//! Whether the months are right.

use season::work_months::Months;

use crate::{facts::Facts, reason::Reason};

/// In season, or out of it until the next of its months.
pub(super) fn of(months: Months, why: &'static str, facts: &Facts) -> Reason {
    if months.hold(facts.today, facts.hemisphere) {
        Reason::InSeason { until: months.last_day(facts.today, facts.hemisphere), why }
    } else {
        Reason::OutOfSeason { next: months.next_start(facts.today, facts.hemisphere), why }
    }
}
