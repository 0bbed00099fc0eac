//! How far and how often the repeats of a calendar are worked out, so that no file takes long, whatever it asks for.

use calcard::{
    common::PartialDateTime,
    icalendar::{
        ICalendarComponent, ICalendarFrequency, ICalendarProperty, ICalendarRecurrenceRule, ICalendarValue,
    },
};

use super::MOST;

/// Years for which a repeat is worked out, from its first time on: more than [`MOST`] weeks.
pub const YEARS: u16 = 16;

/// Most entries of a list of days, weeks or places: every day of a leap year, from its start and from its end.
const LONGEST_LIST: usize = 732;

/// Most times of day at which one event may repeat.
const MOST_TIMES: usize = 24;

/// Days looked at, in the repeats of a whole file, before the rest is refused; a daily repeat with a list of weekdays looks at 5 844.
const MOST_DAYS: u64 = 8_000_000;

/// The work of a file so far.
#[derive(Debug, Default)]
pub struct Effort {
    days: u64,
}

impl Effort {
    /// Lets the repeats of an event be worked out, no further than [`YEARS`].
    ///
    /// # Errors
    ///
    /// Why not, in words.
    pub fn allow(&mut self, event: &mut ICalendarComponent) -> Result<(), &'static str> {
        let last = last(event);
        for rule in rules(event) {
            check(rule)?;
            if let Some(last) = &last
                && rule.until.as_ref().is_none_or(|until| until.year > last.year)
            {
                rule.until = Some(last.clone());
            }
            self.days = self.days.saturating_add(days_looked_at(rule));
        }
        if self.days > MOST_DAYS {
            return Err("the repeats of this file are too many to be worked out at once; upload it in parts");
        }
        Ok(())
    }
}

/// Whether an event repeats until the end of what is worked out, and was not told to end.
pub fn is_endless(event: &ICalendarComponent) -> bool {
    let last = last(event);
    let mut rules = event.entries.iter().flat_map(|entry| &entry.values).filter_map(|value| match value {
        ICalendarValue::RecurrenceRule(rule) => Some(rule),
        _ => None,
    });
    rules.any(|rule| rule.count.is_none() && last.is_some() && rule.until == last)
}

fn rules(event: &mut ICalendarComponent) -> impl Iterator<Item = &mut ICalendarRecurrenceRule> {
    event.entries.iter_mut().flat_map(|entry| &mut entry.values).filter_map(|value| match value {
        ICalendarValue::RecurrenceRule(rule) => Some(&mut **rule),
        _ => None,
    })
}

/// The last moment to which the repeats of an event are worked out.
fn last(event: &ICalendarComponent) -> Option<PartialDateTime> {
    let start = match event.property(&ICalendarProperty::Dtstart)?.values.first()? {
        ICalendarValue::PartialDateTime(start) => start,
        _ => return None,
    };
    let year = start.year?.checked_add(YEARS)?;
    // The 28th is a day of every month.
    let day = start.day.map(|day| day.min(28));
    Some(PartialDateTime {
        year: Some(year),
        day,
        tz_hour: None,
        tz_minute: None,
        tz_minus: false,
        ..(**start).clone()
    })
}

fn check(rule: &ICalendarRecurrenceRule) -> Result<(), &'static str> {
    if matches!(rule.freq, ICalendarFrequency::Minutely | ICalendarFrequency::Secondly) {
        return Err("it repeats every minute or second, which no time away does");
    }
    if times(rule) > MOST_TIMES {
        return Err("it repeats more than 24 times in its day, which no time away does");
    }
    if lists(rule).iter().any(|length| *length > LONGEST_LIST) {
        return Err("it repeats by a list longer than the days of a year");
    }
    Ok(())
}

/// Times of day, or of an hour, at which it repeats.
fn times(rule: &ICalendarRecurrenceRule) -> usize {
    let hours = if rule.freq == ICalendarFrequency::Hourly { 1 } else { rule.byhour.len().max(1) };
    hours.saturating_mul(rule.byminute.len().max(1)).saturating_mul(rule.bysecond.len().max(1))
}

fn lists(rule: &ICalendarRecurrenceRule) -> [usize; 7] {
    [
        rule.byday.len(),
        rule.bymonthday.len(),
        rule.byyearday.len(),
        rule.byweekno.len(),
        rule.bymonth.len(),
        rule.bysetpos.len(),
        rule.byhour.len(),
    ]
}

/// How many days it looks at, at most, counted so that one stands for about as much work as another.
fn days_looked_at(rule: &ICalendarRecurrenceRule) -> u64 {
    /// Work of a step beside its days, in days.
    const STEP: u64 = 16;
    const YEAR: u64 = 366;
    let years = u64::from(YEARS);
    let (steps, days) = match rule.freq {
        ICalendarFrequency::Yearly => (years, YEAR),
        ICalendarFrequency::Monthly => (years * 12, 31),
        ICalendarFrequency::Weekly => (years * 53, 7),
        ICalendarFrequency::Daily => (years * YEAR, 1),
        _ => (years * YEAR * 24, 1),
    };
    let steps = steps / u64::from(rule.interval.unwrap_or(1).max(1)) + 1;
    let listed = lists(rule).iter().sum::<usize>() as u64;
    // Without a list every step is taken, and no more than MOST are.
    let steps = if listed == 0 { steps.min(MOST as u64) } else { steps };
    let weeks = if rule.byweekno.is_empty() { 0 } else { YEAR };
    let places = 1 + rule.bysetpos.len() as u64;
    let each = days * times(rule) as u64 * places;
    steps.saturating_mul((each * (1 + listed / 16) + STEP + weeks) / STEP + 1)
}
