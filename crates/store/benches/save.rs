//! Saving on a real disk: one act of the grower, batches of a sensor, and a file of hours.

use std::path::Path;

use climate::record::HourMean;
use collection::{
    place::Place,
    reading::{Measured, Reading},
};
use criterion::{BatchSize, BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use measure::{quantity::Celsius, shelter::Shelter};
use store::store::{Act, Store};

const HOURS: i64 = 8_760;

fn place(number: u64) -> Place {
    Place {
        key: format!("frame-{number}"),
        name: format!("Frame {number}"),
        shelter: Shelter::ColdFrame,
        facing: None,
        lamp: None,
        capacity: None,
    }
}

fn add_place(store: &mut Store, number: u64) {
    let place = place(number);
    let act = Act::AddPlace(place.key.clone());
    assert!(store.transact(&act, |change| change.add_place(&place)).expect("a place"));
}

fn stocked(folder: &Path) -> Store {
    let mut store = Store::open(folder).expect("a store");
    add_place(&mut store, 0);
    store
        .transact(&Act::GiveToken("hut".into()), |change| change.add_token("hut", "beef", 0))
        .expect("a token");
    store
}

fn batch(from: i64, size: i64) -> Vec<Reading> {
    let reading = |at: i64| Reading {
        thing: "frame-0".into(),
        at,
        measured: Measured::Temperature(Celsius((at % 400) as f64 / 10.0)),
    };
    (from..from + size).map(reading).collect()
}

fn acts(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let (mut store, mut number) = (stocked(folder.path()), 0);
    c.bench_function("store/act/one", |b| {
        b.iter(|| {
            number += 1;
            add_place(&mut store, number);
        })
    });
    let places = store.reader().expect("a reader").places().expect("places");
    assert_eq!(places.len() as u64, number + 1);
}

fn readings(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let (mut store, mut sent) = (stocked(folder.path()), 0);
    let mut group = c.benchmark_group("store/readings");
    for size in [1, 100] {
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::from_parameter(size), |b| {
            b.iter(|| {
                let readings = batch(sent, size);
                sent += size;
                let act = Act::Readings("hut".into());
                let told = store.transact(&act, |change| change.add_readings("hut", sent, &readings));
                assert_eq!(told.expect("outcomes").len() as i64, size);
            })
        });
    }
    group.finish();
    let kept = store.reader().expect("a reader").air_readings("frame-0", 0, i64::MAX).expect("readings");
    assert_eq!(kept.len() as i64, sent);
}

fn hours(c: &mut Criterion) {
    let hours: Vec<HourMean> = (0..HOURS)
        .map(|hour| HourMean { at: hour * 3600, temperature: (hour % 48) as f64 - 8.0, filled: false })
        .collect();
    let mut group = c.benchmark_group("store/import");
    group.throughput(Throughput::Elements(HOURS as u64));
    group.sample_size(20);
    group.bench_function("year_of_hours", |b| {
        let fresh = || {
            let folder = tempfile::tempdir().expect("a folder");
            let store = stocked(folder.path());
            (folder, store)
        };
        b.iter_batched_ref(
            fresh,
            |(_, store)| {
                let act = Act::Import("hours".into());
                let added = store.transact(&act, |change| change.add_station_hours(&hours)).expect("hours");
                assert_eq!(added, HOURS as usize);
            },
            BatchSize::PerIteration,
        )
    });
    group.finish();
}

criterion_group!(benches, acts, readings, hours);
criterion_main!(benches);
