//! May leaves, tips or candles be taken today?

use jiff::ToSpan;
use measure::taxon::Kind;
use pot::repot::insult::{Insult, Strength};
use season::{
    candles::{self, Size},
    work_months::{Defoliation, Months, WorkMonths},
};

use super::{months, roots, wood};
use crate::{
    facts::{Facts, Foliage},
    reason::{ByKind, Reason},
};

/// Warm weeks that a second set of leaves needs before the mean first frost, in days.
const SECOND_LEAVES: i32 = 56;

/// Days between two defoliations.
const BETWEEN: f64 = 365.0;

/// Months in which the candles of two-flush pines are cut where the site's autumn is not known.
pub(super) const DECANDLE: Months = Months(&[[6, 7]]);

/// Days ahead within which a show lies in the same growing season (our choice).
const SEASON: i32 = 200;

/// Days between two decandlings of a red pine, well over one year.
const SECOND_YEAR: f64 = 550.0;

/// When soft shoots of conifers are pinched, in the months of the north.
const CANDLES: Months = Months(&[[5, 5]]);

/// When the soft shoots of needle junipers and cryptomerias are pinched, and those of larches.
const SOFT_TIPS: [Months; 2] = [Months(&[[5, 9]]), Months(&[[5, 7]])];

pub(super) fn pinch(facts: &Facts) -> Vec<Reason> {
    let mut found = match conifer_tips(facts) {
        Some(found) => found,
        None => match facts.foliage {
            Foliage::Bare => vec![Reason::NoLeaves],
            Foliage::Soft => Vec::new(),
            Foliage::Full | Foliage::Autumn => {
                let row = WorkMonths::of(facts.taxon);
                vec![months::of(row.trim, row.trim_why, facts)]
            }
        },
    };
    found.extend(wood::settling(facts));
    found
}

/// Candles and tips of conifers, which have no leaf buds to go by; none for trees with leaves.
fn conifer_tips(facts: &Facts) -> Option<Vec<Reason>> {
    let on = |months: Months, why| Some(vec![months::of(months, why, facts)]);
    let [tips, larch] = SOFT_TIPS;
    match (facts.taxon.kind, facts.taxon.key) {
        (Kind::TwoFlushPine | Kind::OneFlushPine, _) => {
            on(CANDLES, "only the long candles, while they extend and before needles open")
        }
        (Kind::SpruceHemlock, _) => on(CANDLES, "soft tips of strong parts, as the caps fall"),
        (Kind::Juniper, "juniperus-rigida" | "juniperus-communis")
        | (Kind::YewCypress, "cryptomeria-japonica") => {
            on(tips, "soft tips, strong parts first, several times")
        }
        // Its strength is in its tips: running ones are cut, which is a trim.
        (Kind::Juniper | Kind::YewCypress, _) => Some(vec![Reason::NotThisKind]),
        (Kind::LarchGinkgo, _) if facts.taxon.genus() != "Ginkgo" => {
            on(larch, "long shoots, while they are soft")
        }
        _ => None,
    }
}

pub(super) fn defoliate(facts: &Facts) -> Vec<Reason> {
    let row = WorkMonths::of(facts.taxon);
    if row.defoliation == Defoliation::Never {
        return vec![Reason::NotThisKind];
    }
    let mut found = Vec::new();
    match facts.foliage {
        Foliage::Bare => found.push(Reason::NoLeaves),
        Foliage::Soft => found.push(Reason::LeavesSoft),
        Foliage::Full | Foliage::Autumn => {
            found.push(months::of(
                row.defoliate,
                "once leaves have hardened, with warm weeks left for a second set",
                facts,
            ));
        }
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
    let mut found = candle_days(facts);
    match facts.judged {
        Some(_) if facts.strength < Strength::Strong => found.push(Reason::NotStrongEnough(facts.strength)),
        Some(_) => {}
        None => found.push(Reason::JudgeFirst),
    }
    found.extend(roots::cut_this_season(facts));
    found
}

/// By the site's first cool night, the needles wanted or else the tree's height, and a show; where the site's autumn is not known, by the months.
fn candle_days(facts: &Facts) -> Vec<Reason> {
    let mut found = Vec::new();
    let size = facts.needles.map(Size::for_needles).or(facts.height.map(Size::of));
    if size.is_none() {
        found.push(Reason::ByKind(ByKind::HeightUnknown));
    }
    let Some(cool) = facts.first_cool else {
        found.push(Reason::SeasonUnknown);
        found.push(months::of(
            DECANDLE,
            "strong candles once, so that a second set of short needles comes",
            facts,
        ));
        return found;
    };
    let size = size.unwrap_or(Size::Medium);
    let mut window = candles::window(size, cool.middle);
    let mut left = [cool.middle, cool.early].map(|day| (day - facts.today).get_days());
    // A show in this growing season wants its needles hard by then; one further off, another year's.
    if let Some(shown) = facts.shown.filter(|day| (0..SEASON).contains(&(*day - facts.today).get_days())) {
        window = candles::window_for_show(size, cool.middle, shown);
        left = left.map(|days| days.min((shown - facts.today).get_days()));
        found.push(Reason::ByKind(ByKind::ForShow { shown, window }));
    }
    found.push(Reason::ByKind(match facts.today {
        today if today < window[0] => ByKind::CandlesEarly { window },
        today if today <= window[1] => ByKind::CandlesNow { window, left },
        _ if left[0] >= candles::LEAST => ByKind::CandlesLate { window, left },
        _ => ByKind::CandlesTooLate { left },
    }));
    let last = facts.past.iter().filter(|past| past.insult == Insult::Decandle).map(|past| past.ago.0);
    if facts.taxon.key == "pinus-densiflora" && last.fold(f64::INFINITY, f64::min) < SECOND_YEAR {
        found.push(Reason::ByKind(ByKind::EverySecondYear));
    }
    found
}
