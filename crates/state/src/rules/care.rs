//! May it be fed today?

use jiff::civil::{Date, date};
use measure::{taxon::Kind, winter::Hemisphere};
use pot::repot::insult::{Insult, Strength};
use season::repot::aftercare::{HALF_FEED, no_feed_until};

use super::stress;
use crate::{
    facts::{Facts, Foliage},
    reason::{ByKind, Reason},
};

/// Strong feed ends so many days before the mean first frost: mid August where that frost comes in mid October (common practice).
const BEFORE_FROST: i32 = 60;

/// Days after the last strong feed over which none is given: until growth begins again.
const REST: i32 = 200;

/// Where the site's frosts are not known, from mid August in the north no strong feed, month and day.
const LATE: [(i8, i8); 2] = [(8, 15), (2, 15)];

/// Days without feed after candles were cut, until new shoots have come (common practice: four to six weeks).
const AFTER_CANDLES: f64 = 35.0;

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
    if facts.in_dark {
        found.push(Reason::ByKind(ByKind::NoFeedInStore));
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
    found.extend(after_candles(facts));
    found.extend(last_feed(facts));
    if facts.taxon.kind.rests() && facts.foliage != Foliage::Bare {
        found.extend(last_strong(facts).map(Reason::ByKind));
    }
    found
}

/// Days from one feed to the next at the soonest (common practice, no source): weak trees and those that flower by the fortnight, conifers
/// but two-flush pines by the month, others by the week, as with liquid feed in growth.
fn interval(facts: &Facts) -> i32 {
    match facts.taxon.kind {
        Kind::OneFlushPine | Kind::SpruceHemlock | Kind::YewCypress | Kind::Juniper => 28,
        _ if facts.strength <= Strength::Weak => 14,
        Kind::FloweringDeciduous | Kind::StoneFruit | Kind::Azalea => 14,
        _ => 7,
    }
}

/// When it was last fed, and whether that is too short a time ago.
fn last_feed(facts: &Facts) -> Option<Reason> {
    let day = facts.fed.filter(|day| *day <= facts.today)?;
    let until = stress::after(day, interval(facts));
    let is_lately = facts.today < until;
    Some(Reason::ByKind(if is_lately { ByKind::FedLately { day, until } } else { ByKind::LastFed { day } }))
}

/// Candles were cut some weeks ago.
fn after_candles(facts: &Facts) -> Option<Reason> {
    let cut = facts.past.iter().filter(|past| past.insult == Insult::Decandle).map(|past| past.ago.0);
    let wait = AFTER_CANDLES - cut.fold(f64::INFINITY, f64::min);
    let until = || stress::after(facts.today, wait.ceil() as i32);
    (wait > 0.0).then(|| Reason::ByKind(ByKind::CandlesCut { until: until() }))
}

/// The last day of strong feed, or that it has passed, counted back from the site's mean first frost.
fn last_strong(facts: &Facts) -> Option<ByKind> {
    let Some(frost) = facts.first_frost else {
        return is_late(facts.today, facts.hemisphere).then_some(ByKind::LateFeed { since: None });
    };
    let day = stress::after(frost, -BEFORE_FROST);
    // The frost told is the next one: the rest that the last one began may still be on.
    let before = stress::after(day, -365);
    let since = [day, before].into_iter().find(|day| (1..=REST).contains(&(facts.today - *day).get_days()));
    Some(match since {
        Some(since) => ByKind::LateFeed { since: Some(since) },
        None => ByKind::FeedUntil { day },
    })
}

/// From mid August in the north until growth begins again, half a year on in the south.
fn is_late(today: Date, hemisphere: Hemisphere) -> bool {
    let (month, day) = LATE[usize::from(hemisphere == Hemisphere::South)];
    let since = |year: i16| date(year, month, day);
    [since(today.year()), since(today.year() - 1)]
        .into_iter()
        .any(|since| (1..=REST).contains(&(today - since).get_days()))
}
