//! A collection kept by the first layout opens today, whole, with a copy left beside it.

use std::{fs, path::Path};

use climate::record::StationDay;
use collection::{
    drink::{Deed, Drink, Remark, Worth},
    event::{LeafLook, Sureness, Work, WorkKind},
    limb::Limb,
    reserve::{Reservation, Said},
    ware::Ware,
};
use jiff::civil::date;
use measure::{leaf::Leaf, stage::Stage};
use store::{
    copies::Copies,
    read_only::ReadOnly,
    store::{Act, FILE, LAYOUT, Store},
};

#[test]
fn a_collection_of_the_first_layout_opens_and_a_copy_stays() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0001.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let copies = Copies::of_collection(folder.path()).list().unwrap();
    let told: Vec<&str> = copies.iter().map(|copy| copy.occasion.as_str()).collect();
    assert_eq!(told, [format!("before-layout-{LAYOUT}")]);
    let copy = ReadOnly::open(&copies[0].path).unwrap();
    assert_eq!((copy.summary().unwrap().layout, copy.summary().unwrap().trees), (1, 1));
    let reader = store.reader().unwrap();
    assert_eq!(reader.trees().unwrap()[0].name, "Old maple");
    assert_eq!(reader.looks().unwrap().len(), 1);
    assert_eq!(reader.station_days().unwrap().len(), 2);
    assert_eq!(reader.modelled_days(date(2030, 1, 1)).unwrap(), 0);
    assert!(reader.faults().unwrap().is_empty());

    let model = StationDay::of_extremes(date(2026, 1, 3), -1.0, 4.0);
    let act = Act::Import("past years".into());
    store.transact(&act, |change| change.add_modelled_days(&[model])).unwrap();
    assert_eq!(reader.modelled_days(date(2026, 1, 3)).unwrap(), 1);
    let own = StationDay { low: Some(-2.0), ..model };
    store.transact(&act, |change| change.add_station_days(&[own])).unwrap();
    assert_eq!(reader.modelled_days(date(2026, 1, 3)).unwrap(), 0);
}

#[test]
fn a_collection_of_the_third_layout_takes_pots_and_water() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0003.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let trees = reader.trees().unwrap();
    assert_eq!((trees.len(), trees[0].worth), (3, Worth::Standing));
    assert!(reader.faults().unwrap().is_empty());
    let drink = |hand: &str| Drink {
        tree: trees[0].key.clone(),
        at: 1_774_000_000,
        deed: Deed::Watered,
        remark: Some(Remark::Right),
        hand: hand.into(),
        sure: false,
    };
    let add = |store: &mut Store, hand: &str| {
        store.transact(&Act::Round(1), |change| change.add_drink(&drink(hand))).unwrap()
    };
    assert_eq!([add(&mut store, "one"), add(&mut store, "two"), add(&mut store, "two")], [true, true, false]);
    assert_eq!(reader.drinks().unwrap().len(), 2);
}

#[test]
fn a_collection_of_the_fifth_layout_takes_limbs_and_what_is_meant_for_them() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0005.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let trees = reader.trees().unwrap();
    assert_eq!((trees.len(), reader.pots().unwrap().len(), reader.drinks().unwrap().len()), (3, 3, 3));
    assert!(reader.faults().unwrap().is_empty());
    let limb = |number, bearer| Limb {
        tree: trees[0].key.clone(),
        number,
        bearer,
        name: "trunk".into(),
        clock: None,
        tips: None,
        since: date(2025, 12, 1),
        gone: None,
    };
    let act = Act::Trace(trees[0].key.clone());
    let orphan = store.transact(&act, |change| change.set_limb(&limb(3, Some(2))));
    assert!(orphan.is_err());
    store.transact(&act, |change| change.set_limb(&limb(0, None))).unwrap();
    let added: Vec<bool> =
        (0..2).map(|_| store.transact(&act, |change| change.set_limb(&limb(1, Some(0)))).unwrap()).collect();
    assert_eq!(added, [true, false]);
    assert_eq!(reader.limbs().unwrap().len(), 2);
}

#[test]
fn a_collection_of_the_sixth_layout_takes_the_shelf_and_its_promises() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0006.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let (tree, pot) = (reader.trees().unwrap()[0].key.clone(), reader.pots().unwrap()[0].clone());
    assert_eq!((reader.potted().unwrap().len(), reader.wares().unwrap().len()), (1, 0));
    assert!(reader.faults().unwrap().is_empty());
    let promise = Reservation {
        pot: pot.key.clone(),
        tree,
        season: 2026,
        said: Said::Promised,
        why: String::new(),
        made: date(2026, 1, 10),
    };
    let act = Act::Reserve(pot.key.clone());
    store.transact(&act, |change| change.reserve(&promise, 0)).unwrap();
    assert_eq!(reader.wares().unwrap(), [Ware { revision: 1, ..Ware::unknown(&pot) }]);
    assert_eq!(reader.reservations().unwrap(), [promise]);
}

#[test]
fn a_collection_of_the_ninth_layout_gets_its_sums() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0009.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let file = folder.path().join(FILE);
    drop(Store::open(folder.path()).unwrap());
    let read = ReadOnly::open(&file).unwrap();
    let reader = read.reader();
    assert_eq!((reader.reservations().unwrap().len(), reader.repots().unwrap().len()), (1, 1));
    assert_eq!(reader.stock().unwrap().len(), 1);
    assert_eq!(read.faults().unwrap(), [""; 0]);
    let bytes = fs::read(&file).unwrap();
    assert_eq!(bytes[68..72], *b"Buds");
    let note = b"fine roots";
    let place = bytes.windows(note.len()).position(|window| window == note).unwrap();
    let broken = folder.path().join("broken.db");
    fs::write(&broken, [&bytes[..place], b"f", &bytes[place + 1..]].concat()).unwrap();
    assert_eq!(ReadOnly::open(&broken).unwrap().faults().unwrap(), [""; 0], "the very same bytes");
    fs::write(&broken, [&bytes[..place], b"F", &bytes[place + 1..]].concat()).unwrap();
    let faults = ReadOnly::open(&broken).unwrap().faults().unwrap();
    assert_eq!(faults.len(), 1);
    assert!(
        faults[0].starts_with("repot: the row “") && faults[0].ends_with("is not as it was saved"),
        "{faults:?}"
    );
}

/// The share of roots in the program's own sentence becomes a figure; what a grower wrote is left as it is and never read.
#[test]
fn a_collection_of_the_tenth_layout_gets_roots_as_figures_and_keeps_its_notes() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0010.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    assert_eq!(reader.faults().unwrap(), [""; 0]);
    let works = reader.works().unwrap();
    let told: Vec<(&str, Option<f64>, &str)> = works
        .iter()
        .map(|(_, it)| (it.tree.as_str(), it.roots.map(|share| share.0), it.note.as_str()))
        .collect();
    let expected = [
        ("old-maple", None, ""), // its repot of that day tells it
        ("elm", Some(0.45), ""),
        ("larch", None, "cut 40 % of the branches"),
        ("thorn", None, "cut about 45 % of the roots"), // no repot
    ];
    assert_eq!(told, expected);
    assert_eq!(reader.repots().unwrap()[0].cut.0, 0.3);
    let again = Work { roots: Some(measure::quantity::Share(0.25)), ..works[2].1.clone() };
    let act = Act::Work("larch".into());
    let added: Vec<bool> =
        (0..2).map(|_| store.transact(&act, |change| change.add_work(&again)).unwrap()).collect();
    assert_eq!(added, [true, false]);
    assert_eq!(reader.works().unwrap().len(), 4);
    let kind = WorkKind::Trim;
    let trim = Work { kind, ..again };
    assert!(store.transact(&act, |change| change.add_work(&trim)).is_err(), "roots are cut by a repot alone");
}

#[test]
fn a_collection_of_the_eleventh_layout_keeps_its_looks_and_takes_those_at_leaves() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0011.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let (id, kept) = reader.looks().unwrap()[0].clone();
    assert_eq!((kept.stage, kept.day, kept.note.as_str()), (Stage::Full, date(2026, 3, 8), "north side"));
    let leaves = LeafLook {
        tree: kept.tree.clone(),
        day: date(2025, 11, 5),
        leaf: Leaf::Colouring,
        sureness: Sureness::Sure,
        note: String::new(),
    };
    let act = Act::LeafLook(vec![leaves.tree.clone()]);
    let added: Vec<bool> =
        (0..2).map(|_| store.transact(&act, |change| change.add_leaf_look(&leaves)).unwrap()).collect();
    assert_eq!(added, [true, false]);
    let told = reader.leaf_looks().unwrap();
    assert_eq!((told.len(), &told[0].1, reader.looks().unwrap().len()), (1, &leaves, 1));
    store.transact(&act, |change| change.remove_look(told[0].0)).unwrap();
    assert_eq!((reader.leaf_looks().unwrap().len(), reader.looks().unwrap()[0].0), (0, id));
    assert!(reader.faults().unwrap().is_empty());
}

#[test]
fn a_collection_of_the_twelfth_layout_takes_what_a_tree_may_be() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0012.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let tree = reader.trees().unwrap().remove(0);
    assert!(tree.candidates.is_empty());
    let candidates: Vec<_> =
        ["zelkova-serrata", "ulmus-minor"].map(|key| measure::taxon::Taxon::of(key).unwrap()).into();
    let unsure = collection::tree::Tree { candidates: candidates.clone(), ..tree };
    store.transact(&Act::EditTree(unsure.key.clone()), |change| change.edit_tree(&unsure)).unwrap();
    assert_eq!(reader.trees().unwrap()[0].candidates, candidates);
    assert!(reader.faults().unwrap().is_empty());
}

/// What was sent before sensors had series of their own stands under no name, and the same again is known.
#[test]
fn a_collection_of_the_thirteenth_layout_keeps_its_readings_and_takes_a_second_sensor() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0013.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let before = reader.logged("cold-room").unwrap().sensors;
    assert_eq!((before.len(), before[""].len()), (1, 3));
    let lowest = |reader: &store::reader::Reader| {
        let hours = reader.logged_hours("cold-room").unwrap();
        hours.iter().map(|hour| hour.temperature).fold(f64::INFINITY, f64::min)
    };
    assert_eq!(lowest(&reader), -2.5);
    let reading = |at, celsius| collection::reading::Reading {
        thing: "cold-room".into(),
        at,
        measured: collection::reading::Measured::Temperature(measure::quantity::Celsius(celsius)),
    };
    let sent = [reading(1_767_229_300, -1.0), reading(1_767_229_300, -6.0), reading(1_767_232_950, -7.0)];
    let act = Act::Readings("Frame probe".into());
    let told =
        store.transact(&act, |change| change.add_readings("Frame probe", 1_767_250_000, &sent)).unwrap();
    use store::reading::Outcome;
    assert_eq!((told[0], told[2]), (Outcome::Known, Outcome::Added));
    assert_eq!(lowest(&reader), -7.0);
    assert_eq!(reader.faults().unwrap(), [""; 0]);
}

/// Hours imported before sensors had names stand under none; what was kept stays as it was.
#[test]
fn a_collection_of_the_fourteenth_layout_keeps_its_loggers_and_takes_bad_days_and_checks() {
    use collection::incident::{Cause, Cost, IceCheck, Incident, Part, Said, Under};
    use measure::quantity::Celsius;
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0014.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let sensors = reader.logged("cold-room").unwrap().sensors;
    let names: Vec<&str> = sensors.keys().map(String::as_str).collect();
    assert_eq!(names, ["", "Frame probe"]);
    assert_eq!((sensors[""][0].temperature, sensors["Frame probe"].len()), (2.0, 1));
    assert_eq!(reader.logged_humidity("cold-room").unwrap(), [(1_767_225_600, 81.0)]);
    assert!(reader.drinks().unwrap().iter().all(|(_, drink)| !drink.sure));
    let tree = reader.trees().unwrap()[0].key.clone();
    let under = Under { part: Part::Roots, line: Celsius(-3.0), reached: Celsius(-4.5) };
    let kept = Incident {
        place: "cold-room".into(),
        cause: Cause::Cold,
        said: Said::Happened,
        sensor: None,
        span: [1_767_225_600, 1_767_232_800],
        hours: 2,
        lowest: Celsius(-5.0),
        highest: Celsius(1.0),
        expected: Some(Celsius(3.0)),
        day: date(2026, 1, 2),
        trees: vec![Cost { tree, cold: -0.1, later: Some(-1), under: Some(under) }],
    };
    let act = Act::Incident("cold-room".into());
    let add = |store: &mut Store, it: &Incident| store.transact(&act, |change| change.add_incident(it));
    assert!(add(&mut store, &kept).unwrap());
    assert!(!add(&mut store, &kept).unwrap(), "the same twice adds nothing");
    let stands = reader.incidents().unwrap();
    assert_eq!(stands[0].1, kept);
    let wrong = Incident { said: Said::Logger, sensor: Some("Frame probe".into()), trees: vec![], ..kept };
    assert!(add(&mut store, &wrong).unwrap());
    assert_eq!(reader.incidents().unwrap().len(), 1, "it takes the place of what it says was not so");
    let sensors = reader.logged("cold-room").unwrap().sensors;
    assert_eq!((sensors[""].len(), sensors["Frame probe"].len()), (names.len() + 1, 0));
    let check = IceCheck {
        place: "cold-room".into(),
        sensor: String::new(),
        day: date(2026, 1, 2),
        shown: Celsius(0.5),
    };
    store.transact(&act, |change| change.set_ice_check(&check)).unwrap();
    assert_eq!(reader.logged("cold-room").unwrap().sensors[""][0].temperature, 1.5);
    let stale = store.transact(&act, |change| change.remove_incident(99));
    assert!(matches!(stale, Err(store::error::Error::Unknown { .. })));
    assert_eq!(reader.faults().unwrap(), [""; 0]);
}

/// What a tree shall become stands as it was, and takes the length of its needles and the day of a show.
#[test]
fn a_collection_of_the_fifteenth_layout_keeps_its_aims_and_takes_needles_and_shows() {
    let folder = tempfile::tempdir().unwrap();
    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0015.db");
    fs::copy(old, folder.path().join(FILE)).unwrap();
    let mut store = Store::open(folder.path()).unwrap();
    let reader = store.reader().unwrap();
    let kept = reader.aims().unwrap().remove(0);
    assert_eq!((kept.words.as_str(), kept.needles, kept.shown), ("wind from the left", None, None));
    let aim = collection::limb::Aim {
        needles: Some(measure::quantity::Millimetre(30.0)),
        shown: Some(date(2026, 11, 14)),
        ..kept
    };
    let act = Act::Front(aim.tree.clone());
    let set: Vec<bool> =
        (0..2).map(|_| store.transact(&act, |change| change.set_aim(&aim)).unwrap()).collect();
    assert_eq!((set, &reader.aims().unwrap()[0]), (vec![true, false], &aim));
    assert!(reader.faults().unwrap().is_empty());
}
