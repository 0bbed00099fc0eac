//! Each record notes the act that changed it, and an edit from before that act is refused.

use super::*;
use crate::store::Act;
use collection::site::Site;
use measure::quantity::{Degrees, Metre, Units};

fn site(name: &str) -> Site {
    Site {
        name: name.into(),
        latitude: Degrees(47.0),
        longitude: Degrees(8.0),
        elevation: Metre(400.0),
        zone: "Europe/Zurich".into(),
        units: Units::Metric,
    }
}

fn set(store: &mut Store, name: &str) -> Result<bool, Error> {
    store.transact(&Act::SetSite, |change| change.set_site(&site(name)))
}

fn set_from(store: &mut Store, from: &Version, name: &str) -> Result<bool, Error> {
    store.starting_from(from.clone(), vec![Record::site()], |store| set(store, name))
}

#[test]
fn an_edit_from_before_another_is_refused_and_names_it() {
    let mut store = Store::in_memory().unwrap();
    let first = store.reader().unwrap().version().unwrap();
    assert_eq!(first, Version::default());
    assert!(set_from(&mut store, &first, "Bench").unwrap());
    let second = store.reader().unwrap().version().unwrap();
    let late = set_from(&mut store, &first, "Yard");
    assert!(
        matches!(&late, Err(Error::ChangedMeanwhile { record: "site", words, .. }) if words == "set the site"),
        "{late:?}"
    );
    assert_eq!(store.reader().unwrap().site().unwrap().unwrap().name, "Bench");
    assert!(set_from(&mut store, &second, "Yard").unwrap());
}

#[test]
fn what_happens_to_other_records_is_no_clash_and_an_edit_ends_with_itself() {
    let mut store = Store::in_memory().unwrap();
    let from = store.reader().unwrap().version().unwrap();
    set(&mut store, "Bench").unwrap();
    let rounds = vec![Record::rounds()];
    store.starting_from(from, rounds, |store| set(store, "Yard")).unwrap();
    // An edit that stops before it writes leaves nothing behind for the next act.
    let from = store.reader().unwrap().version().unwrap();
    store.starting_from(from, vec![Record::site()], |_| Ok::<(), Error>(())).unwrap();
    assert!(set(&mut store, "Garden").unwrap());
}

#[test]
fn the_same_once_more_changes_nothing_and_is_no_clash() {
    let mut store = Store::in_memory().unwrap();
    set(&mut store, "Bench").unwrap();
    let from = store.reader().unwrap().version().unwrap();
    assert!(!set(&mut store, "Bench").unwrap());
    assert!(set_from(&mut store, &from, "Yard").unwrap());
}

#[test]
fn a_version_of_another_history_is_refused() {
    let mut store = Store::in_memory().unwrap();
    set(&mut store, "Bench").unwrap();
    for other in ["1-2001-01-01T00:00:00Z", "9-2026-03-20T12:00:00Z"] {
        let from = Version::read(other).unwrap();
        assert!(matches!(set_from(&mut store, &from, "Yard"), Err(Error::OtherHistory)), "{other}");
    }
}
