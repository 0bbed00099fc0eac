//! Where the present stretch of a series began, told anew with each value (Adams and MacKay's way).

use measure::{
    quantity::Share,
    range::{OutOfRange, within},
};
use statrs::function::gamma::ln_gamma;

/// What is believed of a stretch before its first value: mean and precision, normal-gamma.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Mean.
    pub mean: f64,
    /// How many values the belief in the mean is worth.
    pub worth: f64,
    /// Shape of the precision.
    pub shape: f64,
    /// Rate of the precision.
    pub rate: f64,
}

impl Stretch {
    /// Logarithm of the density of the next value: Student's t.
    fn log_density(&self, value: f64) -> f64 {
        let freedom = 2.0 * self.shape;
        let scale = self.rate * (self.worth + 1.0) / (self.shape * self.worth);
        let off = (value - self.mean).powi(2) / (freedom * scale);
        ln_gamma(f64::midpoint(freedom, 1.0))
            - ln_gamma(freedom / 2.0)
            - 0.5 * (freedom * std::f64::consts::PI * scale).ln()
            - f64::midpoint(freedom, 1.0) * off.ln_1p()
    }

    /// The belief after a value.
    fn after(&self, value: f64) -> Stretch {
        let off = value - self.mean;
        Stretch {
            mean: (self.worth * self.mean + value) / (self.worth + 1.0),
            worth: self.worth + 1.0,
            shape: self.shape + 0.5,
            rate: self.rate + 0.5 * self.worth * off * off / (self.worth + 1.0),
        }
    }
}

/// The chances of every length of the present stretch.
#[derive(Clone, Debug, PartialEq)]
pub struct Online {
    start: Stretch,
    chance_of_change: f64,
    lengths: Vec<(f64, Stretch)>,
}

impl Online {
    /// A series before its first value, whose stretches last `typical` values on average.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the belief is not one or stretches are shorter than a value.
    pub fn new(start: Stretch, typical: f64) -> Result<Online, OutOfRange> {
        within("worth of the mean", start.worth, 1e-9, 1e9)?;
        within("shape of the precision", start.shape, 1e-9, 1e9)?;
        within("rate of the precision", start.rate, 1e-12, 1e12)?;
        let typical = within("values a stretch lasts", typical, 1.0, 1e9)?;
        Ok(Online { start, chance_of_change: 1.0 / typical, lengths: vec![(1.0, start)] })
    }

    /// Takes a value.
    ///
    /// ```text
    /// P(r+1) ∝ P(r) p(x|r)(1 − H)    P(0) ∝ Σ P(r) p(x|r) H    H = 1/λ
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | P(r) | [`Online::chances`] | chance that the stretch holds the last r values | 1 |
    /// | x | `value` | the value | any |
    /// | p | [`Stretch`] | density of the next value, Student's t | |
    /// | λ | `typical` | values a stretch lasts | |
    ///
    /// **Holds** for independent normal values within a stretch. **Error** exact; memory grows with the series.
    /// **Source** Adams and MacKay 2007. **Checked** `tests/change.rs`.
    ///
    /// ```
    /// use water::change::online::{Online, Stretch};
    ///
    /// let start = Stretch { mean: 0.0, worth: 1.0, shape: 3.0, rate: 0.3 };
    /// let mut series = Online::new(start, 50.0)?;
    /// for value in [0.1, -0.1, 0.0, 0.1, -0.1, 0.0, 3.0, 3.1, 2.9, 3.0] {
    ///     series.add(value);
    /// }
    /// assert_eq!(series.most_likely(), 4);
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn add(&mut self, value: f64) {
        let mut anew = 0.0;
        for (chance, stretch) in &mut self.lengths {
            let met = *chance * stretch.log_density(value).exp();
            anew += met * self.chance_of_change;
            (*chance, *stretch) = (met * (1.0 - self.chance_of_change), stretch.after(value));
        }
        self.lengths.insert(0, (anew, self.start));
        let sum: f64 = self.lengths.iter().map(|(chance, _)| chance).sum();
        self.lengths.iter_mut().for_each(|(chance, _)| *chance /= sum);
    }

    /// Chances of lengths 0, 1, 2 and so on.
    pub fn chances(&self) -> impl Iterator<Item = Share> + '_ {
        self.lengths.iter().map(|(chance, _)| Share(*chance))
    }

    /// The likeliest length.
    pub fn most_likely(&self) -> usize {
        let best = self.lengths.iter().enumerate().max_by(|a, b| a.1.0.total_cmp(&b.1.0));
        best.map_or(0, |(length, _)| length)
    }

    /// Chance that the stretch is no longer than this.
    pub fn chance_up_to(&self, length: usize) -> Share {
        Share(self.lengths.iter().take(length + 1).map(|(chance, _)| chance).sum())
    }
}
