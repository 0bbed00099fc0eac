//! How thick each limb is along its line: measured, between measured places, or inferred from the tips it carries.

use measure::quantity::{Millimetre, Share};

use super::{Caveat, Rule, Thickness, line::Line};
use crate::joint::{Joint, exponent_for, share};

/// A twig at its end, mm: our estimate.
const TWIG: f64 = 1.5;

/// A shoot that carries one tip, at its base, mm: our estimate.
const SHOOT: f64 = 2.0;

/// A limb is never inferred thicker than this share of what carries it.
const AT_MOST: f64 = 0.95;

/// The thickness along one line.
pub(super) struct Course {
    /// How far along, how thick; base first.
    knots: Vec<(f64, f64)>,
    /// How far along the lowest and the highest measured places lie.
    measured: Vec<f64>,
    below: Rule,
    beyond: Rule,
}

impl Course {
    pub(super) fn at(&self, along: f64) -> f64 {
        let after = self.knots.iter().position(|knot| knot.0 >= along).unwrap_or(self.knots.len() - 1).max(1);
        let ((from, base), (to, tip)) = (self.knots[after - 1], self.knots[after]);
        let share = if to > from { ((along - from) / (to - from)).clamp(0.0, 1.0) } else { 1.0 };
        base + share * (tip - base)
    }

    pub(super) fn had(&self, from: f64, to: f64) -> Thickness {
        let on = |along: &&f64| (from - 1e-9..=to + 1e-9).contains(*along);
        let (Some(lowest), Some(highest)) = (self.measured.first(), self.measured.last()) else {
            return Thickness::Inferred(self.below);
        };
        if self.measured.iter().any(|along| on(&along)) {
            Thickness::Measured
        } else if *lowest < from && to < *highest {
            Thickness::Interpolated
        } else {
            Thickness::Inferred(if to < *lowest { self.below } else { self.beyond })
        }
    }
}

/// Gives every line its thickness, bearers first.
pub(super) fn give(lines: &[Line], measured: &[Joint], caveats: &mut Vec<Caveat>) -> Vec<Course> {
    let tips = Tips::of(lines);
    let mut courses: Vec<Course> = Vec::with_capacity(lines.len());
    for (at, line) in lines.iter().enumerate() {
        let course = if line.calipers.is_empty() {
            let base = match line.bearer {
                Some((bearer, vertex)) => {
                    let along = lines[bearer].alongs()[vertex];
                    let below = Millimetre(courses[bearer].at(along));
                    let part = tips.whole[at] / tips.beyond(lines, bearer, along).max(tips.whole[at]);
                    let n = exponent_for(below, measured).value;
                    share(below, Share(part), n).0.min(AT_MOST * below.0)
                }
                None => {
                    caveats.push(Caveat::TrunkNotMeasured);
                    carried(lines, &tips, measured)
                }
            };
            let rule = if line.bearer.is_some() { Rule::ShareOfBearer } else { Rule::TipsCarried };
            let knots = vec![(0.0, base), (whole(line), TWIG.min(0.7 * base))];
            Course { knots, measured: Vec::new(), below: rule, beyond: rule }
        } else {
            measured_course(line, caveats)
        };
        courses.push(course);
    }
    courses
}

fn whole(line: &Line) -> f64 {
    line.alongs().last().copied().unwrap_or_default()
}

fn measured_course(line: &Line, caveats: &mut Vec<Caveat>) -> Course {
    let whole = whole(line);
    let mut knots: Vec<(f64, f64)> = Vec::new();
    for caliper in &line.calipers {
        let along = caliper.along.0 + line.lead;
        if along > whole * 1.02 + 2.0 {
            caveats.push(Caveat::CaliperBeyondEnd { limb: line.id });
        }
        let along = along.min(whole);
        match knots.last_mut() {
            // Two readings of one place count as their mean.
            Some(last) if along - last.0 < super::line::SHORTEST => {
                last.1 = 0.5 * (last.1 + caliper.diameter.0)
            }
            _ => knots.push((along, caliper.diameter.0)),
        }
    }
    let measured: Vec<f64> = knots.iter().map(|knot| knot.0).collect();
    let (last, thickness) = knots[knots.len() - 1];
    if whole - last > 1e-9 {
        knots.push((whole, TWIG.min(0.7 * thickness)));
    }
    let (first, base) = knots[0];
    if first > 1e-9 {
        let slope = knots.get(1).map_or(0.0, |next| (base - next.1) / (next.0 - first)).max(0.0);
        knots.insert(0, (0.0, base + slope * first));
    }
    if knots.len() == 1 {
        knots.push(knots[0]);
    }
    Course { knots, measured, below: Rule::TaperToBase, beyond: Rule::TaperToTip }
}

/// How thick a trunk must be that was not measured: by the measured limbs it carries, or by its tips alone.
fn carried(lines: &[Line], tips: &Tips, measured: &[Joint]) -> f64 {
    let per_tip = |n: f64| {
        let known: Vec<f64> = (1..lines.len())
            .filter(|&at| lines[at].bearer.is_some_and(|(bearer, _)| bearer == 0))
            .filter_map(|at| Some(lines[at].calipers.first()?.diameter.0.powf(n) / tips.whole[at]))
            .collect();
        if known.is_empty() { SHOOT.powf(n) } else { known.iter().sum::<f64>() / known.len() as f64 }
    };
    let base = |n: f64| (per_tip(n) * tips.whole[0]).powf(1.0 / n);
    let guess = base(2.4);
    base(exponent_for(Millimetre(guess), measured).value)
}

/// The tips that each line carries.
struct Tips {
    /// All of them.
    whole: Vec<f64>,
    /// Those not on a line of their own.
    own: Vec<f64>,
}

impl Tips {
    fn of(lines: &[Line]) -> Tips {
        let (mut whole, mut own) = (vec![0.0; lines.len()], vec![0.0; lines.len()]);
        for at in (0..lines.len()).rev() {
            let borne: f64 = whole[at];
            own[at] = lines[at].tips.map_or(1.0, |class| (class.reckoned() - borne).max(1.0));
            whole[at] = borne + own[at];
            if let Some((bearer, _)) = lines[at].bearer {
                whole[bearer] += whole[at];
            }
        }
        Tips { whole, own }
    }

    /// The tips that a line carries from a place on, what leaves it there included; its own stand along its outer two thirds.
    fn beyond(&self, lines: &[Line], at: usize, along: f64) -> f64 {
        let alongs = lines[at].alongs();
        let whole = alongs[alongs.len() - 1];
        let own = 1.0 + (self.own[at] - 1.0) * ((whole - along) / (whole * 2.0 / 3.0)).clamp(0.0, 1.0);
        let borne = lines.iter().enumerate().filter_map(|(other, line)| {
            let (bearer, vertex) = line.bearer?;
            (bearer == at && alongs[vertex] >= along - 1e-9).then_some(self.whole[other])
        });
        own + borne.sum::<f64>()
    }
}
