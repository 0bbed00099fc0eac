//! Learning from a remark at the can: the pot was still wet, right, or too dry.

use measure::{
    quantity::Litre,
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

use crate::dry_down::normal;

/// How the pot felt when it was watered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feel {
    /// Still wet.
    Wet,
    /// Right.
    Right,
    /// Too dry.
    Dry,
}

/// A remark with what the rule had expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Remark {
    /// Use since the last watering as predicted with coefficient 1.
    pub predicted: Litre,
    /// Water that roots can take from the full pot.
    pub holds: Litre,
    /// How it felt.
    pub feel: Feel,
}

/// Shares of the pot's water gone at which it stops being wet, and starts being dry.
pub const CUTS: Sourced<(f64, f64)> = Sourced { value: (0.35, 0.70), standing: Standing::Practice };
/// Scatter of a remark, as spread of the logarithm of the share gone.
const SCATTER: f64 = 0.25;
/// Points of the grid and its ends, ln c.
const POINTS: usize = 161;
const ENDS: f64 = 2.0;

/// What is believed of a tree's coefficient, point by point of its logarithm from −2 to 2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid([f64; POINTS]);

impl Grid {
    /// Nothing learned: normal about 1 with spread `spread` of the logarithm; 0.7 is usual.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the spread is not above 0.
    pub fn new(spread: f64) -> Result<Grid, OutOfRange> {
        let spread = within("spread of the coefficient", spread, 0.01, 10.0)?;
        let mut grid = Grid(std::array::from_fn(|at| (-0.5 * (log_at(at) / spread).powi(2)).exp()));
        grid.normalise();
        Ok(grid)
    }

    /// The belief after a remark.
    ///
    /// ```text
    /// u = ln(c · predicted/holds) + N(0, 0.25²);  wet u < ln 0.35, dry u > ln 0.70, right between
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | c | the grid | coefficient | 1 |
    /// | predicted, holds | `remark` | predicted use, water of the full pot | L |
    ///
    /// **Holds** for one person's hand. **Error** exact but for the grid's step of 0.025. **Source** Bayes on a grid, textbook;
    /// the cuts are common practice. **Checked** `tests/learn.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a volume is not above 0.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::Litre;
    /// use water::learn::{Feel, Grid, Remark};
    ///
    /// let dry = Remark { predicted: Litre(0.3), holds: Litre(0.9), feel: Feel::Dry };
    /// let learned = Grid::new(0.7)?.told(&dry)?;
    /// assert_eq!(format!("{:.3} ± {:.3}", learned.mean_log(), learned.spread()), "0.989 ± 0.352");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn told(mut self, remark: &Remark) -> Result<Grid, OutOfRange> {
        let predicted = within("predicted use, L", remark.predicted.0, 1e-6, 1e4)?;
        let holds = within("water for roots, L", remark.holds.0, 1e-6, 1e4)?;
        let ready = (predicted / holds).ln();
        let (wet, dry) = CUTS.value;
        for (at, weight) in self.0.iter_mut().enumerate() {
            let under = |cut: f64| normal((cut.ln() - ready - log_at(at)) / SCATTER);
            *weight *= match remark.feel {
                Feel::Wet => under(wet),
                Feel::Right => under(dry) - under(wet),
                Feel::Dry => 1.0 - under(dry),
            };
        }
        self.normalise();
        Ok(self)
    }

    /// The belief after a use was observed on a scale or by eye.
    ///
    /// Each point is weighed by the normal chance of the ratio; without remarks it is what [`super::Coefficient::seen`] gives, but for the
    /// grid's ends.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the ratio or its variance is not above 0.
    ///
    /// ```
    /// use water::learn::{Coefficient, Grid, Observed};
    ///
    /// let (grid, exact) = (Grid::new(0.7)?.seen(1.5, Observed::Weighed)?, Coefficient::default().seen(1.5, Observed::Weighed)?);
    /// assert!((grid.mean_log() - exact.mean_log()).abs() < 1e-3);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn seen(mut self, ratio: f64, observed: super::Observed) -> Result<Grid, OutOfRange> {
        let log = within("use over prediction", ratio, 1e-4, 1e4)?.ln();
        let noise = within("variance of an observation", observed.variance().value, 1e-9, 100.0)?;
        for (at, weight) in self.0.iter_mut().enumerate() {
            *weight *= (-0.5 * (log - log_at(at)).powi(2) / noise).exp();
        }
        self.normalise();
        Ok(self)
    }

    /// The belief after something happened that may have changed the coefficient: its logarithm may have moved by so much, up or down.
    ///
    /// ```
    /// use water::learn::{Grid, Observed};
    ///
    /// let learned = Grid::new(0.7)?.seen(1.5, Observed::Weighed)?;
    /// let loose = learned.loosened(0.4);
    /// assert!((loose.mean_log() - learned.mean_log()).abs() < 0.01 && loose.spread() > 0.4);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn loosened(self, by: f64) -> Grid {
        let reach =
            |from: usize, to: usize| (-0.5 * ((log_at(from) - log_at(to)) / by.max(1e-3)).powi(2)).exp();
        let mut grid =
            Grid(std::array::from_fn(|to| (0..POINTS).map(|from| self.0[from] * reach(from, to)).sum()));
        grid.normalise();
        grid
    }

    /// Mean of ln c.
    pub fn mean_log(&self) -> f64 {
        self.0.iter().enumerate().map(|(at, weight)| weight * log_at(at)).sum()
    }

    /// Spread of ln c.
    pub fn spread(&self) -> f64 {
        let mean = self.mean_log();
        self.0.iter().enumerate().map(|(at, weight)| weight * (log_at(at) - mean).powi(2)).sum::<f64>().sqrt()
    }

    /// Makes the weights sum to one; remarks that contradict the whole grid leave it flat.
    fn normalise(&mut self) {
        let sum: f64 = self.0.iter().sum();
        if sum > 0.0 {
            self.0.iter_mut().for_each(|weight| *weight /= sum);
        } else {
            self.0 = [1.0 / POINTS as f64; POINTS];
        }
    }
}

fn log_at(at: usize) -> f64 {
    -ENDS + 2.0 * ENDS * at as f64 / (POINTS - 1) as f64
}
