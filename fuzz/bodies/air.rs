//! Weather files, loggers and forecast replies: rows in order, each once, possible, and the same when read again.

use std::sync::LazyLock;

use intake::{forecast_reply, logger as loggers, weather as weathers};
use jiff::tz::TimeZone;

use super::named;

/// Plain time, a zone that changes its clocks, and one that has once left out a whole day.
static ZONES: LazyLock<[TimeZone; 3]> = LazyLock::new(|| {
    let zone = |name| TimeZone::get(name).expect("the zone is bundled");
    [TimeZone::UTC, zone("Europe/Zurich"), zone("Pacific/Apia")]
});

fn possible(celsius: f64) -> bool {
    (-90.0..=60.0).contains(&celsius)
}

/// Any bytes as a weather file.
pub fn weather(bytes: &[u8]) {
    for zone in ZONES.iter() {
        let told = weathers::read("any.csv", bytes, zone);
        assert_eq!(told, weathers::read("any.csv", bytes, zone), "read twice, read otherwise");
        match told {
            Ok(file) => {
                assert!(file.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
                assert!(file.hours.iter().all(|hour| possible(hour.temperature)));
                assert!(file.days.windows(2).all(|pair| pair[0].date < pair[1].date));
                for day in &file.days {
                    assert!([day.low, day.high, day.others.mean].into_iter().flatten().all(possible));
                    assert!(day.low.zip(day.high).is_none_or(|(low, high)| low <= high));
                }
                assert!(file.days.is_empty() || (file.hours.is_empty() && file.elements.is_empty()));
                assert!(file.elements.windows(2).all(|pair| pair[0].at < pair[1].at));
                named(bytes, &file.refused);
            }
            Err(refused) => {
                assert!(!refused.is_empty());
                named(bytes, &refused);
            }
        }
    }
}

/// Any bytes as a logger's file.
pub fn logger(bytes: &[u8]) {
    for zone in ZONES.iter() {
        let told = loggers::read(bytes, zone);
        assert_eq!(told, loggers::read(bytes, zone), "read twice, read otherwise");
        match told {
            Ok(file) => {
                assert!(file.readings.windows(2).all(|pair| pair[0].at < pair[1].at));
                assert!(file.readings.iter().all(|reading| possible(reading.temperature)));
                let hours = loggers::hourly(&file.readings);
                assert!(hours.windows(2).all(|pair| pair[0].at < pair[1].at && pair[0].at % 3600 == 0));
                assert!(hours.iter().all(|hour| possible(hour.temperature)));
                let measured = hours.iter().filter(|hour| !hour.filled).count();
                assert!(measured <= file.readings.len(), "more hours than readings");
                named(bytes, &file.refused);
            }
            Err(refused) => {
                assert!(!refused.is_empty());
                named(bytes, &refused);
            }
        }
    }
}

/// Any bytes as a reply of the open weather service.
pub fn forecast(bytes: &[u8]) {
    let told = forecast_reply::read(bytes);
    assert_eq!(told, forecast_reply::read(bytes), "read twice, read otherwise");
    if let Ok(reply) = told {
        assert!(reply.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
        assert!(reply.hours.iter().all(|hour| possible(hour.temperature)));
    }
}
