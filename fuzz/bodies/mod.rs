//! What must hold of whatever is read: the bodies of all fuzz targets, run by libFuzzer (`fuzz/run`) and over the kept corpus by `cargo test`.

mod air;
mod collection;
mod forms;
mod lists;
mod shape;

use intake::refusal::Refusal;

/// Longest input that is looked at, bytes; a longer one says nothing that a shorter does not.
pub const LONGEST: usize = 64 * 1024;

/// One door and what must hold of everything that comes through it.
pub struct Target {
    /// The word for `fuzz/run`, and the folder in `fuzz/corpus`.
    pub name: &'static str,
    /// Panics where something that must hold does not.
    pub body: fn(&[u8]),
    /// How many changed inputs `cargo test` tries; dear ones fewer.
    pub tries: usize,
}

/// Every door.
pub const TARGETS: [Target; 14] = [
    Target { name: "weather", body: air::weather, tries: 4000 },
    Target { name: "logger", body: air::logger, tries: 4000 },
    Target { name: "forecast", body: air::forecast, tries: 4000 },
    Target { name: "readings", body: collection::readings, tries: 1000 },
    Target { name: "sheets", body: lists::sheets, tries: 3000 },
    Target { name: "series", body: lists::series, tries: 4000 },
    Target { name: "instance", body: lists::instance, tries: 4000 },
    Target { name: "calendars", body: lists::calendars, tries: 1500 },
    Target { name: "tree_graph", body: shape::tree_graph, tries: 8000 },
    Target { name: "photo", body: shape::photo, tries: 1000 },
    Target { name: "traces", body: collection::traces, tries: 300 },
    Target { name: "buckets", body: collection::buckets, tries: 1000 },
    Target { name: "forms", body: forms::forms, tries: 1500 },
    Target { name: "import", body: collection::import, tries: 1500 },
];

/// Runs one target's body on these bytes.
pub fn run(name: &str, bytes: &[u8]) {
    let target = TARGETS.iter().find(|target| target.name == name).expect("the target is in the list");
    if bytes.len() <= LONGEST {
        (target.body)(bytes);
    }
}

/// Most lines that these bytes can have, in any encoding, and one for the line that is missing at the end.
fn most_lines(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| matches!(byte, b'\n' | b'\r')).count() + 2
}

/// Each refusal names a line of the file and says why.
fn named(bytes: &[u8], refused: &[Refusal]) {
    let most = most_lines(bytes);
    for refusal in refused {
        assert!(refusal.line <= most, "line {} of a file of {most}: {refusal}", refusal.line);
        assert!(!refusal.why.is_empty(), "line {} is refused without a reason", refusal.line);
    }
}

/// The cells of an input that stands for a form: one a line, absent ones empty.
fn cells<const N: usize>(text: &str) -> [&str; N] {
    let mut lines = text.split('\n');
    std::array::from_fn(|_| lines.next().unwrap_or(""))
}
