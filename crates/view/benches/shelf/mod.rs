//! The pages of the shelf for the demo on the day it opens, each from a whole of which nothing was asked yet: pots to trees, the season's repots,
//! and the order list.

#[path = "../../tests/demo/mod.rs"]
mod demo;

use std::hint::black_box;

use criterion::{BatchSize, Criterion};
use jiff::civil::{Date, date};
use store::store::Store;
use view::{
    pots::share::share,
    repots::{goods::soil, repots},
    whole::whole,
};

const TODAY: Date = date(2026, 3, 28);

/// The demo without its photos, its limbs and its watering log.
fn shelf() -> Store {
    demo::demo_with(|name, text| if name == "water.csv" { String::new() } else { text })
}

/// The three pages.
pub fn pages(c: &mut Criterion) {
    let store = shelf();
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
                assert_eq!((page.rows.len(), page.steps.len(), page.runs.len()), (13, 14, 4));
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
                assert_eq!((page.go.len(), page.season, page.untold.len()), (13, 2026, 0));
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
                assert_eq!((page.jobs.len(), page.lines.len(), page.short), (13, 9, 4));
                black_box(page)
            },
            BatchSize::PerIteration,
        );
    });
    group.finish();
}
