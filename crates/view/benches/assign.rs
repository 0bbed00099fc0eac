//! `calc assign` on 500 trees and 500 pots, every pot open to every tree: what it prints as `seconds`, and with the reading of its file.
//!
//! The figures come from SplitMix64, as those of `season/benches/assign.rs`: the same shelf, written as a file.

use std::{fmt::Write, hint::black_box};

use criterion::{Criterion, criterion_group, criterion_main};
use intake::instance;
use view::shelf::shared_out;

const SIZE: u64 = 500;

/// The best sum, as scipy's `linear_sum_assignment` finds it on the same matrix.
const BEST: i64 = 498_603;

fn dice(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Points 0 to 1000 row by row, the next number of the dice passed over each time; the first twenty trees stand in boxes, each other in the
/// pot of its own number.
fn file() -> String {
    let mut state = SIZE;
    let (mut trees, mut pots, mut options) = (String::new(), String::new(), String::new());
    for tree in 0..SIZE {
        let pot = if tree < 20 { "null".to_string() } else { tree.to_string() };
        write!(trees, "{{\"id\":{tree},\"pot\":{pot},\"training_score\":null}},").expect("text");
        write!(pots, "{{\"id\":{tree}}},").expect("text");
        for pot in 0..SIZE {
            write!(options, "[{tree},{pot},{}],", dice(&mut state) % 1001).expect("text");
            dice(&mut state);
        }
    }
    let [trees, pots, options] = [&trees, &pots, &options].map(|list| list.trim_end_matches(','));
    format!(
        "{{\"format\":\"budswell-assign-1\",\"trees\":[{trees}],\"pots\":[{pots}],\"options\":[{options}],\
         \"cycle_penalty\":0,\"temp_containers\":{SIZE}}}"
    )
}

fn calc_assign(c: &mut Criterion) {
    let text = file();
    let it = instance::read(&text).expect("the file is as it should be");
    let mut group = c.benchmark_group("view/shared_out");
    group.sample_size(10);
    group.bench_function("all_free_swaps/500x500", |b| {
        b.iter(|| {
            let shared = shared_out(black_box(&it.shelf), &it.trees, &it.pots).expect("a plan");
            assert!(shared.value == BEST && shared.proven);
            shared.boxes
        });
    });
    group.bench_function("all_free_swaps/500x500/with_reading", |b| {
        b.iter(|| {
            let it = instance::read(black_box(&text)).expect("the file is as it should be");
            let shared = shared_out(&it.shelf, &it.trees, &it.pots).expect("a plan");
            assert_eq!(shared.value, BEST);
            shared.boxes
        });
    });
    group.finish();
}

criterion_group!(benches, calc_assign);
criterion_main!(benches);
