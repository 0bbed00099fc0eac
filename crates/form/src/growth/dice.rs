//! Chance from a seed.

use std::f64::consts::PI;

use rand_pcg::{
    Pcg64Mcg,
    rand_core::{Rng, SeedableRng},
};

/// A row of throws that is the same for the same seed.
#[derive(Clone, Debug)]
pub(super) struct Dice(Pcg64Mcg);

impl Dice {
    pub(super) fn new(seed: u64) -> Dice {
        Dice(Pcg64Mcg::seed_from_u64(seed))
    }

    /// Evenly from 0 to 1, 1 left out.
    pub(super) fn even(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal of mean 0 and spread 1 (Box and Muller 1958).
    pub(super) fn normal(&mut self) -> f64 {
        let (far, turn) = (1.0 - self.even(), self.even());
        (-2.0 * far.ln()).sqrt() * (2.0 * PI * turn).cos()
    }

    /// How many of a few happen, each with this chance.
    pub(super) fn of(&mut self, count: u8, chance: f64) -> u8 {
        (0..count).map(|_| u8::from(self.even() < chance)).sum()
    }
}
