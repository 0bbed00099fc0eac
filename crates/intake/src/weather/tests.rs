//! Claims about the reading of weather files that no outside file states.

use climate::record::Element;
use jiff::tz::{TimeZone, TimeZoneDatabase};

use super::{Format, WeatherFile, Why, read, read_as};
use crate::{import::Options, logger::Scale};

fn file(text: &str) -> WeatherFile {
    read("file", text.as_bytes(), &TimeZoneDatabase::bundled().get("Europe/Zurich").unwrap()).unwrap()
}

fn counted(file: &WeatherFile, why: Why) -> usize {
    file.notes.iter().find(|note| note.why == why).map_or(0, |note| note.count)
}

#[test]
fn days_may_have_gaps_and_decimal_commas() {
    let file = file("date;tmin;tmax;rain_mm\n2026-01-01;-3,5;2;0\n2026-01-04;;4;1,5\n20260105;1;4;\n");
    assert_eq!(
        (file.format, file.days[0].low, file.days[1].rain),
        (Format::PlainDays, Some(-3.5), Some(1.5))
    );
    assert_eq!((counted(&file, Why::DaysMissing), counted(&file, Why::Missing)), (3, 2));
}

#[test]
fn a_low_above_its_high_a_word_and_an_impossible_day_are_refused_by_line() {
    let file = file("date,tmin,tmax\n2026-01-01,6,5\n2026-02-30,1,2\n2026-03-01,cold,2\n2026-03-02,1,2\n");
    let named: Vec<_> = file.refused.iter().map(|bad| (bad.line, bad.value.as_str())).collect();
    assert_eq!(named, [(2, "6 and 5"), (3, "2026-02-30"), (4, "cold")]);
    assert_eq!((file.days.len(), file.days[0].low), (2, None));
}

#[test]
fn fahrenheit_and_inches_are_turned() {
    let file = file("date,tmin_f,tmax_f,rain_in\n2026-01-01,32,50,1\n");
    let day = file.days[0];
    assert_eq!((day.low, day.high, day.rain), (Some(0.0), Some(10.0), Some(25.4)));
}

#[test]
fn hours_keep_their_offset_or_take_the_clock_of_the_place() {
    let file = file("time,temp_c\n2026-01-01T01:00,1\n2026-01-01T01:00Z,2\n2026-01-01T01:00-02:00,3\n");
    let hours: Vec<_> = file.hours.iter().map(|hour| (hour.at - 1_767_225_600) / 3600).collect();
    assert_eq!((file.format, hours), (Format::PlainHours, vec![0, 1, 3]));
    assert_eq!(counted(&file, Why::HoursMissing), 1);
}

#[test]
fn a_day_alone_is_no_hour() {
    assert!(read("", b"time,temp_c\n2026-01-01,1\n", &TimeZone::UTC).is_err());
}

#[test]
fn a_month_has_no_value_past_its_end_and_is_not_cut_short() {
    let days = |count: usize, rest: &str| {
        format!("ZZX00000001202302TMAX{}{}", "   10  W".repeat(count), rest.repeat(31 - count))
    };
    let whole = file(&days(28, "-9999   "));
    assert_eq!((whole.days.len(), whole.refused.len()), (28, 0));
    let past = file(&days(29, "-9999   "));
    assert_eq!((past.days.len(), past.refused[0].value.as_str()), (28, "10"));
    let cut = file(&days(28, "")[..21 + 8 * 20]);
    assert_eq!((cut.days.len(), cut.refused[0].why.as_str()), (20, "the month is cut short"));
}

#[test]
fn one_file_holds_one_station() {
    let two = b"ZZX00000001,20230101,TMAX,52,,,W,0700\nZZX00000002,20230101,TMAX,52,,,W,0700\n";
    let refused = read("", two, &TimeZone::UTC).unwrap_err();
    assert_eq!((refused[0].line, refused[0].value.as_str()), (2, "ZZX00000002"));
}

#[test]
fn a_reading_taken_in_the_morning_is_told_and_not_moved() {
    let file = file("ZZX00000001,20230102,TMAX,52,,,W,0700\n");
    assert_eq!((file.days[0].date.day(), counted(&file, Why::MorningReading)), (2, 1));
}

#[test]
fn an_export_that_hides_its_units_is_refused_whole() {
    let text = b"STATION,NAME,DATE,TMAX,TMIN\nZZX00000001,\"SAMPLE, XX\",2026-01-01,52,31\n";
    assert!(read("", text, &TimeZone::UTC).unwrap_err()[0].why.contains("units"));
}

#[test]
fn numbers_that_touch_are_read_by_their_columns() {
    let file = file("2023 03 04 11    45 -9999-99999   270    22     5    -1 -9999\n");
    assert_eq!((file.format, file.hours[0].temperature), (Format::IsdLite, 4.5));
    let (stamp, hour) = (file.elements[1], file.elements[0]);
    assert_eq!((stamp.get(Element::Wind), stamp.get(Element::DewPoint)), (Some(2.2), None));
    assert_eq!((hour.at, hour.get(Element::Rain)), (stamp.at - 3600, Some(0.0)));
    assert_eq!(counted(&file, Why::Trace), 1);
}

#[test]
fn a_station_is_known_by_its_files_name() {
    let row = b"2023 03 04 11    45 -9999 -9999   270    22     5    -1 -9999\n";
    let file = read("999999-94846-2023.txt", row, &TimeZone::UTC).unwrap();
    assert_eq!(file.station.as_deref(), Some("999999-94846"));
}

#[test]
fn a_day_without_a_low_or_a_high_keeps_its_rain() {
    let rows = ["20230101,TMAX,52", "20230101,PRCP,706", "20230102,TMIN,-12", "20230102,PRCP,64"];
    let text: String = rows.iter().map(|row| format!("ZZX00000001,{row},,,W,0700\n")).collect();
    let days = file(&text).days;
    let rain: f64 = days.iter().filter_map(|day| day.rain).sum();
    assert_eq!((days.len(), days[0].low, days[1].high), (2, None, None));
    assert!((rain - 77.0).abs() < 1e-9, "{rain}");
}

#[test]
fn wind_sunshine_and_humidity_of_a_day_are_kept_in_their_units() {
    let rows = ["20230101,AWND,36", "20230101,TSUN,90", "20230101,RHAV,78"];
    let text: String = rows.iter().map(|row| format!("ZZX00000001,{row},,,W,0700\n")).collect();
    let day = file(&text).days[0].others;
    assert_eq!((day.wind, day.sunshine, day.humidity), (Some(3.6), Some(1.5), Some(78.0)));
}

#[test]
fn of_two_different_days_the_first_stands_or_the_second_is_refused_where_that_is_wanted() {
    let text = "date,tmin,tmax\n2026-01-01,1,5\n2026-01-01,3,5\n";
    let taken = file(text);
    let doubles = taken.notes.iter().find(|note| note.why == Why::DoublesFirst).unwrap();
    assert_eq!((taken.days[0].low, doubles.count, doubles.largest), (Some(1.0), 1, Some(2.0)));
    let strict = Options { strict: true, ..Options::default() };
    let refused = read_as("", text.as_bytes(), &TimeZone::UTC, &strict).unwrap().refused;
    assert_eq!((refused[0].line, refused[0].value.as_str()), (3, "3"));
}

#[test]
fn hours_of_a_grower_sheet_keep_what_their_headers_name() {
    let text =
        "time;Temp [°F];RH %;wind (km/h);rain_mm;solar W/m²;note\n2026-01-01T01:00Z;50,0;81;7,2;0,4;12,5;x\n";
    let file = file(text);
    let hour = file.elements[0];
    let kept = [Element::Humidity, Element::Wind, Element::Rain, Element::Radiation].map(|it| hour.get(it));
    assert_eq!((file.hours[0].temperature, kept), (10.0, [Some(81.0), Some(2.0), Some(0.4), Some(12.5)]));
    assert_eq!(counted(&file, Why::NotUsed), 1);
}

#[test]
fn days_may_name_their_unit_in_any_spelling() {
    for (low, high) in
        [("Tmin [°F]", "Tmax [°F]"), ("Min Temp (F)", "Max Temp (F)"), ("low degF", "high degF")]
    {
        let file = file(&format!("date;{low};{high};Niederschlag [mm]\n2026-01-01;32;50;1,5\n"));
        let day = file.days[0];
        assert_eq!((day.low, day.high, day.rain, file.unnamed.len()), (Some(0.0), Some(10.0), Some(1.5), 0));
    }
    let text = b"date,tmin,tmax\n2026-01-01,32,50\n";
    assert_eq!(read("", text, &TimeZone::UTC).unwrap().unnamed.len(), 2);
    let said = Options { scale: Some(Scale::Fahrenheit), ..Options::default() };
    assert_eq!(read_as("", text, &TimeZone::UTC, &said).unwrap().days[0].high, Some(10.0));
}

#[test]
fn a_decimal_comma_that_splits_a_number_is_refused_by_line() {
    let file = file("date,tmin,tmax\n2026-01-01,1,5\n2026-01-02,-3,5,4,5\n");
    assert_eq!((file.days.len(), file.refused[0].line), (1, 3));
}
