//! Chill portions hour by hour: a perishable half-made portion that warmth undoes, and a finished one that stays.

use measure::quantity::Celsius;

use crate::quick::Row;

/// The half-made portion carried from one hour to the next; starts empty.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DynamicState {
    half_made: f64,
}

impl DynamicState {
    /// What is half made after the last hour, from 0 up to just under 1 portion.
    pub fn half_made(&self) -> f64 {
        self.half_made
    }

    /// Lives through one hour at `air` and returns the portion finished in it, 0 on most hours.
    ///
    /// ```text
    /// K  = T + 273
    /// xs = (a0/a1) · exp( (e1 − e0)/K )
    /// k1 = a1 · exp( −e1/K )
    /// xe = xs − (xs − x) · exp(−k1)
    /// xe < 1:  p = 0,        x' = xe
    /// xe ≥ 1:  p = xe · ξ,   x' = xe − p,   ξ = 1/(1 + exp( −slope · Tf (K − Tf)/K ))
    /// ```
    ///
    /// | symbol | here        | meaning                        | unit       |
    /// |--------|-------------|--------------------------------|------------|
    /// | T      | `air`       | temperature of the hour        | °C         |
    /// | x, x'  | `half_made` | half-made portion before, after | portion   |
    /// | p      | returned    | portion finished this hour     | portion    |
    /// | e0, e1 | 4153.5, 12888.8 | activation energies over gas constant | K |
    /// | a0, a1 | 139500, 2.567·10¹⁸ | rate constants          | 1/h        |
    /// | slope, Tf | 1.6, 277 | steepness and middle of ξ      | 1, K       |
    ///
    /// **Holds** at every temperature that is a number; zero of the scale is 273, not 273.15. An hour that is
    /// not a number gives 0 and changes nothing (own).
    /// **Error** not stated by the source.
    /// **Source** Fishman, Erez & Couvillon 1987a, b; Erez et al. 1990. An hour's portion is booked in that hour.
    /// **Checked** `tests/chillr.rs`, state and portion hour by hour.
    ///
    /// # Example
    ///
    /// ```
    /// use dormancy::dynamic::DynamicState;
    /// use measure::quantity::Celsius;
    ///
    /// let mut state = DynamicState::default();
    /// let portions: Vec<f64> = (0..29).map(|_| state.step(Celsius(6.0))).collect();
    /// assert_eq!(portions[27], 0.0);
    /// assert_eq!(format!("{:.6}", portions[28]), "0.980512");
    /// ```
    pub fn step(&mut self, air: Celsius) -> f64 {
        let Celsius(t) = air;
        let k = t + 273.0;
        if k.is_nan() || k <= 0.0 {
            return 0.0;
        }
        self.pass(rates(k))
    }

    /// As [`DynamicState::step`], by a row of the table of hundredths of a degree.
    pub(crate) fn step_quick(&mut self, row: &Row) -> f64 {
        self.pass([row.tends, row.left, row.finished])
    }

    fn pass(&mut self, [tends, left, finished]: [f64; 3]) -> f64 {
        let made = tends - (tends - self.half_made) * left;
        if made < 1.0 {
            self.half_made = made;
            return 0.0;
        }
        let portion = made * finished;
        self.half_made = made - portion;
        portion
    }
}

/// At an absolute temperature: where the half-made portion tends to, what an hour leaves of the way there, and the share finished.
pub(crate) fn rates(k: f64) -> [f64; 3] {
    const E0: f64 = 4153.5;
    const E1: f64 = 12888.8;
    const A0: f64 = 139_500.0;
    const A1: f64 = 2.567e18;
    const SLOPE: f64 = 1.6;
    const TF: f64 = 277.0;

    let k1 = A1 * (-E1 / k).exp();
    [(A0 / A1) * ((E1 - E0) / k).exp(), (-k1).exp(), 1.0 / (1.0 + (-SLOPE * TF * (k - TF) / k).exp())]
}
