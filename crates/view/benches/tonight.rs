//! The page *Tonight* for 300 trees in a frost that many of them feel, once the whole is known.

mod herd;

use std::hint::black_box;

use climate::record::HourMean;
use criterion::{Criterion, criterion_group, criterion_main};
use herd::herd;
use jiff::civil::{Date, date};
use store::store::{Act, Store};
use view::{
    tonight::{afternoon, tonight},
    whole::whole,
};

const TODAY: Date = date(2026, 4, 22);

/// The demo's own trees with their pots under a forecast of frost; all pots in use by many.
fn collection(trees: usize) -> Store {
    let mut store = herd(&["pots", "mixes", "potted", "crowns"], trees);
    let noon = 1_776_859_200;
    let hours: Vec<HourMean> = (0..60)
        .map(|hour| HourMean {
            at: noon + hour * 3600,
            temperature: 2.5 - 6.0 * ((hour - 4) as f64 * std::f64::consts::TAU / 24.0).sin(),
            filled: false,
        })
        .collect();
    store
        .transact::<(), store::error::Error>(&Act::Fetch, |change| change.set_forecast(noon, &hours))
        .expect("a forecast");
    store
}

fn night(c: &mut Criterion) {
    let store = collection(300);
    let reader = store.reader().expect("a reader");
    let whole = whole(&reader, TODAY).expect("a whole");
    let mut group = c.benchmark_group("view/tonight");
    group.sample_size(20).bench_function("300", |b| {
        b.iter(|| {
            let page = tonight(&whole, afternoon(&whole)).expect("a night");
            let moved = page.movers.len() + page.protect.len();
            assert!(moved > 50 && !page.is_usual, "{moved}");
            let all = moved + page.watch.len() + page.stay.len() + page.placeless.len();
            assert_eq!(all, whole.trees.len());
            black_box(page)
        })
    });
    group.finish();
}

criterion_group!(benches, night);
criterion_main!(benches);
