//! Claims about the reading of loggers that no outside file states.

use jiff::tz::{TimeZone, TimeZoneDatabase};

use super::{LoggerFile, Order, Reading, Scale, hourly, humidity, read, read_as};
use crate::{import::Options, weather::Why};

fn zurich() -> TimeZone {
    TimeZoneDatabase::bundled().get("Europe/Zurich").unwrap()
}

fn file(text: &str) -> LoggerFile {
    read(text.as_bytes(), &zurich()).unwrap()
}

/// Moments as “2024-10-27T00:30:00Z”, shortened to hour and minute.
fn clocks(readings: &[Reading]) -> Vec<String> {
    let shown = |at| jiff::Timestamp::from_second(at).unwrap().to_string()[11..16].to_string();
    readings.iter().map(|reading| shown(reading.at)).collect()
}

fn counted(file: &LoggerFile, why: Why) -> usize {
    file.notes.iter().find(|note| note.why == why).map_or(0, |note| note.count)
}

#[test]
fn the_autumn_hour_is_told_apart_in_a_file_from_newest_to_oldest() {
    let rows = "Time,Temp °C\n2024-10-27 03:00,4\n2024-10-27 02:30,3\n2024-10-27 02:00,2\n\
                2024-10-27 02:30,1\n2024-10-27 02:00,0\n2024-10-27 01:30,-1\n";
    let file = file(rows);
    assert_eq!(clocks(&file.readings), ["23:30", "00:00", "00:30", "01:00", "01:30", "02:00"]);
    let rising = file.readings.iter().map(|reading| reading.temperature).collect::<Vec<_>>();
    assert_eq!(rising, [-1.0, 0.0, 1.0, 2.0, 3.0, 4.0]);
    assert_eq!(counted(&file, Why::OutOfOrder), 0);
}

#[test]
fn an_hourly_logger_shows_the_autumn_hour_as_two_rows_that_are_alike() {
    let file = file(
        "Time,Temp °C\n2024-10-27 01:00,5\n2024-10-27 02:00,4\n2024-10-27 02:00,4\n2024-10-27 03:00,4\n",
    );
    assert_eq!(clocks(&file.readings), ["23:00", "00:00", "01:00", "02:00"]);
    assert_eq!(counted(&file, Why::SameTwice), 0);
}

#[test]
fn an_autumn_hour_that_comes_once_is_told() {
    let file = file("Time,Temp °C\n2024-10-27 01:00,5\n2024-10-27 02:00,4\n2024-10-27 03:00,4\n");
    assert_eq!(counted(&file, Why::AutumnHourUnclear), 1);
}

#[test]
fn the_spring_hour_is_no_gap_and_a_reading_in_it_is_refused() {
    let text = "Time,Temp °C\n2026-03-29 01:00,1\n2026-03-29 02:30,9\n2026-03-29 03:00,2\n";
    let file = file(text);
    let hours = hourly(&file.readings);
    assert!(hours.len() == 2 && hours.iter().all(|hour| !hour.filled));
    assert_eq!((file.refused[0].line, file.refused[0].value.as_str()), (3, "2026-03-29T02:30:00"));
    let fixed = read(text.replace("Time", "Time UTC+1").as_bytes(), &zurich()).unwrap();
    assert_eq!((fixed.readings.len(), fixed.refused.len()), (3, 0));
}

#[test]
fn any_day_above_twelve_settles_the_order_of_dates() {
    let month_first = file("Date,Time,Temp C\n01/02/2026,10:00,1\n01/13/2026,10:00,2\n");
    assert!(!month_first.date_order_guessed && month_first.refused.is_empty());
    let day_first = file("Date,Time,Temp C\n01/02/2026,10:00,1\n13/02/2026,10:00,2\n");
    assert_eq!(day_first.readings[1].at - day_first.readings[0].at, 12 * 86_400);
}

#[test]
fn days_up_to_twelve_are_taken_in_the_order_that_makes_small_steps() {
    let file = file("Time,Temp C\n03/01/2026 10:00,1\n03/02/2026 10:00,2\n03/03/2026 10:00,2\n");
    assert!(file.date_order_guessed && file.order == Order::MonthFirst);
    assert_eq!(file.readings[2].at - file.readings[0].at, 2 * 86_400);
    let said = Options { order: Some(Order::DayFirst), ..Options::default() };
    let text = "Time,Temp C\n03/01/2026 10:00,1\n03/02/2026 10:00,2\n";
    let decided = read_as(text.as_bytes(), &zurich(), &said).unwrap();
    assert_eq!(
        (decided.readings[1].at - decided.readings[0].at, decided.date_order_guessed),
        (31 * 86_400, false)
    );
}

#[test]
fn a_file_that_names_no_unit_gives_its_values_as_they_stand_and_follows_what_was_decided() {
    let text = "Time,Temp\n2026-01-05 10:00,32\n2026-01-05 11:00,41\n";
    let open = file(text);
    assert_eq!((open.readings[1].temperature, open.unnamed[1].1, open.unnamed.len()), (41.0, 41.0, 2));
    let said = Options { scale: Some(Scale::Fahrenheit), ..Options::default() };
    let decided = read_as(text.as_bytes(), &zurich(), &said).unwrap();
    assert_eq!((decided.readings[1].temperature, decided.scale), (5.0, Scale::Fahrenheit));
    let named = read_as(text.replace("Temp", "Temp °C").as_bytes(), &zurich(), &said).unwrap();
    assert_eq!((named.readings[1].temperature, named.unnamed.len()), (41.0, 0));
}

#[test]
fn a_unit_beside_each_value_counts_and_may_not_belie_the_header() {
    let cells = file("Time,Temp\n2026-01-05 10:00,32 °F\n2026-01-05 11:00,41F\n2026-01-05 12:00,7 °C\n");
    let celsius: Vec<f64> = cells.readings.iter().map(|reading| reading.temperature).collect();
    assert_eq!(celsius, [0.0, 5.0, 7.0]);
    let belied = file("Time,Temp °C\n2026-01-05 10:00,3 °C\n2026-01-05 11:00,41 °F\n");
    assert_eq!((belied.readings.len(), belied.refused[0].line), (1, 3));
}

#[test]
fn two_readings_that_differ_at_one_time_become_their_mean_or_are_refused_where_that_is_wanted() {
    let text = "Time,Temp C\n2026-01-05 10:00,3\n2026-01-05 10:00,4.5\n2026-01-05 10:00,3\n";
    let taken = file(text);
    assert_eq!((taken.readings.len(), taken.readings[0].temperature, taken.refused.len()), (1, 3.75, 0));
    assert_eq!(counted(&taken, Why::SameTwice), 1);
    let doubles = taken.notes.iter().find(|note| note.why == Why::DoublesMean).unwrap();
    assert_eq!((doubles.count, doubles.largest), (1, Some(1.5)));
    let strict = Options { strict: true, ..Options::default() };
    let refused = read_as(text.as_bytes(), &zurich(), &strict).unwrap();
    assert_eq!((refused.readings[0].temperature, refused.refused[0].line), (3.0, 3));
}

#[test]
fn a_word_and_an_impossible_date_are_refused_by_line() {
    let file = file(
        "Time;Temp C\n31.02.2026 10:00;3\n01.03.2026 10:00;warm\n02.03.2026 10:00;3\n03.03.2026 10:00;75\n",
    );
    let named: Vec<_> = file.refused.iter().map(|bad| (bad.line, bad.value.as_str())).collect();
    assert_eq!(named, [(2, "31.02.2026 10:00"), (3, "warm"), (5, "75")]);
}

#[test]
fn a_degree_sign_of_one_byte_and_wide_letters_are_read() {
    let narrow = b"Zeit;Temp [\xb0F]\n13.01.2026 10:00;41,0\n";
    assert_eq!(read(narrow, &TimeZone::UTC).unwrap().readings[0].temperature, 5.0);
    let wide = "\u{feff}Zeit;Temp [°F]\r\n13.01.2026 10:00;41,0\r\n".encode_utf16();
    let wide: Vec<u8> = wide.flat_map(u16::to_le_bytes).collect();
    assert_eq!(read(&wide, &TimeZone::UTC).unwrap().readings[0].temperature, 5.0);
}

#[test]
fn a_file_without_a_header_is_read_and_its_unit_guessed() {
    let file = file("1,2026-01-05 10:00:00,3.5\n2,2026-01-05 10:10:00,14.5\n");
    assert_eq!((file.readings.len(), file.unnamed.len(), counted(&file, Why::Spike)), (2, 2, 1));
}

#[test]
fn a_gap_of_more_than_three_hours_is_told() {
    let file = file("Time,Temp C\n2026-01-05 10:00,3\n2026-01-05 13:00,3\n2026-01-05 16:01,3\n");
    assert_eq!(counted(&file, Why::LongGap), 1);
}

#[test]
fn a_second_probe_is_told_and_left_out() {
    let file = file("Time,Probe 1 (°C),Probe 2 (°C)\n2026-01-05 10:00,3,30\n");
    assert_eq!((file.readings[0].temperature, counted(&file, Why::OtherColumns)), (3.0, 1));
}

#[test]
fn humidity_is_averaged_by_the_hour() {
    let file = file("Time,Temp C,RH %\n2026-01-05 10:00,3,80\n2026-01-05 10:30,4,90\n2026-01-05 11:00,4,\n");
    let kept = humidity(&file.readings);
    assert_eq!((kept.len(), kept[0].1), (1, 85.0));
}

#[test]
fn a_year_of_two_digits_is_reported() {
    let file = file("Time,Temp C\n13.01.26 10:00,3\n2026-01-14 10:00,4\n");
    assert_eq!((file.readings.len(), counted(&file, Why::ShortYear)), (2, 1));
}
