//! Copies that hold: taken while acts go on, looked over, put back, and never mistaken for whole when they are not.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
};

use collection::{place::Place, tree::Tree};
use jiff::civil::{DateTime, date};
use measure::shelter::Shelter;
use store::{
    copies::{Copies, Occasion},
    copy::copy_to_file,
    error::Error,
    header::Fault,
    lock::Lock,
    read_only::{Log, ReadOnly},
    restore::restore,
    store::{Act, FILE, Store},
};

fn at(second: i8) -> DateTime {
    date(2026, 11, 30).at(21, 5, second, 0)
}

fn add_place(store: &mut Store, number: usize) {
    let place = Place {
        key: format!("place-{number}"),
        name: format!("Place {number}"),
        shelter: Shelter::ColdFrame,
        facing: None,
        lamp: None,
        capacity: None,
    };
    store.transact(&Act::AddPlace(place.key.clone()), |change| change.add_place(&place)).unwrap();
}

fn with_places(folder: &Path, count: usize) -> Store {
    let mut store = Store::open(folder).unwrap();
    (0..count).for_each(|number| add_place(&mut store, number));
    store
}

fn acts(path: &Path) -> i64 {
    ReadOnly::open(path).unwrap().summary().unwrap().acts
}

/// Every file under a folder with its bytes.
fn contents(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(contents(&path));
        } else {
            found.insert(path.clone(), fs::read(&path).unwrap());
        }
    }
    found
}

/// The files of a folder as a kill leaves them, in a folder of their own.
fn as_killed(folder: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for name in [FILE.to_string(), format!("{FILE}-wal"), format!("{FILE}-shm")] {
        if folder.join(&name).exists() {
            fs::copy(folder.join(&name), to.join(name)).unwrap();
        }
    }
}

#[test]
fn a_copy_taken_while_acts_go_on_is_one_whole_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = with_places(folder.path(), 30);
    let copies = Copies::of_collection(folder.path());
    let copy = copies.add(&ReadOnly::open(folder.path()).unwrap(), at(2), &Occasion::Day).unwrap();
    assert_eq!(copy.name, "budswell-2026-11-30-210502.db");
    (30..70).for_each(|number| add_place(&mut store, number));

    let names: Vec<_> = contents(copies.folder()).into_keys().collect();
    assert_eq!(names, [copies.folder().join(&copy.name)], "a log or a part lies beside the copy");
    let bytes = fs::read(&copy.path).unwrap();
    assert_eq!(&bytes[18..20], [1, 1], "the copy needs a log");
    let read = ReadOnly::open(&copy.path).unwrap();
    assert_eq!((read.log(), read.summary().unwrap().acts), (Log::Whole, 30));
    assert_eq!(read.reader().places().unwrap().len(), 30);
    assert!(read.faults().unwrap().is_empty());
    assert_eq!(copies.list().unwrap(), std::slice::from_ref(&copy));
    assert_eq!(copies.find(&copy.name).unwrap(), copy);
    for strange in ["../budswell.db", "budswell.db", ""] {
        assert!(matches!(copies.find(strange), Err(Error::Unknown { what: "backup", .. })), "{strange}");
    }
    let again = copies.add(&ReadOnly::open(folder.path()).unwrap(), at(2), &Occasion::Day).unwrap();
    assert_eq!((again.name.as_str(), acts(&again.path)), ("budswell-2026-11-30-210503.db", 70));
}

#[test]
fn the_file_copied_without_its_log_is_not_called_whole() {
    let folder = tempfile::tempdir().unwrap();
    let alone = folder.path().join("alone.db");
    let data = folder.path().join("data");
    let mut store = with_places(&data, 30);
    let copy_alone = || fs::copy(data.join(FILE), &alone).unwrap();
    copy_alone();
    let read = ReadOnly::open(&alone).unwrap();
    assert_eq!(read.log(), Log::MayLack);
    assert!(read.summary().unwrap().acts < 30);

    (30..70).for_each(|number| add_place(&mut store, number));
    assert!(store.fold().unwrap());
    assert_eq!(store.log_bytes(), 0);
    copy_alone();
    let read = ReadOnly::open(&alone).unwrap();
    assert_eq!((read.log(), read.summary().unwrap().acts), (Log::Whole, 70));

    add_place(&mut store, 70);
    copy_alone();
    assert_eq!(ReadOnly::open(&alone).unwrap().log(), Log::MayLack, "the first act after quiet goes unseen");
    drop(store);
    copy_alone();
    let read = ReadOnly::open(&alone).unwrap();
    assert_eq!((read.log(), read.summary().unwrap().acts), (Log::Whole, 71));
    assert!(read.faults().unwrap().is_empty());
}

#[test]
fn looking_writes_nothing_in_any_state() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    let (clean, killed, old, bare) =
        (root.join("clean"), root.join("killed"), root.join("old"), root.join("bare"));
    let store = with_places(&clean, 40);
    as_killed(&clean, &killed);
    drop(store);
    for (folder, from) in [(&old, "0003.db"), (&bare, "0001.db")] {
        fs::create_dir(folder).unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old").join(from);
        fs::copy(from, folder.join(FILE)).unwrap();
    }
    for (folder, log, places) in [
        (&clean, Log::Whole, 40),
        (&killed, Log::Whole, 40),
        (&old, Log::Unknown, 6),
        (&bare, Log::Unknown, 1),
    ] {
        let before = contents(folder);
        let read = ReadOnly::open(folder).unwrap();
        assert!(read.faults().unwrap().is_empty());
        assert_eq!(
            (read.log(), read.reader().places().unwrap().len()),
            (log, places),
            "{}",
            folder.display()
        );
        assert_eq!(contents(folder), before, "{}", folder.display());
        drop(read);
        assert_eq!(contents(folder), before, "{}", folder.display());
    }
    let live = with_places(&root.join("live"), 40);
    let names = |folder: &Path| contents(folder).into_keys().collect::<Vec<_>>();
    let before = names(&root.join("live"));
    assert_eq!(acts(&root.join("live")), 40);
    assert_eq!(names(&root.join("live")), before);
    drop(live);
}

#[test]
fn what_is_no_collection_is_named_by_every_door_and_nothing_changes() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let mut store = with_places(&data, 3);
    store.fold().unwrap();
    let whole = fs::read(data.join(FILE)).unwrap();
    drop(store);
    let foreign = folder.path().join("foreign.db");
    make_foreign(&foreign, &whole);
    let size = whole.len() as u64;
    for (name, bytes, fault) in [
        ("empty", vec![], Fault::Empty),
        ("text", b"name,taxon\nold maple,acer".to_vec(), Fault::Text),
        ("picture", b"\xff\xd8\xff\xe0\0\x10JFIF\0".to_vec(), Fault::Strange),
        ("half", whole[..whole.len() / 2].to_vec(), Fault::CutOff { told: size, found: size / 2 }),
        ("foreign", fs::read(&foreign).unwrap(), Fault::Foreign),
    ] {
        let other = folder.path().join(name);
        fs::create_dir(&other).unwrap();
        fs::write(other.join(FILE), bytes).unwrap();
        let before = (contents(&data), contents(&other));
        let told = [
            ReadOnly::open(&other).map(drop),
            Store::open(&other).map(drop),
            restore(&data, &other, at(0)).map(drop),
            restore(&folder.path().join("new"), &other.join(FILE), at(0)).map(drop),
        ];
        for told in told {
            assert!(
                matches!(&told, Err(Error::NotACollection { fault: it, .. }) if *it == fault),
                "{name}: {told:?}"
            );
        }
        let locks = ["budswell.lock", "budswell.serving"];
        let without_locks = |mut found: BTreeMap<PathBuf, Vec<u8>>| {
            found.retain(|path, _| !locks.iter().any(|lock| path.ends_with(lock)));
            found
        };
        assert_eq!(without_locks(contents(&data)), without_locks(before.0), "{name}");
        assert_eq!(without_locks(contents(&other)), without_locks(before.1), "{name}");
        assert!(!folder.path().join("new").exists(), "{name}");
    }
    assert!(matches!(ReadOnly::open(&folder.path().join("nowhere")), Err(Error::Missing(_))));
}

/// The same pages under another program's number.
fn make_foreign(path: &Path, whole: &[u8]) {
    let mut bytes = whole.to_vec();
    bytes[68..72].copy_from_slice(&0x1234_5678_u32.to_be_bytes());
    fs::write(path, bytes).unwrap();
}

#[test]
fn a_restore_in_place_keeps_what_stood_there_and_no_old_log_comes_over() {
    let folder = tempfile::tempdir().unwrap();
    let (data, killed, copies) = (folder.path().join("a"), folder.path().join("b"), folder.path().join("c"));
    fs::create_dir(&copies).unwrap();
    let mut store = with_places(&data, 30);
    let copy =
        Copies::in_folder(&copies).add(&ReadOnly::open(&data).unwrap(), at(0), &Occasion::Day).unwrap();
    (30..70).for_each(|number| add_place(&mut store, number));
    as_killed(&data, &killed);
    assert!(fs::metadata(killed.join(format!("{FILE}-wal"))).unwrap().len() > 0);

    assert!(matches!(restore(&data, &copy.path, at(1)), Err(Error::Open(_))), "replaced under a writer");
    let done = restore(&killed, &copy.path, at(1)).unwrap();
    let kept = done.kept.unwrap();
    assert_eq!(kept, killed.join("budswell.db.replaced-2026-11-30-210501"));
    assert_eq!((done.now.acts, acts(&killed), acts(&kept)), (30, 30, 70));
    assert!(ReadOnly::open(&killed).unwrap().faults().unwrap().is_empty());
    assert_eq!(Store::open(&killed).unwrap().reader().unwrap().places().unwrap().len(), 30);

    let again = restore(&killed, &kept, at(1)).unwrap().kept.unwrap();
    assert_eq!(again, killed.join("budswell.db.replaced-2026-11-30-210502"));
    assert_eq!((acts(&killed), acts(&kept), acts(&again)), (70, 70, 30));
    drop(store);
    assert!(matches!(restore(&data, &data.join(FILE), at(1)), Err(Error::SameFile(_))));
    let served = Lock::serving(&data).unwrap();
    assert!(matches!(restore(&data, &copy.path, at(1)), Err(Error::Open(_))), "replaced under a server");
    drop(served);
    assert_eq!(acts(&data), 70);
}

#[test]
fn a_damaged_collection_is_replaced_and_kept_with_its_log() {
    let folder = tempfile::tempdir().unwrap();
    let (data, new) = (folder.path().join("a"), folder.path().join("b"));
    drop(with_places(&data, 5));
    let copy = folder.path().join("copy.db");
    copy_to_file(&ReadOnly::open(&data).unwrap(), &copy).unwrap();
    assert!(matches!(copy_to_file(&ReadOnly::open(&data).unwrap(), &copy), Err(Error::Exists(_))));
    assert_eq!(restore(&new, &copy, at(0)).unwrap().kept, None);
    assert_eq!(acts(&new), 5);
    fs::write(data.join(FILE), b"").unwrap();
    fs::write(data.join(format!("{FILE}-wal")), b"what was left of the log").unwrap();
    let kept = restore(&data, &copy, at(0)).unwrap().kept.unwrap();
    assert_eq!(fs::read(&kept).unwrap(), b"");
    assert_eq!(fs::read(format!("{}-wal", kept.display())).unwrap(), b"what was left of the log");
    assert_eq!(acts(&data), 5);
}

#[test]
fn an_unsound_collection_makes_no_backup_and_drops_none() {
    let folder = tempfile::tempdir().unwrap();
    drop(with_places(folder.path(), 5));
    let copies = Copies::of_collection(folder.path());
    let day = |day| date(2026, 11, day).at(8, 0, 0, 0);
    copies.add(&ReadOnly::open(folder.path()).unwrap(), day(1), &Occasion::Day).unwrap();
    let file = folder.path().join(FILE);
    let mut bytes = fs::read(&file).unwrap();
    let name = b"Place 3";
    let place = bytes.windows(name.len()).position(|window| window == name).unwrap();
    bytes[place] = b'Q';
    fs::write(&file, bytes).unwrap();
    let broken = ReadOnly::open(folder.path()).unwrap();
    let told = copies.add(&broken, day(2), &Occasion::Day);
    let faults = ["place: the row “place-3” is not as it was saved".to_string()];
    assert!(matches!(&told, Err(Error::Faulty { faults: found, .. }) if *found == faults), "{told:?}");
    assert_eq!(broken.faults().unwrap(), faults);
    let names =
        |copies: &Copies| copies.list().unwrap().into_iter().map(|copy| copy.name).collect::<Vec<_>>();
    assert_eq!(names(&copies), ["budswell-2026-11-01-080000.db"]);
    assert_eq!(contents(copies.folder()).len(), 1, "a part was left");
    let kept = copies.add(&broken, day(3), &Occasion::BeforeRestore).unwrap();
    assert_eq!(kept.name, "budswell-2026-11-03-080000-before-restore-with-faults.db");
    assert!(matches!(restore(&folder.path().join("x"), &kept.path, at(0)), Err(Error::Faulty { .. })));

    let copy = fs::read(&copies.list().unwrap()[1].path).unwrap();
    for back in 1..=30 {
        let at = day(1) - jiff::Span::new().days(back);
        fs::write(copies.folder().join(format!("budswell-{}.db", at.strftime("%Y-%m-%d-%H%M%S"))), &copy)
            .unwrap();
    }
    fs::write(copies.folder().join("notes.txt"), "mine").unwrap();
    assert_eq!(copies.thin_out().unwrap().len(), 21);
    assert_eq!(names(&copies).len(), 11);
    assert!(copies.folder().join("notes.txt").exists() && kept.path.exists());
}

#[test]
fn a_backup_taken_over_while_pages_read_moves_the_count_of_changes_on() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = with_places(folder.path(), 30);
    let copy = folder.path().join("copy.db");
    copy_to_file(&ReadOnly::open(folder.path()).unwrap(), &copy).unwrap();
    add_place(&mut store, 30);
    let reader = store.reader().unwrap();
    let before = reader.changes().unwrap();
    assert_eq!(reader.places().unwrap().len(), 31);
    assert_eq!(store.take_over(&copy, "copy").unwrap().acts, 30);
    assert_eq!(reader.latest_acts(1).unwrap()[0].words, "restored the backup copy");
    assert_eq!(reader.places().unwrap().len(), 30);
    assert!(reader.changes().unwrap() > before);
    let restored = reader.changes().unwrap();
    add_place(&mut store, 31);
    assert_eq!((reader.changes().unwrap(), reader.last_act().unwrap()), (restored + 1, 32));
    assert!(reader.faults().unwrap().is_empty());

    let old = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/0005.db");
    store.take_over(&old, "old").unwrap();
    assert_eq!(reader.trees().unwrap().len(), 3);
    assert!(reader.changes().unwrap() > restored + 1);
    assert!(reader.faults().unwrap().is_empty());
    let text = folder.path().join("text.db");
    fs::write(&text, "not a backup").unwrap();
    assert!(matches!(store.take_over(&text, "text"), Err(Error::NotACollection { fault: Fault::Text, .. })));
    assert_eq!(reader.trees().unwrap().len(), 3);
    drop((reader, store));
    assert_eq!(ReadOnly::open(folder.path()).unwrap().log(), Log::Whole);
}

#[test]
fn an_edit_of_a_row_from_an_earlier_layout_keeps_its_sum_true() {
    for old in [
        "0001.db", "0003.db", "0005.db", "0006.db", "0007.db", "0008.db", "0009.db", "0010.db", "0011.db",
        "0012.db",
    ] {
        let folder = tempfile::tempdir().unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old").join(old);
        fs::copy(from, folder.path().join(FILE)).unwrap();
        let mut store = Store::open(folder.path()).unwrap();
        let reader = store.reader().unwrap();
        for tree in reader.trees().unwrap() {
            let edited = Tree { note: "seen again".into(), ..tree };
            store.transact(&Act::EditTree(edited.key.clone()), |change| change.edit_tree(&edited)).unwrap();
        }
        assert!(reader.trees().unwrap().iter().all(|tree| tree.note == "seen again"));
        assert_eq!(reader.faults().unwrap(), [""; 0], "{old}");
        let copy = &Copies::of_collection(folder.path()).list().unwrap()[0];
        let layout: i64 = old[..4].parse().unwrap();
        assert_eq!(ReadOnly::open(&copy.path).unwrap().summary().unwrap().layout, layout);
    }
}
