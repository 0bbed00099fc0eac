//! Claims about what weather and logger files come to in a collection.

use climate::record::{Element, WeatherOrigin};
use store::store::Store;

use crate::{
    import::{ImportError, Kind, Options, import, preview},
    logger::Scale,
};

fn stocked(latitude: &str, zone: &str) -> Store {
    let mut store = Store::in_memory().unwrap();
    let site = format!("name,latitude,longitude,elevation,zone\nHill,{latitude},8.5,50,{zone}\n");
    bring(&mut store, &Kind::Site, site.as_bytes()).unwrap();
    bring(&mut store, &Kind::Places, b"name,shelter\nBench,open-bench\n").unwrap();
    store
}

fn bring(store: &mut Store, kind: &Kind, bytes: &[u8]) -> Result<usize, ImportError> {
    import(store, kind, "file", bytes, &Options::default()).map(|done| done.added)
}

/// Three days of hours that run from one value to another each day.
fn hours(month: &str, low: f64, high: f64) -> String {
    let mut text = "time,temperature\n".to_string();
    for day in 5..8 {
        for hour in 0..24 {
            let value = low + (high - low) * f64::from(hour) / 23.0;
            text.push_str(&format!("2026-{month}-{day:02} {hour:02}:00,{value:.1}\n"));
        }
    }
    text
}

fn ends(store: &Store) -> (f64, f64) {
    let hours = store.reader().unwrap().station_hours().unwrap();
    let all = || hours.iter().map(|hour| hour.temperature);
    (all().fold(f64::INFINITY, f64::min), all().fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn a_january_of_the_south_is_stored_as_it_was_measured() {
    let mut store = stocked("-37.8", "Australia/Melbourne");
    let text = hours("01", 26.0, 37.0);
    bring(&mut store, &Kind::Weather, text.as_bytes()).unwrap();
    assert_eq!(ends(&store), (26.0, 37.0));
    let logger = Kind::from_key("logger", "bench").unwrap();
    bring(&mut store, &logger, text.replace("time", "Timestamp").as_bytes()).unwrap();
    let logged = store.reader().unwrap().logged_hours("bench").unwrap();
    assert_eq!((logged[0].temperature, logged[23].temperature), (26.0, 37.0));
    let told = preview(&store.reader().unwrap(), &logger, "f", text.as_bytes(), &Options::default()).unwrap();
    assert_eq!((told.questions[0].option, told.questions[0].likely), ("unit", Some("c")));
}

#[test]
fn a_january_in_fahrenheit_of_the_north_is_turned() {
    let mut store = stocked("47.4", "Europe/Zurich");
    bring(&mut store, &Kind::Weather, hours("01", 14.0, 50.0).as_bytes()).unwrap();
    let (low, high) = ends(&store);
    assert!((low + 10.0).abs() < 1e-9 && (high - 10.0).abs() < 1e-9, "{low} to {high}");
}

#[test]
fn what_could_be_either_is_not_written_without_an_answer() {
    let mut store = stocked("47.4", "Europe/Zurich");
    let text = hours("04", 20.0, 30.0);
    let Err(ImportError::Unclear(open)) = bring(&mut store, &Kind::Weather, text.as_bytes()) else {
        panic!("it was written")
    };
    assert_eq!((open[0].option, open[0].likely, open[0].choices.len()), ("unit", None, 2));
    assert!(store.reader().unwrap().station_hours().unwrap().is_empty());
    let said = Options { scale: Some(Scale::Celsius), ..Options::default() };
    import(&mut store, &Kind::Weather, "file", text.as_bytes(), &said).unwrap();
    assert_eq!(ends(&store), (20.0, 30.0));
}

#[test]
fn the_stations_own_days_decide_and_a_sheet_of_lows_and_highs_is_doubted_too() {
    let mut store = stocked("47.4", "Europe/Zurich");
    let days = "date,tmin_c,tmax_c\n2026-04-05,-6,0\n2026-04-06,-6,0\n2026-04-07,-5,0\n";
    bring(&mut store, &Kind::Weather, days.as_bytes()).unwrap();
    bring(&mut store, &Kind::Weather, hours("04", 20.0, 30.0).as_bytes()).unwrap();
    assert!((ends(&store).0 + 6.666).abs() < 0.01);
    let fahrenheit = "date,tmin,tmax\n2026-04-05,21,33\n2026-04-06,21,32\n";
    let open = bring(&mut store, &Kind::Weather, fahrenheit.as_bytes());
    assert!(matches!(open, Err(ImportError::Unclear(_))), "{open:?}");
}

#[test]
fn rain_without_a_low_or_a_high_is_kept_and_comes_once() {
    let mut store = stocked("47.4", "Europe/Zurich");
    let rows = [
        "20230101,TMAX,52",
        "20230101,PRCP,706",
        "20230102,TMAX,60",
        "20230102,TMIN,-12",
        "20230102,PRCP,64",
    ];
    let text: String = rows.iter().map(|row| format!("ZZX00000001,{row},,,W,2400\n")).collect();
    assert_eq!(bring(&mut store, &Kind::Weather, text.as_bytes()).unwrap(), 2);
    assert_eq!(bring(&mut store, &Kind::Weather, text.as_bytes()).unwrap(), 0);
    let days = store.reader().unwrap().station_days().unwrap();
    let rain: f64 = days.iter().filter_map(|day| day.rain).sum();
    assert!((rain - 77.0).abs() < 1e-9, "{rain}");
    assert_eq!((days[0].extremes(), days[1].extremes()), (None, Some((-1.2, 6.0))));
    let low = "ZZX00000001,20230101,TMIN,-5,,,W,2400\n";
    assert_eq!(bring(&mut store, &Kind::Weather, low.as_bytes()).unwrap(), 1);
    let day = store.reader().unwrap().station_days().unwrap()[0];
    assert_eq!((day.extremes(), day.rain), (Some((-0.5, 5.2)), Some(70.6)));
    let above = "ZZX00000001,20230101,TMIN,90,,,W,2400\n";
    bring(&mut store, &Kind::Weather, above.as_bytes()).unwrap();
    let day = store.reader().unwrap().station_days().unwrap()[0];
    assert_eq!((day.low, day.high, day.rain), (Some(9.0), None, Some(70.6)));
}

#[test]
fn humidity_of_a_logger_is_kept() {
    let mut store = stocked("47.4", "Europe/Zurich");
    let logger = Kind::from_key("logger", "bench").unwrap();
    let text = "Time;Temp [°C];RH %\n2026-01-05 10:00;3,5;80\n2026-01-05 10:30;3,5;84\n";
    assert_eq!(bring(&mut store, &logger, text.as_bytes()).unwrap(), 1);
    assert_eq!(bring(&mut store, &logger, text.as_bytes()).unwrap(), 0);
    assert_eq!(store.reader().unwrap().logged_humidity("bench").unwrap()[0].1, 82.0);
}

/// A typical year with this many days of January on, its 1 January with these hours.
fn typical(days: i64, hours: u8) -> String {
    use jiff::{ToSpan, civil::date};

    let mut text = "LOCATION,Sample,XX,ZZZ,SYN,999999,47.40,8.50,1.0,450.0\n".to_string();
    for at in 0..days {
        let day = date(1999, 1, 1) + at.days();
        for hour in 1..=if at == 0 { hours } else { 24 } {
            let (month, number) = (day.month(), day.day());
            text.push_str(&format!(
                "1999,{month},{number},{hour},60,?9,{hour}.0,-2.7,58,96500,0,0,300,120,0,0,999999,999999,999999,9999,180,2.5\n"
            ));
        }
    }
    text
}

#[test]
fn a_partial_typical_year_says_what_is_missing_and_is_not_used() {
    let mut store = stocked("47.4", "Europe/Zurich");
    let Err(ImportError::Refused(refused)) = bring(&mut store, &Kind::Weather, typical(1, 24).as_bytes())
    else {
        panic!("one day was taken for a year")
    };
    assert_eq!(refused[0].value, "1 of 366 days");
    assert!(refused[0].why.ends_with("2 January to 31 December"), "{}", refused[0].why);
    let short = bring(&mut store, &Kind::Weather, typical(365, 1).as_bytes());
    assert!(matches!(short, Err(ImportError::Refused(lines)) if lines[0].why.ends_with("hours: 1 January")));
    assert!(store.reader().unwrap().typical_year().unwrap().is_empty());
    bring(&mut store, &Kind::Weather, typical(365, 24).as_bytes()).unwrap();
    let reader = store.reader().unwrap();
    assert_eq!((reader.typical_year().unwrap().len(), reader.typical_year().unwrap()[0]), (366, (1.0, 24.0)));
    let kept = reader.weather_hours(WeatherOrigin::Typical).unwrap();
    assert_eq!((kept.len(), kept[0].get(Element::Humidity), kept[0].at), (8760, Some(58.0), 1_704_067_200));
}

/// A reply of the service for these hours.
fn reply(latitude: f64, first: i64, hours: i64) -> String {
    let column = |value: f64| vec![value; hours as usize];
    serde_json::json!({
        "latitude": latitude, "longitude": 8.5, "utc_offset_seconds": 0,
        "hourly_units": {"temperature_2m": "°C", "relative_humidity_2m": "%", "wind_speed_10m": "km/h",
            "shortwave_radiation": "W/m²", "precipitation": "mm"},
        "hourly": {
            "time": (0..hours).map(|hour| first + hour * 3600).collect::<Vec<_>>(),
            "temperature_2m": column(4.5), "relative_humidity_2m": column(80.0), "wind_speed_10m": column(36.0),
            "shortwave_radiation": column(100.0), "precipitation": column(0.5),
        },
    })
    .to_string()
}

#[test]
fn a_saved_reply_is_a_forecast_or_past_days_and_comes_once() {
    let mut store = stocked("47.4", "UTC");
    let now = Options { now: Some(1_767_225_600), ..Options::default() };
    let mut take = |text: &str| import(&mut store, &Kind::Weather, "reply.json", text.as_bytes(), &now);
    let past = reply(47.4, 1_767_225_600 - 30 * 86_400, 48);
    assert_eq!(take(&past).unwrap().added, 2);
    assert_eq!(take(&past).unwrap().added, 0);
    let ahead = reply(47.4, 1_767_225_600, 48);
    assert_eq!((take(&ahead).unwrap().added, take(&ahead).unwrap().added), (48, 0));
    assert!(matches!(take(&reply(-37.8, 1_767_225_600, 48)), Err(ImportError::Refused(_))));
    let reader = store.reader().unwrap();
    assert_eq!(
        (reader.station_days().unwrap().len(), reader.modelled_days(jiff::civil::date(2026, 1, 1)).unwrap()),
        (2, 2)
    );
    assert_eq!(reader.forecast().unwrap().unwrap().1.len(), 48);
    let kept = reader.weather_hours(WeatherOrigin::Forecast).unwrap();
    assert_eq!((kept[5].get(Element::Wind), kept[5].get(Element::Rain)), (Some(10.0), Some(0.5)));
}
