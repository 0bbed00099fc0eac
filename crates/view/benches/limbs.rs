//! What presses on the branches of 300 trees, as Today asks it, once the whole is known; and, beside it, the pages of the shelf.

mod herd;
mod shelf;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use herd::herd;
use jiff::civil::{Date, date};
use view::{limbs::presses::presses, whole::whole};

const TODAY: Date = date(2026, 5, 24);

fn today(c: &mut Criterion) {
    let store = herd(&["limbs", "calipers", "intentions", "cuts", "wires", "layers", "wounds"], 300);
    let reader = store.reader().expect("a reader");
    let whole = whole(&reader, TODAY).expect("a whole");
    let mut group = c.benchmark_group("view/presses");
    group.sample_size(20).bench_function("300", |b| {
        b.iter(|| {
            let told = presses(&whole);
            let wishes = told.overdue.len() + told.wishes.len();
            assert!(told.wires > 100 && wishes > 30, "{} {wishes}", told.wires);
            black_box(told)
        })
    });
    group.finish();
}

criterion_group!(benches, today, shelf::pages);
criterion_main!(benches);
