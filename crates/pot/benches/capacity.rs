//! How long it takes to tell what ten thousand pots hold.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use measure::quantity::{Centimetre, PerCentimetre, Share, SquareCentimetre};
use pot::{
    column::Column,
    retention::{Curve, Retention},
};

fn ten_thousand(c: &mut Criterion) {
    let [inside, residual, between] = [0.2, 0.03, 0.45].map(Share);
    let mix = |at: i32, n: f64| {
        let alpha = PerCentimetre(0.2 + 0.8 * f64::from(at) / 10_000.0);
        Retention::new(Curve { inside, residual, between, alpha, n, m: None }).expect("a mix")
    };
    let soil = |at: i32| {
        let [bottom, middle, top] = [100.0, 120.0, 142.0].map(SquareCentimetre);
        Column::through(Centimetre(3.0 + f64::from(at % 170) / 10.0), bottom, middle, top).expect("a pot")
    };
    for (grains, n) in [("sieved", 4.0), ("any", 2.7)] {
        let pots: Vec<_> = (0..10_000).map(|at| (mix(at, n), soil(at))).collect();
        c.bench_function(&format!("pot/capacity_{grains}/10000"), |b| {
            b.iter(|| {
                let water: f64 = black_box(&pots).iter().map(|(mix, soil)| mix.capacity(soil).water.0).sum();
                assert!((4_000.0..8_000.0).contains(&water), "{water}");
                water
            });
        });
    }
}

criterion_group!(benches, ten_thousand);
criterion_main!(benches);
