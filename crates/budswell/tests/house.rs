//! The house, held to its drawing, and the tidy rules that a machine can check.

use std::{
    fs,
    path::{Path, PathBuf},
};

/// Floors from the ground up. A room may use rooms on lower floors, never on its own.
const FLOORS: [&[&str]; 7] = [
    &["measure"],
    &["climate", "pot", "form"],
    &["dormancy", "water", "collection"],
    &["season", "store"],
    &["state"],
    &["intake", "view"],
    &["budswell"],
];

/// Rooms that do no IO, read no clock and serialise nothing.
const PURE: [&str; 9] =
    ["measure", "climate", "pot", "form", "dormancy", "water", "collection", "season", "state"];

/// The outside crates a pure room may name.
const PURE_MAY_USE: [&str; 9] = [
    "jiff",
    "thiserror",
    "nalgebra",
    "statrs",
    "solar-positioning",
    "rand",
    "rand_pcg",
    "libm",
    "gauss-quad",
];

fn rooms() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("crates has a parent").to_path_buf()
}

fn dependencies(room: &str) -> Vec<String> {
    let manifest = fs::read_to_string(rooms().join(room).join("Cargo.toml")).unwrap();
    let (_, used) = manifest.split_once("[dependencies]").unwrap();
    used.lines()
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split(['=', '.']).next())
        .map(|name| name.trim().to_string())
        .filter(|name| !name.is_empty())
        .collect()
}

fn floor_of(room: &str) -> Option<usize> {
    FLOORS.iter().position(|floor| floor.contains(&room))
}

/// The rooms that stand today.
fn standing() -> Vec<String> {
    let names = fs::read_dir(rooms()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.collect()
}

fn sources() -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut waiting = vec![rooms()];
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() && path.file_name().is_some_and(|name| name != "target") {
                waiting.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(path);
            }
        }
    }
    assert!(found.len() > 10, "the walk over the sources found almost nothing");
    found
}

#[test]
fn every_room_stands_on_a_floor() {
    for name in standing() {
        assert!(floor_of(&name).is_some(), "{name} is not on the drawing");
    }
}

#[test]
fn every_arrow_points_down() {
    let mut arrows = 0;
    for room in standing() {
        let room = room.as_str();
        for name in dependencies(room) {
            if let Some(below) = floor_of(&name) {
                let here = floor_of(room).unwrap();
                assert!(below < here, "{room} (floor {here}) opens onto {name} (floor {below})");
                arrows += 1;
            }
        }
    }
    assert!(arrows > 5, "only {arrows} arrows found: the reading of the manifests is broken");
}

#[test]
fn pure_rooms_name_no_other_outside_crate() {
    for room in PURE {
        for name in dependencies(room) {
            let known = floor_of(&name).is_some() || PURE_MAY_USE.contains(&name.as_str());
            assert!(known, "{room} names {name}");
        }
    }
}

#[test]
fn only_the_store_names_sqlite() {
    for room in standing() {
        let room = room.as_str();
        let names_it = dependencies(room).iter().any(|name| name.starts_with("rusqlite"));
        assert_eq!(names_it, room == "store", "{room}");
    }
}

#[test]
fn every_file_says_in_one_sentence_what_it_is_for() {
    for path in sources() {
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.starts_with("//! "), "{} has no //! head", path.display());
    }
}

#[test]
fn no_file_is_longer_than_five_hundred_lines() {
    for path in sources() {
        let lines = fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 500, "{} has {lines} lines", path.display());
    }
}

#[test]
fn every_outside_check_has_a_row_in_validation() {
    let root = rooms().parent().unwrap().to_path_buf();
    let validation = fs::read_to_string(root.join("VALIDATION.md")).unwrap();
    let mut seen = 0;
    for path in sources() {
        let shown = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
        let is_check = PURE.iter().chain(&["intake"]).any(|room| {
            shown.starts_with(&format!("crates/{room}/tests/")) && !shown.contains("never_panics")
        });
        let is_support = shown.ends_with("/mod.rs");
        if is_check && !is_support {
            assert!(validation.contains(&shown), "VALIDATION.md has no row for {shown}");
            seen += 1;
        }
    }
    assert!(seen >= 3, "only {seen} outside checks found");
}

/// Rooms whose public functions carry published mathematics.
const SCIENCE: [&str; 5] = ["climate", "pot", "form", "dormancy", "water"];

#[test]
fn every_equation_says_where_it_holds_and_where_it_comes_from() {
    let (mut seen, mut lacking) = (0, Vec::new());
    for path in sources() {
        let shown = path.to_string_lossy().replace('\\', "/");
        if !SCIENCE.iter().any(|room| shown.contains(&format!("crates/{room}/src/"))) {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let public = |part: &&str| part.contains("/// ```text") && part.contains("\npub fn ");
        for comment in text.split("\n\n").filter(public) {
            for word in ["**Holds**", "**Error**", "**Source**", "**Checked**"] {
                let name = comment.lines().find(|line| line.starts_with("pub fn ")).unwrap_or("");
                if !comment.contains(word) {
                    lacking.push(format!("{shown}: {name} lacks {word}"));
                }
            }
            seen += 1;
        }
    }
    assert!(lacking.is_empty(), "{lacking:#?}");
    assert!(seen >= 8, "only {seen} equations found");
}
