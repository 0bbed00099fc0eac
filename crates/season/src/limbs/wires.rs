//! When each wire is to be looked at and when it must come off, and which wires come first when time is short.

use collection::wire::{Outcome, Wire};
use form::{
    error::Error,
    thickness::{Likely, thicker},
    wire::bite::{Bark, Bite, Weeks, weeks_for},
};
use jiff::civil::Date;
use measure::{
    quantity::{Millimetre, Share, SquareMillimetre},
    taxon::Taxon,
};

use super::calendar::Calendar;

/// Room under a wire as it is put on, our estimate: 0 to 0.3 mm.
pub const GAP: Millimetre = Millimetre(0.15);

/// Minutes to look at the wires of a tree (our estimate, as the job times of the trade).
pub const MINUTES: f64 = 3.0;

/// A wire of a tree that was marked is looked at in this share of the time that took, our estimate.
const SOONER: f64 = 0.8;

/// When something comes, by the rings: the quick season first; none where it does not come this season or the next.
pub type Days = Likely<Option<Date>>;

/// How much a wire presses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stand {
    /// The bark has room, or nobody can tell.
    Free,
    /// The quick season touches by now.
    MayTouch,
    /// The middle season touches by now.
    Touches,
    /// The middle season must have it off by now.
    Overdue,
}

/// What a day of a wire is counted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clock {
    /// The tree's own rings.
    Rings,
    /// The trade's weeks of growth.
    Weeks,
}

/// When a wire may bite, by the one of two clocks that is sooner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bites {
    /// The earliest day.
    pub from: Date,
    /// The day by which it must be off; none where that is further off than the season after.
    pub by: Option<Date>,
    /// Which clock tells the earliest day.
    pub clock: Clock,
}

/// What is told of a wire on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// When it may bite; none where neither clock tells.
    pub bites: Option<Bites>,
    /// The first look, counted in days of growth.
    pub first_look: Date,
    /// The next look from what was seen last; on or before the day it is due.
    pub next_look: Date,
    /// By the trade's weeks of growth: the earliest and the latest day it may bite.
    pub trade: Option<[Date; 2]>,
    /// By the rings: the bark touches the wire.
    pub contact: Option<Days>,
    /// By the rings: it must be off.
    pub off: Option<Days>,
    /// How much it presses by now.
    pub stand: Stand,
    /// Days past its look; negative before it.
    pub late: i32,
    /// The earliest mark that a wire of this tree left, in weeks of growth, where that was sooner than the trade's.
    pub learned: Option<f64>,
}

/// What is known of a wired limb.
#[derive(Clone, Copy, Debug)]
pub struct Wired<'a> {
    /// The wire.
    pub wire: &'a Wire,
    /// The tree's taxon.
    pub taxon: &'a Taxon,
    /// Its year of growth.
    pub calendar: &'a Calendar,
    /// The ring that a season lays where it is wired, where the tree was traced.
    pub ring: Option<Likely<SquareMillimetre>>,
    /// How thick the limb is where nobody measured it as it was wired.
    pub thick: Option<Millimetre>,
    /// The earliest mark a wire of this tree left, in weeks of growth.
    pub marked: Option<f64>,
}

/// What is told of a wire on a day.
///
/// # Errors
///
/// [`Error`] where a stored measure is that of no wire.
pub fn tell(it: &Wired<'_>, today: Date) -> Result<Told, Error> {
    let growth = it.calendar;
    let weeks = weeks_for(it.taxon).map(|weeks| weeks.value);
    let (first, recheck) = weeks.map_or((14, 7), |weeks| (weeks.first_check, weeks.recheck));
    let on = it.wire.on;
    // A tree that was marked sooner than the trade's first look is looked at by then.
    let first = it.marked.map_or(f64::from(first), |weeks| f64::from(first).min(weeks * 7.0 * SOONER));
    let first_look = growth.after(on, first);
    let next_look = match it.wire.seen {
        Some(seen) => first_look.max(growth.after(seen, f64::from(recheck))),
        None => first_look,
    };
    let trade = weeks.map(|weeks| {
        let [low, high] = bites(&weeks, growth.moment(on).1);
        let low = it.marked.map_or(low, |marked| low.min(SOONER * marked));
        [growth.after(on, low * 7.0), growth.after(on, high * 7.0)]
    });
    let by_rings = match (it.ring, it.wire.thick.or(it.thick)) {
        (Some(ring), Some(thick)) => Some(rings(growth, on, thick, ring, Bark::of(it.taxon))?),
        _ => None,
    };
    let [contact, off] = by_rings.map_or([None, None], |[contact, off]| [Some(contact), Some(off)]);
    let has_come = |day: Option<Date>| day.is_some_and(|day| day <= today);
    let by_trade = |at: usize| trade.is_some_and(|days| days[at] <= today);
    let by_rings = match (contact, off) {
        (_, Some(off)) if has_come(off.middle) => Stand::Overdue,
        (Some(contact), _) if has_come(contact.middle) => Stand::Touches,
        (Some(contact), _) if has_come(contact.low) => Stand::MayTouch,
        _ => Stand::Free,
    };
    let by_weeks = match (by_trade(0), by_trade(1)) {
        (_, true) => Stand::Touches,
        (true, _) => Stand::MayTouch,
        _ => Stand::Free,
    };
    // Neither was ever tried on trees in pots: the sooner of the two counts.
    let stand = by_rings.max(by_weeks);
    let bites = soonest(trade, contact, off);
    // A look comes no later than the day from which it may bite, unless it was seen to have room since.
    let next_look = match bites {
        Some(bites) if it.wire.seen.unwrap_or(on) < bites.from => next_look.min(bites.from),
        _ => next_look,
    };
    Ok(Told {
        bites,
        first_look,
        next_look,
        trade,
        contact,
        off,
        stand,
        late: (today - next_look).get_days(),
        learned: it.marked,
    })
}

/// The sooner of the two clocks: for the earliest day, and for the day by which it must be off.
fn soonest(trade: Option<[Date; 2]>, contact: Option<Days>, off: Option<Days>) -> Option<Bites> {
    let touches = contact.and_then(|days| days.low);
    let by = [trade.map(|days| days[1]), off.and_then(|days| days.middle)].into_iter().flatten().min();
    let (from, clock) = match (trade.map(|days| days[0]), touches) {
        (Some(weeks), Some(rings)) if rings < weeks => (rings, Clock::Rings),
        (Some(weeks), _) => (weeks, Clock::Weeks),
        (None, Some(rings)) => (rings, Clock::Rings),
        (None, None) => return None,
    };
    Some(Bites { from, by: by.map(|by| by.max(from)), clock })
}

/// The trade's weeks until a wire may bite, by when in the season it went on.
fn bites(weeks: &Weeks, moment: f64) -> [f64; 2] {
    let row = match moment {
        moment if moment < 0.35 => weeks.spring,
        moment if moment < 0.7 => weeks.summer,
        _ => weeks.autumn,
    };
    row.map(f64::from)
}

/// When the bark touches and when the wire must be off, by rings laid in the season it went on and the next.
fn rings(
    growth: &Calendar,
    on: Date,
    thick: Millimetre,
    ring: Likely<SquareMillimetre>,
    bark: Bark,
) -> Result<[Days; 2], Error> {
    let (year, moment) = growth.moment(on);
    let threshold = bark.threshold().value;
    let first = Bite { branch: thick, ring, gap: GAP, threshold, on: Share(moment) }.when()?;
    let dates = |year: i16, shares: Likely<Option<Share>>| {
        shares.map(|share| share.map(|share| growth.date(year, share.0)))
    };
    let (contact, off) = (dates(year, first.contact), dates(year, first.off));
    // What the first season has taken of the room, the second need not.
    let left = 1.0 - form::thickness::laid(Share(moment)).0;
    let second = |ring: SquareMillimetre, depth: f64| -> Result<Option<Date>, Error> {
        let now = thicker(thick, SquareMillimetre(ring.0 * left));
        let taken = (now.0 - thick.0) / 2.0;
        let room = Millimetre((depth - taken).max(0.0));
        let each = Likely { low: ring, middle: ring, high: ring };
        let bite = Bite { branch: now, ring: each, gap: room, threshold: Millimetre(0.0), on: Share(0.0) };
        Ok(bite.when()?.contact.middle.map(|share| growth.date(year + 1, share.0)))
    };
    let fill = |days: Days, depth: f64| -> Result<Days, Error> {
        let or = |day: Option<Date>, ring| day.map_or_else(|| second(ring, depth), |day| Ok(Some(day)));
        // The quick season is the thick ring.
        Ok(Likely {
            low: or(days.low, ring.high)?,
            middle: or(days.middle, ring.middle)?,
            high: or(days.high, ring.low)?,
        })
    };
    Ok([fill(contact, GAP.0)?, fill(off, GAP.0 + threshold.0)?])
}

/// The earliest mark that wires of a tree had left by a day, in weeks of growth.
pub fn marked<'a>(wires: impl Iterator<Item = &'a Wire>, calendar: &Calendar, today: Date) -> Option<f64> {
    wires
        .filter(|wire| wire.outcome == Some(Outcome::Marked))
        .filter_map(|wire| Some((wire.on, wire.off.or(wire.seen)?)))
        .filter(|(_, seen)| *seen <= today)
        .map(|(on, seen)| calendar.days(on, seen) / 7.0)
        .filter(|weeks| *weeks > 0.0)
        .min_by(f64::total_cmp)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::leaves::Leaves;
    use form::wire::metal::Metal;
    use jiff::civil::date;
    use measure::winter::Hemisphere;

    fn wire(on: Date) -> Wire {
        Wire {
            tree: "elm".into(),
            limb: 1,
            on,
            metal: Metal::Aluminium,
            gauge: Millimetre(2.0),
            strands: 1,
            thick: Some(Millimetre(6.0)),
            bend: None,
            seen: None,
            off: None,
            outcome: None,
            grown_in: false,
            photo: None,
            note: String::new(),
        }
    }

    fn told(key: &str, on: Date, ring: Option<f64>, today: Date) -> Told {
        let taxon = Taxon::of(key).unwrap();
        let leaves = Leaves::of(taxon, None);
        let ring = ring.map(|ring| Likely {
            low: SquareMillimetre(ring * 0.6),
            middle: SquareMillimetre(ring),
            high: SquareMillimetre(ring * 1.6),
        });
        let wire = wire(on);
        let calendar = Calendar { leaves, hemisphere: Hemisphere::North };
        let it = Wired { wire: &wire, taxon, calendar: &calendar, ring, thick: None, marked: None };
        tell(&it, today).unwrap()
    }

    #[test]
    fn an_elm_wired_in_late_april_is_looked_at_before_a_pine() {
        let today = date(2026, 5, 24);
        let elm = told("ulmus-parvifolia", date(2026, 4, 30), None, today);
        let pine = told("pinus-sylvestris", date(2026, 4, 30), None, today);
        assert_eq!(elm.first_look, date(2026, 5, 10));
        assert!(elm.late == 14 && elm.stand == Stand::MayTouch && pine.stand == Stand::Free);
        assert!(elm.late > pine.late);
    }

    #[test]
    fn one_clock_tells_when_a_wire_may_bite_and_the_look_comes_by_then() {
        let today = date(2026, 5, 24);
        let slow = told("acer-palmatum", date(2026, 4, 30), Some(5.0), today);
        let weeks = slow.trade.unwrap();
        assert_eq!(slow.bites.unwrap(), Bites { from: weeks[0], by: Some(weeks[1]), clock: Clock::Weeks });
        let quick = told("acer-palmatum", date(2026, 4, 30), Some(120.0), today);
        let bites = quick.bites.unwrap();
        assert_eq!(bites.clock, Clock::Rings);
        assert_eq!(Some(bites.from), quick.contact.unwrap().low);
        assert!(bites.from < slow.bites.unwrap().from && bites.by.unwrap() >= bites.from);
        assert!(quick.next_look <= bites.from);
    }

    #[test]
    fn a_wire_put_on_in_winter_waits_for_the_buds() {
        let maple = told("acer-palmatum", date(2025, 12, 10), Some(30.0), date(2026, 2, 1));
        assert!(maple.first_look > date(2026, 4, 1), "{maple:?}");
        assert!(maple.late < 0 && maple.stand == Stand::Free);
        let off = maple.off.unwrap();
        assert!(off.low < off.middle && off.middle.unwrap() > date(2026, 5, 1), "{off:?}");
    }

    #[test]
    fn a_slow_limb_bites_in_its_second_season() {
        let told = told("carpinus-betulus", date(2025, 8, 20), Some(8.0), date(2026, 2, 1));
        let off = told.off.unwrap();
        assert!(off.middle.is_some_and(|day| day > date(2026, 5, 1)), "{off:?}");
        assert!(off.low < off.middle);
    }
}
