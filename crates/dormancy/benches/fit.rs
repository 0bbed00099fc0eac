//! Time to fit 48 dated springs: first flower of the cherry at two Korean stations, 1997 to 2020.

#[path = "../tests/reference/mod.rs"]
mod reference;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use dormancy::fit::{TreeYear, thermal_time, unichill};
use reference::{korean_winters, korean_years};

fn fits(c: &mut Criterion) {
    let winters = korean_winters();
    let (mut springs, held) = korean_years(&winters, "prunus_yedoensis", 4);
    springs.years.extend(held.years);
    let years: &[TreeYear<'_>] = &springs.years;
    assert_eq!(years.len(), 48);
    c.bench_function("dormancy/fit_thermal_time/48", |b| {
        b.iter(|| {
            let fitted = thermal_time(black_box(years)).expect("48 springs");
            assert!(fitted.rmse < 2.11, "{}", fitted.rmse);
            fitted
        });
    });
    c.bench_function("dormancy/fit_unichill/48", |b| {
        b.iter(|| {
            let fitted = unichill(black_box(years)).expect("48 springs");
            assert!(fitted.rmse < 1.43, "{}", fitted.rmse);
            fitted
        });
    });
}

criterion_group!(benches, fits);
criterion_main!(benches);
