//! Agreement with the reference set's weather, logger and forecast files: every record, count and sum it states.
//!
//! A tolerance is half of the last digit the expected file stores.

mod vector;

use std::fs;

use climate::record::{Element, WeatherHour};
use intake::{
    forecast_reply, logger,
    weather::{self, DayRow, Format, HourRow, Note, WeatherFile, Why},
};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use serde_json::Value;
use vector::{file, json, names};

/// Half of the last of four digits.
const FOUR_DIGITS: f64 = 0.5e-4;

/// Values in tenths agree but for the last bit of the number.
const TENTHS: f64 = 1e-9;

/// Every expected file whose name begins so, with the name and bytes of the file it speaks of.
fn pairs(prefix: &str, own: usize) -> Vec<(String, Vec<u8>, Value)> {
    let mut pairs = Vec::new();
    let all = names("water/formats", "");
    for name in all.iter().filter(|name| name.starts_with(prefix)) {
        let Some(stem) = name.strip_suffix(".expected.json") else { continue };
        let endings = ["", ".csv", ".txt", ".json"].map(|ending| format!("{stem}{ending}"));
        let found = endings.iter().find(|name| all.contains(name));
        let found = found.unwrap_or_else(|| panic!("{name} speaks of no file"));
        let path = file(&format!("water/formats/{found}")).expect("it is listed");
        let mut expected = json(&format!("water/formats/{name}")).expect("it is listed");
        if let Some(same) = expected["same_as"].as_str() {
            let Some(same) = json(&format!("water/formats/{same}")) else { continue };
            expected = same;
        }
        pairs.push((found.clone(), fs::read(path).unwrap(), expected));
    }
    if pairs.is_empty() {
        // Named in another folder; our own has them all.
        assert_eq!(file(&format!("water/formats/{prefix}*")), None);
    } else {
        vector::counted(&format!("water/formats/{prefix}*: files"), pairs.len(), own);
    }
    pairs
}

/// Keeps the count and the largest gap, and says them when it is done.
#[derive(Default)]
struct Gaps {
    count: usize,
    largest: f64,
}

impl Gaps {
    #[track_caller]
    fn agrees(&mut self, ours: f64, expected: &Value, tolerance: f64, what: &str) {
        let gap = (ours - expected.as_f64().unwrap_or_else(|| panic!("{what}: {expected}"))).abs();
        assert!(gap <= tolerance, "{what}: ours {ours}, expected {expected}, gap {gap}");
        self.count += 1;
        self.largest = self.largest.max(gap);
    }

    #[track_caller]
    fn same(&mut self, ours: Option<f64>, expected: &Value, tolerance: f64, what: &str) {
        match ours {
            Some(ours) => self.agrees(ours, expected, tolerance, what),
            None => {
                assert!(expected.is_null(), "{what}: ours none, expected {expected}");
                self.count += 1;
            }
        }
    }

    fn say(&self, what: &str) {
        println!("{what}: largest gap {:.1e}", self.largest);
        vector::told(&format!("water/formats/{what}"), self.count);
    }
}

fn read(name: &str, bytes: &[u8], format: Format) -> WeatherFile {
    let file = weather::read(name, bytes, &TimeZone::UTC).unwrap();
    assert_eq!((file.format, file.refused.as_slice()), (format, [].as_slice()), "{name}");
    file
}

fn counted(notes: &[Note], why: Why) -> usize {
    notes.iter().find(|note| note.why == why).map_or(0, |note| note.count)
}

fn count(expected: &Value) -> usize {
    expected.as_u64().unwrap() as usize
}

/// Seconds of “2024-02-01T05:00Z”.
fn seconds(shown: &Value) -> i64 {
    let shown = shown.as_str().unwrap().replace('Z', ":00Z");
    shown.parse::<Timestamp>().unwrap().as_second()
}

/// The value of another element at a moment.
fn other(hours: &[WeatherHour], moment: i64, element: Element) -> Option<f64> {
    hours.iter().find(|hour| hour.at == moment).and_then(|hour| hour.get(element))
}

fn at(hours: &[HourRow], moment: i64) -> Option<f64> {
    hours.iter().find(|hour| hour.at == moment).map(|hour| hour.temperature)
}

/// The value of an element on a day.
fn element(day: &DayRow, element: &str) -> Option<f64> {
    match element {
        "TMAX" => day.high,
        "TMIN" => day.low,
        "TAVG" => day.others.mean,
        "PRCP" => day.rain,
        other => panic!("{other} is not an element that is used"),
    }
}

const USED: [&str; 4] = ["TMAX", "TMIN", "TAVG", "PRCP"];

#[test]
fn months_in_fixed_columns() {
    for (name, bytes, expected) in pairs("ghcnd.dly", 1) {
        let file = read(&name, &bytes, Format::GhcnDaily);
        let mut gaps = Gaps::default();
        for used in USED.into_iter().filter(|used| !expected["summary"][used].is_null()) {
            let values: Vec<f64> = file.days.iter().filter_map(|day| element(day, used)).collect();
            let wanted = &expected["summary"][used];
            assert_eq!(values.len(), count(&wanted["n_valid"]), "{name} {used}");
            gaps.agrees(values.iter().sum(), &wanted["sum"], TENTHS, used);
            gaps.agrees(values.iter().copied().fold(f64::INFINITY, f64::min), &wanted["min"], TENTHS, used);
            gaps.agrees(
                values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
                &wanted["max"],
                TENTHS,
                used,
            );
        }
        let (mut missing, mut flagged) = (0, 0);
        for left_out in expected["rejected"].as_array().unwrap() {
            let used = left_out["element"].as_str().unwrap();
            if !USED.contains(&used) {
                continue;
            }
            let date: Date = left_out["date"].as_str().unwrap().parse().unwrap();
            let day = file.days.iter().find(|day| day.date == date);
            assert_eq!(day.and_then(|day| element(day, used)), None, "{name} {date} {used}");
            match left_out["why"].as_str().unwrap() {
                "missing" => missing += 1,
                why => flagged += usize::from(why.starts_with("qflag")),
            }
        }
        assert_eq!(counted(&file.notes, Why::Missing), missing, "{name}");
        assert_eq!(counted(&file.notes, Why::Flagged), flagged, "{name}");
        let kinds = expected["summary"].as_object().unwrap().len();
        assert_eq!(file.days.len() * kinds, count(&expected["records"]), "{name}");
        gaps.say(&name);
    }
}

#[test]
fn days_of_both_comma_separated_records() {
    for (prefix, format) in
        [("ghcnd_by_station", Format::GhcnByStation), ("ghcnd_access", Format::GhcnAccess)]
    {
        for (name, bytes, expected) in pairs(prefix, 1) {
            let file = read(&name, &bytes, format);
            let mut gaps = Gaps::default();
            let wanted = expected["records"].as_array().unwrap();
            assert_eq!(file.days.len(), wanted.len(), "{name}");
            for (day, wanted) in file.days.iter().zip(wanted) {
                assert_eq!(Value::from(day.date.to_string()), wanted["date"], "{name}");
                gaps.same(day.high, &wanted["tmax"], TENTHS, &name);
                gaps.same(day.low, &wanted["tmin"], TENTHS, &name);
                gaps.same(day.rain, &wanted["prcp"], TENTHS, &name);
            }
            let traces = wanted.iter().filter(|day| day["trace"] == true).count();
            assert_eq!(counted(&file.notes, Why::Trace), traces, "{name}");
            let left_out: Vec<&str> =
                expected["rejected"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
            let flagged = left_out.iter().filter(|line| line.contains("qflag")).count();
            assert_eq!(counted(&file.notes, Why::Flagged), flagged, "{name}");
            if format == Format::GhcnByStation {
                assert_eq!(counted(&file.notes, Why::Missing), left_out.len() - flagged, "{name}");
            }
            gaps.say(&name);
        }
    }
}

#[test]
fn hours_in_fixed_columns() {
    for (name, bytes, expected) in pairs("isd_lite", 1) {
        let file = read(&name, &bytes, Format::IsdLite);
        let records = expected["records"].as_array().unwrap();
        let mut gaps = Gaps::default();
        for record in records {
            let utc = seconds(&record["utc"]);
            gaps.same(at(&file.hours, utc), &record["t_c"], TENTHS, &name);
            let kept = [
                (Element::DewPoint, "td_c", 0),
                (Element::Pressure, "slp_hpa", 0),
                (Element::Wind, "wind_ms", 0),
                (Element::Rain, "precip_1h_mm", 3600),
            ];
            for (element, wanted, back) in kept {
                gaps.same(other(&file.elements, utc - back, element), &record[wanted], TENTHS, wanted);
            }
        }
        let missing = counted(&file.notes, Why::Missing);
        assert_eq!(missing, records.iter().filter(|record| record["t_c"].is_null()).count(), "{name}");
        assert_eq!(file.hours.len() + missing, count(&expected["rows"]), "{name}");
        let open = expected["gap_utc"].as_array().unwrap();
        assert!(open.iter().all(|moment| at(&file.hours, seconds(moment)).is_none()), "{name}");
        assert_eq!(counted(&file.notes, Why::HoursMissing), open.len() + missing, "{name}");
        gaps.say(&name);
    }
}

#[test]
fn hours_of_a_typical_year() {
    for (name, bytes, expected) in pairs("sample.epw", 1) {
        let file = read(&name, &bytes, Format::Epw);
        let mut gaps = Gaps::default();
        for record in expected["records"].as_array().unwrap() {
            let end = seconds(&record["period_end_utc"]);
            gaps.same(at(&file.hours, end), &record["t_c"], TENTHS, &name);
            // The hour's start on local standard time, in the leap year that a typical year counts in.
            let local = Timestamp::from_second(end - 3600 + file.offset).unwrap().in_tz("UTC").unwrap();
            let start = local.with().year(2024).build().unwrap().timestamp().as_second();
            for (element, wanted) in
                [(Element::Humidity, "rh"), (Element::Radiation, "ghi_wh_m2"), (Element::Wind, "wind_ms")]
            {
                gaps.same(other(&file.elements, start, element), &record[wanted], TENTHS, wanted);
            }
        }
        assert_eq!(counted(&file.notes, Why::Missing), count(&expected["missing"]["t"]), "{name}");
        assert_eq!(file.hours.len() + counted(&file.notes, Why::Missing), count(&expected["rows"]), "{name}");
        assert_eq!(counted(&file.notes, Why::TypicalYear), file.hours.len(), "{name}");
        gaps.say(&name);
    }
}

/// The reason that stands behind a warning of the reference set.
fn why(warning: &str) -> Why {
    match warning {
        "empty" => Why::Empty,
        "exact_duplicate" => Why::SameTwice,
        "out_of_order" => Why::OutOfOrder,
        "sentinel_minus40" => Why::LoneMinus40,
        "ambiguous_hour_resolved_by_order" => Why::AutumnHourByOrder,
        "event_rows" => Why::EventRow,
        "power_on_85" => Why::PowerOn,
        "disconnected_minus127" => Why::Unplugged,
        "sentinel_minus9999" => Why::NoValueMark,
        "nan" => Why::NotANumber,
        other => panic!("the warning {other} has no reason here"),
    }
}

#[test]
fn readings_of_loggers() {
    for (name, bytes, expected) in pairs("logger_", 4) {
        let zone = expected["assume_tz"].as_str().or(expected["tz"].as_str());
        let zone = zone.map_or(TimeZone::UTC, |name| TimeZone::get(name).unwrap());
        let file = logger::read(&bytes, &zone).unwrap();
        assert!(file.refused.is_empty(), "{name}: {:?}", file.refused);
        let mut gaps = Gaps::default();
        let records = expected["records"].as_array().unwrap();
        assert_eq!(file.readings.len(), records.len(), "{name}");
        for (reading, record) in file.readings.iter().zip(records) {
            assert_eq!(reading.at, seconds(&record[0]), "{name}");
            gaps.agrees(reading.temperature, &record[1], FOUR_DIGITS, &name);
        }
        let far = |pair: &&[logger::Reading]| pair[1].at - pair[0].at > 3600;
        let mut told = Vec::new();
        for (warning, wanted) in expected["warnings"].as_object().unwrap() {
            match warning.as_str() {
                "gap_over_1h" => {
                    assert_eq!(file.readings.windows(2).filter(far).count(), count(wanted), "{name}");
                }
                "gaps_missing_stamps" => {
                    for shown in wanted.as_array().unwrap() {
                        let clock = &shown.as_str().unwrap()[..5];
                        let stands = |reading: &logger::Reading| {
                            let at =
                                Timestamp::from_second(reading.at).unwrap().in_tz("Europe/Zurich").unwrap();
                            at.strftime("%H:%M").to_string() == clock
                        };
                        assert!(!file.readings.iter().any(stands), "{name} {shown}");
                    }
                }
                warning => {
                    assert_eq!(counted(&file.notes, why(warning)), count(wanted), "{name} {warning}");
                    told.push(why(warning));
                }
            }
        }
        let own = [Why::LongGap, Why::Spike, Why::ShortYear];
        let untold = file.notes.iter().find(|note| !told.contains(&note.why) && !own.contains(&note.why));
        assert_eq!(untold, None, "{name}: a note that the reference set does not have");
        gaps.say(&name);
    }
}

#[test]
fn hours_of_forecast_and_archive() {
    for (name, bytes, expected) in pairs("open_meteo", 2) {
        let reply = forecast_reply::read(&bytes).unwrap();
        let mut gaps = Gaps::default();
        for record in ["first", "last"].iter().flat_map(|part| expected[part].as_array().unwrap()) {
            let utc = seconds(&record["utc"]);
            gaps.same(at(&reply.hours, utc), &record["t_c"], FOUR_DIGITS, &name);
            let kept = |element, at| other(&reply.elements, at, element);
            gaps.same(kept(Element::Humidity, utc), &record["rh"], FOUR_DIGITS, "rh");
            gaps.same(kept(Element::Wind, utc), &record["wind10_ms"], FOUR_DIGITS, "wind");
            let sun = kept(Element::Radiation, utc - 3600).map(|watts| watts * 3600.0 / 1e6);
            gaps.same(sun, &record["solar_mj_m2_preceding_hour"], FOUR_DIGITS, "sun");
        }
        let missing = counted(&reply.notes, Why::Missing);
        assert_eq!(missing, count(&expected["n_null_t"]), "{name}");
        assert_eq!(reply.hours.len() + missing, count(&expected["rows"]), "{name}");
        let first = expected["first"][0]["utc"].clone();
        let last = expected["last"].as_array().unwrap().last().unwrap()["utc"].clone();
        let ends = (reply.hours[0].at, reply.hours.last().unwrap().at);
        assert_eq!(ends, (seconds(&first), seconds(&last)), "{name}");
        gaps.say(&name);
    }
}

#[test]
fn the_services_error_is_named() {
    let Some(path) = file("water/formats/open_meteo_error.json") else { return };
    let bytes = fs::read(path).unwrap();
    let sent: Value = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(Value::from(forecast_reply::read(&bytes).unwrap_err().value), sent["reason"]);
}
