//! The models that can be fitted, their words, and their parameters under names that can be written and read back.

use dormancy::{
    fit::{Fitted, TooFew, TreeYear, alternating, sequential, thermal_time, unichill, uniforc},
    model::{ColdCurve, Model, WarmCurve},
};

/// A model that can be fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Degree-days from a day on.
    ThermalTime,
    /// Forcing along a curve from a day on.
    Uniforc,
    /// Degree-days whose need falls with cold days.
    Alternating,
    /// Cold days, then degree-days.
    Sequential,
    /// Chilling along a curve, then forcing along another.
    Unichill,
}

/// Parameters do not make a model.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BadParameter {
    /// One is absent.
    #[error("{0} is absent")]
    Absent(&'static str),
    /// One is no number its model can take.
    #[error("{name} is {got}, which is not {wanted}")]
    Odd {
        /// Which.
        name: &'static str,
        /// What stood there.
        got: f64,
        /// What can stand there.
        wanted: &'static str,
    },
}

impl Kind {
    /// Every model, simplest first.
    pub const ALL: [Kind; 5] =
        [Kind::ThermalTime, Kind::Uniforc, Kind::Alternating, Kind::Sequential, Kind::Unichill];

    /// The word in files and arguments.
    pub fn key(self) -> &'static str {
        match self {
            Kind::ThermalTime => "thermal-time",
            Kind::Uniforc => "uniforc",
            Kind::Alternating => "alternating",
            Kind::Sequential => "sequential",
            Kind::Unichill => "unichill",
        }
    }

    /// What it says, in one clause.
    pub fn words(self) -> &'static str {
        match self {
            Kind::ThermalTime => "degree-days over a base from one day on",
            Kind::Uniforc => "warmth along a curve from one day on",
            Kind::Alternating => "degree-days, of which fewer are needed the more cold days there were",
            Kind::Sequential => "a count of cold days, then degree-days",
            Kind::Unichill => "cold along a curve, then warmth along another",
        }
    }

    /// The model of a word.
    pub fn of_key(key: &str) -> Option<Kind> {
        Kind::ALL.into_iter().find(|kind| kind.key() == key)
    }

    pub(super) fn fit(self, years: &[TreeYear<'_>]) -> Result<Fitted, TooFew> {
        match self {
            Kind::ThermalTime => thermal_time(years),
            Kind::Uniforc => uniforc(years),
            Kind::Alternating => alternating(years),
            Kind::Sequential => sequential(years),
            Kind::Unichill => unichill(years),
        }
    }

    /// A model from its parameters by name, as [`parameters`] gives them.
    ///
    /// # Errors
    ///
    /// [`BadParameter`] when one is absent, not finite, or not a whole number where days are counted.
    pub fn model(self, given: impl Fn(&str) -> Option<f64>) -> Result<Model, BadParameter> {
        let number = |name: &'static str| {
            let got = given(name).ok_or(BadParameter::Absent(name))?;
            if got.is_finite() { Ok(got) } else { Err(BadParameter::Odd { name, got, wanted: "finite" }) }
        };
        let whole = |name, low: i32, high: i32, wanted| {
            let got = number(name)?;
            let fits = got.fract() == 0.0 && (f64::from(low)..=f64::from(high)).contains(&got);
            if fits { Ok(got as i32) } else { Err(BadParameter::Odd { name, got, wanted }) }
        };
        let start = || whole("start_day", -183, 366, "a whole day from -183 to 366");
        let warm = || Ok(WarmCurve { slope: number("warm_slope_per_c")?, middle: number("warm_middle_c")? });
        let cold = || {
            Ok(ColdCurve {
                square: number("cold_square_per_c2")?,
                slope: number("cold_slope_per_c")?,
                middle: number("cold_middle_c")?,
            })
        };
        Ok(match self {
            Kind::ThermalTime => Model::ThermalTime {
                start: start()?,
                base: number("base_c")?,
                need: number("need_degree_days")?,
            },
            Kind::Uniforc => Model::Uniforc { start: start()?, warm: warm()?, need: number("need_units")? },
            Kind::Alternating => Model::Alternating {
                cold_start: whole("cold_start_day", -183, 366, "a whole day from -183 to 366")?,
                cold_below: number("cold_below_c")?,
                start: start()?,
                base: number("base_c")?,
                least: number("least_degree_days")?,
                scale: number("more_without_cold_degree_days")?,
                decay: number("decay_per_cold_day")?,
            },
            Kind::Sequential => Model::Sequential {
                start: start()?,
                cold_below: number("cold_below_c")?,
                cold_days: whole("cold_days", 0, 366, "a whole number from 0 to 366")? as u32,
                base: number("base_c")?,
                need: number("need_degree_days")?,
            },
            Kind::Unichill => Model::Unichill {
                start: start()?,
                cold: cold()?,
                cold_need: number("cold_need_units")?,
                warm: warm()?,
                need: number("need_units")?,
            },
        })
    }
}

/// A model's parameters by name; none for a model that is not fitted here.
pub fn parameters(model: &Model) -> Vec<(&'static str, f64)> {
    match *model {
        Model::ThermalTime { start, base, need } => {
            vec![("start_day", start.into()), ("base_c", base), ("need_degree_days", need)]
        }
        Model::Uniforc { start, warm, need } => vec![
            ("start_day", start.into()),
            ("warm_slope_per_c", warm.slope),
            ("warm_middle_c", warm.middle),
            ("need_units", need),
        ],
        Model::Alternating { cold_start, cold_below, start, base, least, scale, decay } => vec![
            ("cold_start_day", cold_start.into()),
            ("cold_below_c", cold_below),
            ("start_day", start.into()),
            ("base_c", base),
            ("least_degree_days", least),
            ("more_without_cold_degree_days", scale),
            ("decay_per_cold_day", decay),
        ],
        Model::Sequential { start, cold_below, cold_days, base, need } => vec![
            ("start_day", start.into()),
            ("cold_below_c", cold_below),
            ("cold_days", cold_days.into()),
            ("base_c", base),
            ("need_degree_days", need),
        ],
        Model::Unichill { start, cold, cold_need, warm, need } => vec![
            ("start_day", start.into()),
            ("cold_square_per_c2", cold.square),
            ("cold_slope_per_c", cold.slope),
            ("cold_middle_c", cold.middle),
            ("cold_need_units", cold_need),
            ("warm_slope_per_c", warm.slope),
            ("warm_middle_c", warm.middle),
            ("need_units", need),
        ],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn models() -> [Model; 5] {
        let (warm, cold) =
            (WarmCurve { slope: -0.3, middle: 9.1 }, ColdCurve { square: 0.2, slope: -0.1, middle: 4.4 });
        [
            Model::ThermalTime { start: 20, base: 3.1, need: 150.3 },
            Model::Uniforc { start: -5, warm, need: 17.2 },
            Model::Alternating {
                cold_start: -60,
                cold_below: 5.0,
                start: 1,
                base: 2.0,
                least: 50.0,
                scale: 300.0,
                decay: -0.02,
            },
            Model::Sequential { start: -61, cold_below: 6.0, cold_days: 40, base: 1.0, need: 99.0 },
            Model::Unichill { start: -60, cold, cold_need: 33.0, warm, need: 12.0 },
        ]
    }

    #[test]
    fn every_model_is_made_again_from_its_names() {
        for (kind, model) in Kind::ALL.into_iter().zip(models()) {
            let named = parameters(&model);
            let given = |name: &str| named.iter().find(|(own, _)| *own == name).map(|(_, number)| *number);
            assert_eq!(kind.model(given), Ok(model));
            assert_eq!(Kind::of_key(kind.key()), Some(kind));
        }
    }

    #[test]
    fn absent_and_odd_parameters_are_named() {
        assert_eq!(Kind::Uniforc.model(|_| None), Err(BadParameter::Absent("start_day")));
        let half = Kind::ThermalTime.model(|_| Some(0.5)).unwrap_err();
        assert_eq!(half.to_string(), "start_day is 0.5, which is not a whole day from -183 to 366");
    }
}
