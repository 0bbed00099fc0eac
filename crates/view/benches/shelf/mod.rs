//! The pages of the shelf for the demo on the day it opens, each from a whole of which nothing was asked yet: pots to trees, the season's repots,
//! and the order list.

use std::{fs, hint::black_box, path::Path};

use criterion::{BatchSize, Criterion};
use intake::import::{Kind, import};
use jiff::civil::{Date, date};
use store::store::Store;
use view::{
    pots::share::share,
    repots::{goods::soil, repots},
    whole::whole,
};

const TODAY: Date = date(2026, 3, 28);

/// The sheets in the order in which they must come in.
const SHEETS: [&str; 23] = [
    "site",
    "places",
    "trees",
    "pots",
    "mixes",
    "potted",
    "crowns",
    "moves",
    "looks",
    "work",
    "wares",
    "grown",
    "statures",
    "tints",
    "vigour",
    "pot_looks",
    "meant",
    "repots",
    "tolls",
    "reservations",
    "likings",
    "stock",
    "blends",
];

/// The demo without its photos, its limbs and its watering log.
fn demo() -> Store {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo");
    let mut store = Store::in_memory().expect("a store");
    let mut take = |kind: &str, place: &str, file: &str| {
        let text = fs::read(folder.join(file)).expect("the demo is there");
        let kind = Kind::from_key(kind, place).expect("a kind");
        import(&mut store, &kind, file, &text, false).expect("taken in");
    };
    SHEETS.iter().for_each(|sheet| take(sheet, "", &format!("{sheet}.csv")));
    take("away", "", "shifts.ics");
    take("weather", "", "station.csv");
    for place in ["cold-frame", "cold-room", "south-sill"] {
        take("logger", place, &format!("logger_{}.csv", place.replace('-', "_")));
    }
    store
}

/// The three pages.
pub fn pages(c: &mut Criterion) {
    let store = demo();
    let reader = store.reader().expect("a reader");
    let unasked = whole(&reader, TODAY).expect("a whole");
    let mut group = c.benchmark_group("view");
    group.sample_size(20);
    group.bench_function("pots/share/demo", |b| {
        b.iter_batched(
            || unasked.clone(),
            |whole| {
                let page = share(&whole, None);
                assert!(page.proven && page.missing.is_empty(), "{}", page.proof);
                assert_eq!((page.rows.len(), page.steps.len(), page.runs.len()), (15, 16, 4));
                black_box(page)
            },
            BatchSize::PerIteration,
        );
    });
    group.bench_function("repots/demo", |b| {
        b.iter_batched(
            || unasked.clone(),
            |whole| {
                let page = repots(&whole);
                assert_eq!((page.go.len(), page.season, page.untold.len()), (15, 2026, 0));
                assert!(page.go.iter().all(|row| !row.pot.is_empty()));
                black_box(page)
            },
            BatchSize::PerIteration,
        );
    });
    group.bench_function("soil/demo", |b| {
        b.iter_batched(
            || unasked.clone(),
            |whole| {
                let page = soil(&whole);
                assert_eq!((page.jobs.len(), page.lines.len(), page.short), (15, 9, 4));
                black_box(page)
            },
            BatchSize::PerIteration,
        );
    });
    group.finish();
}
