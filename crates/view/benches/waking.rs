//! The page *Waking* from cold, for collections of 300 and 10,000 trees, and again when nothing has changed.

use std::{fmt::Write, fs, hint::black_box, path::Path, time::Duration};

use criterion::{Criterion, criterion_group, criterion_main};
use intake::import::{Kind, import};
use jiff::civil::{Date, date};
use store::{reader::Reader, store::Store};
use view::{waking::waking, whole::whole};

const TODAY: Date = date(2026, 3, 8);

/// The demo's weather, loggers and places with as many trees as wished: the demo's own, over and over, each copy
/// with its own name and all its moves and looks.
fn collection(trees: usize) -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect("the demo is there");
    let copies = |name: &str| {
        let text = read(name);
        let (head, body) = text.split_once('\n').expect("a header");
        let own = read("trees.csv").lines().count() - 1;
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
    let mut take = |kind: &str, place: &str, text: String| {
        let kind = Kind::from_key(kind, place).expect("a kind");
        import(&mut store, &kind, "bench", text.as_bytes(), false).expect("taken in");
    };
    take("site", "", read("site.csv"));
    take("places", "", read("places.csv"));
    for (kind, name) in
        [("trees", "trees.csv"), ("moves", "moves.csv"), ("looks", "looks.csv"), ("work", "work.csv")]
    {
        take(kind, "", copies(name));
    }
    take("weather", "", read("station.csv"));
    take("logger", "cold-frame", read("logger_cold_frame.csv"));
    take("logger", "cold-room", read("logger_cold_room.csv"));
    take("logger", "south-sill", read("logger_south_sill.csv"));
    store
}

fn from_cold(reader: &Reader) -> usize {
    let whole = whole(reader, TODAY).expect("a whole");
    assert_eq!(whole.ground.as_ref().expect("a ground").years(), 20);
    let page = waking(&whole);
    assert!(page.rows.len() * 40 > whole.trees.len() * 39 - 40, "{} rows", page.rows.len());
    assert!(page.rows.iter().filter(|row| row.opens.is_some()).count() * 10 > page.rows.len() * 9);
    page.rows.len()
}

fn pages(c: &mut Criterion) {
    let mut group = c.benchmark_group("view/waking");
    group.measurement_time(Duration::from_secs(5)).sample_size(10);
    for trees in [300, 10_000] {
        let store = collection(trees);
        let reader = store.reader().expect("a reader");
        group.bench_function(format!("from_cold/{trees}"), |b| b.iter(|| black_box(from_cold(&reader))));
        let known = whole(&reader, TODAY).expect("a whole");
        group.bench_function(format!("unchanged/{trees}"), |b| {
            b.iter(|| black_box(waking(&known)).rows.len())
        });
    }
    group.finish();
}

criterion_group!(benches, pages);
criterion_main!(benches);
