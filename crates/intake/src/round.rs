//! What is written down on a round, and when the grower is away: checked, then written as one act.

use std::collections::BTreeSet;

use collection::drink::{Away, Deed, Drink, Remark, RoundTimes};
use jiff::{
    Timestamp, ToSpan,
    civil::{Date, Time, Weekday},
    tz::TimeZone,
};
use measure::quantity::Gram;
use store::store::{Act, Store};

use crate::{
    record::{FormError, bad},
    weight,
};

/// Seconds in which the same hand's same deed on the same pot is one tap felt twice.
const SAME_TAP: u64 = 600;

/// Longest stretch of shifts written down at once, days.
const LONGEST: i32 = 400;

/// Years in which an absence may lie.
const YEARS: std::ops::RangeInclusive<i16> = 1970..=2199;

/// The same in seconds since 1970.
const MOMENTS: std::ops::Range<i64> = 0..7_258_118_400;

/// One pot of a round, as tapped or typed.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct RoundLine<'a> {
    pub tree: &'a str,
    pub deed: &'a str,
    pub remark: &'a str,
    pub weight: &'a str,
    /// Whether the grower answered that an odd weight is right.
    pub sure: bool,
}

fn drink(line: &RoundLine<'_>, at: i64, hand: &str, known: &BTreeSet<String>) -> Result<Drink, FormError> {
    if !known.contains(line.tree) {
        return Err(bad("tree", line.tree, "is not in the collection"));
    }
    let grams = match line.weight.trim() {
        "" => None,
        typed => Some(weight::read(typed).map_err(|why| bad("weight", typed, why))?),
    };
    let remark = match line.remark {
        "" => None,
        word => Some(Remark::from_key(word).ok_or_else(|| bad("remark", word, "is no remark we know"))?),
    };
    let deed = Deed::from_key(line.deed, grams)
        .ok_or_else(|| bad("deed", line.deed, "is no deed we know, or its weight is wanting"))?;
    let (tree, hand) = (line.tree.to_string(), hand.chars().take(40).collect());
    Ok(Drink { tree, at, deed, remark, hand, sure: line.sure && grams.is_some() })
}

/// Writes down a round, whole or not at all; gives how many lines were new. The same hand's same deed within ten minutes is one tap; another
/// hand's is kept beside it.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn walk(store: &mut Store, lines: &[RoundLine<'_>], at: i64, hand: &str) -> Result<usize, FormError> {
    if !MOMENTS.contains(&at) {
        let shown = Timestamp::from_second(at).map_or_else(|_| String::new(), |at| at.to_string());
        return Err(bad("moment", &shown, "is not in the years 1970 to 2199"));
    }
    let reader = store.reader()?;
    let known: BTreeSet<String> = reader.trees()?.into_iter().map(|tree| tree.key).collect();
    let lately: Vec<Drink> = reader
        .drinks()?
        .into_iter()
        .map(|(_, drink)| drink)
        .filter(|drink| at.abs_diff(drink.at) < SAME_TAP)
        .collect();
    let drinks: Vec<Drink> =
        lines.iter().map(|line| drink(line, at, hand, &known)).collect::<Result<_, _>>()?;
    let again = |new: &Drink| {
        lately.iter().any(|old| (&old.tree, old.deed, &old.hand) == (&new.tree, new.deed, &new.hand))
    };
    let fresh: Vec<&Drink> = drinks.iter().filter(|drink| !again(drink)).collect();
    Ok(store.transact(&Act::Round(fresh.len()), |change| {
        let mut added = 0;
        for drink in &fresh {
            added += usize::from(change.add_drink(drink)?);
        }
        Ok::<usize, store::error::Error>(added)
    })?)
}

/// The weight of a line as typed; none where none was typed or it cannot be read.
pub fn grams(line: &RoundLine<'_>) -> Option<Gram> {
    weight::read(line.weight).ok()
}

/// Takes back lines of the watering log, all or none.
///
/// # Errors
///
/// [`FormError`] when one of them is not there.
pub fn take_back(store: &mut Store, ids: &[i64]) -> Result<(), FormError> {
    Ok(store.transact(&Act::TakeBack("the round".into()), |change| {
        ids.iter().try_for_each(|id| change.remove_drink(*id))
    })?)
}

/// Shifts or an absence as typed: from a first to a last day, on some weekdays, from leaving to coming back.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct AwayForm<'a> {
    pub words: &'a str,
    pub first: &'a str,
    pub last: &'a str,
    /// Weekdays as 1 (Monday) to 7, none for every day.
    pub weekdays: &'a [String],
    pub leaves: &'a str,
    pub back: &'a str,
}

/// The absences of a form; a time to be back that is not after leaving is that of the next day.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn aways(form: AwayForm<'_>, zone: &TimeZone) -> Result<Vec<Away>, FormError> {
    let day = |field, typed: &str| -> Result<Date, FormError> {
        let day: Date =
            typed.trim().parse().map_err(|_| bad(field, typed, "is not a date written as 2026-03-08"))?;
        if YEARS.contains(&day.year()) {
            return Ok(day);
        }
        Err(bad(field, typed, format!("is not in the years {} to {}", YEARS.start(), YEARS.end())))
    };
    let time = |field, typed: &str| -> Result<Time, FormError> {
        typed.trim().parse().map_err(|_| bad(field, typed, "is not a time written as 07:00"))
    };
    let first = day("first day", form.first)?;
    let last = if form.last.trim().is_empty() { first } else { day("last day", form.last)? };
    if last < first || (last - first).get_days() > LONGEST {
        return Err(bad("last day", form.last, "lies before the first, or more than a year after it"));
    }
    let (leaves, back) = (time("leaves", form.leaves)?, time("back", form.back)?);
    let weekdays: Vec<Weekday> = form
        .weekdays
        .iter()
        .map(|typed| {
            let number = typed.parse().ok().and_then(|number| Weekday::from_monday_one_offset(number).ok());
            number.ok_or_else(|| bad("weekday", typed, "is none from 1 to 7"))
        })
        .collect::<Result<_, _>>()?;
    let moment = |date: Date, time: Time| {
        let at = zone.to_ambiguous_zoned_datetime(date.to_datetime(time)).compatible();
        let why = "has no such time on the clock of the site";
        at.map(|at| at.timestamp().as_second()).map_err(|_| bad("day", &format!("{date} {time}"), why))
    };
    let words = match form.words.trim() {
        "" => "away",
        words => words,
    };
    let mut aways = Vec::new();
    let mut date = first;
    while date <= last {
        if weekdays.is_empty() || weekdays.contains(&date.weekday()) {
            let until = if back > leaves { date } else { date.saturating_add(1.day()) };
            aways.push(Away {
                uid: format!("typed {words}").chars().take(80).collect(),
                from: moment(date, leaves)?,
                to: moment(until, back)?,
                words: words.chars().take(80).collect(),
            });
        }
        date = date.saturating_add(1.day());
    }
    if aways.is_empty() {
        return Err(bad("weekday", &form.weekdays.join(", "), "does not come between these days"));
    }
    Ok(aways)
}

/// Writes down shifts or an absence; gives how many were new.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn away(store: &mut Store, form: AwayForm<'_>) -> Result<usize, FormError> {
    let zone = store.reader()?.site()?.and_then(|site| TimeZone::get(&site.zone).ok());
    let aways = aways(form, &zone.unwrap_or(TimeZone::UTC))?;
    Ok(store.transact(&Act::Away(aways[0].words.clone()), |change| {
        let mut added = 0;
        for away in &aways {
            added += usize::from(change.add_away(away)?);
        }
        Ok::<usize, store::error::Error>(added)
    })?)
}

/// Takes back an absence by its name and start.
///
/// # Errors
///
/// [`FormError`] when there is none such.
pub fn come_back(store: &mut Store, uid: &str, from: &str) -> Result<(), FormError> {
    let at: i64 = from.parse().map_err(|_| bad("start", from, "is no moment"))?;
    Ok(store.transact(&Act::Away(uid.into()), |change| change.remove_away(uid, at))?)
}

/// Sets when the rounds are walked.
///
/// # Errors
///
/// [`FormError`] naming the field and what was typed.
pub fn times(store: &mut Store, morning: &str, evening: &str) -> Result<(), FormError> {
    let time = |field, typed: &str| -> Result<Time, FormError> {
        typed.trim().parse().map_err(|_| bad(field, typed, "is not a time written as 06:30"))
    };
    let times = RoundTimes { morning: time("morning", morning)?, evening: time("evening", evening)? };
    if times.morning >= times.evening {
        return Err(bad("evening", evening, "is not after the morning"));
    }
    store.transact(&Act::SetRounds, |change| change.set_round_times(&times))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::import::{Kind, Options, import};

    fn stocked() -> Store {
        let mut store = Store::in_memory().unwrap();
        import(
            &mut store,
            &Kind::Trees,
            "t.csv",
            b"name,taxon\nOld Maple,acer-palmatum\n",
            &Options::default(),
        )
        .unwrap();
        store
    }

    const LINE: RoundLine<'_> =
        RoundLine { tree: "old-maple", deed: "watered", remark: "right", weight: "", sure: false };

    #[test]
    fn a_tap_felt_twice_is_one_and_another_hand_is_kept() {
        let mut store = stocked();
        let mut tap = |at, hand| walk(&mut store, &[LINE], at, hand).unwrap();
        assert_eq!(
            [tap(1000, "left"), tap(1002, "left"), tap(1003, "right"), tap(9000, "left")],
            [1, 0, 1, 1]
        );
    }

    #[test]
    fn one_bad_line_keeps_the_whole_round_out() {
        let mut store = stocked();
        let bad = RoundLine { tree: "nobody", ..LINE };
        assert!(walk(&mut store, &[LINE, bad], 1000, "left").is_err());
        let heavy = RoundLine { deed: "weighed", weight: "-2 kg", ..LINE };
        let why = walk(&mut store, &[LINE, heavy], 1000, "left").unwrap_err().to_string();
        assert!(why.contains("-2 kg"), "{why}");
        assert!(store.reader().unwrap().drinks().unwrap().is_empty());
    }

    #[test]
    fn a_round_can_be_taken_back() {
        let mut store = stocked();
        walk(&mut store, &[LINE], 1000, "left").unwrap();
        let ids: Vec<i64> = store.reader().unwrap().drinks().unwrap().iter().map(|(id, _)| *id).collect();
        take_back(&mut store, &ids).unwrap();
        assert!(store.reader().unwrap().drinks().unwrap().is_empty());
        assert!(take_back(&mut store, &ids).is_err());
    }

    #[test]
    fn night_shifts_on_weekends_end_on_the_next_day() {
        let form = AwayForm {
            first: "2026-07-13",
            last: "2026-07-19",
            weekdays: &["6".into(), "7".into()],
            leaves: "19:00",
            back: "07:30",
            words: "night",
        };
        let aways = aways(form, &TimeZone::UTC).unwrap();
        assert_eq!(aways.len(), 2);
        assert_eq!(aways[0].to - aways[0].from, 45_000);
    }
}
