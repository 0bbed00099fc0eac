//! Page's sum: small departures added up until they are too many.

use measure::range::{OutOfRange, within};

/// A running sum with its allowance and its limit, for values of spread one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cusum {
    allowance: f64,
    limit: f64,
    sum: f64,
}

impl Cusum {
    /// A sum at nothing.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the limit is not above 0 or the allowance negative.
    pub fn new(allowance: f64, limit: f64) -> Result<Cusum, OutOfRange> {
        Ok(Cusum {
            allowance: within("allowance", allowance, 0.0, 10.0)?,
            limit: within("limit of the sum", limit, 1e-6, 100.0)?,
            sum: 0.0,
        })
    }

    /// Adds a value; true is an alarm.
    ///
    /// ```text
    /// S ← max(0, S + z − k), alarm when S > h
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | S | [`Cusum::sum`] | running sum | 1 |
    /// | z | `value` | departure in spreads | 1 |
    /// | k, h | as given to [`Cusum::new`] | allowance, limit | 1 |
    ///
    /// **Holds** for independent values. **Error** see [`super::run_length::exact`] for its false alarms.
    /// **Source** Page 1954. **Checked** `tests/change.rs`.
    ///
    /// ```
    /// use water::change::cusum::Cusum;
    ///
    /// let mut sum = Cusum::new(0.5, 2.0)?;
    /// assert!(!sum.add(1.5) && !sum.add(1.0) && sum.add(1.5));
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn add(&mut self, value: f64) -> bool {
        self.sum = (self.sum + value - self.allowance).max(0.0);
        self.sum > self.limit
    }

    /// The running sum.
    pub fn sum(&self) -> f64 {
        self.sum
    }
}

/// A running sum of evidence, for values of unequal spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EvidenceSum {
    level: f64,
    rise: f64,
    limit: f64,
    sum: f64,
}

impl EvidenceSum {
    /// A sum at nothing, that waits for a rise from a level.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the limit is not above 0.
    pub fn new(level: f64, rise: f64, limit: f64) -> Result<EvidenceSum, OutOfRange> {
        Ok(EvidenceSum {
            level: within("level", level, -20.0, 20.0)?,
            rise: within("rise", rise, -20.0, 20.0)?,
            limit: within("limit of the sum", limit, 1e-6, 1000.0)?,
            sum: 0.0,
        })
    }

    /// Evidence of a value for the rise.
    ///
    /// ```text
    /// l = δ/s² · (y − μ0 − δ/2)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | l | returned | logarithm of the likelihood ratio | 1 |
    /// | y, s | `value`, `spread` | value and its spread | 1 |
    /// | μ0, δ | as given to [`EvidenceSum::new`] | level, rise | 1 |
    ///
    /// **Holds** for normal errors. **Error** none. **Source** Page 1954, likelihood form. **Checked** `tests/change.rs`.
    pub fn evidence(&self, value: f64, spread: f64) -> f64 {
        self.rise / (spread * spread) * (value - self.level - self.rise / 2.0)
    }

    /// Adds a value; true is an alarm.
    ///
    /// ```text
    /// S ← max(0, S + l), alarm when S > h
    /// ```
    ///
    /// Symbols as in [`EvidenceSum::evidence`]; h is the limit.
    ///
    /// **Holds**, **Source** as [`EvidenceSum::evidence`]. **Error** in made-up seasons limit 6 raised 4 to 8 false alarms in
    /// 100 tree-seasons. **Checked** `tests/change.rs`.
    pub fn add(&mut self, value: f64, spread: f64) -> bool {
        self.sum = (self.sum + self.evidence(value, spread)).max(0.0);
        self.sum > self.limit
    }

    /// The running sum.
    pub fn sum(&self) -> f64 {
        self.sum
    }
}
