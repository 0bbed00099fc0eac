//! Time to fit 48 dated springs: first flower of the cherry at two Korean stations, 1997 to 2020.

#[path = "../tests/reference/mod.rs"]
mod reference;
#[path = "../tests/vector/mod.rs"]
mod vector;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use dormancy::fit::{Fitted, TooFew, TreeYear, alternating, sequential, thermal_time, unichill, uniforc};
use reference::{LOOKS, korean_winters, korean_years, rows};

fn fits(c: &mut Criterion) {
    let (winters, looks) = (korean_winters().expect("our own"), rows(LOOKS).expect("our own"));
    let (mut springs, held) = korean_years(&winters, &looks, "prunus_yedoensis", 4);
    springs.years.extend(held.years);
    let years: &[TreeYear<'_>] = &springs.years;
    assert_eq!(years.len(), 48);
    // Training error that each fit must reach, days.
    let fits: [(&str, Fit, f64); 5] = [
        ("thermal_time", thermal_time, 2.11),
        ("uniforc", uniforc, 2.3),
        ("alternating", alternating, 2.3),
        ("sequential", sequential, 2.3),
        ("unichill", unichill, 1.43),
    ];
    for (name, fit, least) in fits {
        c.bench_function(&format!("dormancy/fit_{name}/48"), |b| {
            b.iter(|| {
                let fitted = fit(black_box(years)).expect("48 springs");
                assert!(fitted.rmse < least, "{name}: {}", fitted.rmse);
                fitted
            });
        });
    }
}

type Fit = fn(&[TreeYear<'_>]) -> Result<Fitted, TooFew>;

criterion_group!(benches, fits);
criterion_main!(benches);
