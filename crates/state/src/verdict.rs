//! One verdict for a tree and a kind of work: may it be done today?

use jiff::civil::Date;

use crate::{
    facts::{Facts, Foliage},
    reason::Reason,
    rules,
    work::Work,
};

/// The answer, from yes to no.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It may be done.
    Yes,
    /// It may be done, with care.
    Caution,
    /// Only a look tells.
    LookFirst,
    /// Not now.
    NotNow {
        /// Until when, where that is known.
        until: Option<Date>,
    },
    /// Not this season.
    NotThisSeason,
}

impl Answer {
    /// Place in the order from yes to no.
    fn rank(self) -> u8 {
        match self {
            Answer::Yes => 0,
            Answer::Caution => 1,
            Answer::LookFirst => 2,
            Answer::NotNow { .. } => 3,
            Answer::NotThisSeason => 4,
        }
    }

    /// Whether a record of such work today is asked about before it is saved.
    pub fn is_against(self) -> bool {
        self.rank() >= Answer::NotNow { until: None }.rank()
    }
}

/// Whether a piece of work may be done to a tree today, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The work.
    pub work: Work,
    /// The answer.
    pub answer: Answer,
    /// What was found, the weightiest first; never empty.
    pub reasons: Vec<Reason>,
    /// The year's points, for work that costs some.
    pub budget: Option<Budget>,
}

/// The year's points before a piece of work at its usual amount.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Budget {
    /// What the work costs.
    pub costs: f64,
    /// What is spent in twelve months.
    pub spent: f64,
    /// What is left, not below 0.
    pub left: f64,
    /// When the tree can take the work by its stress log: today, or the day on which enough is a year old; none where even an empty log
    /// leaves too little.
    pub free: Option<Date>,
}

impl Verdict {
    /// The weightiest finding.
    pub fn because(&self) -> Reason {
        self.reasons.first().copied().unwrap_or(Reason::Nothing)
    }

    /// Everything that speaks as strongly as the answer.
    pub fn main(&self) -> impl Iterator<Item = Reason> + '_ {
        self.reasons.iter().copied().filter(|reason| reason.answer().rank() == self.answer.rank())
    }
}

/// Whether a piece of work may be done to a tree today: the strictest of all that is found. Of several days to wait for, the last counts, and
/// where that lies out of its season, the next day in season.
///
/// # Example
///
/// ```
/// use jiff::civil::date;
/// use measure::{taxon::Taxon, winter::Hemisphere};
/// use state::{facts::Facts, verdict::{Answer, verdict}, work::Work};
///
/// let pine = Facts::of(Taxon::of("pinus-sylvestris").unwrap(), date(2026, 6, 20), Hemisphere::North);
/// assert_eq!(verdict(Work::Decandle, &pine).answer, Answer::NotThisSeason);
/// ```
pub fn verdict(work: Work, facts: &Facts) -> Verdict {
    let mut reasons = rules::findings(work, facts);
    if reasons.is_empty() {
        reasons.push(Reason::Nothing);
    }
    reasons.sort_by_key(|reason| std::cmp::Reverse(reason.answer().rank()));
    let strictest = reasons[0].answer();
    let answer = match strictest {
        Answer::NotNow { .. } => {
            let day = last_day(&reasons);
            let later = day.and_then(|day| in_season(work, facts, day));
            reasons.extend(later);
            reasons.sort_by_key(|reason| std::cmp::Reverse(reason.answer().rank()));
            Answer::NotNow { until: last_day(&reasons) }
        }
        other => other,
    };
    Verdict { work, answer, reasons, budget: rules::budget(work, facts) }
}

/// Whether the season's window for root work is over for good, as its buds tell; a tree that goes by months has its next one to wait for.
pub fn window_is_past(facts: &Facts) -> bool {
    rules::roots::is_past(facts)
}

/// Days for which new shoots stay soft, at most (our estimate).
const SOFT: i32 = 30;

/// That the day on which everything else has passed lies out of its months, where it does: it waits on until they come.
fn in_season(work: Work, facts: &Facts, day: Date) -> Option<Reason> {
    // Shoots that are soft today are hard by then.
    let is_far = (day - facts.today).get_days() > SOFT;
    let foliage = if is_far { Foliage::Full } else { facts.foliage };
    let then = Facts { today: day, foliage, ..facts.clone() };
    let next = rules::findings(work, &then).into_iter().filter_map(|reason| match reason {
        Reason::OutOfSeason { next: Some(next), why } if next > day => Some((next, why)),
        _ => None,
    });
    let (next, why) = next.max_by_key(|(next, _)| *next)?;
    Some(Reason::ThenInSeason { day, next, why })
}

/// The last of the days to wait for; none as soon as one of them is not known.
fn last_day(reasons: &[Reason]) -> Option<Date> {
    let days = reasons.iter().filter_map(|reason| match reason.answer() {
        Answer::NotNow { until } => Some(until),
        _ => None,
    });
    days.collect::<Option<Vec<Date>>>()?.into_iter().max()
}

#[cfg(test)]
mod tests;
