//! Shifts and absences out of a calendar file (RFC 5545), read by a library; each event a stretch away from the pots.

use std::str::FromStr;

use calcard::{
    common::timezone::Tz,
    icalendar::{
        ICalendar, ICalendarComponent, ICalendarComponentType, ICalendarProperty, ICalendarStatus,
        ICalendarValue, dates::TimeOrDelta,
    },
};
use collection::drink::Away;

use crate::refusal::Refusal;

/// Most times that one repeating event is taken: two years of a daily one.
const MOST: usize = 800;

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
    let calendar = ICalendar::parse(text.trim_start_matches('\u{feff}')).map_err(|_| Refusal {
        line: 1,
        value: String::new(),
        why: "the file is no calendar (RFC 5545)".into(),
    })?;
    let zone = Tz::from_str(zone).unwrap_or_default();
    let mut file = CalendarFile::default();
    let mut done: Vec<&str> = Vec::new();
    let mut passed = 0;
    for event in events(&calendar) {
        if is_passed_over(event) {
            passed += 1;
            continue;
        }
        match fault(event) {
            Some(why) => file.refused.push(refusal(text, event, why)),
            None => match event.uid() {
                Some(uid) if done.contains(&uid) => {}
                Some(uid) => {
                    done.push(uid);
                    take(text, &calendar, uid, zone, &mut file);
                }
                None => {}
            },
        }
    }
    if passed > 0 {
        file.notes.push(format!("cancelled, or marked as free, and passed over: {passed}"));
    }
    file.aways.sort_by(|a, b| (a.from, &a.uid).cmp(&(b.from, &b.uid)));
    file.aways.dedup_by(|a, b| (a.from, &a.uid) == (b.from, &b.uid));
    Ok(file)
}

fn events(calendar: &ICalendar) -> impl Iterator<Item = &ICalendarComponent> {
    calendar.components.iter().filter(|it| it.component_type == ICalendarComponentType::VEvent)
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

/// Takes all that is told under one name: the event, its repeats and what was changed of them.
fn take(text: &str, calendar: &ICalendar, uid: &str, zone: Tz, file: &mut CalendarFile) {
    let of_it = |it: &&ICalendarComponent| {
        it.component_type == ICalendarComponentType::VTimezone
            || it.component_type == ICalendarComponentType::VEvent && it.uid() == Some(uid)
    };
    let own = ICalendar { components: calendar.components.iter().filter(of_it).cloned().collect() };
    let told = own.expand_dates(zone, MOST);
    let event = |rank: u32| own.components.get(rank as usize);
    for error in told.errors {
        if let Some(event) = event(error.comp_id) {
            file.refused.push(refusal(text, event, "the event's times cannot be worked out"));
        }
    }
    if told.events.len() >= MOST {
        file.notes.push(format!("“{}” repeats without end; {MOST} times were taken", summary(event(0))));
    }
    for one in told.events {
        let from = one.start.timestamp();
        let to = match one.end {
            TimeOrDelta::Time(end) => end.timestamp(),
            TimeOrDelta::Delta(span) => from + span.num_seconds(),
        };
        let it = event(one.comp_id);
        if from < to && !it.is_some_and(is_passed_over) {
            file.aways.push(Away { uid: uid.into(), from, to, words: summary(it) });
        }
    }
}

fn summary(event: Option<&ICalendarComponent>) -> String {
    let entry = event.and_then(|event| event.property(&ICalendarProperty::Summary));
    let words = entry.and_then(|entry| entry.values.first()).and_then(ICalendarValue::as_text);
    words.unwrap_or("away").chars().take(80).collect()
}

/// A refusal on the line where the event gives its name.
fn refusal(text: &str, event: &ICalendarComponent, why: &str) -> Refusal {
    let uid = event.uid().unwrap_or("");
    let at = text.lines().position(|line| !uid.is_empty() && line.contains(uid));
    Refusal { line: at.map_or(0, |at| at + 1), value: summary(Some(event)), why: why.into() }
}

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
