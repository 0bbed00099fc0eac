//! Time to fit all needs to everything that was dated: 2,635 rows, one core.

#[path = "../examples/fit_needs/fit.rs"]
mod fit;
#[path = "../tests/truth/mod.rs"]
mod truth;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};

fn fits(c: &mut Criterion) {
    let cases = truth::everything().expect("our own files");
    let mut group = c.benchmark_group("dormancy");
    group.sample_size(10);
    group.bench_function("fit_needs", |b| {
        b.iter(|| {
            let fitted = fit::fit(black_box(&cases)).expect("a solution");
            assert!(fitted.rows > 2_000 && fitted.species.len() > 150);
            fitted.unknowns
        });
    });
    group.finish();
}

criterion_group!(benches, fits);
criterion_main!(benches);
