//! Cold counted hour by hour, each way of counting in its own unit: no factor turns one into another.

pub use crate::dynamic::DynamicState;
use measure::quantity::Celsius;

/// Ways of counting cold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ChillModel {
    /// Hours from 0 to 7.2 °C.
    HoursC,
    /// Hours from 32 to 45 °F; 45 °F is 7.22 °C, so this is not [`ChillModel::HoursC`].
    HoursF,
    /// Utah units with the steps in °C.
    Utah,
    /// Utah units with the steps in °F, which are other steps.
    UtahF,
    /// Utah units in °C, warm hours counting nothing instead of taking away.
    UtahPositive,
    /// North Carolina units, step form.
    NorthCarolina,
    /// Chill portions of the Dynamic Model.
    Dynamic,
    /// Days with a mean from 0 to 4.44 °C, the trade's rule.
    RuleDays,
}

/// Days sorted by the trade's rule.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RuleDays {
    /// Days with a mean from 0 to 4.44 °C.
    pub met: u32,
    /// Days with a mean under 0 °C.
    pub colder: u32,
    /// Days with a mean over 4.44 °C.
    pub warmer: u32,
}

/// Upper ends (included) with the weight up to there, °C; above the last one the weight is [`UTAH_ABOVE`].
const UTAH_C: [(f64, f64); 6] = [(1.4, 0.0), (2.4, 0.5), (9.1, 1.0), (12.4, 0.5), (15.9, 0.0), (18.0, -0.5)];

/// The same in °F.
const UTAH_F: [(f64, f64); 6] =
    [(34.0, 0.0), (36.0, 0.5), (48.0, 1.0), (54.0, 0.5), (60.0, 0.0), (65.0, -0.5)];

/// Weight above the last Utah step.
const UTAH_ABOVE: f64 = -1.0;

/// Upper ends (included) with the weight up to there, °C.
const NORTH_CAROLINA: [(f64, f64); 8] =
    [(1.6, 0.0), (7.2, 0.5), (13.0, 1.0), (16.5, 0.5), (19.0, 0.0), (20.7, -0.5), (22.1, -1.0), (23.3, -1.5)];

/// Weight above the last North Carolina step.
const NORTH_CAROLINA_ABOVE: f64 = -2.0;

/// Warmest daily mean that meets the trade's rule, °C (40 °F).
const RULE_WARMEST: f64 = 4.44;

impl ChillModel {
    /// Every way of counting, in the order a page lists them.
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

    /// Name used in files and addresses.
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

    /// The way of counting with this key, if there is one.
    pub fn from_key(key: &str) -> Option<ChillModel> {
        ChillModel::ALL.into_iter().find(|model| model.key() == key)
    }

    /// Name for the reader.
    pub fn words(self) -> &'static str {
        match self {
            ChillModel::HoursC => "chilling hours, 0–7.2 °C",
            ChillModel::HoursF => "chilling hours, 32–45 °F",
            ChillModel::Utah => "Utah units, steps in °C",
            ChillModel::UtahF => "Utah units, steps in °F",
            ChillModel::UtahPositive => "Utah units, warm hours take nothing away",
            ChillModel::NorthCarolina => "North Carolina units",
            ChillModel::Dynamic => "chill portions, Dynamic Model",
            ChillModel::RuleDays => "rule-days, daily mean 0–4.4 °C",
        }
    }

    /// Unit of the sum, in the plural.
    pub fn unit(self) -> &'static str {
        match self {
            ChillModel::HoursC | ChillModel::HoursF => "hours",
            ChillModel::Utah | ChillModel::UtahF | ChillModel::UtahPositive => "chill units",
            ChillModel::NorthCarolina => "North Carolina units",
            ChillModel::Dynamic => "chill portions",
            ChillModel::RuleDays => "days",
        }
    }
}

/// What one hour at `air` is worth; `None` for models that need more than the hour itself.
///
/// ```text
/// chilling hours   1 if 0 ≤ T ≤ 7.2 °C (or 32 ≤ T ≤ 45 °F), else 0
/// Utah, North C.   weight of the step with  lower < T ≤ upper
/// Utah positive    max(Utah, 0)
/// ```
///
/// | symbol | here     | meaning                 | unit            |
/// |--------|----------|-------------------------|-----------------|
/// | T      | `air`    | temperature of the hour | °C              |
/// | —      | returned | worth of the hour       | unit of `model` |
///
/// **Holds** at every temperature; an hour that is not a number is worth 0 (own). Steps in °F are compared
/// after rounding to 10⁻⁹ °F, so that 45 °F read, stored in °C and turned back is still 45 °F.
/// **Error** none within the rule; which rule a tree follows is not known.
/// **Source** Weinberger 1950 (hours); Richardson, Seeley & Walker 1974 (Utah); Linsley-Noakes et al. 1995
/// (positive); Shaltout & Unrath 1983 (North Carolina, step form as coded publicly).
/// **Checked** `tests/chillr.rs`, 52 temperatures.
///
/// # Example
///
/// ```
/// use dormancy::chill::{ChillModel, hour_units};
/// use measure::quantity::Celsius;
///
/// assert_eq!(hour_units(ChillModel::HoursC, Celsius(7.21)), Some(0.0));
/// assert_eq!(hour_units(ChillModel::HoursF, Celsius(7.21)), Some(1.0));
/// assert_eq!(hour_units(ChillModel::Dynamic, Celsius(6.0)), None);
/// ```
pub fn hour_units(model: ChillModel, air: Celsius) -> Option<f64> {
    let Celsius(t) = air;
    let f = (air.fahrenheit().0 * 1e9).round() / 1e9;
    match model {
        ChillModel::HoursC => Some(f64::from(u8::from((0.0..=7.2).contains(&t)))),
        ChillModel::HoursF => Some(f64::from(u8::from((32.0..=45.0).contains(&f)))),
        ChillModel::Utah => Some(weight(&UTAH_C, UTAH_ABOVE, t)),
        ChillModel::UtahF => Some(weight(&UTAH_F, UTAH_ABOVE, f)),
        ChillModel::UtahPositive => Some(weight(&UTAH_C, UTAH_ABOVE, t).max(0.0)),
        ChillModel::NorthCarolina => Some(weight(&NORTH_CAROLINA, NORTH_CAROLINA_ABOVE, t)),
        ChillModel::Dynamic | ChillModel::RuleDays => None,
    }
}

/// Cold of a run of hours, °C, in the unit of `model`.
///
/// ```text
/// step models   Σ worth of each hour
/// dynamic       Σ portions, starting with nothing half made
/// rule-days     number of whole 24-hour blocks with 0 ≤ mean ≤ 4.44 °C
/// ```
///
/// | symbol | here     | meaning               | unit            |
/// |--------|----------|-----------------------|-----------------|
/// | T      | `hours`  | temperature each hour | °C              |
/// | —      | returned | sum                   | unit of `model` |
///
/// **Holds** for hours without gaps, rule-days for runs that begin at midnight; hours after the last whole
/// block are no rule-day.
/// **Error** none within the rule.
/// **Source** as [`hour_units`] and [`DynamicState::step`]; rule-days are common practice.
/// **Checked** `tests/chillr.rs`, two series.
///
/// # Example
///
/// ```
/// use dormancy::chill::{ChillModel, sum};
///
/// let forty_days = vec![6.0; 960];
/// assert_eq!(sum(ChillModel::Utah, &forty_days), 960.0);
/// assert_eq!(sum(ChillModel::RuleDays, &forty_days), 0.0);
/// assert_eq!(format!("{:.3}", sum(ChillModel::Dynamic, &forty_days)), "33.227");
/// ```
pub fn sum(model: ChillModel, hours: &[f64]) -> f64 {
    match model {
        ChillModel::Dynamic => {
            let mut state = DynamicState::default();
            hours.iter().map(|&t| state.step(Celsius(t))).sum()
        }
        ChillModel::RuleDays => {
            let means: Vec<f64> = hours.chunks_exact(24).map(|day| day.iter().sum::<f64>() / 24.0).collect();
            f64::from(rule_day_counts(&means).met)
        }
        step => hours.iter().filter_map(|&t| hour_units(step, Celsius(t))).sum(),
    }
}

/// Days that meet the trade's rule, and the days on either side of it, from daily means in °C.
///
/// ```text
/// met: 0 ≤ T ≤ 4.44 °C     colder: T < 0 °C     warmer: T > 4.44 °C
/// ```
///
/// | symbol | here    | meaning                       | unit |
/// |--------|---------|-------------------------------|------|
/// | T      | `means` | daily mean where the tree stands | °C |
///
/// **Holds** for any mean; a day that is not a number is in none of the three.
/// **Error** not stated: a rule of thumb, against which other models disagree strongly near 0 °C.
/// **Source** common practice ("about 40 days at 32–40 °F").
/// **Checked** own cases in this file, and the worked table of 40 constant days in `tests/chillr.rs`.
///
/// # Example
///
/// ```
/// use dormancy::chill::rule_day_counts;
///
/// let days = rule_day_counts(&[-2.0, 0.0, 3.0, 4.44, 5.0]);
/// assert_eq!((days.met, days.colder, days.warmer), (3, 1, 1));
/// ```
pub fn rule_day_counts(means: &[f64]) -> RuleDays {
    means.iter().fold(RuleDays::default(), |days, &mean| match mean {
        t if t < 0.0 => RuleDays { colder: days.colder + 1, ..days },
        t if t > RULE_WARMEST => RuleDays { warmer: days.warmer + 1, ..days },
        t if t.is_nan() => days,
        _ => RuleDays { met: days.met + 1, ..days },
    })
}

fn weight(steps: &[(f64, f64)], above: f64, t: f64) -> f64 {
    if t.is_nan() {
        return 0.0;
    }
    steps.iter().find(|(upper, _)| t <= *upper).map_or(above, |(_, weight)| *weight)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_leads_back_to_its_model() {
        for model in ChillModel::ALL {
            assert_eq!(ChillModel::from_key(model.key()), Some(model));
        }
    }

    #[test]
    fn hours_after_the_last_whole_day_are_no_rule_day() {
        assert_eq!(sum(ChillModel::RuleDays, &[3.0; 47]), 1.0);
    }

    #[test]
    fn an_hour_without_a_number_is_worth_nothing() {
        for model in ChillModel::ALL {
            assert_eq!(sum(model, &[f64::NAN; 24]), 0.0, "{}", model.key());
        }
    }
}
