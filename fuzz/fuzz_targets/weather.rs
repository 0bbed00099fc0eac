//! Any bytes as a weather file or a forecast reply end in ordered, possible rows or in refusals.
#![no_main]

use intake::{forecast_reply, weather};
use jiff::tz::TimeZone;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let possible = |celsius: &f64| (-90.0..=60.0).contains(celsius);
    if let Ok(file) = weather::read("fuzzed", bytes, &TimeZone::UTC) {
        assert!(file.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
        assert!(file.hours.iter().all(|hour| possible(&hour.temperature)));
        assert!(file.days.windows(2).all(|pair| pair[0].date < pair[1].date));
    }
    if let Ok(reply) = forecast_reply::read(bytes) {
        assert!(reply.hours.windows(2).all(|pair| pair[0].at < pair[1].at));
        assert!(reply.hours.iter().all(|hour| possible(&hour.temperature)));
    }
});
