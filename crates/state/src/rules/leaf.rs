//! May leaves, tips or candles be taken today?

use jiff::ToSpan;
use measure::taxon::Kind;
use pot::repot::insult::{Insult, Strength};
use season::work_months::{Defoliation, Months, WorkMonths};

use super::{months, roots, wood};
use crate::{
    facts::{Facts, Foliage},
    reason::Reason,
};

/// Warm weeks that a second set of leaves needs before the mean first frost, in days.
const SECOND_LEAVES: i32 = 56;

/// Days between two defoliations.
const BETWEEN: f64 = 365.0;

/// Months in which the candles of two-flush pines are cut.
const DECANDLE: Months = Months(&[[6, 7]]);

pub(super) fn pinch(facts: &Facts) -> Vec<Reason> {
    let mut found = match facts.foliage {
        Foliage::Bare => vec![Reason::NoLeaves],
        Foliage::Soft => Vec::new(),
        Foliage::Full | Foliage::Autumn => vec![months::of(WorkMonths::of(facts.taxon.kind).trim, facts)],
    };
    found.extend(wood::settling(facts));
    found
}

pub(super) fn defoliate(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon.kind);
    if row.defoliation == Defoliation::Never {
        return vec![Reason::NotThisKind];
    }
    let mut found = Vec::new();
    match facts.foliage {
        Foliage::Bare => found.push(Reason::NoLeaves),
        Foliage::Soft => found.push(Reason::LeavesSoft),
        Foliage::Full | Foliage::Autumn => found.push(months::of(row.defoliate, facts)),
    }
    found.extend(match facts.first_frost.map(|frost| (frost - facts.today).get_days()) {
        Some(days) if days < SECOND_LEAVES => Some(Reason::ShortSeason { days }),
        Some(_) => None,
        None => Some(Reason::SeasonUnknown),
    });
    found.extend(roots::cut_this_season(facts));
    found.extend(facts.layer.map(|since| Reason::LayerOn { since }));
    found.extend(last_time(facts));
    found
}

/// Leaves were taken less than a year ago.
fn last_time(facts: &Facts) -> Option<Reason> {
    let taken = |insult: Insult| match insult {
        Insult::DefoliateFull => true,
        Insult::DefoliatePartial(share) => share.0 > 0.3,
        _ => false,
    };
    let last = facts.past.iter().filter(|past| taken(past.insult)).map(|past| past.ago.0);
    let wait = BETWEEN - last.fold(f64::INFINITY, f64::min);
    (wait > 0.0).then(|| Reason::TooSoon { until: facts.today.saturating_add((wait.ceil() as i64).days()) })
}

pub(super) fn decandle(facts: &Facts) -> Vec<Reason> {
    if facts.taxon.kind != Kind::TwoFlushPine {
        return vec![Reason::NotThisKind];
    }
    let mut found = vec![months::of(DECANDLE, facts)];
    match facts.judged {
        Some(_) if facts.strength < Strength::Strong => found.push(Reason::NotStrongEnough(facts.strength)),
        Some(_) => {}
        None => found.push(Reason::JudgeFirst),
    }
    found.extend(roots::cut_this_season(facts));
    found
}
