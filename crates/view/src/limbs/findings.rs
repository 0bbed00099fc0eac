//! What the structure of a tree shows against the rules of the trade, each of which can be switched off for a tree.

use std::collections::BTreeSet;

use form::{
    reading::{self, Beside, Pot},
    rules::{Rule, RuleId},
    traced::Thickness,
};
use measure::quantity::Millimetre;
use pot::outline::Outline;

use super::seen;
use crate::{
    water::stands_in,
    whole::{TreeWhole, Whole},
};

/// A finding on the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule's name in addresses.
    pub rule: &'static str,
    /// What is measured.
    pub title: &'static str,
    /// What was measured and what is usual, and on which limbs.
    pub words: String,
    /// Where the rule comes from.
    pub standing: String,
    /// Whether it lies outside what is usual.
    pub outside: bool,
}

/// What the rules say of a tree.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Findings {
    /// What was found, outside what is usual first.
    pub rows: Vec<Finding>,
    /// The rules switched off: name in addresses and what is measured.
    pub switched: Vec<(&'static str, &'static str)>,
    /// Findings that are not told because they compare diameters that nobody measured.
    pub untold: usize,
}

/// Rules that compare the diameters of limbs; an inferred diameter follows from a rule itself and proves nothing.
const BY_DIAMETERS: [RuleId; 6] = [
    RuleId::BranchToTrunk,
    RuleId::BranchOrder,
    RuleId::BranchingPoint,
    RuleId::CrowdedNode,
    RuleId::OppositePair,
    RuleId::ReverseTaper,
];

/// The findings of the rules that hold for the tree.
pub fn findings(whole: &Whole, tree: &TreeWhole) -> Findings {
    let shape = &tree.shape;
    let off: BTreeSet<RuleId> = shape.rules_off.iter().filter_map(|key| RuleId::of(key)).collect();
    let switched = off.iter().map(|id| (id.rule().key, id.rule().measure)).collect();
    // A trunk traced on one photo lies in its plane: it does not tell how far the apex leans to the viewer.
    let off = off.into_iter().chain([RuleId::FrontLean]).collect();
    let Ok(seen) = seen(whole, tree) else { return Findings { switched, ..Findings::default() } };
    let beside = Beside { flare: None, pot: stands_in(tree).map(|(pot, _)| pot_of(whole, pot)), off };
    let measured = |limb: &u32| !matches!(seen.how(*limb), None | Some(Thickness::Inferred(_)));
    let all = reading::read(&seen.raised.skeleton, &beside);
    let count = all.len();
    let mut rows: Vec<Finding> = all
        .into_iter()
        .filter(|it| !BY_DIAMETERS.contains(&it.rule) || it.limbs.iter().all(measured))
        .map(|finding| {
            let rule = finding.rule.rule();
            let names: Vec<String> = finding.limbs.iter().map(|limb| shape.name_of(*limb)).collect();
            let at = if names.is_empty() { String::new() } else { format!(" ({})", names.join(", ")) };
            Finding {
                rule: rule.key,
                title: rule.measure,
                words: format!("{}{at}; usual is {}.", figure(finding.value), usual(rule)),
                standing: rule.standing.words(),
                outside: !finding.keeps,
            }
        })
        .collect();
    rows.sort_by_key(|finding| !finding.outside);
    Findings { untold: count - rows.len(), rows, switched }
}

fn pot_of(whole: &Whole, pot: usize) -> Pot {
    let vessel = &whole.pots[pot].vessel;
    let (_, [length, _], _) = vessel.top.key();
    Pot {
        length: Millimetre(length.0 * 10.0),
        depth: Millimetre(vessel.height.0 * 10.0),
        round: matches!(vessel.top, Outline::Round { .. }),
        cascade: vessel.height.0 > 0.8 * length.0,
    }
}

fn figure(value: f64) -> String {
    if !value.is_finite() {
        return "no figure that balances".into();
    }
    let told = format!("{value:.2}");
    told.trim_end_matches('0').trim_end_matches('.').replace('-', "−")
}

fn usual(rule: &Rule) -> String {
    format!("{} to {}", figure(rule.low), figure(rule.high))
}
