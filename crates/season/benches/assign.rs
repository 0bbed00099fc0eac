//! How long the whole shelf takes: 500 trees and 500 pots, every pot open to every tree, and as thinned by the hard limits; the best
//! plan and its order, carried out once, as `calc assign` and the pages ask for it.
//!
//! The figures come from SplitMix64, so that any other program can be given the same shelf; VALIDATION.md sets scipy beside it, and the
//! crates `lapjv` and `pathfinding`.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use season::shelf::{
    assign::{Choice, Shelf, Tree, plan},
    steps::carry_out,
};

struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

/// Points 0 to 1000 row by row; of a hundred choices so many stand. Each tree stands in the pot of its own number, but for the
/// first twenty, which stand in boxes.
fn shelf(size: usize, standing: u64, ring_price: i64) -> Shelf {
    let mut dice = Dice(size as u64);
    let mut choices = Vec::new();
    for tree in 0..size {
        for pot in 0..size {
            let points = (dice.next() % 1001) as i64;
            if dice.next() % 100 < standing {
                choices.push(Choice { tree, pot, points });
            }
        }
    }
    let tree = |pot| Tree { stands_in: (pot >= 20).then_some(pot), training: (standing < 100).then_some(0) };
    Shelf { trees: (0..size).map(tree).collect(), pots: size, choices, ring_price, boxes: size }
}

fn shelves(c: &mut Criterion) {
    let mut group = c.benchmark_group("season/shelf");
    group.sample_size(10);
    for (name, standing, price) in [
        ("all_free_swaps", 100, 0),
        ("all_priced", 100, 25),
        ("tenth_free_swaps", 10, 0),
        ("tenth_priced", 10, 25),
    ] {
        let shelf = shelf(500, standing, price);
        let told = plan(&shelf).expect("a plan");
        println!(
            "{name}: value {}, bound {}, free swaps {}, {} rings, {} part-plans",
            told.value, told.bound, told.free_swaps, told.rings, told.looked_at
        );
        assert!(told.proven());
        assert_eq!(carry_out(&shelf, &told.steps).expect("an order").value, told.value);
        group.bench_function(format!("{name}/500x500"), |b| {
            b.iter(|| {
                let again = plan(black_box(&shelf)).expect("a plan");
                let done = carry_out(black_box(&shelf), &again.steps).expect("an order");
                assert_eq!((again.value, done.value), (told.value, told.value));
                done.boxes
            });
        });
    }
    group.finish();
}

criterion_group!(benches, shelves);
criterion_main!(benches);
