//! Checks of the fetch against a local server that speaks Open-Meteo's documented reply.

use std::{
    io::{BufRead, BufReader, Write},
    net::TcpListener,
    path::{Path, PathBuf},
    sync::{Arc, Mutex},
    thread,
    time::Duration,
};

use intake::{
    fetch::{FetchError, How, Service, archive, forecast},
    import::{Kind, Options, import},
};
use store::store::Store;

/// 2026-03-29 12:00 in UTC, within the hours of the forecast fixture.
const NOW: i64 = 1_774_785_600;

/// What the local server heard, one request line each.
type Heard = Arc<Mutex<Vec<String>>>;

/// A reply of our own folder: here it is an input, and what stands in it is checked by `formats.rs`.
fn fixture(name: &str) -> String {
    let folder = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors/water/formats"));
    std::fs::read_to_string(folder.join(name)).unwrap()
}

/// A server that gives `answer` for each request, told its rank and its path.
fn server(answer: impl Fn(usize, &str) -> (u16, String) + Send + 'static) -> (String, Heard) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", listener.local_addr().unwrap());
    let heard = Heard::default();
    let notes = Arc::clone(&heard);
    thread::spawn(move || {
        for stream in listener.incoming() {
            let mut stream = stream.unwrap();
            let mut lines = BufReader::new(stream.try_clone().unwrap()).lines();
            let first = lines.next().unwrap().unwrap();
            lines.take_while(|line| line.as_ref().is_ok_and(|line| !line.is_empty())).for_each(drop);
            let rank = notes.lock().unwrap().len();
            notes.lock().unwrap().push(first.clone());
            let (status, body) = answer(rank, first.split(' ').nth(1).unwrap());
            let head =
                format!("HTTP/1.1 {status} -\r\nContent-Length: {}\r\nConnection: close\r\n", body.len());
            let _ = write!(stream, "{head}\r\n{body}");
        }
    });
    (address, heard)
}

/// An address where nobody listens.
fn nobody() -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    format!("http://{}", listener.local_addr().unwrap())
}

fn service(base: &str, folder: &Path) -> Service {
    Service {
        forecast: base.into(),
        archive: base.into(),
        cache: folder.join("cache"),
        patience: Duration::from_secs(10),
        pause: Duration::from_millis(1),
    }
}

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    let site =
        b"name,latitude,longitude,elevation,zone,units\nTerrace,47.41904,8.53896,450,Europe/Zurich,metric\n";
    import(&mut store, &Kind::Site, "site.csv", site, &Options::default()).unwrap();
    let days = b"date,tmin,tmax\n2026-03-26,1,9\n2026-03-27,2,10\n2026-03-28,2,11\n";
    import(&mut store, &Kind::Weather, "days.csv", days, &Options::default()).unwrap();
    store
}

fn good() -> (String, Heard) {
    server(|_, _| (200, fixture("open_meteo_forecast_dst.json")))
}

#[test]
fn the_forecast_holds_what_the_station_does_not_know_and_the_station_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = good();
    let mut store = stocked();
    let days = store.reader().unwrap().station_days().unwrap();
    let fetched = forecast(&mut store, &service(&base, folder.path()), NOW).unwrap();
    assert_eq!((fetched.at, &fetched.how), (NOW, &How::Asked));
    let reader = store.reader().unwrap();
    let (at, hours) = reader.forecast().unwrap().unwrap();
    assert_eq!(at, NOW);
    // The station's last day ends at 2026-03-28 23:00 in UTC; the fixture runs to 2026-03-30 22:00.
    assert_eq!((hours[0].at, hours[hours.len() - 1].at), (NOW - 13 * 3600, NOW + 34 * 3600));
    assert_eq!((fetched.gap, fetched.coming, fetched.to), (13, 35, NOW + 34 * 3600));
    assert_eq!(hours[hours.len() - 1].temperature, 4.0);
    assert_eq!(reader.station_days().unwrap(), days);
    assert!(reader.station_hours().unwrap().is_empty());
    assert!(fetched.notes.iter().all(|note| !note.contains("could not be kept")), "{:?}", fetched.notes);
    let heard = heard.lock().unwrap();
    for asked in
        ["latitude=47.42&", "longitude=8.54&", "past_days=7&", "timezone=GMT&", "timeformat=unixtime "]
    {
        assert!(heard[0].contains(asked), "{} lacks {asked}", heard[0]);
    }
}

#[test]
fn a_reply_younger_than_an_hour_is_not_asked_for_again() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = good();
    let (mut store, service) = (stocked(), service(&base, folder.path()));
    forecast(&mut store, &service, NOW).unwrap();
    let acts = store.reader().unwrap().last_act().unwrap();
    let again = forecast(&mut store, &service, NOW + 600).unwrap();
    assert_eq!((again.at, again.how, heard.lock().unwrap().len()), (NOW, How::Fresh, 1));
    assert_eq!(store.reader().unwrap().last_act().unwrap(), acts);
    let later = forecast(&mut store, &service, NOW + 3600).unwrap();
    assert_eq!((later.at, later.how, heard.lock().unwrap().len()), (NOW + 3600, How::Asked, 2));
}

#[test]
fn a_busy_service_is_asked_again_and_a_no_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let busy = |rank: usize, _: &str| match rank {
        0 | 1 => (503, "busy".to_string()),
        _ => (200, fixture("open_meteo_forecast_dst.json")),
    };
    let (base, heard) = server(busy);
    let fetched = forecast(&mut stocked(), &service(&base, folder.path()), NOW).unwrap();
    assert_eq!((fetched.how, heard.lock().unwrap().len()), (How::Asked, 3));

    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = server(|_, _| (429, r#"{"error": true, "reason": "Too many today"}"#.into()));
    let refused = forecast(&mut stocked(), &service(&base, folder.path()), NOW).unwrap_err();
    assert!(matches!(&refused, FetchError::Refused { status: 429, reason } if reason == "Too many today"));
    assert_eq!(heard.lock().unwrap().len(), 3);

    let (base, heard) = server(|_, _| (400, fixture("open_meteo_error.json")));
    let refused = forecast(&mut stocked(), &service(&base, folder.path()), NOW).unwrap_err();
    assert!(refused.to_string().contains("Latitude must be in range of -90 to 90°"), "{refused}");
    assert_eq!(heard.lock().unwrap().len(), 1);
}

#[test]
fn what_is_no_forecast_is_named_and_neither_kept_nor_written() {
    let folder = tempfile::tempdir().unwrap();
    let mut long = fixture("open_meteo_forecast_dst.json");
    long.push_str(&" ".repeat(5 * 1024 * 1024));
    for (body, why) in [
        (r#"{"latitude": 47.4, "#.to_string(), "not whole JSON"),
        ("<html>welcome to the hotel</html>".into(), "not whole JSON"),
        (r#"{"latitude": 47.42, "longitude": 8.54}"#.into(), "neither hours nor days"),
        (r#"{"error": true, "reason": "Model is down"}"#.into(), "Model is down"),
        (long, "larger than any forecast"),
    ] {
        let (base, heard) = server(move |_, _| (200, body.clone()));
        let mut store = stocked();
        let refused = forecast(&mut store, &service(&base, folder.path()), NOW).unwrap_err().to_string();
        assert!(refused.contains(why), "{refused}");
        assert!(store.reader().unwrap().forecast().unwrap().is_none());
        assert_eq!(heard.lock().unwrap().len(), 1);
    }
    assert!(!folder.path().join("cache").exists());
}

#[test]
fn no_way_to_another_host_is_followed() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = server(|_, _| (302, String::new()));
    let refused = forecast(&mut stocked(), &service(&base, folder.path()), NOW).unwrap_err();
    assert!(matches!(refused, FetchError::Refused { status: 302, .. }), "{refused}");
    assert_eq!(heard.lock().unwrap().len(), 1);
}

#[test]
fn offline_the_kept_reply_is_used_and_keeps_its_age() {
    let folder = tempfile::tempdir().unwrap();
    let (base, _) = good();
    let mut store = stocked();
    forecast(&mut store, &service(&base, folder.path()), NOW).unwrap();
    let later = forecast(&mut store, &service(&nobody(), folder.path()), NOW + 7200).unwrap();
    assert!(matches!(later.how, How::Offline(_)));
    assert_eq!((later.at, later.coming), (NOW, 33));
    assert_eq!(store.reader().unwrap().forecast().unwrap().unwrap().0, NOW);

    let mut other = stocked();
    let taken = forecast(&mut other, &service(&nobody(), folder.path()), NOW + 7200).unwrap();
    assert_eq!(taken.at, NOW);
}

#[test]
fn offline_without_a_kept_reply_tells_what_is_held() {
    let folder = tempfile::tempdir().unwrap();
    let nothing = forecast(&mut stocked(), &service(&nobody(), folder.path()), NOW).unwrap_err();
    assert!(matches!(nothing, FetchError::Offline { held: None, .. }), "{nothing}");

    let (base, _) = good();
    let mut store = stocked();
    forecast(&mut store, &service(&base, folder.path()), NOW).unwrap();
    std::fs::remove_dir_all(folder.path().join("cache")).unwrap();
    let why = forecast(&mut store, &service(&nobody(), folder.path()), NOW + 5 * 3600).unwrap_err();
    assert!(why.to_string().ends_with("was fetched 5 hours ago and stands"), "{why}");
    assert!(store.reader().unwrap().forecast().unwrap().is_some());
}

#[test]
fn a_spoilt_kept_reply_is_as_good_as_none() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = good();
    let service = service(&base, folder.path());
    forecast(&mut stocked(), &service, NOW).unwrap();
    let kept = folder.path().join("cache/forecast_47.42_8.54.reply");
    let text = std::fs::read_to_string(&kept).unwrap();
    assert!(text.starts_with(&format!("{NOW} {base}/v1/forecast?")), "{}", &text[..80]);
    for spoilt in [&text[..text.len() / 2], "", "no time\n{}"] {
        std::fs::write(&kept, spoilt).unwrap();
        forecast(&mut stocked(), &service, NOW + 60).unwrap();
    }
    assert_eq!(heard.lock().unwrap().len(), 4);
}

#[test]
fn a_slow_service_is_left_after_its_repeats() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = server(|_, _| {
        thread::sleep(Duration::from_millis(400));
        (200, String::new())
    });
    let quick = Service { patience: Duration::from_millis(100), ..service(&base, folder.path()) };
    let why = forecast(&mut stocked(), &quick, NOW).unwrap_err();
    assert!(matches!(why, FetchError::Offline { .. }), "{why}");
    let patient = (0..200).find(|_| {
        thread::sleep(Duration::from_millis(50));
        heard.lock().unwrap().len() == 3
    });
    assert!(patient.is_some(), "{:?}", heard.lock().unwrap());
}

#[test]
fn without_a_site_nothing_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = good();
    let mut store = Store::in_memory().unwrap();
    let why = forecast(&mut store, &service(&base, folder.path()), NOW).unwrap_err();
    assert!(matches!(why, FetchError::NoSite));
    assert!(heard.lock().unwrap().is_empty());
}

/// An archive reply for the span that a path asks for: on each hour, the hour of the day in GMT as °C.
fn archived(path: &str) -> (u16, String) {
    let of = |name: &str| -> jiff::civil::Date {
        let (_, rest) = path.split_once(name).unwrap();
        rest[..10].parse().unwrap()
    };
    let midnight = |day: jiff::civil::Date| {
        jiff::tz::TimeZone::UTC.to_timestamp(day.at(0, 0, 0, 0)).unwrap().as_second()
    };
    let (from, to) = (midnight(of("start_date=")), midnight(of("end_date=").tomorrow().unwrap()));
    let times: Vec<String> = (from..to).step_by(3600).map(|at| at.to_string()).collect();
    let values: Vec<String> =
        (from..to).step_by(3600).map(|at| (at.rem_euclid(86_400) / 3600).to_string()).collect();
    let (times, values) = (times.join(","), values.join(","));
    let body = format!(
        r#"{{"latitude": 47.42, "longitude": 8.54, "utc_offset_seconds": 0, "timezone": "GMT",
            "hourly_units": {{"time": "unixtime", "temperature_2m": "°C"}},
            "hourly": {{"time": [{times}], "temperature_2m": [{values}]}}}}"#
    );
    (200, body)
}

#[test]
fn past_years_fill_only_dates_that_the_station_does_not_know() {
    let folder = tempfile::tempdir().unwrap();
    let (base, heard) = server(|_, path| archived(path));
    let mut store = stocked();
    let hours = b"time,temp_c\n2025-07-01T10:00Z,21\n";
    import(&mut store, &Kind::Weather, "hours.csv", hours, &Options::default()).unwrap();
    let service = service(&base, folder.path());
    let late = NOW + 10 * 86_400;
    let past = archive(&mut store, &service, 2, late).unwrap();
    let reader = store.reader().unwrap();
    let days = reader.station_days().unwrap();
    let of = |date: &str| days.iter().find(|day| day.date.to_string() == date).copied();
    // 2024-04-08 to 2026-04-02; three days and one hour were the station's.
    assert_eq!(
        (past.span.0.to_string(), past.span.1.to_string()),
        ("2024-04-08".into(), "2026-04-02".into())
    );
    assert_eq!((past.known, past.added, past.replies.len()), (4, 721, 3));
    assert_eq!(of("2026-03-27").map(|day| day.extremes()), Some(Some((2.0, 10.0))));
    assert_eq!(of("2025-07-01"), None);
    // A day in Zurich: 23 h to 22 h in winter, 22 h to 21 h in summer; all of them hold 0 and 23.
    assert_eq!(of("2025-06-01").map(|day| (day.extremes(), day.rain)), Some((Some((0.0, 23.0)), None)));
    assert_eq!(of("2026-03-29").map(|day| day.extremes()), Some(Some((0.0, 23.0))));
    assert!(of("2026-04-02").is_some() && of("2026-04-03").is_none());
    let act = reader.latest_acts(1).unwrap().remove(0).words;
    assert_eq!(act, "imported 2024-04-08 to 2026-04-02 from Open-Meteo (reanalysis, not a station)");
    assert!(
        heard.lock().unwrap()[0].contains("/v1/archive?latitude=47.42&longitude=8.54&start_date=2024-04-07&")
    );

    let again = archive(&mut store, &service, 2, late).unwrap();
    assert_eq!((again.added, again.known, heard.lock().unwrap().len()), (0, 725, 3));
}

#[test]
fn past_years_come_whole_or_not_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let (base, _) =
        server(|rank, path| if rank == 1 { (400, fixture("open_meteo_error.json")) } else { archived(path) });
    let mut store = stocked();
    let before = store.reader().unwrap().station_days().unwrap();
    assert!(archive(&mut store, &service(&base, folder.path()), 2, NOW).is_err());
    assert_eq!(store.reader().unwrap().station_days().unwrap(), before);
}
