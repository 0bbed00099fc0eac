//! May roots be cut today?

use jiff::civil::Date;
use measure::{
    quantity::{Celsius, Share},
    taxon::Kind,
    winter::Winter,
};
use season::{
    flowers::{Cost, Flowers},
    work_months::{Months, RootCue, WorkMonths},
};

use super::{buds, months};
use crate::{
    facts::{Facts, Plan, Recovery},
    reason::{ByKind, Reason},
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

/// Nights that the roots of tropicals and of succulents want, °C (common practice for the first, our estimate for the second).
const WARM_NIGHTS: [Celsius; 2] = [Celsius(18.0), Celsius(15.0)];

/// Days above [`season::cooling::TOO_COLD_FOR_ROOTS`] that cut roots need in autumn: of junipers, of others (common practice).
const TO_HEAL: [i32; 2] = [56, 35];

/// The most that is cut where the second window is for light work alone.
const LIGHT: Share = Share(0.20);

/// By buds, by months or by nights, as its kind asks.
fn window(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon);
    let mut found = match row.root_cue {
        RootCue::WarmNights => return nights(facts, &row),
        _ if row.root_also.hold(facts.today, facts.hemisphere) => second(facts, &row),
        RootCue::BudsAfterFlower if is_summer_window(facts, &row) => second(facts, &row),
        RootCue::Buds | RootCue::BudsAfterFlower => vec![buds::window(facts)],
        RootCue::Tips | RootCue::Evergreen => vec![months::of(row.root, row.root_why, facts)],
    };
    found.extend(flowers_first(facts, &row));
    found.extend(azalea_year(facts));
    found
}

/// The months after its flowers of one that is repotted then too, as wisteria is: its leaves are out, and the buds tell nothing.
fn is_summer_window(facts: &Facts, row: &WorkMonths) -> bool {
    row.root.0.len() > 1 && Months(&row.root.0[1..]).hold(facts.today, facts.hemisphere)
}

/// When its first window opens next: as its buds are forecast, and before the season's forecast tells, by its months.
fn first_window(facts: &Facts, row: &WorkMonths) -> Option<Date> {
    let by_buds = matches!(row.root_cue, RootCue::Buds | RootCue::BudsAfterFlower);
    let told = facts.buds.and_then(|buds| buds.window).map(|[opens, _]| opens.early);
    told.filter(|opens| by_buds && *opens > facts.today)
        .or_else(|| row.root.next_start(facts.today, facts.hemisphere))
}

/// Its second window: only while roots still heal before winter, and where it is for light work, for a light cut.
fn second(facts: &Facts, row: &WorkMonths) -> Vec<Reason> {
    let next = first_window(facts, row);
    let condition = if row.root_if.is_empty() { row.root_why } else { row.root_if };
    let needed = TO_HEAL[usize::from(facts.taxon.kind != Kind::Juniper)];
    let mut found = vec![Reason::SecondWindow { condition }];
    if let Some(stop) = facts.roots_stop {
        // An early autumn shall not find cut roots open.
        let days = (stop.early - facts.today).get_days();
        if days < needed {
            found.push(Reason::ByKind(ByKind::FewWarmDays { days, needed, next }));
        }
    }
    if row.root_if.contains("light work") && facts.planned_cut > LIGHT {
        found.push(Reason::ByKind(ByKind::LightWorkOnly { most: LIGHT, next }));
    }
    found
}

/// Tropicals and succulents: in warm nights, whatever the month.
fn nights(facts: &Facts, row: &WorkMonths) -> Vec<Reason> {
    let is_succulent = facts.taxon.kind == Kind::Succulent;
    let wanted = WARM_NIGHTS[usize::from(is_succulent)];
    let is_season = [row.root, row.root_also].iter().any(|it| it.hold(facts.today, facts.hemisphere));
    if !is_season {
        // In growth only: a warm room in winter has no light for new roots.
        let next = row.root_also.next_start(facts.today, facts.hemisphere);
        return vec![Reason::OutOfSeason { next, why: row.root_why }];
    }
    let mut found = vec![Reason::ByKind(match facts.nights {
        None => ByKind::NightsUnknown { wanted },
        Some(it) if it.cold >= wanted => ByKind::NightsWarm { cold: it.cold },
        Some(it) if it.middle >= wanted => ByKind::NightsUnsure { cold: it.cold, middle: it.middle, wanted },
        Some(it) => ByKind::NightsCold { middle: it.middle, wanted },
    })];
    if is_succulent {
        found.push(Reason::ByKind(ByKind::Note("dry for five to ten days before it is watered again")));
    }
    found
}

/// Repotted before it flowers: the flower buds come off, or it waits until after the flowers.
fn flowers_first(facts: &Facts, row: &WorkMonths) -> Option<Reason> {
    let asks = row.root_cue == RootCue::BudsAfterFlower
        || facts.taxon.kind == Kind::Azalea
        || matches!(facts.taxon.genus(), "Chaenomeles" | "Camellia");
    let flowers = Flowers::of(facts.taxon).filter(|_| asks)?;
    Some(Reason::ByKind(match flowers.cost(facts.today, facts.hemisphere)? {
        Cost::Buds { bloom } => ByKind::FlowersFirst { bloom },
        Cost::InFlower { until } => ByKind::InFlower { until },
    }))
}

/// Which year of the cycle a satsuki is in, by its last root cut.
pub(super) fn azalea_year(facts: &Facts) -> Option<Reason> {
    if facts.taxon.kind != Kind::Azalea {
        return None;
    }
    let cut = facts.root_cut.filter(|cut| cut.share.0 > 0.0 && cut.day <= facts.today)?;
    let season = |day| Winter::holding(day, facts.hemisphere).spring_year;
    let year = u8::try_from(season(facts.today) - season(cut.day) + 1).ok()?;
    Some(Reason::ByKind(ByKind::AzaleaYear(year.min(3))))
}

/// Whether the season's window is over for good: green was seen, or is out as good as certain.
pub(crate) fn is_past(facts: &Facts) -> bool {
    let by_buds = matches!(WorkMonths::of(facts.taxon).root_cue, RootCue::Buds | RootCue::BudsAfterFlower);
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
