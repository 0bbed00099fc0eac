//! Checks that a calendar made to be slow is taken or refused event by event, by counts that a slow reader would not come to in an hour.

use std::fmt::Write as _;

use super::*;

fn calendar(events: &str) -> String {
    format!("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//t//t//EN\r\n{events}END:VCALENDAR\r\n")
}

fn event(uid: &str, lines: &str) -> String {
    format!("BEGIN:VEVENT\r\nUID:{uid}\r\nDTSTAMP:20260301T000000Z\r\n{lines}END:VEVENT\r\n")
}

const SHIFT: &str = "DTSTART:20260327T070000Z\r\nDTEND:20260327T190000Z\r\n";

fn read_utc(events: &str) -> CalendarFile {
    read(&calendar(events), "UTC").unwrap()
}

#[test]
fn a_hundred_thousand_shifts_are_all_taken_and_one_more_is_not() {
    let mut events = String::new();
    for number in 0..=MOST_IN_ALL {
        events.push_str(&event(&format!("{number}@x"), SHIFT));
    }
    let file = read_utc(&events);
    assert_eq!((file.aways.len(), file.refused.len()), (MOST_IN_ALL, 1));
    assert!(file.refused[0].why.contains("upload it in parts"));
}

#[test]
fn every_event_that_cannot_be_taken_is_named_on_its_line() {
    let mut events = String::new();
    for number in 0..50_000 {
        events.push_str(&event(&format!("{number}@x"), "DTSTART:never\r\n"));
    }
    let file = read_utc(&events);
    assert_eq!((file.aways.len(), file.refused.len()), (0, 50_000));
    let lines: Vec<usize> = file.refused.iter().map(|it| it.line).take(3).collect();
    assert_eq!(lines, [5, 10, 15]);
    assert_eq!(file.refused[49_999].line, 5 + 49_999 * 5);
}

#[test]
fn one_name_for_many_events_is_one_event_with_what_was_changed_of_it() {
    let mut events = event("x", &format!("{SHIFT}RRULE:FREQ=DAILY;COUNT=700\r\n"));
    let day = jiff::civil::date(2026, 3, 27);
    for number in 0..700 {
        use jiff::ToSpan;
        let day = day.checked_add((number as i64).days()).unwrap().strftime("%Y%m%d").to_string();
        let moved =
            format!("RECURRENCE-ID:{day}T070000Z\r\nDTSTART:{day}T080000Z\r\nDTEND:{day}T200000Z\r\n");
        events.push_str(&event("x", &moved));
    }
    let file = read_utc(&events);
    assert_eq!((file.aways.len(), file.refused.len()), (700, 0));
    assert!(file.aways.iter().all(|away| away.from % 86_400 == 8 * 3600), "one was not moved");
}

#[test]
fn dates_that_are_left_out_or_put_in_are_taken_by_the_thousand() {
    let all = |property: &str, count: usize| {
        (0..count).fold(String::new(), |mut lines, day| {
            write!(
                lines,
                "{property}:{}{:02}{:02}T070000Z\r\n",
                2026 + day / 336,
                1 + day / 28 % 12,
                1 + day % 28
            )
            .unwrap();
            lines
        })
    };
    let rule = "RRULE:FREQ=DAILY;COUNT=300\r\n";
    let out = event("out", &format!("{SHIFT}{rule}{}", all("EXDATE", 20_000)));
    let put = event("in", &format!("{SHIFT}{}", all("RDATE", 5_000)));
    let file = read_utc(&(out + &put));
    let of = |uid: &str| file.aways.iter().filter(|away| away.uid == uid).count();
    // Of 300 days from 27 March 2026 those that no 29th, 30th or 31st leaves standing are out.
    assert!((15..=30).contains(&of("out")), "{}", of("out"));
    assert!(of("in") >= 5_000, "{}", of("in"));
}

#[test]
fn a_repeat_that_no_absence_has_is_refused_before_it_is_worked_out() {
    for rule in [
        "FREQ=SECONDLY",
        "FREQ=MINUTELY;INTERVAL=7",
        "FREQ=YEARLY;BYHOUR=1,2,3,4,5,6,7,8,9,10;BYMINUTE=0,20,40",
    ] {
        let file = read_utc(&event("x", &format!("{SHIFT}RRULE:{rule}\r\n")));
        assert_eq!((file.aways.len(), file.refused.len()), (0, 1), "{rule}");
    }
    let many = vec!["1"; 5_000].join(",");
    let file = read_utc(&event("x", &format!("{SHIFT}RRULE:FREQ=YEARLY;BYMONTHDAY={many}\r\n")));
    assert_eq!((file.aways.len(), file.refused.len()), (0, 1));
    assert!(file.refused[0].why.contains("longer than the days of a year"), "{:?}", file.refused);
}

#[test]
fn days_that_never_come_are_looked_for_no_longer_than_a_file_may_take() {
    let mut events = String::new();
    for number in 0..20_000 {
        let rule = "RRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30\r\n";
        events.push_str(&event(&format!("{number}@x"), &format!("{SHIFT}{rule}")));
    }
    let file = read_utc(&events);
    let worked_out = 20_000 - file.refused.len();
    assert!((100..20_000).contains(&worked_out), "{worked_out}");
    assert!(file.refused[0].why.contains("too many to be worked out at once"));
}

#[test]
fn an_endless_repeat_is_told_as_far_as_it_was_taken() {
    let monthly = read_utc(&event("x", &format!("{SHIFT}RRULE:FREQ=MONTHLY\r\n")));
    assert_eq!(monthly.aways.len(), usize::from(YEARS) * 12 + 1);
    assert!(monthly.notes[0].contains("16 years"), "{:?}", monthly.notes);
    let until = read_utc(&event("x", &format!("{SHIFT}RRULE:FREQ=MONTHLY;UNTIL=20270101T000000Z\r\n")));
    assert_eq!((until.aways.len(), until.notes.len()), (10, 0));
    let counted = read_utc(&event("x", &format!("{SHIFT}RRULE:FREQ=MONTHLY;COUNT=4\r\n")));
    assert_eq!((counted.aways.len(), counted.notes.len()), (4, 0));
    let leap = "DTSTART:20240229T070000Z\r\nDTEND:20240229T190000Z\r\nRRULE:FREQ=YEARLY\r\n";
    assert_eq!(read_utc(&event("x", leap)).aways.len(), 4, "2024, 2028, 2032, 2036");
}

#[test]
fn times_beyond_what_a_clock_tells_are_refused() {
    for start in ["19691231T220000Z", "21991231T220000Z", "99991231T220000Z", "00010101T000000Z"] {
        let file = read_utc(&event("x", &format!("DTSTART:{start}\r\nDURATION:PT12H\r\n")));
        assert_eq!((file.aways.len(), file.refused.len()), (0, 1), "{start}");
    }
    let long = read_utc(&event("x", "DTSTART:20260327T070000Z\r\nDURATION:P999999999W\r\n"));
    assert_eq!((long.aways.len(), long.refused.len()), (0, 1));
}

#[test]
fn deep_nests_long_lines_and_many_clocks_change_nothing() {
    let nest = "BEGIN:VALARM\r\n".repeat(20_000) + &"END:VALARM\r\n".repeat(20_000);
    let folded = format!("DESCRIPTION:{}\r\n", "a\r\n ".repeat(300_000));
    let mut clocks = String::new();
    for number in 0..2_000 {
        write!(
            clocks,
            "BEGIN:VTIMEZONE\r\nTZID:Zone {number}\r\nX-LIC-LOCATION:Europe/Zurich\r\nEND:VTIMEZONE\r\n"
        )
        .unwrap();
    }
    let mut shifts = String::new();
    for number in 0..2_000 {
        let start = format!("DTSTART;TZID=Zone {number}:20260714T070000\r\nDURATION:PT12H\r\n");
        shifts.push_str(&event(&format!("{number}@x"), &start));
    }
    let file = read_utc(&(clocks + &shifts + &event("deep", &format!("{SHIFT}{nest}{folded}"))));
    assert_eq!((file.aways.len(), file.refused.len()), (2_001, 0));
    let summer = "2026-07-14T05:00:00Z".parse::<jiff::Timestamp>().unwrap().as_second();
    assert_eq!(file.aways.iter().filter(|away| away.from == summer).count(), 2_000, "a clock was lost");
}
