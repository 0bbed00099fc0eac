//! A place's hourly temperature told from the outside's: a lag, a share, an offset and the sun.

mod fit;
mod least;
mod table;

pub use fit::{FitError, ShelterFit, fit};
pub use table::default_of;

use measure::quantity::Hours;

/// How a place follows the weather outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShelterModel {
    /// τ, how slowly the place follows; zero follows at once.
    pub lag: Hours,
    /// c0, warmth from the ground or a heater, K.
    pub offset: f64,
    /// c1, the share of the outside's temperature that comes through.
    pub share: f64,
    /// c2, warmth from the sun, K per MJ m⁻² h⁻¹ of steady sun.
    pub sun: f64,
}

impl ShelterModel {
    /// Hourly temperature of the place in free run, °C: it never looks at a logger.
    ///
    /// ```text
    /// T_in[k] = c0 + c1·F(T_out)[k] + c2·F(sun)[k]
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | T_in | returned | temperature of the place | °C |
    /// | T_out | `outside` | temperature outside, by the hour | °C |
    /// | sun | `sun` | solar energy of each hour on the level | MJ m⁻² |
    /// | c0, c1, c2 | `offset`, `share`, `sun` | see the fields | K, 1, K per MJ m⁻² h⁻¹ |
    /// | F | [`one_pole`] with `lag` | from the first temperature outside, and from dark | |
    ///
    /// Where `sun` is shorter than `outside` the rest is dark.
    ///
    /// **Holds** while the place is not opened, covered or heated differently; each such state has a model of its own.
    /// **Error** 0.1 to 0.15 K on the two made-up places of the reference set; on real places the fit tells.
    /// **Source** the one-resistance one-capacity room of building physics; form of the reference set.
    /// **Checked** `tests/shelter.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use climate::shelter::ShelterModel;
    /// use measure::quantity::Hours;
    ///
    /// let shed = ShelterModel { lag: Hours(30.0), offset: 2.6, share: 0.7, sun: 0.3 };
    /// let hours = shed.series(&[-10.0; 48], &[]);
    /// assert_eq!(format!("{:.1}", hours[47]), "-4.4");
    /// ```
    pub fn series(&self, outside: &[f64], sun: &[f64]) -> Vec<f64> {
        const HOUR: Hours = Hours(1.0);
        let mut inside = one_pole(self.lag, HOUR, outside.first().copied().unwrap_or(0.0), outside);
        for hour in &mut inside {
            *hour = self.offset + self.share * *hour;
        }
        for (hour, sun) in inside.iter_mut().zip(one_pole(self.lag, HOUR, 0.0, sun)) {
            *hour += self.sun * sun;
        }
        inside
    }
}

/// A series seen through a lag.
///
/// ```text
/// x[0] = start,   x[k+1] = a·x[k] + (1 − a)·u[k],   a = exp(−dt/τ)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | x | returned | the series behind the lag, at the start of each step | as `input` |
/// | u | `input` | held through each step; where not a number, x rests | any |
/// | τ, dt | `lag`, `step` | time constant, length of a step | h |
///
/// A lag of zero or less gives the input back, without the one step that the rule would add.
///
/// **Holds** for any step. **Error** none for an input that is steady through each step.
/// **Source** the exact solution of the first-order lag under held input. **Checked** `tests/shelter.rs`.
///
/// # Example
///
/// ```
/// use climate::shelter::one_pole;
/// use measure::quantity::Hours;
///
/// let behind = one_pole(Hours(3.0), Hours(1.0), 4.0, &[10.0, 10.0]);
/// assert_eq!(format!("{:.3}", behind[1]), "5.701");
/// ```
pub fn one_pole(lag: Hours, step: Hours, start: f64, input: &[f64]) -> Vec<f64> {
    if lag.0 <= 0.0 {
        return input.to_vec();
    }
    let keep = (-step.0 / lag.0).exp();
    let mut state = start;
    let mut behind = Vec::with_capacity(input.len());
    for &hour in input {
        behind.push(state);
        state = follow(state, hour, keep);
    }
    behind
}

/// One step of the lag; an hour that is not a number leaves the state at rest.
fn follow(state: f64, input: f64, keep: f64) -> f64 {
    if input.is_finite() { keep * state + (1.0 - keep) * input } else { state }
}

/// What a lag leaves of a swing, and how late it comes.
///
/// ```text
/// A = 1/√(1 + (ωτ)²),   L = atan(ωτ)/ω,   ω = 2π/P
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | A | returned first | share of the swing that is left | 1 |
/// | L | returned second | delay | h |
/// | τ, P | `lag`, `period` | time constant, period of the swing | h |
///
/// **Holds** for a sine that has gone on for some multiples of τ. **Error** none.
/// **Source** first-order lag, textbook result. **Checked** `tests/shelter.rs`.
///
/// # Example
///
/// ```
/// use climate::shelter::swing_left;
/// use measure::quantity::Hours;
///
/// let (left, late) = swing_left(Hours(24.0), Hours(24.0));
/// assert_eq!(format!("{left:.3} {:.2} h", late.0), "0.157 5.40 h");
/// ```
pub fn swing_left(lag: Hours, period: Hours) -> (f64, Hours) {
    let speed = 2.0 * std::f64::consts::PI / period.0;
    let turn = speed * lag.0;
    (1.0 / (1.0 + turn * turn).sqrt(), Hours(turn.atan() / speed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_lag_is_no_delay() {
        let bench = ShelterModel { lag: Hours(0.0), offset: 0.0, share: 1.0, sun: 0.0 };
        assert_eq!(bench.series(&[1.0, -4.0, 2.5], &[]), [1.0, -4.0, 2.5]);
    }

    #[test]
    fn an_hour_without_weather_leaves_the_room_at_rest() {
        let behind = one_pole(Hours(2.0), Hours(1.0), 5.0, &[5.0, f64::NAN, 5.0]);
        assert_eq!(behind, [5.0, 5.0, 5.0]);
    }

    /// Days of weather that swings by the day and turns every few days, with a sun, and a shed in it.
    fn log(days: usize) -> [Vec<f64>; 3] {
        let turn = |hour: usize, period: f64| (hour as f64 * 2.0 * std::f64::consts::PI / period).sin();
        let outside: Vec<f64> = (0..days * 24).map(|h| 4.0 * turn(h, 24.0) + 5.0 * turn(h, 200.0)).collect();
        let sun: Vec<f64> =
            (0..days * 24).map(|h| turn(h + 3, 24.0).max(0.0) * (1.0 + turn(h, 130.0))).collect();
        let shed = ShelterModel { lag: Hours(12.0), offset: 3.0, share: 0.8, sun: 1.0 };
        let inside = shed.series(&outside, &sun);
        [outside, sun, inside]
    }

    #[test]
    fn a_log_with_holes_still_tells_the_shed() {
        let [outside, sun, mut inside] = log(30);
        for hour in (100..140).chain(400..460) {
            inside[hour] = f64::NAN;
        }
        let learned = fit(&outside, &sun, &inside).unwrap();
        assert!((learned.model.lag.0 - 12.0).abs() < 0.05 && learned.accepted(), "{learned:?}");
        assert_eq!(learned.hours, 30 * 24 - 100);
    }

    #[test]
    fn a_prompt_place_is_learned_as_prompt() {
        let [outside, sun, _] = log(20);
        let inside: Vec<f64> = outside.iter().map(|hour| hour + 1.0).collect();
        let learned = fit(&outside, &sun, &inside).unwrap().model;
        assert!(learned.lag.0 == 0.0 && (learned.offset - 1.0).abs() < 1e-6, "{learned:?}");
    }

    #[test]
    fn a_short_log_and_steady_weather_are_refused_by_number() {
        let [outside, sun, inside] = log(9);
        assert_eq!(fit(&outside, &sun, &inside), Err(FitError::TooShort { hours: 216 }));
        let [outside, sun, inside] = log(20).map(|series| series.iter().map(|x| x * 0.2).collect::<Vec<_>>());
        assert!(matches!(fit(&outside, &sun, &inside), Err(FitError::TooSteady { range }) if range < 5.0));
        assert!(matches!(fit(&outside, &sun[1..], &inside), Err(FitError::Uneven { .. })));
    }

    #[test]
    fn thirty_warm_hours_among_a_season_of_good_ones_change_nothing_of_the_shed_and_are_named() {
        let [outside, sun, inside] = log(120);
        let plain = fit(&outside, &sun, &inside).unwrap();
        let warm = 2001..2031;
        let heated: Vec<f64> =
            inside.iter().enumerate().map(|(h, t)| if warm.contains(&h) { 20.0 } else { *t }).collect();
        let learned = fit(&outside, &sun, &heated).unwrap();
        assert_eq!((learned.odd, plain.odd), (warm.collect(), Vec::new()));
        assert!((learned.model.lag.0 - plain.model.lag.0).abs() < 0.01, "{:?}", learned.model);
        assert!((learned.model.offset - plain.model.offset).abs() < 0.001 && learned.free_run_rmse < 0.01);
        assert_eq!(learned.hours, plain.hours - 30);
    }

    #[test]
    fn a_place_that_goes_its_own_way_is_not_accepted() {
        let [outside, sun, inside] = log(30);
        let heated: Vec<f64> =
            inside.iter().enumerate().map(|(h, t)| t + 6.0 * f64::from(u8::from(h > 400))).collect();
        assert!(!fit(&outside, &sun, &heated).unwrap().accepted());
    }
}
