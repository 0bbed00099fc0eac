//! May roots be cut today?

use measure::winter::Winter;
use season::work_months::{RootCue, WorkMonths};

use super::{buds, months};
use crate::{
    facts::{Facts, Plan, Recovery},
    reason::Reason,
};

/// What speaks for and against a repot with roots cut; slipping into a larger pot cuts none and waits for no window.
pub(super) fn repot(facts: &Facts) -> Vec<Reason> {
    let mut found: Vec<Reason> = match facts.plan {
        Plan::Wanted => None,
        Plan::Unknown => Some(Reason::DueUnknown),
        Plan::NotNeeded(points) => Some(Reason::NotNeeded { points }),
        Plan::Declined => Some(Reason::Declined),
        Plan::Done(day) => Some(Reason::Done { day }),
    }
    .into_iter()
    .collect();
    if facts.planned_cut.0 <= 0.0 {
        return found;
    }
    found.extend(window(facts));
    match facts.recovery {
        Recovery::Now => {}
        Recovery::From(day) => found.push(Reason::NoMildPlace { from: Some(day) }),
        Recovery::Never => found.push(Reason::NoMildPlace { from: None }),
    }
    found.extend(facts.layer.map(|since| Reason::LayerOn { since }));
    found.extend(cut_this_season(facts));
    found
}

/// By buds or by months, as its kind asks.
fn window(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon.kind);
    let second = || Reason::SecondWindow { condition: row.root_if };
    let is_second = row.root_also.hold(facts.today, facts.hemisphere);
    match row.root_cue {
        RootCue::Buds => vec![buds::window(facts)],
        RootCue::BudsAfterFlower => vec![buds::window(facts), Reason::AfterFlowers],
        RootCue::Tips | RootCue::Evergreen | RootCue::WarmNights => {
            let warm = row.root_cue == RootCue::WarmNights;
            match months::of(row.root, facts) {
                Reason::InSeason { .. } if warm => vec![Reason::WarmNights],
                now @ Reason::InSeason { .. } => vec![now],
                _ if is_second => vec![second()],
                not_now => vec![not_now],
            }
        }
    }
}

/// Whether the season's window is over for good: green was seen, or is out as good as certain.
pub(crate) fn is_past(facts: &Facts) -> bool {
    let by_buds =
        matches!(WorkMonths::of(facts.taxon.kind).root_cue, RootCue::Buds | RootCue::BudsAfterFlower);
    by_buds && matches!(buds::window(facts), Reason::GreenSeen { .. } | Reason::WindowPast { .. })
}

/// Its roots were cut this season already.
pub(super) fn cut_this_season(facts: &Facts) -> Option<Reason> {
    let cut = facts.root_cut.filter(|cut| cut.share.0 > 0.0)?;
    let season = Winter::holding(cut.day, facts.hemisphere);
    let until = Winter { spring_year: season.spring_year + 1, ..season }.first_date();
    (cut.day <= facts.today && facts.today < until).then_some(Reason::RootsCut {
        day: cut.day,
        share: cut.share,
        until,
    })
}
