//! Shifts and absences out of a calendar file (RFC 5545), read by a library; each event a stretch away from the pots.
//!
//! The time it takes grows with the size of the file and no faster, whatever stands in it: components are shared out by name once, a
//! repeat is worked out only as far and as often as [`repeats`] allows, and the stretches of a file have an upper number.

mod lines;
mod repeats;

use std::{collections::HashMap, str::FromStr};

use calcard::{
    common::timezone::Tz,
    icalendar::{
        ICalendar, ICalendarComponent, ICalendarComponentType, ICalendarProperty, ICalendarStatus,
        ICalendarValue, dates::TimeOrDelta,
    },
};
use collection::drink::Away;

use crate::refusal::Refusal;
use lines::Lines;
use repeats::{Effort, YEARS};

/// Most times that one repeating event is taken: two years of a daily one.
const MOST: usize = 800;

/// Most stretches that one file may come to.
const MOST_IN_ALL: usize = 100_000;

/// Seconds since 1970 between which a stretch may lie: 1970 to 2199.
const TIMES: std::ops::Range<i64> = 0..7_258_118_400;

/// What a calendar held.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CalendarFile {
    /// Stretches away, by their start.
    pub aways: Vec<Away>,
    /// What is worth knowing.
    pub notes: Vec<String>,
    /// Events that cannot be taken.
    pub refused: Vec<Refusal>,
}

/// Reads the events of a calendar as absences. Times without a zone are those of `zone`, an IANA name; cancelled events and those marked
/// as free are passed over.
///
/// # Errors
///
/// One refusal when the file is no calendar.
///
/// ```
/// let shift = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nBEGIN:VEVENT\r\nUID:a\r\nDTSTAMP:20260301T000000Z\r\n\
///     DTSTART:20260714T070000\r\nDTEND:20260714T193000\r\nSUMMARY:Long shift\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
/// let read = intake::calendar::read(shift, "Europe/Zurich").unwrap();
/// assert_eq!(read.aways[0].to - read.aways[0].from, 45_000);
/// ```
pub fn read(text: &str, zone: &str) -> Result<CalendarFile, Refusal> {
    let text = text.trim_start_matches('\u{feff}');
    let calendar = ICalendar::parse(text).map_err(|_| Refusal {
        line: 1,
        value: String::new(),
        why: "the file is no calendar (RFC 5545)".into(),
    })?;
    let mut reading = Reading {
        zone: Tz::from_str(zone).unwrap_or_default(),
        lines: Lines::of(text),
        clocks: HashMap::new(),
        effort: Effort::default(),
        file: CalendarFile::default(),
    };
    let (events, passed) = reading.sorted(calendar);
    for (uid, event) in events {
        reading.take(&uid, event);
    }
    let mut file = reading.file;
    if passed > 0 {
        file.notes.push(format!("cancelled, or marked as free, and passed over: {passed}"));
    }
    file.refused.sort_by_key(|it| it.line);
    file.aways.sort_by(|a, b| (a.from, &a.uid).cmp(&(b.from, &b.uid)));
    file.aways.dedup_by(|a, b| (a.from, &a.uid) == (b.from, &b.uid));
    Ok(file)
}

/// All that stands under one name: the event, its repeats and what was changed of them.
type Event = Vec<ICalendarComponent>;

/// A file on its way to stretches.
struct Reading {
    zone: Tz,
    lines: Lines,
    /// The clocks that the file describes, by name, each with nothing but its names.
    clocks: HashMap<String, ICalendarComponent>,
    effort: Effort,
    file: CalendarFile,
}

impl Reading {
    /// The events by name, in the order they first come, of which something can be taken; and how many were passed over.
    fn sorted(&mut self, calendar: ICalendar) -> (Vec<(String, Event)>, usize) {
        let (mut events, mut passed) = (Vec::<(String, Event, bool)>::new(), 0);
        let mut ranks: HashMap<String, usize> = HashMap::new();
        for component in calendar.components {
            match component.component_type {
                ICalendarComponentType::VTimezone => self.keep_clock(component),
                ICalendarComponentType::VEvent => {
                    let is_passed = is_passed_over(&component);
                    let why = if is_passed { None } else { fault(&component) };
                    passed += usize::from(is_passed);
                    if let Some(why) = why {
                        self.refuse(&component, why);
                    }
                    let Some(uid) = component.uid().map(str::to_string) else { continue };
                    let rank = *ranks.entry(uid.clone()).or_insert_with(|| {
                        events.push((uid, Vec::new(), false));
                        events.len() - 1
                    });
                    events[rank].1.push(component);
                    events[rank].2 |= !is_passed && why.is_none();
                }
                _ => {}
            }
        }
        (events.into_iter().filter(|it| it.2).map(|(uid, event, _)| (uid, event)).collect(), passed)
    }

    /// Keeps the names of a clock, by which the library knows it; its rules are those of the names.
    fn keep_clock(&mut self, mut clock: ICalendarComponent) {
        let names = |property: &ICalendarProperty| {
            matches!(property, ICalendarProperty::Tzid | ICalendarProperty::Other(_))
        };
        clock.entries.retain(|entry| names(&entry.name));
        clock.entries.truncate(16);
        if let Some(name) = clock.timezone().map(|(name, _)| name.to_string()) {
            self.clocks.insert(name, clock);
        }
    }

    /// Takes an event, with its repeats.
    fn take(&mut self, uid: &str, mut event: Event) {
        if let Some(why) = event.iter_mut().find_map(|it| self.effort.allow(it).err()) {
            self.refuse(&event[0], why);
            return;
        }
        let named = event.iter().flat_map(|it| &it.entries).filter_map(|entry| entry.tz_id());
        let mut clocks: Vec<&str> = named.collect();
        clocks.sort_unstable();
        clocks.dedup();
        let clocks: Event = clocks.iter().filter_map(|name| self.clocks.get(*name)).cloned().collect();
        let is_endless = event.iter().any(repeats::is_endless);
        let own = ICalendar { components: event.into_iter().chain(clocks).collect() };
        let told = own.expand_dates(self.zone, MOST);
        let event = |rank: u32| own.components.get(rank as usize);
        for error in told.errors {
            if let Some(event) = event(error.comp_id) {
                self.refuse(event, "the event's times cannot be worked out");
            }
        }
        if told.events.len() >= MOST {
            let words = summary(event(0));
            self.file.notes.push(format!("“{words}” repeats without end; {MOST} times were taken"));
        } else if is_endless {
            let words = summary(event(0));
            self.file.notes.push(format!("“{words}” repeats without end; {YEARS} years of it were taken"));
        }
        if self.file.aways.len() + told.events.len() > MOST_IN_ALL {
            self.refuse(
                &own.components[0],
                "the file holds more than 100,000 times away; upload it in parts",
            );
            return;
        }
        for one in told.events {
            let from = one.start.timestamp();
            let to = match one.end {
                TimeOrDelta::Time(end) => end.timestamp(),
                TimeOrDelta::Delta(span) => from.saturating_add(span.num_seconds()),
            };
            let it = event(one.comp_id);
            if from >= to || it.is_some_and(is_passed_over) {
                continue;
            }
            if TIMES.contains(&from) && TIMES.contains(&to) {
                self.file.aways.push(Away { uid: uid.into(), from, to, words: summary(it) });
            } else {
                self.refuse(it.unwrap_or(&own.components[0]), "its times lie outside the years 1970 to 2199");
                return;
            }
        }
    }

    /// A refusal on the line where the event gives its name.
    fn refuse(&mut self, event: &ICalendarComponent, why: &str) {
        let line = self.lines.of_uid(event.uid().unwrap_or(""));
        self.file.refused.push(Refusal { line, value: summary(Some(event)), why: why.into() });
    }
}

fn is_passed_over(event: &ICalendarComponent) -> bool {
    let first = |property| event.property(&property).and_then(|entry| entry.values.first());
    let cancelled =
        matches!(first(ICalendarProperty::Status), Some(ICalendarValue::Status(ICalendarStatus::Cancelled)));
    cancelled
        || matches!(first(ICalendarProperty::Transp), Some(ICalendarValue::Transparency(free))
            if *free == calcard::icalendar::ICalendarTransparency::Transparent)
}

/// What the standard forbids and would make the stretch a guess.
fn fault(event: &ICalendarComponent) -> Option<&'static str> {
    let has_time = |property| match event.property(&property)?.values.first()? {
        ICalendarValue::PartialDateTime(when) => Some(when.has_time()),
        _ => None,
    };
    let (start, end) = (has_time(ICalendarProperty::Dtstart), has_time(ICalendarProperty::Dtend));
    if event.uid().is_none() {
        Some("the event has no UID, so it could not be told from itself a second time")
    } else if start.is_none() && !event.has_property(&ICalendarProperty::RecurrenceId) {
        Some("the event has no start that can be read")
    } else if event.has_property(&ICalendarProperty::Dtend)
        && event.has_property(&ICalendarProperty::Duration)
    {
        Some("the event has both an end and a duration")
    } else if end.is_some_and(|end| start.is_some_and(|start| start != end)) {
        Some("the event starts on a day and ends at a time, or the other way round")
    } else {
        None
    }
}

fn summary(event: Option<&ICalendarComponent>) -> String {
    let entry = event.and_then(|event| event.property(&ICalendarProperty::Summary));
    let words = entry.and_then(|entry| entry.values.first()).and_then(ICalendarValue::as_text);
    words.unwrap_or("away").chars().take(80).collect()
}

#[cfg(test)]
mod odd;
#[cfg(test)]
mod tests {
    use super::*;

    fn calendar(lines: &str) -> String {
        let events = lines.replace('\n', "\r\n");
        format!("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//t//t//EN\r\n{events}END:VCALENDAR\r\n")
    }

    fn event(lines: &str) -> String {
        format!("BEGIN:VEVENT\nUID:x\nDTSTAMP:20260301T000000Z\n{lines}END:VEVENT\n")
    }

    fn moment(text: &str) -> i64 {
        text.parse::<jiff::Timestamp>().unwrap().as_second()
    }

    #[test]
    fn a_weekly_shift_keeps_its_local_hour_across_the_change_of_clocks() {
        let shift = event("DTSTART:20260327T070000\nDTEND:20260327T190000\nRRULE:FREQ=WEEKLY;COUNT=2\n");
        let read = read(&calendar(&shift), "Europe/Zurich").unwrap();
        let starts: Vec<i64> = read.aways.iter().map(|away| away.from).collect();
        assert_eq!(starts, [moment("2026-03-27T06:00:00Z"), moment("2026-04-03T05:00:00Z")]);
    }

    #[test]
    fn a_day_is_away_from_midnight_to_midnight() {
        let read =
            read(&calendar(&event("DTSTART;VALUE=DATE:20260314\nDURATION:P2D\n")), "Europe/Zurich").unwrap();
        assert_eq!(
            (read.aways[0].from, read.aways[0].to),
            (moment("2026-03-13T23:00:00Z"), moment("2026-03-15T23:00:00Z"))
        );
    }

    #[test]
    fn a_cancelled_shift_is_no_absence() {
        let read =
            read(&calendar(&event("DTSTART:20260327T070000Z\nDURATION:PT8H\nSTATUS:CANCELLED\n")), "UTC")
                .unwrap();
        assert!(read.aways.is_empty() && read.notes[0].contains("passed over"));
    }

    #[test]
    fn an_endless_shift_does_not_push_out_the_holiday() {
        let holiday = "BEGIN:VEVENT\nUID:y\nDTSTAMP:20260301T000000Z\nDTSTART;VALUE=DATE:20260801\nDTEND;VALUE=DATE:20260815\nEND:VEVENT\n";
        let both = event("DTSTART:20260327T070000Z\nDTEND:20260327T190000Z\nRRULE:FREQ=DAILY\n") + holiday;
        let read = read(&calendar(&both), "UTC").unwrap();
        assert!(read.aways.iter().any(|away| away.uid == "y") && read.notes[0].contains("without end"));
    }

    #[test]
    fn what_the_standard_forbids_is_named_and_the_rest_is_read() {
        let bad = event("DTSTART;VALUE=DATE:20260314\nDTEND:20260315T100000Z\nSUMMARY:Odd\n");
        let good = event("DTSTART:20260327T070000Z\nDURATION:PT8H\n").replace("UID:x", "UID:z");
        let read = read(&calendar(&(bad + &good)), "UTC").unwrap();
        assert_eq!((read.refused[0].line, read.refused[0].value.as_str()), (5, "Odd"));
        assert_eq!(read.aways.len(), 1);
    }

    #[test]
    fn anything_else_is_no_calendar() {
        assert!(read("date,tmin\n2026-01-01,3\n", "UTC").is_err());
    }
}
