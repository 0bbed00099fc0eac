//! What the tree can still take this year: its strength, its points, its majors and its rest.

use jiff::{ToSpan, civil::Date};
use measure::winter::Winter;
use pot::repot::insult::{Insult, Objection, Past, Strength, left, objections};

use crate::{facts::Facts, reason::Reason, verdict::Budget, work::Work};

/// Days that count against the year's points.
const YEAR: f64 = 365.25;

/// What the stress log says of a piece of work.
pub(super) fn stress(work: Work, facts: &Facts) -> Vec<Reason> {
    let Some(planned) = work.stress(facts.planned_cut) else { return Vec::new() };
    if facts.strength <= Strength::Weak {
        // Slipping into a larger pot is a way to help a weak tree.
        let helps = work == Work::Repot && planned == Insult::SlipPot;
        return if helps { Vec::new() } else { vec![Reason::NotStrongEnough(facts.strength)] };
    }
    let mut found = Vec::new();
    let is_major = planned.is_major().unwrap_or(true);
    if is_major && facts.judged.is_none() {
        found.push(Reason::StrengthAssumed);
    }
    if is_major && facts.rest_is_due {
        let season = Winter::holding(facts.today, facts.hemisphere);
        let until = Winter { spring_year: season.spring_year + 1, ..season }.first_date();
        found.push(Reason::RestDue { until });
    }
    // Shares are held within the rule where they are made, so that it always has an answer.
    let against = objections(planned, facts.strength, &facts.past).unwrap_or_default();
    found.extend(against.into_iter().map(|it| reason(it, planned, facts)));
    found
}

/// The year's points before a piece of work; none for what costs nothing.
pub(crate) fn budget(work: Work, facts: &Facts) -> Option<Budget> {
    let planned = work.stress(facts.planned_cut)?;
    let costs = planned.points().ok()?;
    let left = left(facts.strength, &facts.past).ok()?;
    let ahead = |days: f64| facts.today.saturating_add((days.ceil() as i64).days());
    let waits = objections(planned, facts.strength, &facts.past).ok()?.into_iter().map(|it| match it {
        Objection::OverBudget { .. } => free(planned, facts),
        Objection::NoMajors(_) => None,
        Objection::MajorsSpent => Some(major_free(facts)),
        Objection::TooSoon { wait } => Some(wait.0),
    });
    let wait = waits.collect::<Option<Vec<f64>>>().map(|waits| waits.into_iter().fold(0.0, f64::max));
    Some(Budget {
        costs,
        spent: facts.strength.budget().points - left,
        left: left.max(0.0),
        free: wait.map(ahead),
    })
}

fn reason(objection: Objection, planned: Insult, facts: &Facts) -> Reason {
    let ahead = |days: f64| facts.today.saturating_add((days.ceil() as i64).days());
    match objection {
        Objection::OverBudget { costs, left } => {
            Reason::OverBudget { costs, left: left.max(0.0), free: free(planned, facts).map(ahead) }
        }
        Objection::NoMajors(strength) => Reason::NotStrongEnough(strength),
        Objection::MajorsSpent => Reason::MajorSpent { free: ahead(major_free(facts)) },
        Objection::TooSoon { wait } => Reason::TooSoon { until: ahead(wait.0) },
    }
}

/// Days until enough of the log is a year old; none where even an empty log leaves too little.
fn free(planned: Insult, facts: &Facts) -> Option<f64> {
    let costs = planned.points().ok()?;
    let mut waits: Vec<f64> =
        facts.past.iter().map(|it| YEAR - it.ago.0).filter(|wait| *wait > 0.0).collect();
    waits.sort_by(f64::total_cmp);
    waits.into_iter().find(|wait| {
        let later = |past: &Past| Past { ago: measure::quantity::Days(past.ago.0 + wait), ..*past };
        let then: Vec<Past> = facts.past.iter().map(later).collect();
        left(facts.strength, &then).is_ok_and(|left| costs <= left + 1e-9)
    })
}

/// Days until the year holds fewer majors than the tree may have.
fn major_free(facts: &Facts) -> f64 {
    let is_major = |past: &&Past| past.insult.is_major().unwrap_or(true) && past.ago.0 < YEAR;
    let mut waits: Vec<f64> = facts.past.iter().filter(is_major).map(|past| YEAR - past.ago.0).collect();
    waits.sort_by(f64::total_cmp);
    let allowed = usize::from(facts.strength.budget().majors);
    waits.get(waits.len().saturating_sub(allowed)).copied().unwrap_or(0.0)
}

/// The date so many days after another.
pub(super) fn after(day: Date, days: i32) -> Date {
    day.saturating_add(i64::from(days).days())
}
