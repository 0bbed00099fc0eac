//! The bodies of the fuzz targets on stable Rust: every kept file as it stands, and a bounded count of changed ones.
//!
//! `BUDSWELL_FUZZ_SEED=N` tries others, `BUDSWELL_FUZZ_TIMES=N` tries N times as many. What fails is kept in `fuzz/found/`; once the fault is
//! mended it goes to `fuzz/corpus/`.

#[path = "../../../fuzz/bodies/mod.rs"]
mod bodies;

#[path = "change/mod.rs"]
mod change;

use std::{
    env, fs,
    panic::{AssertUnwindSafe, catch_unwind},
    path::{Path, PathBuf},
};

use bodies::{TARGETS, Target};
use change::{Change, words};

/// The seed where none is told.
const SEED: u64 = 20_260_308;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz")
}

/// A number that the environment tells, or another.
fn told(name: &str, otherwise: u64) -> u64 {
    env::var(name).map_or(otherwise, |word| word.parse().expect("a whole number"))
}

/// The kept files of a target, by name.
fn corpus(target: &Target) -> Vec<(String, Vec<u8>)> {
    let folder = folder().join("corpus").join(target.name);
    let entries = fs::read_dir(&folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
    paths.iter().map(|path| (name(path), fs::read(path).unwrap())).collect()
}

/// Runs a body; where it panics, keeps the bytes and says how to find them.
fn hold(target: &Target, what: &str, bytes: &[u8]) {
    if catch_unwind(AssertUnwindSafe(|| bodies::run(target.name, bytes))).is_err() {
        let kept = folder().join("found").join(target.name);
        fs::create_dir_all(kept.parent().unwrap()).unwrap();
        fs::write(&kept, bytes).unwrap();
        panic!("{} does not hold for {what}; the bytes are in {}", target.name, kept.display());
    }
}

fn through(name: &str) {
    let target = TARGETS.iter().find(|target| target.name == name).unwrap();
    let (files, words) = (corpus(target), words(&folder().join("dictionary.txt")));
    assert!(files.len() >= 2, "{name} has no corpus");
    for (file, bytes) in &files {
        hold(target, file, bytes);
    }
    let (seed, tries) =
        (told("BUDSWELL_FUZZ_SEED", SEED), target.tries as u64 * told("BUDSWELL_FUZZ_TIMES", 1));
    for number in 0..tries {
        let bytes = Change::new(seed, number).of(&files, &words, bodies::LONGEST);
        hold(target, &format!("change {number} of seed {seed}"), &bytes);
    }
    println!("{name}: {} kept files and {tries} changed ones of seed {seed} were read", files.len());
}

/// A test for each target.
macro_rules! through {
    ($($name:ident),+ $(,)?) => {
        $(#[test] fn $name() { through(stringify!($name)); })+
        const TRIED: &[&str] = &[$(stringify!($name)),+];
    };
}

through![
    weather, logger, forecast, readings, sheets, series, instance, calendars, tree_graph, photo, traces,
    buckets, forms, import,
];

#[test]
fn every_target_is_tried_here_and_by_the_fuzzer() {
    let names: Vec<&str> = TARGETS.iter().map(|target| target.name).collect();
    assert_eq!(names, TRIED);
    let manifest = fs::read_to_string(folder().join("Cargo.toml")).unwrap();
    let mut files: Vec<String> = fs::read_dir(folder().join("fuzz_targets"))
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    files.sort();
    let mut sorted = names.clone();
    sorted.sort_unstable();
    assert_eq!(files, sorted);
    for name in names {
        let text = fs::read_to_string(folder().join(format!("fuzz_targets/{name}.rs"))).unwrap();
        assert!(text.contains(&format!("bodies::run(\"{name}\", bytes)")), "{name} runs another body");
        assert!(
            manifest.contains(&format!("path = \"fuzz_targets/{name}.rs\"")),
            "{name} is not in the manifest"
        );
    }
}
