//! As many trees as wished: the demo's own, over and over, each copy with its own name.

use std::{fmt::Write, fs, path::Path};

use intake::import::{Kind, Options, import};
use store::store::Store;

/// Sheets whose rows begin with a tree and are copied with it.
const BY_TREE: [&str; 13] = [
    "trees",
    "potted",
    "crowns",
    "moves",
    "looks",
    "work",
    "limbs",
    "calipers",
    "intentions",
    "cuts",
    "wires",
    "layers",
    "wounds",
];

/// The demo's weather, loggers and places with as many trees, their moves, looks and work, and these kinds of sheet besides, taken in before the
/// moves.
pub fn herd(besides: &[&str], trees: usize) -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect("the demo is there");
    let own = read("trees.csv").lines().count() - 1;
    let copies = |text: &str| {
        let (head, body) = text.split_once('\n').expect("a header");
        let mut many = format!("{head}\n");
        for copy in 0..trees.div_ceil(own) {
            for line in body.lines() {
                let (tree, rest) = line.split_once(',').expect("a cell");
                writeln!(many, "{tree} {copy},{rest}").expect("a string takes all");
            }
        }
        many
    };
    let mut store = Store::in_memory().expect("a store");
    let mut take = |kind: &str, place: &str, text: &str| {
        let kind = Kind::from_key(kind, place).expect("a kind");
        import(&mut store, &kind, "bench", text.as_bytes(), &Options::default()).expect("taken in");
    };
    let sheets = ["site", "places", "trees"].iter().chain(besides).chain(&["moves", "looks", "work"]);
    for kind in sheets {
        let text = read(&format!("{kind}.csv"));
        let text = if BY_TREE.contains(kind) { copies(&text) } else { text };
        take(kind, "", &text);
    }
    take("weather", "", &read("station.csv"));
    for place in ["cold-frame", "cold-room", "south-sill"] {
        take("logger", place, &read(&format!("logger_{}.csv", place.replace('-', "_"))));
    }
    store
}
