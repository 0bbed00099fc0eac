//! Reading the check data, from the room's own `tests/vectors` or from the folder that `BUDSWELL_VECTORS` names.
//!
//! Another folder of the same layout may hold other cases, and may lack files: what it has is read whole, what it lacks is named, and
//! how many cases each test read is printed past the capture of `cargo test`. Counts are compared on our own folder alone.
#![allow(dead_code, reason = "each check uses its own part")]

use std::{
    collections::BTreeMap,
    env, fs,
    io::{self, Write},
    path::PathBuf,
};

use serde_json::Value;

/// A row of a table by its heads.
pub type Row = BTreeMap<String, String>;

/// The other folder, if one is named.
fn other() -> Option<PathBuf> {
    env::var_os("BUDSWELL_VECTORS").map(PathBuf::from)
}

/// Prints a line: to the test's captured output, or past it when another folder is read, so that the run itself tells.
fn say(line: &str) {
    match other() {
        None => println!("{line}"),
        Some(_) => {
            let line = format!("vectors: {line}\n");
            io::stderr().write_all(line.as_bytes()).expect("the standard error can be written");
        }
    }
}

/// A file of this room's own folder, whatever folder is checked: an input that a test makes its own cases from.
pub fn own_file(name: &str) -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/vectors")).join(name)
}

/// The file, or nothing if another folder lacks it, which is said; our own folder lacks none.
pub fn file(name: &str) -> Option<PathBuf> {
    let Some(folder) = other() else {
        let own = own_file(name);
        assert!(own.exists(), "{} is not there", own.display());
        return Some(own);
    };
    assert!(folder.is_dir(), "BUDSWELL_VECTORS names {}, which is no folder", folder.display());
    let path = folder.join(name);
    if !path.exists() {
        say(&format!("NOT IN {}: {name}; 0 cases", folder.display()));
        return None;
    }
    say(&format!("opened {name}"));
    Some(path)
}

/// The names of the files of a folder that end so, in their order.
pub fn names(folder: &str, ending: &str) -> Vec<String> {
    let Some(path) = file(folder) else { return Vec::new() };
    let entries = fs::read_dir(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    let name = |entry: io::Result<fs::DirEntry>| entry.unwrap().file_name().into_string().unwrap();
    let mut names: Vec<String> = entries.map(name).filter(|name| name.ends_with(ending)).collect();
    names.sort();
    names
}

/// The text of a file.
pub fn text(name: &str) -> Option<String> {
    file(name).map(|path| fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display())))
}

/// The value of a JSON file.
pub fn json(name: &str) -> Option<Value> {
    text(name).map(|text| serde_json::from_str(&text).unwrap_or_else(|why| panic!("{name}: {why}")))
}

/// The rows of a CSV file.
pub fn table(name: &str) -> Option<Vec<Row>> {
    let text = text(name)?;
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
    Some(reader.deserialize().map(|row| row.unwrap_or_else(|why| panic!("{name}: {why}"))).collect())
}

/// The elements of a list; none of a list that is not there.
pub fn rows(value: &Value) -> &[Value] {
    match value {
        Value::Null => &[],
        list => list.as_array().unwrap_or_else(|| panic!("no list: {list}")),
    }
}

/// The fields of an object in the order of their names; none of an object that is not there.
pub fn fields(value: &Value) -> Vec<(&str, &Value)> {
    match value {
        Value::Null => Vec::new(),
        Value::Object(fields) => fields.iter().map(|(name, value)| (name.as_str(), value)).collect(),
        other => panic!("no object: {other}"),
    }
}

/// A field that is a number.
#[track_caller]
pub fn number(value: &Value, name: &str) -> f64 {
    value[name].as_f64().unwrap_or_else(|| panic!("{name} of {value}"))
}

/// A list of numbers.
#[track_caller]
pub fn numbers(value: &Value) -> Vec<f64> {
    rows(value).iter().map(|it| it.as_f64().unwrap_or_else(|| panic!("{it} is no number"))).collect()
}

/// A field that is text.
#[track_caller]
pub fn words<'a>(value: &'a Value, name: &str) -> &'a str {
    value[name].as_str().unwrap_or_else(|| panic!("{name} of {value}"))
}

/// A cell that is a number.
#[track_caller]
pub fn cell(row: &Row, column: &str) -> f64 {
    row.get(column).and_then(|cell| cell.parse().ok()).unwrap_or_else(|| panic!("{column} of {row:?}"))
}

/// A figure under a name that begins so, however the file qualifies it (`published`, `published_from_memory`).
pub fn qualified<'a>(value: &'a Value, prefix: &str) -> &'a Value {
    let of = |(name, value)| Some(value).filter(|_| str::starts_with(name, prefix));
    fields(value).into_iter().find_map(of).unwrap_or(&Value::Null)
}

/// A row of another folder that we have nothing to hold beside: said, and a failure in our own folder.
#[track_caller]
pub fn not_ours(row: &str) {
    assert!(other().is_some(), "we have nothing beside {row}");
    say(&format!("NOTHING OF OURS beside {row}; not checked"));
}

/// A test came to the end of a file: how many cases it read is printed, none is a failure, and of our own folder it is `own` of them.
#[track_caller]
pub fn counted(what: &str, cases: usize, own: usize) {
    say(&format!("{what}: {cases} cases"));
    assert!(cases > 0, "{what}: no case was read");
    assert!(other().is_some() || cases == own, "{what}: {cases} cases of our own folder, not {own}");
}

/// Prints how many values of a file a test compared; none is a failure.
#[track_caller]
pub fn told(what: &str, values: usize) {
    say(&format!("{what}: {values} values"));
    assert!(values > 0, "{what}: no value was read");
}

/// How many figures agreed, and the largest gap among them.
#[derive(Default)]
pub struct Tally {
    pub count: u32,
    pub largest: f64,
}

impl Tally {
    #[track_caller]
    pub fn agrees(&mut self, ours: f64, stored: f64, tolerance: f64) {
        let gap = (ours - stored).abs();
        assert!(gap <= tolerance, "ours {ours}, stored {stored}, gap {gap:.1e}");
        (self.count, self.largest) = (self.count + 1, self.largest.max(gap));
    }

    /// Prints what agreed; none is a failure, and of our own folder it is `own` figures.
    #[track_caller]
    pub fn tell(&self, what: &str, own: u32) {
        say(&format!("{what}: {} figures, largest gap {:.1e}", self.count, self.largest));
        assert!(self.count > 0, "{what}: no figure was read");
        assert!(
            other().is_some() || self.count == own,
            "{what}: {} figures of our own folder, not {own}",
            self.count
        );
    }
}
