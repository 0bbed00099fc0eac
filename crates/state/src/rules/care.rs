//! May it be fed or moved today?

use jiff::civil::{Date, date};
use measure::{stage::Stage, winter::Hemisphere};
use pot::repot::insult::Strength;
use season::repot::aftercare::{HALF_FEED, no_feed_until};

use super::stress;
use crate::{
    facts::{Facts, Foliage},
    reason::Reason,
};

/// The chance of full buds from which a tree in the dark is called waking.
const WAKES: f64 = 0.5;

/// From mid August in the north no strong feed, month and day.
const LATE: [(i8, i8); 2] = [(8, 15), (2, 15)];

pub(super) fn feed(facts: &Facts) -> Vec<Reason> {
    let mut found = Vec::new();
    if facts.strength == Strength::Sick {
        found.push(Reason::NotStrongEnough(Strength::Sick));
    } else if facts.strength == Strength::Weak {
        found.push(Reason::LightFeedOnly);
    }
    if facts.foliage == Foliage::Bare {
        found.push(Reason::NoLeaves);
    }
    if let Some(cut) = facts.root_cut.filter(|cut| cut.share.0 > 0.0 && cut.day <= facts.today) {
        let [soon, late] = no_feed_until(cut.day);
        let half = stress::after(late, HALF_FEED.value as i32);
        if facts.today < soon {
            found.push(Reason::NoFeed { day: cut.day, until: soon });
        } else if facts.today < half {
            found.push(Reason::HalfFeed { until: half });
        }
    }
    if facts.taxon.kind.rests() && is_late(facts.today, facts.hemisphere) && facts.foliage != Foliage::Bare {
        found.push(Reason::LateFeed);
    }
    found
}

/// From mid August to the end of the year in the north, half a year on in the south.
fn is_late(today: Date, hemisphere: Hemisphere) -> bool {
    let (month, day) = LATE[usize::from(hemisphere == Hemisphere::South)];
    let since = date(today.year(), month, day);
    (0..140).contains(&(today - since).get_days())
}

pub(super) fn change_place(facts: &Facts) -> Vec<Reason> {
    let full = facts.buds.map_or(0.0, |buds| buds.at_least(Stage::Full));
    let mut found = Vec::new();
    if facts.in_dark && full >= WAKES {
        found.push(Reason::WakesInDark);
    }
    found.extend(facts.cold_short.filter(|hours| hours.0 > 0.0).map(|hours| Reason::ColdShort { hours }));
    if matches!(facts.foliage, Foliage::Soft | Foliage::Full) && facts.taxon.kind.is_bare_in_winter() {
        found.push(Reason::BySteps);
    }
    found
}
