//! The models that wake first and warm after, as a way of waking, a rate of warmth and a need.

use std::iter::once;

use crate::{
    fit::{
        dice::Dice,
        search::{Candidate, Family, Leaning},
        springs::{Springs, Warmth},
    },
    model::{ColdCurve, Model, WarmCurve},
};

/// Which of the models is fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Waking {
    ThermalTime,
    Uniforc,
    Sequential,
    Unichill,
}

/// First day of cold in the search: 1 November.
const COLD_START: i32 = -60;

/// When the warmth begins to count.
#[derive(Clone, Copy)]
enum Wake {
    Day(i32),
    Curve { start: i32, cold: ColdCurve, need: f64 },
    Days { start: i32, below: f64, count: u32 },
}

/// What a day of warmth is worth.
#[derive(Clone, Copy)]
enum Rate {
    Base(f64),
    Curve(WarmCurve),
}

impl Rate {
    fn of(self, springs: &Springs) -> Warmth {
        match self {
            Rate::Base(base) => springs.warmth(|t| (t - base).max(0.0)),
            Rate::Curve(curve) => springs.warmth(|t| curve.rate(t)),
        }
    }
}

/// Wake and rate of a model; none for a model of another family.
fn parts(model: &Model) -> Option<(Wake, Rate)> {
    Some(match *model {
        Model::ThermalTime { start, base, .. } => (Wake::Day(start), Rate::Base(base)),
        Model::Uniforc { start, warm, .. } => (Wake::Day(start), Rate::Curve(warm)),
        Model::Sequential { start, cold_below, cold_days, base, .. } => {
            (Wake::Days { start, below: cold_below, count: cold_days }, Rate::Base(base))
        }
        Model::Unichill { start, cold, cold_need, warm, .. } => {
            (Wake::Curve { start, cold, need: cold_need }, Rate::Curve(warm))
        }
        _ => return None,
    })
}

/// The model of a wake, a rate and a need; a pair no model has is read with the rate's middle as its base.
fn joined(wake: Wake, rate: Rate, need: f64) -> Model {
    match (wake, rate) {
        (Wake::Day(start), Rate::Base(base)) => Model::ThermalTime { start, base, need },
        (Wake::Day(start), Rate::Curve(warm)) => Model::Uniforc { start, warm, need },
        (Wake::Days { start, below, count }, Rate::Base(base)) => {
            Model::Sequential { start, cold_below: below, cold_days: count, base, need }
        }
        (Wake::Days { start, below, count }, Rate::Curve(warm)) => {
            Model::Sequential { start, cold_below: below, cold_days: count, base: warm.middle, need }
        }
        (Wake::Curve { start, cold, need: cold_need }, Rate::Curve(warm)) => {
            Model::Unichill { start, cold, cold_need, warm, need }
        }
        (Wake::Curve { start, cold, need: cold_need }, Rate::Base(middle)) => {
            let warm = WarmCurve { slope: -0.3, middle };
            Model::Unichill { start, cold, cold_need, warm, need }
        }
    }
}

impl Waking {
    fn rates(self) -> Vec<Rate> {
        let half = |step: i32| Rate::Base(0.5 * f64::from(step));
        match self {
            Waking::ThermalTime => (-12..=24).map(half).collect(),
            Waking::Sequential => (-6..=12).map(|step| half(2 * step)).collect(),
            Waking::Uniforc | Waking::Unichill => {
                let slopes = [-0.1, -0.15, -0.2, -0.3, -0.5, -1.0, -2.0];
                let middles = (0..=8).map(|step| 3.0 * f64::from(step));
                middles
                    .flat_map(|middle| slopes.map(|slope| Rate::Curve(WarmCurve { slope, middle })))
                    .collect()
            }
        }
    }

    /// Ways of waking with the springs woken so.
    fn wakes(self, springs: &Springs) -> Vec<(Wake, Vec<u32>)> {
        let mut wakes = Vec::new();
        match self {
            Waking::ThermalTime | Waking::Uniforc => {
                let days = (-41..=111).step_by(3);
                wakes.extend(days.map(|day| (Wake::Day(day), springs.woken_on(day))));
            }
            Waking::Sequential => {
                for below in (-2..=12).step_by(2).map(f64::from) {
                    let cold = springs.sum(|t| f64::from(u8::from(t <= below)));
                    for day in (-20..=100).step_by(5) {
                        let count = springs.mean_between(&cold, COLD_START, day).round();
                        let wake = Wake::Days { start: COLD_START, below, count: count as u32 };
                        wakes.push((wake, springs.woken_by(&cold, COLD_START, count)));
                    }
                }
            }
            Waking::Unichill => {
                for cold in cold_curves() {
                    let sum = springs.sum(|t| cold.rate(t));
                    for day in (-20..=100).step_by(8) {
                        let need = springs.mean_between(&sum, COLD_START, day);
                        let wake = Wake::Curve { start: COLD_START, cold, need };
                        wakes.push((wake, springs.woken_by(&sum, COLD_START, need)));
                    }
                }
            }
        }
        wakes
    }
}

/// Bells of three widths about five temperatures, and falling curves about five.
fn cold_curves() -> impl Iterator<Item = ColdCurve> {
    let bells =
        [-4.0, 0.0, 4.0, 8.0].into_iter().flat_map(|middle| [5.0, 10.0].map(|half| bell(middle, half)));
    let falling = [0.0, 3.0, 6.0, 9.0, 12.0].map(|middle| ColdCurve { square: 0.0, slope: 0.4, middle });
    bells.chain(falling).chain(once(ColdCurve { square: 0.0, slope: 1.5, middle: 9.0 }))
}

/// The chilling curve whose rate is nearly 1 at `middle` and one half at `half` degrees to either side.
fn bell(middle: f64, half: f64) -> ColdCurve {
    const HEIGHT: f64 = 3.0;

    let square = HEIGHT / (half * half);
    let slope = -2.0 * (square * HEIGHT).sqrt();
    ColdCurve { square, slope, middle: middle + slope / (2.0 * square) }
}

/// Mean day on which the warmth begins to count.
fn opening(springs: &Springs, woken: &[u32]) -> f64 {
    let days = springs.years.iter().zip(woken).map(|(year, &woken)| f64::from(year.first_day + woken as i32));
    days.sum::<f64>() / woken.len() as f64
}

fn lean(leaning: &Leaning, opening: f64, rate: Rate) -> f64 {
    leaning.opening(opening)
        + match rate {
            Rate::Base(base) => leaning.base(base),
            Rate::Curve(curve) => leaning.curve(curve),
        }
}

impl Family for Waking {
    fn grid(&self, springs: &Springs, leaning: &Leaning, keep: &mut dyn FnMut(Candidate) -> f64) {
        let wakes: Vec<(Wake, Vec<u32>, f64)> = self
            .wakes(springs)
            .into_iter()
            .map(|(wake, woken)| {
                let opening = opening(springs, &woken);
                (wake, woken, opening)
            })
            .collect();
        let mut limit = f64::INFINITY;
        for rate in self.rates() {
            let warmth = rate.of(springs);
            for (wake, woken, opening) in &wakes {
                if let Some((need, error)) = springs.score(woken, &warmth, limit) {
                    let lean = lean(leaning, *opening, rate);
                    limit = keep(Candidate { model: joined(*wake, rate, need), error, lean });
                }
            }
        }
    }

    fn nudged(&self, model: &Model, dice: &mut Dice, reach: f64) -> Model {
        let Some((mut wake, mut rate)) = parts(model) else { return *model };
        match &mut wake {
            Wake::Day(day) => *day += dice.about(8.0 * reach).round() as i32,
            Wake::Curve { start, cold, need } => {
                *start = (*start + dice.about(15.0 * reach).round() as i32).max(COLD_START);
                cold.square *= dice.about(0.5 * reach).exp();
                cold.slope *= dice.about(0.5 * reach).exp();
                cold.middle += dice.about(2.0 * reach);
                *need *= dice.about(0.3 * reach).exp();
            }
            Wake::Days { start, below, count } => {
                *start = (*start + dice.about(15.0 * reach).round() as i32).max(COLD_START);
                *below += dice.about(2.0 * reach);
                *count = count.saturating_add_signed(dice.about(10.0 * reach).round() as i32).clamp(1, 365);
            }
        }
        match &mut rate {
            Rate::Base(base) => *base += dice.about(reach),
            Rate::Curve(curve) => {
                curve.slope *= dice.about(0.4 * reach).exp();
                curve.middle += dice.about(3.0 * reach);
            }
        }
        joined(wake, rate, 0.0)
    }

    fn tried(&self, springs: &Springs, leaning: &Leaning, model: &Model, limit: f64) -> Option<Candidate> {
        let (wake, rate) = parts(model)?;
        let woken = match wake {
            Wake::Day(day) => springs.woken_on(day),
            Wake::Curve { start, cold, need } => {
                springs.woken_by(&springs.sum(|t| cold.rate(t)), start, need)
            }
            Wake::Days { start, below, count } => {
                let cold = springs.sum(|t| f64::from(u8::from(t <= below)));
                springs.woken_by(&cold, start, f64::from(count))
            }
        };
        let (need, error) = springs.tuned(&woken, &rate.of(springs), limit)?;
        let lean = lean(leaning, opening(springs, &woken), rate);
        Some(Candidate { model: joined(wake, rate, need), error, lean })
    }
}
