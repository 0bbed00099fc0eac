//! The page *Waking* from cold, for collections of 300 and 10,000 trees, and again when nothing has changed.

mod herd;

use std::{hint::black_box, time::Duration};

use criterion::{Criterion, criterion_group, criterion_main};
use herd::herd;
use jiff::civil::{Date, date};
use store::reader::Reader;
use view::{waking::waking, whole::whole};

const TODAY: Date = date(2026, 3, 8);

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
        let store = herd(&[], trees);
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
