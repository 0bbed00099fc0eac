//! What a tree draws beyond or below the rule, learned from weighings and from remarks at the can.

mod remark;

pub use remark::{Feel, Grid, Remark};

use measure::{
    quantity::{Days, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::leaf::LeafClass;

/// How surely a use was observed, as variance of its logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Observed {
    /// On a scale.
    Weighed,
    /// By eye.
    Judged,
    /// With a variance of its own.
    Variance(f64),
}

impl Observed {
    /// The variance.
    pub fn variance(self) -> Sourced<f64> {
        let value = match self {
            Observed::Weighed => 0.06,
            Observed::Judged => 0.25,
            Observed::Variance(given) => given,
        };
        Sourced { value, standing: Standing::Estimate("scatter of daily use about its prediction") }
    }
}

/// What is believed of a tree's coefficient: its logarithm is normal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficient {
    mean: f64,
    variance: f64,
    drift: f64,
}

impl Default for Coefficient {
    /// Nothing learned: 1, within a factor of two either way; it may wander by 2 % in a day.
    fn default() -> Coefficient {
        Coefficient { mean: 0.0, variance: 0.49, drift: 0.0005 }
    }
}

impl Coefficient {
    /// A belief of one's own.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a variance is negative.
    pub fn new(mean_log: f64, variance: f64, drift_per_day: f64) -> Result<Coefficient, OutOfRange> {
        Ok(Coefficient {
            mean: within("logarithm of the coefficient", mean_log, -10.0, 10.0)?,
            variance: within("its variance", variance, 0.0, 100.0)?,
            drift: within("its drift a day", drift_per_day, 0.0, 10.0)?,
        })
    }

    /// The coefficient: the middle of the belief.
    pub fn value(&self) -> f64 {
        self.mean.exp()
    }

    /// Its logarithm.
    pub fn mean_log(&self) -> f64 {
        self.mean
    }

    /// Variance of its logarithm.
    pub fn variance(&self) -> f64 {
        self.variance
    }

    /// Spread of its logarithm.
    pub fn spread(&self) -> f64 {
        self.variance.sqrt()
    }

    /// The belief after a time without news, grown vaguer.
    #[must_use]
    pub fn waited(self, days: Days) -> Coefficient {
        Coefficient { variance: self.variance + self.drift * days.0.max(0.0), ..self }
    }

    /// The belief after a use was observed.
    ///
    /// ```text
    /// K = P/(P + R)    m ← m + K (ln r − m)    P ← (1 − K) P    before it P ← P + q·days
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | m, P | [`Coefficient`] | mean and variance of ln c | 1 |
    /// | r | `ratio` | use observed over that predicted with c = 1 | 1 |
    /// | R | `observed` | variance of ln r | 1 |
    /// | q | | drift, see [`Coefficient::waited`] | d⁻¹ |
    ///
    /// **Holds** while the leaf state stays in its class. **Error** exact for normal errors. **Source** Kalman filter, scalar,
    /// textbook. **Checked** `tests/learn.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the ratio is not above 0 or the variance not above 0.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::Days;
    /// use water::learn::{Coefficient, Observed};
    ///
    /// let learned = Coefficient::default().waited(Days(3.0)).seen(1.6, Observed::Variance(0.0625))?;
    /// assert_eq!(format!("{:.3} ± {:.3}", learned.value(), learned.spread()), "1.517 ± 0.235");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn seen(self, ratio: f64, observed: Observed) -> Result<Coefficient, OutOfRange> {
        let log = within("use over prediction", ratio, 1e-4, 1e4)?.ln();
        let noise = within("variance of an observation", observed.variance().value, 1e-9, 100.0)?;
        let gain = self.variance / (self.variance + noise);
        Ok(Coefficient {
            mean: self.mean + gain * (log - self.mean),
            variance: self.variance * (1.0 - gain),
            ..self
        })
    }

    /// Chance that the coefficient is above a value.
    ///
    /// ```
    /// use water::learn::Coefficient;
    ///
    /// assert_eq!(Coefficient::default().chance_above(1.0).0, 0.5);
    /// ```
    pub fn chance_above(&self, value: f64) -> Share {
        Share(crate::dry_down::normal((self.mean - value.ln()) / self.spread().max(f64::MIN_POSITIVE)))
    }
}

/// What is learned of one tree: a belief for each class of leaf states.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Learned {
    bare: Coefficient,
    growing: Coefficient,
    full: Coefficient,
    winter: Coefficient,
}

impl Learned {
    /// The belief that applies.
    ///
    /// ```
    /// use water::{leaf::LeafClass, learn::{Learned, Observed}};
    ///
    /// let mut tree = Learned::default();
    /// *tree.of_mut(LeafClass::Full) = tree.of(LeafClass::Full).seen(1.5, Observed::Weighed)?;
    /// assert!(tree.of(LeafClass::Full).value() > 1.4 && tree.of(LeafClass::Bare).value() == 1.0);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn of(&self, class: LeafClass) -> Coefficient {
        match class {
            LeafClass::Bare => self.bare,
            LeafClass::Growing => self.growing,
            LeafClass::Full => self.full,
            LeafClass::Winter => self.winter,
        }
    }

    /// The belief that applies, to be replaced.
    pub fn of_mut(&mut self, class: LeafClass) -> &mut Coefficient {
        match class {
            LeafClass::Bare => &mut self.bare,
            LeafClass::Growing => &mut self.growing,
            LeafClass::Full => &mut self.full,
            LeafClass::Winter => &mut self.winter,
        }
    }
}
