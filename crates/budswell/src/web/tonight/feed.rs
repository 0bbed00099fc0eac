//! The night's alarms as JSON and as a calendar (RFC 5545), the latter written by a library.

use calcard::{
    common::PartialDateTime,
    icalendar::{
        ICalendar, ICalendarAction, ICalendarComponent, ICalendarComponentType, ICalendarDuration,
        ICalendarEntry, ICalendarProperty, ICalendarTransparency, ICalendarValue,
    },
};
use jiff::{Timestamp, ToSpan, tz::TimeZone};
use serde_json::{Value, json};
use view::tonight::{NightAhead, Row, Tonight};

/// The night as JSON: temperatures in °C, weights in kg, times in UTC.
pub fn json(page: &Tonight) -> Value {
    let rows = |rows: &[Row]| rows.iter().map(row).collect::<Vec<Value>>();
    json!({
        "evening": page.evening.to_string(),
        "from": page.span.0.to_string(),
        "to": page.span.1.to_string(),
        "answer": page.answer,
        "known": page.known,
        "is_usual": page.is_usual,
        "carry": rows(&page.movers),
        "protect": rows(&page.protect),
        "water": rows(&page.water),
        "watch": rows(&page.watch),
        "stay": page.stay.len(),
        "nights": page.nights.iter().map(night).collect::<Vec<Value>>(),
        "shade": page.heat.iter().map(|row| json!({
            "tree": row.key, "name": row.name, "place": row.place.1, "why": row.why, "high": row.high, "line": row.line,
        })).collect::<Vec<Value>>(),
        "places": page.places.iter().map(|it| json!({
            "place": it.key, "low": it.low, "at": it.at, "spread": it.spread, "hours_of_frost": it.frost,
        })).collect::<Vec<Value>>(),
        "caution": page.caution,
    })
}

fn night(night: &NightAhead) -> Value {
    let keys = |trees: &[(String, String)]| trees.iter().map(|(key, _)| key.clone()).collect::<Vec<_>>();
    json!({
        "evening": night.evening.to_string(),
        "move_by": night.move_by.to_string(),
        "low": night.coldest,
        "at_risk": keys(&night.at_risk),
        "first": keys(&night.first),
    })
}

fn row(row: &Row) -> Value {
    let it = &row.figures;
    json!({
        "tree": row.key,
        "name": row.name,
        "from": row.place.1,
        "to": row.to.as_ref().map(|(_, key)| key),
        "is_spared": row.still.is_none(),
        "only_tonight": row.only_tonight.is_some(),
        "turn": (row.turn > 0).then_some(row.turn),
        "why": row.why,
        "low": it.low,
        "line": it.above_line,
        "hours_below": it.hours_below,
        "root_low": it.root_low,
        "root_low_dry": it.root_low_dry,
        "root_line": it.root_line,
        "frozen_through_after": it.frozen_through,
        "frozen_through_dry_after": it.frozen_through_dry,
        "chance_of_passing_line": it.chance,
        "chance_of_passing_line_there": it.chance_there,
        "at_stake": it.at_stake,
        "protect": row.protect,
        "weight": it.weight,
        "lifting_index": it.index,
        "two_people": row.for_two,
        "caveats": row.caveats,
    })
}

/// The night as a calendar: one event for the trees of a place that are carried or protected, and one for shade, each with an alarm.
/// None ask for anything, the calendar is empty. They leave the time free: the grower's own absences are another file's.
pub fn calendar(page: &Tonight, stamp: Timestamp) -> String {
    let mut out = ICalendar { components: vec![component(ICalendarComponentType::VCalendar)] };
    let head = &mut out.components[0];
    text(head, ICalendarProperty::Version, "2.0");
    text(head, ICalendarProperty::Prodid, "-//Budswell//Tonight//EN");
    // An alarm half an hour before: at once for a look in mid afternoon.
    let evening = page.span.0 + 30.minutes();
    for (name, group) in groups(page) {
        let mut lines = vec![page.answer.clone()];
        lines.extend(group.iter().map(|row| line(row)));
        let summary = format!("Frost: {} from {name}", count(group.len()));
        let uid = format!("frost-{}-{}", page.evening, group[0].place.1);
        event(&mut out, &Alarm { uid, at: evening, summary, lines, stamp });
    }
    if !page.heat.is_empty() {
        let lines =
            page.heat.iter().map(|row| format!("{} ({}): {}", row.name, row.place.0, row.why)).collect();
        let summary = format!("Heat tomorrow: shade {}", count(page.heat.len()));
        event(&mut out, &Alarm { uid: format!("heat-{}", page.evening), at: evening, summary, lines, stamp });
    }
    out.to_string()
}

fn count(trees: usize) -> String {
    format!("{trees} {}", if trees == 1 { "tree" } else { "trees" })
}

/// Carried and protected trees by the place they stand in, in the order of carrying.
fn groups(page: &Tonight) -> Vec<(String, Vec<&Row>)> {
    let mut groups: Vec<(String, Vec<&Row>)> = Vec::new();
    for row in page.movers.iter().chain(&page.protect) {
        match groups.iter_mut().find(|(_, rows)| rows[0].place.1 == row.place.1) {
            Some((_, rows)) => rows.push(row),
            None => groups.push((row.place.0.clone(), vec![row])),
        }
    }
    groups
}

fn line(row: &Row) -> String {
    let way = match &row.to {
        Some((to, _)) => format!("{}. {} to {to}", row.turn, row.name),
        None => format!("{}: {}", row.name, row.protect),
    };
    let two = if row.for_two { ", two people" } else { "" };
    format!("{way}, {}{two}", row.weight)
}

struct Alarm {
    uid: String,
    at: Timestamp,
    summary: String,
    lines: Vec<String>,
    stamp: Timestamp,
}

fn event(out: &mut ICalendar, it: &Alarm) {
    let mut event = component(ICalendarComponentType::VEvent);
    text(&mut event, ICalendarProperty::Uid, &format!("{}@budswell.invalid", it.uid));
    let minutes =
        |minutes| ICalendarDuration { neg: false, weeks: 0, days: 0, hours: 0, minutes, seconds: 0 };
    let mut put = |name, value| event.entries.push(ICalendarEntry::new(name).with_value(value));
    put(ICalendarProperty::Dtstamp, moment(it.stamp));
    put(ICalendarProperty::Dtstart, moment(it.at));
    put(ICalendarProperty::Duration, ICalendarValue::Duration(minutes(60)));
    put(ICalendarProperty::Transp, ICalendarValue::Transparency(ICalendarTransparency::Transparent));
    text(&mut event, ICalendarProperty::Summary, &it.summary);
    text(&mut event, ICalendarProperty::Description, &it.lines.join("\n"));
    let mut alarm = component(ICalendarComponentType::VAlarm);
    let mut put = |name, value| alarm.entries.push(ICalendarEntry::new(name).with_value(value));
    put(ICalendarProperty::Action, ICalendarValue::Action(ICalendarAction::Display));
    put(ICalendarProperty::Trigger, ICalendarValue::Duration(ICalendarDuration { neg: true, ..minutes(30) }));
    text(&mut alarm, ICalendarProperty::Description, &it.summary);
    let at = out.components.len() as u32;
    event.component_ids.push(at + 1);
    out.components[0].component_ids.push(at);
    out.components.extend([event, alarm]);
}

fn component(kind: ICalendarComponentType) -> ICalendarComponent {
    ICalendarComponent { component_type: kind, entries: Vec::new(), component_ids: Vec::new() }
}

fn text(to: &mut ICalendarComponent, name: ICalendarProperty, words: &str) {
    to.entries.push(ICalendarEntry::new(name).with_value(ICalendarValue::Text(words.to_string())));
}

/// A moment in UTC.
fn moment(at: Timestamp) -> ICalendarValue {
    let utc = TimeZone::UTC.to_datetime(at);
    let part = |number: i8| u8::try_from(number).ok();
    ICalendarValue::PartialDateTime(Box::new(PartialDateTime {
        year: u16::try_from(utc.year()).ok(),
        month: part(utc.month()),
        day: part(utc.day()),
        hour: part(utc.hour()),
        minute: part(utc.minute()),
        second: part(utc.second()),
        tz_hour: Some(0),
        tz_minute: Some(0),
        tz_minus: false,
    }))
}
