//! Readings as the store keeps them: once each, never changed, their hours beside the files' hours.

use climate::record::HourMean;
use collection::{
    place::Place,
    reading::{Measured, Reading},
};
use measure::{
    quantity::{Celsius, Gram},
    shelter::Shelter,
};
use store::{
    error::Error,
    reading::Outcome,
    store::{Act, Store},
};

const HOUR: i64 = 1_784_008_800;

fn stocked() -> Store {
    let mut store = Store::in_memory().unwrap();
    let place = Place {
        key: "frame".into(),
        name: "Frame".into(),
        shelter: Shelter::ColdFrame,
        facing: None,
        lamp: None,
        capacity: None,
    };
    store.transact(&Act::AddPlace("frame".into()), |change| change.add_place(&place)).unwrap();
    store.transact(&Act::GiveToken("hut".into()), |change| change.add_token("hut", "beef", HOUR)).unwrap();
    store
}

fn warm(at: i64, celsius: f64) -> Reading {
    Reading { thing: "frame".into(), at, measured: Measured::Temperature(Celsius(celsius)) }
}

fn send(store: &mut Store, readings: &[Reading]) -> Vec<Outcome> {
    let act = Act::Readings("hut".into());
    store.transact(&act, |change| change.add_readings("hut", HOUR, readings)).unwrap()
}

#[test]
fn a_reading_that_stands_is_kept_and_the_other_figure_is_told() {
    let mut store = stocked();
    let nowhere = Reading { thing: "attic".into(), ..warm(HOUR, 3.0) };
    let no_tree = Reading { measured: Measured::Weight(Gram(900.0)), ..warm(HOUR, 3.0) };
    let told = send(&mut store, &[warm(HOUR, 3.0), warm(HOUR, 3.0), warm(HOUR, 4.0), nowhere, no_tree]);
    let stands = Outcome::Differs(Measured::Temperature(Celsius(3.0)));
    assert_eq!(told, [Outcome::Added, Outcome::Known, stands, Outcome::Nowhere, Outcome::Nowhere]);
    let reader = store.reader().unwrap();
    assert_eq!(reader.air_readings("frame", HOUR, HOUR + 1).unwrap(), [warm(HOUR, 3.0)]);
    assert_eq!(reader.senders().unwrap()[0].last_sent, Some(HOUR));
    assert!(reader.faults().unwrap().is_empty());
}

#[test]
fn readings_move_the_count_of_changes_but_fill_the_log_with_one_line_a_day() {
    let mut store = stocked();
    let reader = store.reader().unwrap();
    let acts = reader.last_act().unwrap();
    let mut before = reader.changes().unwrap();
    for second in 0..50 {
        send(&mut store, &[warm(HOUR + second, 3.0)]);
        let now = reader.changes().unwrap();
        assert!(now > before, "reading {second} went unseen");
        before = now;
    }
    assert!(reader.last_act().unwrap() <= acts + 2, "the log is flooded"); // two if midnight passed
    send(&mut store, &[warm(HOUR, 3.0)]);
    assert!(reader.changes().unwrap() <= before + 1, "nothing new, but the pages would be made anew");
}

#[test]
fn hours_of_readings_stand_beside_a_files_and_the_lower_counts() {
    let mut store = stocked();
    let hour = |at: i64, temperature, filled| HourMean { at: HOUR + at * 3600, temperature, filled };
    let file = [hour(0, 1.0, false), hour(1, 2.0, true), hour(2, 3.0, true), hour(3, 4.0, false)];
    store.transact(&Act::Import("f".into()), |change| change.add_logged_hours("frame", "", &file)).unwrap();
    let reader = store.reader().unwrap();
    assert_eq!(reader.logged_hours("frame").unwrap(), file);

    let at = |hour: i64, second: i64, celsius| warm(HOUR + hour * 3600 + second, celsius);
    send(&mut store, &[at(5, 60, 8.0), at(2, 1, 9.0), at(3, 5, 30.0), at(2, 3599, 10.0)]);
    let merged = [
        hour(0, 1.0, false),
        hour(1, 5.25, true),
        hour(2, 9.5, false),
        hour(3, 4.0, false),
        hour(4, 6.0, true),
        hour(5, 8.0, false),
    ];
    assert_eq!(reader.logged_hours("frame").unwrap(), merged);
}

#[test]
fn a_sensor_whose_token_was_taken_away_leaves_nothing() {
    let mut store = stocked();
    assert_eq!(store.reader().unwrap().holder("beef").unwrap().as_deref(), Some("hut"));
    store.transact(&Act::TakeToken("hut".into()), |change| change.remove_token("hut")).unwrap();
    let act = Act::Readings("hut".into());
    let told = store.transact(&act, |change| change.add_readings("hut", HOUR, &[warm(HOUR, 3.0)]));
    assert!(matches!(told, Err(Error::Unknown { what: "sensor", .. })), "{told:?}");
    let reader = store.reader().unwrap();
    assert_eq!(reader.holder("beef").unwrap(), None);
    assert!(reader.air_readings("frame", 0, i64::MAX).unwrap().is_empty());
}

/// Two sensors in one place: each keeps its series, the lower counts, and what one sends twice is known.
#[test]
fn two_sensors_in_a_place_keep_a_series_each_and_the_frost_of_one_stays() {
    let mut store = stocked();
    store.transact(&Act::GiveToken("door".into()), |change| change.add_token("door", "cafe", HOUR)).unwrap();
    let by = |store: &mut Store, sensor: &str, readings: &[Reading]| {
        let act = Act::Readings(sensor.into());
        store.transact(&act, |change| change.add_readings(sensor, HOUR, readings)).unwrap()
    };
    let added = [by(&mut store, "hut", &[warm(HOUR, 3.0)]), by(&mut store, "door", &[warm(HOUR, -4.0)])];
    assert_eq!(added, [vec![Outcome::Added], vec![Outcome::Added]], "the same second of two sensors");
    assert_eq!(by(&mut store, "door", &[warm(HOUR, -4.0)]), [Outcome::Known]);
    let reader = store.reader().unwrap();
    assert_eq!(reader.logged_hours("frame").unwrap()[0].temperature, -4.0);
    let logged = reader.logged("frame").unwrap();
    let told: Vec<(&str, f64)> =
        logged.sensors.iter().map(|(name, hours)| (name.as_str(), hours[0].temperature)).collect();
    assert_eq!(told, [("door", -4.0), ("hut", 3.0)]);
    assert_eq!((logged.together.mean[0].temperature, logged.together.lowest[0].temperature), (-0.5, -4.0));
    assert!(reader.faults().unwrap().is_empty());
}
