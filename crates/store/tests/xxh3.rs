//! The hash behind the sums over the rows, against the vectors by which the reference program xxhsum tests itself (seed 0).
//!
//! The vectors were read in an excerpt of `xxhsum.c` up to 48 bytes, and to their end in another library's copy of them.

use xxhash_rust::xxh3::xxh3_64;

/// The bytes that the reference program hashes.
fn bytes(count: usize) -> Vec<u8> {
    const PRIME32: u64 = 2_654_435_761;
    const PRIME64: u64 = 11_400_714_785_074_694_797;

    let steps = std::iter::successors(Some(PRIME32), |step| Some(step.wrapping_mul(PRIME64)));
    steps.map(|step| (step >> 56) as u8).take(count).collect()
}

#[test]
fn every_length_agrees_with_the_reference_program() {
    let lines: Vec<(usize, u64)> = include_str!("vectors/xxh3.csv")
        .lines()
        .skip(1)
        .map(|line| line.split_once(',').unwrap())
        .map(|(count, hash)| (count.parse().unwrap(), u64::from_str_radix(hash, 16).unwrap()))
        .collect();
    assert_eq!(lines.len(), 13);
    for (count, hash) in lines {
        assert_eq!(xxh3_64(&bytes(count)), hash, "{count} bytes");
    }
}
