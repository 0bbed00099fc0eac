//! A die that always falls the same way: the search is repeatable.

/// SplitMix64 from a given seed.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A step of about the given size, more often small; half of the time none.
    pub(super) fn about(&mut self, size: f64) -> f64 {
        if self.even() < 0.5 {
            return 0.0;
        }
        size * (self.even() + self.even() + self.even() - 1.5) * 2.0
    }
}
