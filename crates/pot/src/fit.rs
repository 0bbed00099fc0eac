//! A pot held against a tree: what forbids it, how well it suits, and why.

pub mod asked;
pub mod frame;
pub mod grade;
pub mod limit;
pub mod rule;
pub mod sitter;

use measure::quantity::Share;

use crate::colour::score::{Manner, Score, Weights, glaze};
use frame::Frame;
use grade::{Grade, measured};
use limit::{Limits, Refusal, refusals};
use rule::{RULES, RuleId};
use sitter::{Sitter, Style};

/// The grower's own hand on the rules: limits, what each rule counts, what each part of the colour counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ruling {
    /// The hard limits.
    pub limits: Limits,
    /// How much each rule counts, in the order of [`RULES`]; 0 switches one off.
    pub weights: [f64; RULES.len()],
    /// How much each part of the colour counts.
    pub colour: Weights,
}

impl Default for Ruling {
    fn default() -> Self {
        Ruling {
            limits: Limits::default(),
            weights: std::array::from_fn(|at| RULES[at].weight),
            colour: Weights::default(),
        }
    }
}

impl Ruling {
    /// The same with one rule switched off.
    #[must_use]
    pub fn without(mut self, rule: RuleId) -> Ruling {
        self.weights[rule as usize] = 0.0;
        self
    }
}

/// A pot held against a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// What forbids the pot; empty when it may be used.
    pub refusals: Vec<Refusal>,
    /// 0 to 1 over the rules that apply; none when none does.
    pub score: Option<Share>,
    /// Rule by rule, those that apply and are not switched off.
    pub grades: Vec<Grade>,
    /// The colour opened, where both sides' colours are known.
    pub colour: Option<Score>,
}

/// Holds a pot against a tree.
///
/// ```text
/// score = Σ weight·mark / Σ weight   over the rules that apply
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | mark | [`Grade::mark`] | how well the rule is kept, 0 to 1 | 1 |
/// | weight | [`Ruling::weights`] | how much the rule counts | 1 |
/// | score | [`Fit::score`] | how well the pot suits | 1 |
///
/// **Holds** as far as the trade's habits do. A refused pot is graded all the same, so that the page can say what it would have
/// been. **Error** unknown: taste. **Source** common practice, no source; spans of the reference set. **Checked** the spans in
/// `tests/fit.rs`; the marks nothing outside, worked by hand in `fit/grade.rs`.
///
/// # Example
///
/// ```
/// use pot::fit::{Ruling, fit, frame::Frame, rule::RuleId, sitter::Sitter};
///
/// let told = fit(&Frame::sample(), &Sitter::sample(), &Ruling::default());
/// assert!(told.refusals.is_empty());
/// let quiet = fit(&Frame::sample(), &Sitter::sample(), &Ruling::default().without(RuleId::Colour));
/// assert!(quiet.grades.iter().all(|grade| grade.rule.id != RuleId::Colour));
/// ```
pub fn fit(pot: &Frame, tree: &Sitter, ruling: &Ruling) -> Fit {
    let colour = pot.colour.and_then(|colour| {
        let flowers = matches!(tree.kind, sitter::Kind::Flowering);
        let manner = Manner { light_pot_may_rise: flowers || tree.style == Style::Literati };
        glaze(colour, &tree.colours, manner, ruling.colour)
    });
    let grades: Vec<Grade> = RULES
        .iter()
        .filter(|rule| ruling.weights[rule.id as usize] > 0.0)
        .filter_map(|rule| {
            let found = match rule.id {
                RuleId::Colour => colour.as_ref().map(|score| score.whole),
                id => measured(id, pot, tree),
            }?;
            let weight = ruling.weights[rule.id as usize];
            Some(Grade { rule, found, mark: rule.mark(found), weight })
        })
        .collect();
    let whole: f64 = grades.iter().map(|grade| grade.weight).sum();
    let kept: f64 = grades.iter().map(|grade| grade.weight * grade.mark).sum();
    Fit {
        refusals: refusals(pot, tree, &ruling.limits),
        score: (whole > 0.0).then(|| Share(kept / whole)),
        grades,
        colour,
    }
}

impl Fit {
    /// Whole points for the sharing out of the shelf, 0 to 1000; none when the pot is refused or nothing grades it.
    pub fn points(&self) -> Option<i64> {
        let score = self.score.filter(|_| self.refusals.is_empty())?;
        Some((1000.0 * score.0).round() as i64)
    }

    /// What each rule takes from a full score, the dearest first.
    pub fn losses(&self) -> Vec<(RuleId, Share)> {
        let whole: f64 = self.grades.iter().map(|grade| grade.weight).sum();
        let lost = |grade: &Grade| (grade.rule.id, Share(grade.weight * (1.0 - grade.mark) / whole));
        let mut losses: Vec<_> = self.grades.iter().map(lost).filter(|(_, lost)| lost.0 > 0.0).collect();
        losses.sort_by(|a, b| b.1.0.total_cmp(&a.1.0).then(a.0.cmp(&b.0)));
        losses
    }

    /// Why this pot comes second to `first`: the rule that costs it the most against that one.
    pub fn second_to(&self, first: &Fit) -> Option<RuleId> {
        let theirs = first.losses();
        let of = |id| theirs.iter().find(|(other, _)| *other == id).map_or(0.0, |(_, lost)| lost.0);
        let worse = self.losses().into_iter().map(|(id, lost)| (id, lost.0 - of(id)));
        worse.filter(|(_, gap)| *gap > 0.0).max_by(|a, b| a.1.total_cmp(&b.1)).map(|(id, _)| id)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use frame::Finish;

    #[test]
    fn the_score_is_the_sum_of_its_parts() {
        let told = fit(&Frame::sample(), &Sitter::sample(), &Ruling::default());
        let lost: f64 = told.losses().iter().map(|(_, lost)| lost.0).sum();
        assert!((told.score.unwrap().0 + lost - 1.0).abs() < 1e-12);
        assert!(told.grades.len() >= 8, "{:?}", told.grades);
    }

    #[test]
    fn a_second_choice_keeps_its_reason() {
        let tree = Sitter::sample();
        let first = fit(&Frame::sample(), &tree, &Ruling::default());
        let bare = Frame { finish: Finish::Unglazed, ..Frame::sample() };
        let second = fit(&bare, &tree, &Ruling::default());
        assert!(second.score.unwrap().0 < first.score.unwrap().0);
        assert_eq!(second.second_to(&first), Some(RuleId::Finish));
        assert_eq!(first.second_to(&first), None);
    }

    #[test]
    fn a_refused_pot_has_no_points_but_keeps_its_grades() {
        let none = Frame { drain_holes: 0, ..Frame::sample() };
        let told = fit(&none, &Sitter::sample(), &Ruling::default());
        assert!(told.points().is_none() && told.score.is_some());
    }

    #[test]
    fn with_every_rule_off_there_is_no_score() {
        let ruling = Ruling { weights: [0.0; RULES.len()], ..Ruling::default() };
        assert_eq!(fit(&Frame::sample(), &Sitter::sample(), &ruling).score, None);
    }
}
