//! How long it takes to rebuild twenty years of hours, to learn a shelter, and to light three years.

use std::hint::black_box;

use climate::{
    hours::from_extremes,
    shelter::{ShelterModel, fit},
    sun::hourly_sun,
    synth::{SynthClimate, daily, hours},
};
use criterion::{Criterion, criterion_group, criterion_main};
use jiff::{Timestamp, civil::date};
use measure::quantity::{Celsius, Degrees, Hours};

const HERE: Degrees = Degrees(47.4);
const EAST: Degrees = Degrees(8.5);

fn town() -> SynthClimate {
    SynthClimate::temperate(HERE, Celsius(9.5), 9.5)
}

fn midnight() -> Timestamp {
    "2026-01-01T00:00:00Z".parse().expect("a date of our own")
}

fn twenty_years(c: &mut Criterion) {
    let first = date(2006, 1, 1);
    let days = daily(&hours(&town(), first, 20 * 365, 1));
    c.bench_function("climate/from_extremes/20_years", |b| {
        b.iter(|| {
            let hours = from_extremes(HERE, first, black_box(&days)).expect("lows are below highs");
            assert_eq!(hours.len(), 20 * 8760);
            hours
        });
    });
}

fn sixty_days(c: &mut Criterion) {
    let outside = hours(&town(), date(2026, 1, 1), 60, 1);
    let sun = hourly_sun(HERE, EAST, midnight(), 1440);
    let frame = ShelterModel { lag: Hours(3.5), offset: 1.2, share: 0.92, sun: 3.0 };
    let inside = frame.series(&outside, &sun);
    c.bench_function("climate/shelter_fit/60_days", |b| {
        b.iter(|| {
            let learned = fit(black_box(&outside), &sun, &inside).expect("winter weather changes");
            assert!(learned.accepted() && (learned.model.lag.0 - 3.5).abs() < 0.01);
            learned
        });
    });
}

fn three_years(c: &mut Criterion) {
    c.bench_function("climate/hourly_sun/3_years", |b| {
        b.iter(|| {
            let sun = hourly_sun(black_box(HERE), EAST, midnight(), 3 * 8760);
            assert!(sun.iter().sum::<f64>() > 15_000.0);
            sun
        });
    });
    c.bench_function("climate/synth/3_years", |b| {
        b.iter(|| {
            let hours = hours(&town(), date(2023, 7, 1), 3 * 365, black_box(1));
            assert_eq!(hours.len(), 3 * 8760);
            hours
        });
    });
}

criterion_group!(benches, twenty_years, sixty_days, three_years);
criterion_main!(benches);
