//! How long it takes to look two weeks ahead over a whole bench in twenty weathers.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use measure::quantity::{Hours, Litre, Millimetre, Share, SquareMetre};
use water::{
    dry_down::Pot,
    round::{Departures, Outcome, RoundPot, Start, Weather, chance_dry, round},
};

const MEMBERS: usize = 20;
const STEPS: usize = 14 * 24;

/// Demand by the hour of a bright fortnight, more in each member; rain on every third day of the later members.
fn weathers() -> Vec<(Vec<Millimetre>, Vec<Millimetre>)> {
    let member = |member: usize| {
        let demand = (0..STEPS).map(|hour| {
            let sun = ((hour % 24) as f64 - 6.0).clamp(0.0, 12.0) / 12.0;
            Millimetre(sun * (1.0 - sun) * (2.0 + member as f64 / 10.0))
        });
        let rain = (0..STEPS).map(|hour| Millimetre(if hour % 72 == 40 { member as f64 / 2.0 } else { 0.0 }));
        (demand.collect(), rain.collect())
    };
    (0..MEMBERS).map(member).collect()
}

fn bench_of(pots: usize) -> Vec<RoundPot> {
    let pot = |at: usize| {
        let size = (at % 30) as f64;
        let pot = Pot::new(Litre(0.1 + 0.15 * size), Share(0.4)).expect("a pot of our own");
        let start = Start {
            left: Share(0.5 + (at % 6) as f64 / 10.0),
            per_millimetre: Litre(0.02 + 0.008 * size),
            surface: SquareMetre(0.01 + 0.003 * size),
            limit: Share(0.3),
            spread: 0.25,
            since: Hours(0.0),
        };
        RoundPot::new(&pot, &start).expect("a pot of our own")
    };
    (0..pots).map(pot).collect()
}

fn two_weeks_ahead(c: &mut Criterion) {
    let made = weathers();
    let weathers: Vec<Weather> = made.iter().map(|(demand, rain)| Weather { demand, rain }).collect();
    let departures = Departures::new(MEMBERS);
    for size in [300, 10_000] {
        let pots = bench_of(size);
        let mut outcomes = vec![Outcome::default(); size * MEMBERS];
        let mut group = c.benchmark_group("water/round");
        group.sample_size(10);
        group.bench_function(format!("{size}_pots_14_days_20_weathers"), |b| {
            b.iter(|| {
                round(black_box(&pots), &weathers, Hours(1.0), &departures, &mut outcomes)
                    .expect("all parts fit");
                let dry: f64 = outcomes.chunks_exact(MEMBERS).map(|row| chance_dry(row, Hours(72.0)).0).sum();
                assert!(dry > 0.0 && dry < size as f64);
                dry
            });
        });
        group.finish();
    }
}

criterion_group!(benches, two_weeks_ahead);
criterion_main!(benches);
