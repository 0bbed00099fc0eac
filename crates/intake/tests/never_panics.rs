//! Whatever stands in a file, reading it ends in rows or refusals, and rows are in order, once each, and possible.

use std::{fs, path::PathBuf};

use intake::{forecast_reply, logger, weather};
use jiff::tz::TimeZone;
use proptest::{collection::vec, prelude::*, sample::Index};

fn files() -> Vec<(String, Vec<u8>)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/vectors/water/formats");
    let named = |entry: fs::DirEntry| entry.file_name().into_string().unwrap();
    let mut names: Vec<String> = fs::read_dir(&folder).unwrap().map(|entry| named(entry.unwrap())).collect();
    names.retain(|name| !name.ends_with(".expected.json"));
    names.sort();
    let mut files: Vec<_> =
        names.into_iter().map(|name| (name.clone(), fs::read(folder.join(&name)).unwrap())).collect();
    let days = b"date;tmin;tmax;rain\n2026-01-01;-3,5;2;0\n2026-01-03;-1;4;1,5\n";
    let hours = b"time,temp_f\n2026-03-29T01:00,33\n2026-03-29T02:30,34\n2026-03-29T05:00+02:00,35\n";
    files.push(("days.csv".to_string(), days.to_vec()));
    files.push(("hours.csv".to_string(), hours.to_vec()));
    files
}

/// What is done to a file.
#[derive(Clone, Debug)]
enum Harm {
    Cut(Index),
    Flip(Index, u8),
    Insert(Index, String),
    Digits(Index, usize),
    Double(Index),
    Swap(Index, Index),
}

fn harm() -> impl Strategy<Value = Harm> {
    let cell = prop_oneof!["[-0-9.,:;/\"TZ ]{0,30}", "\\PC{0,40}", Just("-9999\t85.0,NaN;é".to_string())];
    prop_oneof![
        any::<Index>().prop_map(Harm::Cut),
        (any::<Index>(), any::<u8>()).prop_map(|(at, byte)| Harm::Flip(at, byte)),
        (any::<Index>(), cell).prop_map(|(at, text)| Harm::Insert(at, text)),
        (any::<Index>(), 1..25_usize).prop_map(|(at, count)| Harm::Digits(at, count)),
        any::<Index>().prop_map(Harm::Double),
        (any::<Index>(), any::<Index>()).prop_map(|(one, other)| Harm::Swap(one, other)),
    ]
}

fn harmed(mut bytes: Vec<u8>, harm: &Harm) -> Vec<u8> {
    if bytes.is_empty() {
        return bytes;
    }
    match harm {
        Harm::Cut(at) => bytes.truncate(at.index(bytes.len())),
        Harm::Flip(at, byte) => {
            let at = at.index(bytes.len());
            bytes[at] = *byte;
        }
        Harm::Digits(at, count) => {
            let at = at.index(bytes.len());
            bytes.splice(at..at, std::iter::repeat_n(b'8', *count));
        }
        Harm::Insert(..) | Harm::Double(_) | Harm::Swap(..) => {
            let mut lines: Vec<Vec<u8>> = bytes.split(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect();
            let count = lines.len();
            match harm {
                Harm::Insert(at, text) => lines.insert(at.index(count), text.as_bytes().to_vec()),
                Harm::Double(at) => lines.insert(at.index(count), lines[at.index(count)].clone()),
                Harm::Swap(one, other) => lines.swap(one.index(count), other.index(count)),
                Harm::Cut(_) | Harm::Flip(..) | Harm::Digits(..) => {}
            }
            return lines.join(&b'\n');
        }
    }
    bytes
}

fn possible(celsius: f64) -> bool {
    (-90.0..=60.0).contains(&celsius)
}

/// Reads bytes in every way and holds each answer to its promises.
fn read_all(name: &str, bytes: &[u8]) {
    for zone in
        [TimeZone::UTC, TimeZone::get("Europe/Zurich").unwrap(), TimeZone::get("Pacific/Apia").unwrap()]
    {
        match weather::read(name, bytes, &zone) {
            Ok(file) => {
                assert!(file.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
                assert!(file.hours.iter().all(|hour| possible(hour.temperature)));
                assert!(file.days.windows(2).all(|pair| pair[0].date < pair[1].date));
                for day in &file.days {
                    assert!([day.low, day.high, day.others.mean].into_iter().flatten().all(possible));
                    assert!(day.low.zip(day.high).is_none_or(|(low, high)| low <= high));
                }
                assert!(file.days.is_empty() || file.hours.is_empty());
                assert!(!(file.days.is_empty() && file.hours.is_empty() && file.elements.is_empty()));
                assert!(file.elements.windows(2).all(|pair| pair[0].at < pair[1].at));
            }
            Err(refused) => assert!(!refused.is_empty()),
        }
        match logger::read(bytes, &zone) {
            Ok(file) => {
                assert!(file.readings.windows(2).all(|pair| pair[0].at < pair[1].at));
                assert!(file.readings.iter().all(|reading| possible(reading.temperature)));
                let hours = logger::hourly(&file.readings);
                assert!(hours.windows(2).all(|pair| pair[0].at < pair[1].at && pair[0].at % 3600 == 0));
                assert!(hours.iter().all(|hour| possible(hour.temperature)));
            }
            Err(refused) => assert!(!refused.is_empty()),
        }
    }
    if let Ok(reply) = forecast_reply::read(bytes) {
        assert!(reply.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
        assert!(reply.hours.iter().all(|hour| possible(hour.temperature)));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_or_refused(bytes in vec(any::<u8>(), 0..400), mark in 0..3_usize) {
        let mark: &[u8] = [&b""[..], &[0xff, 0xfe], &[0xfe, 0xff]][mark];
        read_all("any", &[mark, &bytes].concat());
    }

    #[test]
    fn a_harmed_file_is_read_or_refused(pick in any::<Index>(), harms in vec(harm(), 1..6)) {
        let files = files();
        let (name, bytes) = &files[pick.index(files.len())];
        let bytes = harms.iter().fold(bytes.clone(), harmed);
        read_all(name, &bytes);
    }

    #[test]
    fn rows_in_the_form_of_a_logger_are_read_or_refused(
        header in prop_oneof!["time,temp", "Date;Time;Temp °F", "epoch\ttemp_c", "Datum,Temperatur [°C],rF %"],
        rows in vec("[0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4}[T ,;][0-9]{1,2}:([0-9]{2}|[0-9]{18,20})( AM| PM|Z|\\+01:00)?[,;\t]-?[0-9]{1,3}[.,]?[0-9]?", 0..30),
    ) {
        read_all("rows.csv", format!("{header}\n{}\n", rows.join("\n")).as_bytes());
    }
}

#[test]
fn every_file_is_read_as_it_stands() {
    for (name, bytes) in files() {
        read_all(&name, &bytes);
    }
}
