//! Readings over HTTP in batches of 1, 10 and 100: one logger, and four at once; all must be kept.

use std::{
    hint::black_box,
    sync::atomic::{AtomicI64, Ordering},
    thread,
    time::{Duration, Instant},
};

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use jiff::Timestamp;
use serde_json::json;
use store::store::Store;

#[path = "../tests/sender/mod.rs"]
mod sender;
#[path = "../tests/served/mod.rs"]
mod served;

use sender::{Sender, batch, collection};
use served::Served;

const PLACE: &str = "cold-frame";

/// Ten years back; readings follow at one a second from here on.
const BACK: i64 = 10 * 365 * 86_400;

fn readings(c: &mut Criterion) {
    let folder = tempfile::tempdir().expect("a folder");
    let token = collection(folder.path());
    let house = Served::start(["serve", "--data", folder.path().to_str().expect("a plain name")]);
    let (first, sent) = (Timestamp::now().as_second() - BACK, AtomicI64::new(0));
    let send = |line: &mut Sender, size: i64| {
        let from = first + sent.fetch_add(size, Ordering::Relaxed);
        let answer = line.post(&batch(PLACE, (from..from + size).map(|at| (at, (at % 400) as f64 / 10.0))));
        let answer = answer.expect("an answer");
        assert!(answer.status == 200 && answer.head.contains("application/json"), "{answer:?}");
        let told: serde_json::Value = serde_json::from_str(&answer.body).expect("JSON");
        assert_eq!(told, json!({"taken": size, "known": 0, "refused": []}));
        black_box(told);
    };
    let open = || Sender::with_token(house.address(), &token).expect("a line");

    let mut group = c.benchmark_group("budswell/readings");
    group.measurement_time(Duration::from_secs(10));
    for size in [1, 10, 100] {
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::new("one_logger", size), |b| {
            let mut line = open();
            b.iter(|| send(&mut line, size));
        });
    }
    for size in [1, 100] {
        group.throughput(Throughput::Elements(size as u64));
        group.bench_function(BenchmarkId::new("four_loggers", size), |b| {
            b.iter_custom(|times| {
                let begun = Instant::now();
                thread::scope(|scope| {
                    for logger in 0..4 {
                        let mut line = open();
                        scope.spawn(move || (logger..times).step_by(4).for_each(|_| send(&mut line, size)));
                    }
                });
                begun.elapsed()
            });
        });
    }
    group.finish();

    drop(house); // a kill -9
    let reader = Store::open(folder.path()).expect("a store").reader().expect("a reader");
    let kept = reader.air_readings(PLACE, 0, i64::MAX).expect("readings").len() as i64;
    assert_eq!(kept, sent.into_inner(), "acknowledged and not kept");
    println!("{kept} readings acknowledged, all kept after a kill");
}

criterion_group!(benches, readings);
criterion_main!(benches);
