//! Any bytes as a logger's file end in ordered, possible readings and hours or in refusals.
#![no_main]

use std::sync::LazyLock;

use intake::logger;
use jiff::tz::{TimeZone, TimeZoneDatabase};
use libfuzzer_sys::fuzz_target;

static ZURICH: LazyLock<TimeZone> =
    LazyLock::new(|| TimeZoneDatabase::bundled().get("Europe/Zurich").expect("the zone is bundled"));

fuzz_target!(|bytes: &[u8]| {
    if let Ok(file) = logger::read(bytes, &ZURICH) {
        assert!(file.readings.windows(2).all(|pair| pair[0].at < pair[1].at));
        let hours = logger::hourly(&file.readings);
        assert!(hours.windows(2).all(|pair| pair[0].at < pair[1].at));
        assert!(hours.iter().all(|hour| (-90.0..=60.0).contains(&hour.temperature)));
    }
});
