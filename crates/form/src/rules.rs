//! The rules of the trade that can be measured: their targets, their spans, and what each stands on.

use measure::sourced::Standing;

/// A rule; each can be switched off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum RuleId {
    GirthHeight,
    FirstBranch,
    BranchSpacing,
    BranchToTrunk,
    BranchOrder,
    BranchLength,
    PotLength,
    PotDepth,
    PotWidthRound,
    CascadePot,
    FrontLean,
    NebariSpread,
    ApexGap,
    ApexFiner,
    Golden,
    BranchingPoint,
    ReverseTaper,
    TaperPower,
    CrowdedNode,
    OppositePair,
}

/// A rule with its span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Which one.
    pub id: RuleId,
    /// Its name in files.
    pub key: &'static str,
    /// What is measured.
    pub measure: &'static str,
    /// Where the trade aims.
    pub target: f64,
    /// The lowest value that keeps it.
    pub low: f64,
    /// The highest value that keeps it.
    pub high: f64,
    /// What it stands on.
    pub standing: Standing,
}

impl Rule {
    /// Whether a value keeps the rule.
    pub fn keeps(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

impl RuleId {
    /// The rule.
    pub fn rule(self) -> &'static Rule {
        RULES.iter().find(|rule| rule.id == self).unwrap_or(&RULES[0])
    }

    /// The rule of this name.
    ///
    /// ```
    /// use form::rules::RuleId;
    ///
    /// assert_eq!(RuleId::of("golden"), Some(RuleId::Golden));
    /// ```
    pub fn of(key: &str) -> Option<RuleId> {
        RULES.iter().find(|rule| rule.key == key).map(|rule| rule.id)
    }
}

const fn r(
    id: RuleId,
    key: &'static str,
    measure: &'static str,
    target: f64,
    [low, high]: [f64; 2],
    standing: Standing,
) -> Rule {
    Rule { id, key, measure, target, low, high, standing }
}

const CP: Standing = Standing::Practice;
const OURS: Standing = Standing::Estimate("a choice of ours, to be tuned on trees that you like");
const LIMB: Standing = Standing::Published(
    "the limit: Eisner, Gilman and Grabosky 2002, abstract: removing limbs above 0.59 (red maple) or 0.39 (live oak) of the \
     trunk left severe discolouration; the span itself is common practice",
);
const NODE: Standing = Standing::Published(
    "Eloy 2011: 1.8 to 2.3 for many trees; the span here holds half of a digitised walnut's nodes, by the reference set",
);

/// The rules. But for two they are common practice without a source, and the pages say so.
#[rustfmt::skip]
pub const RULES: [Rule; 20] = [
    r(RuleId::GirthHeight, "girth_height", "height above soil over trunk base thickness", 6.0, [5.0, 10.0], CP),
    r(RuleId::FirstBranch, "first_branch", "height of the lowest primary over tree height", 0.333, [0.25, 0.45], CP),
    r(RuleId::BranchSpacing, "branch_spacing", "gaps between primaries that grow by more than a tenth going up", 0.0, [0.0, 1.0], CP),
    r(RuleId::BranchToTrunk, "branch_to_trunk", "base of a primary over the trunk there", 0.33, [0.15, 0.5], LIMB),
    r(RuleId::BranchOrder, "branch_order", "primaries more than 5 % thicker than the one below", 0.0, [0.0, 1.0], CP),
    r(RuleId::BranchLength, "branch_length", "primaries that reach more than 5 % further than the one below", 0.0, [0.0, 1.0], CP),
    r(RuleId::PotLength, "pot_length", "outer length of the pot over the larger of height and spread", 0.667, [0.55, 0.8], CP),
    r(RuleId::PotDepth, "pot_depth", "outer depth of the pot over trunk base thickness", 1.0, [0.7, 1.5], CP),
    r(RuleId::PotWidthRound, "pot_width_round", "outer width of a round pot over tree height", 0.333, [0.28, 0.5], CP),
    r(RuleId::CascadePot, "cascade_pot", "depth of a cascade's pot over trunk base thickness", 3.0, [1.5, 5.0], CP),
    r(RuleId::FrontLean, "front_lean", "apex towards the viewer over height", 0.08, [0.0, 0.2], CP),
    r(RuleId::NebariSpread, "nebari_spread", "root flare seen from the front over the trunk above it", 2.0, [1.5, 4.0], CP),
    r(RuleId::ApexGap, "apex_gap", "narrowest row between apex and next layer over the mean of their widest rows", 0.5, [0.2, 0.8], OURS),
    r(RuleId::ApexFiner, "apex_finer", "mean width of the top layer over that of the layer below", 0.7, [0.4, 0.95], CP),
    r(RuleId::Golden, "golden", "left share of the crown", 0.38, [0.3, 0.7], CP),
    r(RuleId::BranchingPoint, "branching_point", "exponent with which a node balances", 2.4, [1.8, 3.3], NODE),
    r(RuleId::ReverseTaper, "reverse_taper", "thickness over that of the piece below", 1.0, [0.0, 1.03], OURS),
    r(RuleId::TaperPower, "taper_power", "power of the trunk's taper: 0.5 bulges, 1 is a cone", 1.0, [0.8, 2.0], CP),
    r(RuleId::CrowdedNode, "crowded_node", "cross-sections that leave a node of three or more over the one below", 1.0, [0.0, 1.3], OURS),
    r(RuleId::OppositePair, "opposite_pair", "thinner over thicker of two branches that stand opposite on the trunk", 0.5, [0.0, 0.8], CP),
];
