//! How long it takes to follow the waking of ten thousand trees through a season of thirty weighings each.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use measure::quantity::Days;
use water::drink::{Belief, Season, Use, WakePrior};

const TREES: usize = 10_000;

/// A season of one tree that wakes on a day of its own, with a plain wave for its errors.
fn season(prior: &WakePrior, tree: usize) -> f64 {
    let mut season = Season::new(prior.clone(), Belief::default()).expect("a belief of our own");
    let wake = 40.0 + (tree % 40) as f64;
    for at in 0..8 {
        season.winter(0.3 * f64::from(at * 7 + 3).sin(), 0.35).expect("a use");
    }
    let mut awake = 0.0;
    for at in 1..=30 {
        let day = 4.0 * f64::from(at);
        let rise = (0.115 * (day - wake)).clamp(0.0, 1.6);
        let log_ratio = rise + 0.35 * (f64::from(at) * 2.3 + tree as f64).sin();
        awake = season.seen(Use { day: Days(day), log_ratio, spread: 0.35 }).expect("a use").awake.0;
    }
    awake
}

fn ten_thousand_seasons(c: &mut Criterion) {
    let prior = WakePrior::any_day(1.0 / 90.0, 121).expect("a prior of our own");
    let mut group = c.benchmark_group("water/drink");
    group.sample_size(10);
    group.bench_function("10000_tree_seasons", |b| {
        b.iter(|| {
            let awake: f64 = (0..TREES).map(|tree| season(black_box(&prior), tree)).sum();
            assert!(awake > 0.99 * TREES as f64);
            awake
        });
    });
    group.finish();
}

criterion_group!(benches, ten_thousand_seasons);
criterion_main!(benches);
