//! Cold received: one enum of models, each kept in its own unit.

use measure::quantity::Celsius;

/// A way of counting cold. No factor turns one into another (Luedeling & Brown 2011).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ChillModel {
    /// Hours from 0.0 to 7.2 °C, both ends counted (Weinberger 1950; Bennett 1949).
    HoursC,
    /// Hours from 32 to 45 °F, both ends counted; 45 °F is a little more than 7.2 °C.
    HoursF,
    /// Utah units with thresholds in °C (Richardson, Seeley & Walker 1974).
    Utah,
    /// Utah units with thresholds in °F; not the same thresholds.
    UtahF,
    /// Utah units with negatives set to nothing (Linsley-Noakes et al. 1995).
    UtahPositive,
    /// North Carolina units, step form (Shaltout & Unrath 1983).
    NorthCarolina,
    /// Portions of the Dynamic Model (Fishman, Erez & Couvillon 1987).
    Dynamic,
    /// Days whose mean lies from 32 to 40 °F: common practice, no source.
    RuleDays,
}

impl ChillModel {
    /// All models.
    pub const ALL: [ChillModel; 8] = [
        ChillModel::HoursC,
        ChillModel::HoursF,
        ChillModel::Utah,
        ChillModel::UtahF,
        ChillModel::UtahPositive,
        ChillModel::NorthCarolina,
        ChillModel::Dynamic,
        ChillModel::RuleDays,
    ];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            ChillModel::HoursC => "chill-hours",
            ChillModel::HoursF => "chill-hours-f",
            ChillModel::Utah => "utah",
            ChillModel::UtahF => "utah-f",
            ChillModel::UtahPositive => "utah-positive",
            ChillModel::NorthCarolina => "north-carolina",
            ChillModel::Dynamic => "dynamic",
            ChillModel::RuleDays => "rule-days",
        }
    }

    /// The model in plain words.
    pub fn words(self) -> &'static str {
        match self {
            ChillModel::HoursC => "hours from 0 to 7.2 °C",
            ChillModel::HoursF => "hours from 32 to 45 °F",
            ChillModel::Utah => "Utah units, °C thresholds",
            ChillModel::UtahF => "Utah units, °F thresholds",
            ChillModel::UtahPositive => "Utah units, warm hours not taken off",
            ChillModel::NorthCarolina => "North Carolina units",
            ChillModel::Dynamic => "portions of the Dynamic Model",
            ChillModel::RuleDays => "days from 32 to 40 °F (common practice)",
        }
    }

    /// The unit.
    pub fn unit(self) -> &'static str {
        match self {
            ChillModel::HoursC | ChillModel::HoursF => "h",
            ChillModel::Dynamic => "portions",
            ChillModel::RuleDays => "days",
            _ => "units",
        }
    }
}

/// Steps as (upper bound included, weight); above the last bound the final weight holds.
type Steps = (&'static [(f64, f64)], f64);

const UTAH: Steps = (&[(1.4, 0.0), (2.4, 0.5), (9.1, 1.0), (12.4, 0.5), (15.9, 0.0), (18.0, -0.5)], -1.0);
const UTAH_F: Steps =
    (&[(34.0, 0.0), (36.0, 0.5), (48.0, 1.0), (54.0, 0.5), (60.0, 0.0), (65.0, -0.5)], -1.0);
const NORTH_CAROLINA: Steps = (
    &[
        (1.6, 0.0),
        (7.2, 0.5),
        (13.0, 1.0),
        (16.5, 0.5),
        (19.0, 0.0),
        (20.7, -0.5),
        (22.1, -1.0),
        (23.3, -1.5),
    ],
    -2.0,
);

fn step((bounds, last): Steps, value: f64) -> f64 {
    bounds.iter().find(|&&(upper, _)| value <= upper).map_or(last, |&(_, weight)| weight)
}

/// What one hour at a temperature counts for; none for models that need more than one hour.
///
/// ```
/// use dormancy::chill::{ChillModel, hour_units};
/// use measure::quantity::Celsius;
///
/// assert_eq!(hour_units(ChillModel::Utah, Celsius(5.0)), Some(1.0));
/// assert_eq!(hour_units(ChillModel::Dynamic, Celsius(5.0)), None);
/// ```
pub fn hour_units(model: ChillModel, air: Celsius) -> Option<f64> {
    let (celsius, fahrenheit) = (air.0, air.fahrenheit().0);
    let counted = |inside: bool| if inside { 1.0 } else { 0.0 };
    match model {
        ChillModel::HoursC => Some(counted((0.0..=7.2).contains(&celsius))),
        ChillModel::HoursF => Some(counted((32.0..=45.0).contains(&fahrenheit))),
        ChillModel::Utah => Some(step(UTAH, celsius)),
        ChillModel::UtahF => Some(step(UTAH_F, fahrenheit)),
        ChillModel::UtahPositive => Some(step(UTAH, celsius).max(0.0)),
        ChillModel::NorthCarolina => Some(step(NORTH_CAROLINA, celsius)),
        ChillModel::Dynamic | ChillModel::RuleDays => None,
    }
}

/// The Dynamic Model's intermediate product, carried from hour to hour.
///
/// ```text
/// xs = (a0/a1)·exp((e1 − e0)/K)      k1 = a1·exp(−e1/K)      xe = xs − (xs − x)·exp(−k1)
/// xe < 1: no portion, x = xe;   else portion = xe·ξ, x = xe − portion, ξ = 1/(1 + exp(−slope·Tf·(K − Tf)/K))
/// ```
///
/// | symbol | meaning | unit |
/// |--------|---------|------|
/// | K | temperature of the hour, °C + 273 | K |
/// | x | intermediate product left over | – |
///
/// **Holds** the whole span of air temperature.
/// **Error** equal to the reference program to all printed digits.
/// **Source** Fishman, Erez & Couvillon 1987a, b; Erez et al. 1990.
/// **Checked** `tests/chillr.rs`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DynamicState {
    left: f64,
}

impl DynamicState {
    /// The portion an hour at this temperature completes; the state moves on.
    pub fn step(&mut self, air: Celsius) -> f64 {
        const E0: f64 = 4153.5;
        const E1: f64 = 12888.8;
        const A0: f64 = 139_500.0;
        const A1: f64 = 2.567e18;
        const SLOPE: f64 = 1.6;
        const TF: f64 = 277.0;

        let kelvin = air.0 + 273.0;
        let xs = (A0 / A1) * ((E1 - E0) / kelvin).exp();
        let k1 = A1 * (-E1 / kelvin).exp();
        let xe = xs - (xs - self.left) * (-k1).exp();
        if xe < 1.0 {
            self.left = xe;
            return 0.0;
        }
        let portion = xe / (1.0 + (-SLOPE * TF * (kelvin - TF) / kelvin).exp());
        self.left = xe - portion;
        portion
    }

    /// The intermediate product left over.
    pub fn left_over(&self) -> f64 {
        self.left
    }
}

/// Days by the trade's rule: mean from 0 to 4.44 °C, and apart from them the colder and the warmer ones.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RuleDays {
    /// Days inside the band.
    pub met: u32,
    /// Days below it.
    pub colder: u32,
    /// Days above it.
    pub warmer: u32,
}

/// Counts days by the trade's rule from daily means, °C (common practice, no source).
///
/// ```
/// let days = dormancy::chill::rule_days([-1.0, 0.0, 4.4, 6.0]);
/// assert_eq!((days.met, days.colder, days.warmer), (2, 1, 1));
/// ```
pub fn rule_days(means: impl IntoIterator<Item = f64>) -> RuleDays {
    const TOP: f64 = 40.0 / 9.0;
    let mut days = RuleDays::default();
    for mean in means {
        match mean {
            mean if mean < 0.0 => days.colder += 1,
            mean if mean <= TOP => days.met += 1,
            _ => days.warmer += 1,
        }
    }
    days
}

/// Cold over a run of hourly temperatures, °C, in the model's own unit.
///
/// ```
/// use dormancy::chill::{ChillModel, sum};
///
/// assert_eq!(sum(ChillModel::HoursC, &[5.0; 48]), 48.0);
/// assert_eq!(sum(ChillModel::RuleDays, &[3.0; 48]), 2.0);
/// ```
pub fn sum(model: ChillModel, hours: &[f64]) -> f64 {
    match model {
        ChillModel::Dynamic => {
            let mut state = DynamicState::default();
            hours.iter().map(|&hour| state.step(Celsius(hour))).sum()
        }
        ChillModel::RuleDays => {
            let means = hours.as_chunks::<24>().0.iter().map(|day| day.iter().sum::<f64>() / 24.0);
            f64::from(rule_days(means).met)
        }
        _ => hours.iter().filter_map(|&hour| hour_units(model, Celsius(hour))).sum(),
    }
}
