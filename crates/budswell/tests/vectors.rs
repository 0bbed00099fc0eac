//! No file of the reference set is forgotten: `checks/read.csv` gives each one its tests, or the reason why nothing reads it.
//!
//! Our own folders are walked, and the folder that `BUDSWELL_VECTORS` names where one is named.

use std::{
    collections::{BTreeMap, BTreeSet},
    env, fs,
    path::{Path, PathBuf},
};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).expect("crates/budswell").to_path_buf()
}

/// Every file below a folder, by its path from there.
fn files(folder: &Path) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(at) = waiting.pop() {
        for entry in fs::read_dir(&at).unwrap_or_else(|why| panic!("{}: {why}", at.display())) {
            let path = entry.unwrap().path();
            if path.is_dir() {
                waiting.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_string_lossy().replace('\\', "/");
                found.insert(name);
            }
        }
    }
    found
}

/// One row of the list.
struct Read {
    tests: Vec<String>,
    why: String,
}

fn list() -> BTreeMap<String, Read> {
    let mut reader = csv::Reader::from_path(root().join("checks/read.csv")).unwrap();
    let row = |row: csv::StringRecord| {
        let tests = row[1].split(';').filter(|test| !test.is_empty()).map(str::to_string).collect();
        (row[0].to_string(), Read { tests, why: row[2].to_string() })
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

#[test]
fn every_file_of_the_set_has_its_tests_or_a_reason() {
    let list = list();
    for (file, row) in &list {
        assert!(
            !row.tests.is_empty() || !row.why.is_empty(),
            "checks/read.csv: {file} has neither test nor reason"
        );
        for test in &row.tests {
            assert!(
                root().join(test).is_file(),
                "checks/read.csv: {file} is read by {test}, which is not there"
            );
        }
    }
    let mut seen = 0;
    for room in fs::read_dir(root().join("crates")).unwrap() {
        let room = room.unwrap().path();
        let folder = room.join("tests/vectors");
        let of_room = |test: &&String| root().join(test).starts_with(&room);
        for file in if folder.is_dir() { files(&folder) } else { BTreeSet::new() } {
            let row = list
                .get(&file)
                .unwrap_or_else(|| panic!("{}/{file} has no row in checks/read.csv", folder.display()));
            let beside = row.tests.is_empty() || row.tests.iter().any(|test| of_room(&test));
            assert!(beside, "{}/{file}: none of its tests stands in that room", folder.display());
            seen += 1;
        }
    }
    assert!(seen > 100, "only {seen} files of our own were found");
    let other = env::var_os("BUDSWELL_VECTORS").map(PathBuf::from);
    for file in other.iter().flat_map(|folder| files(folder)) {
        assert!(list.contains_key(&file), "{file} of another folder has no row in checks/read.csv");
    }
}

#[test]
fn every_file_that_a_test_reads_stands_in_its_room() {
    for (file, row) in list() {
        for test in row.tests {
            let room = Path::new(&test).ancestors().nth(2).unwrap().join("tests/vectors");
            assert!(
                root().join(&room).join(&file).is_file(),
                "{test} reads {file}, and {} lacks it",
                room.display()
            );
        }
    }
}
