//! How long a season of a bonsai takes, two plans side by side, and large plants, beside the speeds of `speed.json`.

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use form::{
    growth::{Act, Grower, Plan, Plant, Question, When, forecast, habit::ELM, habit::HORNBEAM},
    skeleton::{Edge, Segment, Skeleton},
    thickness::Vigour,
};
use measure::quantity::{Degrees, Millimetre};

/// A bonsai of a trunk and twelve primaries, each with tips to be filled in.
fn bonsai() -> Plant {
    let mut segments: Vec<Segment> = Vec::new();
    let piece = |bearer, edge, axis, [length, base, tip]: [f64; 3], azimuth: f64, inclination| Segment {
        bearer,
        edge,
        axis,
        length: Millimetre(length),
        base: Millimetre(base),
        tip: Millimetre(tip),
        azimuth: Degrees(azimuth),
        inclination: Degrees(inclination),
    };
    let mut trunk = None;
    for at in 0..13_u32 {
        let thick = 50.0 - 3.6 * f64::from(at);
        let edge = if at == 0 { Edge::Root } else { Edge::Follows };
        segments.push(piece(trunk, edge, 1, [35.0, thick, thick - 3.6], 90.0 * f64::from(at), 75.0));
        trunk = Some(segments.len() - 1);
        if at > 0 {
            let long = 190.0 - 12.0 * f64::from(at);
            segments.push(piece(
                trunk,
                Edge::Branches,
                1 + at,
                [long, 0.3 * thick, 3.0],
                137.5 * f64::from(at),
                10.0,
            ));
        }
    }
    let tree = Skeleton::new(segments).expect("a tree");
    let tips: Vec<(u32, u32)> = (2..=13).map(|axis| (axis, 25)).collect();
    Plant::from_skeleton(&tree, &tips, &ELM)
}

fn season(c: &mut Criterion) {
    let start = bonsai();
    let plan = Plan::all(1..=13, Act::KeepShort { nodes: 2 }, When::Summer);
    c.bench_function(&format!("form/season/{}", start.len()), |b| {
        b.iter(|| {
            let mut plant = black_box(&start).clone();
            let mut grower = Grower::new(ELM, 1.0, 7);
            grower.settle(&mut plant);
            grower.season(&mut plant, &plan);
            assert!(plant.len() > start.len() && plant.tips() > 250, "{} {}", plant.len(), plant.tips());
            plant.len()
        });
    });
}

fn plans(c: &mut Criterion) {
    let start = bonsai();
    let kept = Plan::all(1..=13, Act::KeepShort { nodes: 2 }, When::Summer);
    let mut run = kept.clone();
    run.orders.retain(|order| order.limb != 4);
    c.bench_function("form/plan_a_and_b/3x20", |b| {
        b.iter(|| {
            let ask = |plan| Question {
                start: &start,
                plan,
                habit: ELM,
                vigour: Vigour::learn(&[]),
                wood: 1.0,
                seasons: 3,
                seed: 1,
                plants: 20,
            };
            let [a, b] = [&kept, &run].map(|plan| forecast(&ask(black_box(plan))));
            let thick = |told: &form::growth::Forecast| told.limbs[3].thickness.middle.0;
            assert!(thick(&b) > thick(&a), "{} {}", thick(&a), thick(&b));
            (a, b)
        });
    });
}

/// A plant that runs for 20 seasons; speed in metamers that stand at the end of its seasons.
fn metamers(c: &mut Criterion) {
    let grow = || {
        let mut plant = Plant::seedling(&HORNBEAM);
        let mut grower = Grower::new(HORNBEAM, 1.0, 3);
        for _ in 0..20 {
            grower.season(&mut plant, &Plan::let_run());
        }
        plant.len()
    };
    let count = grow();
    assert!(count > 2_000, "{count}");
    let mut group = c.benchmark_group("form/grow_20_seasons");
    group.sample_size(10).throughput(Throughput::Elements(count as u64));
    group.bench_function(count.to_string(), |b| {
        b.iter(|| {
            let grown = grow();
            assert_eq!(grown, count);
            grown
        });
    });
    group.finish();
}

criterion_group!(benches, season, plans, metamers);
criterion_main!(benches);
