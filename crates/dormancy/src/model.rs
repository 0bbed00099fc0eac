//! From daily temperatures to a day: the spring models, all parameters named.

use crate::forcing::degree_day_mean;
use measure::quantity::Celsius;

/// A winter and spring of daily values; day 1 is 1 January, day 0 is 31 December.
#[derive(Clone, Copy, Debug)]
pub struct Season<'a> {
    /// Day of the first value.
    pub first_day: i32,
    /// Daily mean temperature, °C.
    pub mean: &'a [f64],
    /// Day length in hours, as many as the means; only [`Model::M1`] asks for it.
    pub day_length: Option<&'a [f64]>,
}

/// Daily chilling rate 1/(1 + exp(square·(T − middle)² + slope·(T − middle))).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ColdCurve {
    /// Narrowness of the bell, 1/°C².
    pub square: f64,
    /// Tilt of the bell, 1/°C.
    pub slope: f64,
    /// Reference temperature, °C.
    pub middle: f64,
}

/// Daily forcing rate 1/(1 + exp(slope·(T − middle))), slope under 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WarmCurve {
    /// Steepness, 1/°C.
    pub slope: f64,
    /// Temperature of half the full rate, °C.
    pub middle: f64,
}

/// A spring model with its parameters; temperatures in °C, days as in [`Season`].
#[derive(Clone, Copy, Debug, PartialEq)]
#[rustfmt::skip]
pub enum Model {
    /// Degree-days over `base` from day `start` reach `need`.
    ThermalTime { /** First day. */ start: i32, /** Base, °C. */ base: f64, /** Degree-days. */ need: f64 },
    /// Forcing along a curve from day `start` reaches `need` (Chuine 2000).
    Uniforc { /** First day. */ start: i32, /** Forcing. */ warm: WarmCurve, /** Units. */ need: f64 },
    /// Chilling from `start` reaches `cold_need`; that day already forces, until `need` (Chuine 2000).
    Unichill {
        /** First day of chilling. */ start: i32, /** Chilling. */ cold: ColdCurve, /** Chill units. */ cold_need: f64,
        /** Forcing. */ warm: WarmCurve, /** Forcing units. */ need: f64,
    },
    /// As Unichill, but the forcing needed is `scale`·exp(`decay`·chill up to `last_cold_day`) (Chuine 2000).
    Unified {
        /** First day of chilling. */ start: i32, /** Chilling. */ cold: ColdCurve, /** Chill units. */ cold_need: f64,
        /** Forcing. */ warm: WarmCurve, /** Forcing units at no chill. */ scale: f64,
        /** Change per chill unit, under 0. */ decay: f64, /** Last day of chilling. */ last_cold_day: i32,
    },
    /// `cold_days` days at or under `cold_below`, then degree-days; the last cold day already forces.
    Sequential {
        /** First day of chilling. */ start: i32, /** Warmest cold day, °C. */ cold_below: f64,
        /** Days of cold. */ cold_days: u32, /** Base, °C. */ base: f64, /** Degree-days. */ need: f64,
    },
    /// Degree-days times a readiness that grows from `least` to 1 with chill (Landsberg 1974; Hänninen 1990).
    Parallel {
        /** First day of chilling. */ cold_start: i32, /** No chilling at or under, °C. */ cold_low: f64,
        /** Full chilling at, °C. */ cold_best: f64, /** No chilling from, °C. */ cold_high: f64,
        /** Chill for full readiness. */ cold_need: f64, /** Readiness without chill. */ least: f64,
        /** First day of warmth. */ start: i32, /** Base, °C. */ base: f64, /** Degree-days. */ need: f64,
    },
    /// Degree-days reach `least` + `scale`·exp(`decay`·cold days), both counts running (Cannell & Smith 1983).
    Alternating {
        /** First day of cold. */ cold_start: i32, /** Warmest cold day, °C. */ cold_below: f64,
        /** First day of warmth. */ start: i32, /** Base, °C. */ base: f64, /** Degree-days at endless cold. */ least: f64,
        /** Degree-days more at no cold. */ scale: f64, /** Change per cold day, under 0. */ decay: f64,
    },
    /// Degree-days times (day length/10 h)^`power` (Blümel & Chmielewski 2012).
    M1 {
        /** First day. */ start: i32, /** Base, °C. */ base: f64, /** Pull of the light. */ power: f64,
        /** Degree-days of a 10-hour day. */ need: f64,
    },
    /// Degree-days from 1 February reach `level` + `slope`·ln(cold days from 1 November) (Menzel 1997).
    Menzel {
        /** Warmest cold day, °C. */ cold_below: f64, /** Base, °C. */ base: f64,
        /** Degree-days at one cold day. */ level: f64, /** Change per ln(cold days). */ slope: f64,
    },
}

/// 1 November, from which Menzel's cold days count.
const MENZEL_COLD_START: i32 = -60;

/// 1 February, from which Menzel's warmth counts.
const MENZEL_START: i32 = 32;

impl Model {
    /// First day on which the warmth gathered reaches the warmth needed; `None` when the season ends before.
    ///
    /// ```text
    /// thermal time  Σ max(T − Tb, 0) ≥ F
    /// Uniforc       Σ Rf ≥ F,  Rf = 1/(1 + exp(b (T − c)))
    /// Unichill      Σ Rc ≥ C, then Σ Rf ≥ F,  Rc = 1/(1 + exp(a (T − c)² + b (T − c)))
    /// Unified       Σ Rc ≥ C, then Σ Rf ≥ w exp(k Ctot)
    /// sequential    #(T ≤ Tch) ≥ C, then Σ max(T − Tb, 0) ≥ F
    /// parallel      Σ K max(T − Tb, 0) ≥ F,  K = min(1, Kmin + (1 − Kmin) ch/C)
    /// alternating   Σ max(T − Tb, 0) ≥ a + b exp(r #(T ≤ Tch))
    /// M1            Σ max(T − Tb, 0) (L/10)^k ≥ F
    /// Menzel        Σ max(T − Tb, 0) ≥ a + b ln #(T ≤ Tch)
    /// ```
    ///
    /// | symbol | here         | meaning               | unit       |
    /// |--------|--------------|-----------------------|------------|
    /// | T      | `mean`       | daily mean            | °C         |
    /// | L      | `day_length` | day length            | h          |
    /// | Tb, Tch | `base`, `cold_below` | base of warmth, warmest cold day | °C |
    /// | F, C   | `need`, `cold_need` or `cold_days` | warmth and cold needed | model's own |
    /// | others | fields of the variant | as named there | —         |
    ///
    /// **Holds** for seasons without gaps that begin by the model's first day: days not given, or not a
    /// number, gather nothing. M1 without day lengths, and Unified before `last_cold_day`, have no answer.
    /// No cold day counts as one in Menzel's logarithm (own).
    /// **Error** about 3 days for sharply defined flower stages, 5 to 7 and more for bud burst, on unseen
    /// seasons with fitted parameters.
    /// **Source** named at each variant; thermal time and sequential are common forms.
    /// **Checked** `tests/phenology.rs` (10 parameter sets, 12 seasons), `tests/kma.rs` (6 of the models, 2
    /// stations, 24 seasons).
    ///
    /// # Example
    ///
    /// ```
    /// use dormancy::model::{Model, Season};
    ///
    /// let ten_degrees = [10.0; 60];
    /// let season = Season { first_day: 1, mean: &ten_degrees, day_length: None };
    /// let model = Model::ThermalTime { start: 11, base: 5.0, need: 100.0 };
    /// assert_eq!(model.day_reached(&season), Some(30));
    /// ```
    pub fn day_reached(&self, season: &Season) -> Option<i32> {
        match *self {
            Model::ThermalTime { start, base, need } => season.first_sum(start, need, |t| warmth(t, base)),
            Model::Uniforc { start, warm, need } => season.first_sum(start, need, |t| warm.rate(t)),
            Model::Unichill { start, cold, cold_need, warm, need } => {
                let woken = season.first_sum(start, cold_need, |t| cold.rate(t))?;
                season.first_sum(woken, need, |t| warm.rate(t))
            }
            Model::Unified { start, cold, cold_need, warm, scale, decay, last_cold_day } => {
                if season.last_day() < last_cold_day {
                    return None;
                }
                let woken = season.first_sum(start, cold_need, |t| cold.rate(t))?;
                let chilling = start..=last_cold_day;
                let chilled: f64 =
                    season.days().filter(|(day, _)| chilling.contains(day)).map(|(_, t)| cold.rate(t)).sum();
                season.first_sum(woken, scale * (decay * chilled).exp(), |t| warm.rate(t))
            }
            Model::Sequential { start, cold_below, cold_days, base, need } => {
                let woken = season.first_sum(start, f64::from(cold_days), |t| one_if(t <= cold_below))?;
                season.first_sum(woken, need, |t| warmth(t, base))
            }
            Model::M1 { start, base, power, need } => season.first_light_sum(start, base, power, need),
            Model::Parallel { .. } | Model::Alternating { .. } | Model::Menzel { .. } => {
                self.day_side_by_side(season)
            }
        }
    }

    /// The models in which cold and warmth are gathered at the same time.
    fn day_side_by_side(&self, season: &Season) -> Option<i32> {
        let (mut cold, mut warm) = (0.0, 0.0);
        season.days().find_map(|(day, t)| {
            let (cold_start, start) = self.starts();
            if day >= cold_start {
                cold += self.cold_rate(t);
            }
            if day < start {
                return None;
            }
            let need = match *self {
                Model::Parallel { cold_need, least, base, need, .. } => {
                    warm += warmth(t, base) * (least + (1.0 - least) * cold / cold_need).min(1.0);
                    need
                }
                Model::Alternating { base, least, scale, decay, .. } => {
                    warm += warmth(t, base);
                    least + scale * (decay * cold).exp()
                }
                Model::Menzel { base, level, slope, .. } => {
                    warm += warmth(t, base);
                    level + slope * cold.max(1.0).ln()
                }
                _ => return None,
            };
            (warm >= need).then_some(day)
        })
    }

    fn starts(&self) -> (i32, i32) {
        match *self {
            Model::Parallel { cold_start, start, .. } | Model::Alternating { cold_start, start, .. } => {
                (cold_start, start)
            }
            _ => (MENZEL_COLD_START, MENZEL_START),
        }
    }

    fn cold_rate(&self, t: f64) -> f64 {
        match *self {
            Model::Parallel { cold_low, cold_best, cold_high, .. } => {
                let rising = (t - cold_low) / (cold_best - cold_low);
                let falling = (cold_high - t) / (cold_high - cold_best);
                rising.min(falling).max(0.0)
            }
            Model::Alternating { cold_below, .. } | Model::Menzel { cold_below, .. } => {
                one_if(t <= cold_below)
            }
            _ => 0.0,
        }
    }
}

impl ColdCurve {
    pub(crate) fn rate(self, t: f64) -> f64 {
        let off = t - self.middle;
        1.0 / (1.0 + (self.square * off * off + self.slope * off).exp())
    }
}

impl WarmCurve {
    pub(crate) fn rate(self, t: f64) -> f64 {
        1.0 / (1.0 + (self.slope * (t - self.middle)).exp())
    }
}

impl Season<'_> {
    fn last_day(&self) -> i32 {
        self.first_day + self.mean.len() as i32 - 1
    }

    /// Day and mean, days that are not a number left out.
    fn days(&self) -> impl Iterator<Item = (i32, f64)> {
        (self.first_day..).zip(self.mean.iter().copied()).filter(|(_, t)| !t.is_nan())
    }

    fn first_sum(&self, start: i32, need: f64, rate: impl Fn(f64) -> f64) -> Option<i32> {
        let mut sum = 0.0;
        self.days().filter(|(day, _)| *day >= start).find_map(|(day, t)| {
            sum += rate(t);
            (sum >= need).then_some(day)
        })
    }

    fn first_light_sum(&self, start: i32, base: f64, power: f64, need: f64) -> Option<i32> {
        let light = self.day_length?;
        let mut sum = 0.0;
        self.days().filter(|(day, _)| *day >= start).find_map(|(day, t)| {
            let hours = light.get((day - self.first_day) as usize)?;
            sum += warmth(t, base) * (hours / 10.0).powf(power);
            (sum >= need).then_some(day)
        })
    }
}

fn warmth(t: f64, base: f64) -> f64 {
    degree_day_mean(Celsius(t), Celsius(base))
}

fn one_if(so: bool) -> f64 {
    f64::from(u8::from(so))
}
