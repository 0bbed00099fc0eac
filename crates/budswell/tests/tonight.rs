//! The night's feeds as another program polls them: the calendar read back by the library and held to RFC 5545's lines, and the figures.

mod served;

use std::{
    io::{Read, Write},
    net::TcpStream,
};

use calcard::icalendar::{ICalendar, ICalendarComponentType, ICalendarProperty, ICalendarValue};
use served::Served;

fn get(served: &Served, path: &str) -> (String, String) {
    let address = served.address();
    let mut line = TcpStream::connect(address).unwrap();
    write!(line, "GET {path} HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n").unwrap();
    let mut bytes = Vec::new();
    line.read_to_end(&mut bytes).unwrap();
    let text = String::from_utf8(bytes).unwrap();
    let (head, body) = text.split_once("\r\n\r\n").unwrap();
    assert!(head.starts_with("HTTP/1.1 200"), "{head}");
    (head.to_lowercase(), body.to_string())
}

fn uids(calendar: &str) -> Vec<String> {
    let read = ICalendar::parse(calendar).unwrap();
    let events = read.components.iter().filter(|it| it.component_type == ICalendarComponentType::VEvent);
    events.map(|event| event.uid().unwrap().to_string()).collect()
}

#[test]
fn a_frosty_night_is_an_alarm_for_a_calendar_and_figures_for_a_program() {
    let served = Served::start(["demo", "--today", "2026-04-20"]);
    let (head, calendar) = get(&served, "/tonight.ics");
    assert!(head.contains("content-type: text/calendar"), "{head}");
    for line in calendar.split("\r\n") {
        assert!(!line.contains('\n') && !line.contains('\r'), "lines end in CRLF: {line}");
        assert!(line.len() <= 75, "folded at 75 octets: {line}");
    }
    let read = ICalendar::parse(&calendar).unwrap();
    let of = |kind: ICalendarComponentType| {
        read.components.iter().filter(|it| it.component_type == kind).collect::<Vec<_>>()
    };
    let (events, alarms) = (of(ICalendarComponentType::VEvent), of(ICalendarComponentType::VAlarm));
    assert!(!events.is_empty() && events.len() == alarms.len());
    for event in &events {
        for needed in [
            ICalendarProperty::Uid,
            ICalendarProperty::Dtstamp,
            ICalendarProperty::Dtstart,
            ICalendarProperty::Duration,
            ICalendarProperty::Transp,
            ICalendarProperty::Summary,
        ] {
            assert!(event.has_property(&needed), "{needed:?}");
        }
        assert!(event.uid().unwrap().contains("2026-04-20"));
    }
    for alarm in &alarms {
        assert!(
            alarm.has_property(&ICalendarProperty::Action) && alarm.has_property(&ICalendarProperty::Trigger)
        );
    }
    // The alarm sounds at three in the afternoon of the site: half past one UTC less half an hour.
    assert!(
        calendar.contains("DTSTART:20260420T133000Z\r\n") && calendar.contains("TRIGGER:-PT30M\r\n"),
        "{calendar}"
    );
    let text = events.iter().filter_map(|event| {
        match event.property(&ICalendarProperty::Description)?.values.first()? {
            ICalendarValue::Text(text) => Some(text.clone()),
            _ => None,
        }
    });
    let text: String = text.collect();
    let (_, again) = get(&served, "/tonight.ics");
    assert_eq!(uids(&calendar), uids(&again), "the same night keeps its names");

    let (head, figures) = get(&served, "/tonight.json");
    assert!(head.contains("content-type: application/json"), "{head}");
    let figures: serde_json::Value = serde_json::from_str(&figures).unwrap();
    let carried = figures["carry"].as_array().unwrap();
    assert!(carried.len() > 5);
    for row in carried {
        assert!(text.contains(row["name"].as_str().unwrap()), "{} in the calendar", row["name"]);
        assert!(row["chance_of_passing_line"].as_f64().unwrap() > 0.05 && row["to"].is_string());
    }
    assert_eq!(figures["evening"], "2026-04-20");
}

#[test]
fn a_mild_night_is_an_empty_calendar() {
    let served = Served::start(["demo", "--today", "2026-06-10"]);
    let (_, calendar) = get(&served, "/tonight.ics");
    assert_eq!(uids(&calendar), Vec::<String>::new());
    assert!(calendar.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:"), "{calendar}");
}
