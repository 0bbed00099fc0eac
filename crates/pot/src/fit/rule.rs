//! The graded rules of the trade: what each measures, its span, what it counts, and what it stands on.

use measure::sourced::Standing;

use crate::{colour::score::along, table::SizeClass};

/// A rule; each can be switched off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum RuleId {
    Length,
    Across,
    Depth,
    Width,
    CascadeHeight,
    Feel,
    Formality,
    Finish,
    Brightness,
    LightStep,
    Colour,
    OneFeature,
    RootRoom,
    Price,
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
    /// The span that keeps it in full.
    pub span: [f64; 2],
    /// Where nothing is left of it, below and above.
    pub lost: [f64; 2],
    /// What it counts: 3 strong, 1 soft.
    pub weight: f64,
    /// What it stands on.
    pub standing: Standing,
}

/// A value below which, or above which, nothing is lost.
const EVER: f64 = f64::INFINITY;

impl Rule {
    /// How well a value keeps the rule: 1 within the span, falling straight to 0 where all is lost.
    ///
    /// ```
    /// use pot::fit::rule::RuleId;
    ///
    /// let length = RuleId::Length.rule();
    /// assert_eq!([0.3, 0.6, 0.8, 2.0].map(|value| length.mark(value)), [0.0, 1.0, 1.0, 0.0]);
    /// ```
    pub fn mark(&self, value: f64) -> f64 {
        let ([low, high], [under, over]) = (self.span, self.lost);
        if value < low {
            if under == -EVER { 1.0 } else { along(value, &[(under, 0.0), (low, 1.0)]) }
        } else if value > high {
            if over == EVER { 1.0 } else { along(value, &[(high, 1.0), (over, 0.0)]) }
        } else {
            1.0
        }
    }
}

impl RuleId {
    /// The rule.
    pub fn rule(self) -> &'static Rule {
        &RULES[self as usize]
    }

    /// The rule of this name.
    pub fn of(key: &str) -> Option<RuleId> {
        RULES.iter().find(|rule| rule.key == key).map(|rule| rule.id)
    }
}

const CP: Standing = Standing::Practice;
const OURS: Standing = Standing::Estimate("a choice of ours, to be tuned on pairings that you like");

const fn r(
    id: RuleId,
    key: &'static str,
    measure: &'static str,
    [under, low, high, over]: [f64; 4],
    weight: f64,
    standing: Standing,
) -> Rule {
    Rule { id, key, measure, span: [low, high], lost: [under, over], weight, standing }
}

/// The rules, in the order of [`RuleId`]. Their spans are common practice without a source; where a value is lost in full, and
/// what a rule counts, is our own choice.
#[rustfmt::skip]
pub const RULES: [Rule; 14] = [
    r(RuleId::Length, "length", "outer length over the larger of height and spread", [0.35, 0.55, 0.8, 1.1], 3.0, CP),
    r(RuleId::Across, "across", "outer width of a round pot over tree height", [0.15, 0.28, 0.5, 0.75], 3.0, CP),
    r(RuleId::Depth, "depth", "outer depth over the depth that trunk, flowers or group ask for", [0.3, 0.7, 1.5, 2.5], 3.0, CP),
    r(RuleId::Width, "width", "outer width over outer length of an oval or rectangle", [0.4, 0.6, 0.8, 1.05], 1.0, CP),
    r(RuleId::CascadeHeight, "cascade_height", "outer depth over outer width of a cascade's pot", [0.8, 1.5, 2.0, 3.0], 3.0, CP),
    r(RuleId::Feel, "feel", "steps between the looks of pot and tree", [-EVER, -EVER, 0.0, 2.5], 3.0, CP),
    r(RuleId::Formality, "formality", "steps between shape and style, from formal to free", [-EVER, -EVER, 0.0, 2.0], 1.0, CP),
    r(RuleId::Finish, "finish", "how usual such a finish is for the kind of tree, 0 to 1", [0.0, 1.0, 1.0, EVER], 3.0, CP),
    r(RuleId::Brightness, "brightness", "strength of the glaze over the cap of the tree's size", [-EVER, -EVER, 1.0, 2.0], 2.0, OURS),
    r(RuleId::LightStep, "light_step", "step of lightness from the bark over the cap of the tree's size", [-EVER, -EVER, 1.0, 2.0], 1.0, OURS),
    r(RuleId::Colour, "colour", "score of the glaze beside bark, leaf, autumn, flower and fruit", [0.0, 1.0, 1.0, EVER], 3.0, CP),
    r(RuleId::OneFeature, "one_feature", "strong features of the pot", [-EVER, -EVER, 1.0, 3.0], 3.0, CP),
    r(RuleId::RootRoom, "root_room", "soil over what the crown drinks from", [0.5, 1.0, EVER, EVER], 3.0, OURS),
    r(RuleId::Price, "price", "worth of the pot over the price asked for both", [-EVER, -EVER, 0.4, 0.6], 3.0, CP),
];

/// How strong a glaze, and how large a step from the bark, a tree of this size carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cap {
    /// The size of the tree.
    pub class: SizeClass,
    /// The strongest glaze.
    pub chroma: f64,
    /// The largest step of lightness from the bark.
    pub step: f64,
    /// How far to trust the row.
    pub standing: Standing,
}

const fn cap(class: SizeClass, chroma: f64, step: f64) -> Cap {
    Cap { class, chroma, step, standing: OURS }
}

/// One row per [`SizeClass`], in its order: small trees carry brighter pots.
pub const CAPS: [Cap; 6] = [
    cap(SizeClass::Mame, 60.0, 60.0),
    cap(SizeClass::Shohin, 50.0, 55.0),
    cap(SizeClass::Kifu, 38.0, 45.0),
    cap(SizeClass::Chuhin, 28.0, 40.0),
    cap(SizeClass::Large, 20.0, 35.0),
    cap(SizeClass::VeryLarge, 16.0, 30.0),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_their_names() {
        assert!(RULES.iter().enumerate().all(|(at, rule)| rule.id as usize == at));
        assert!(RULES.iter().all(|rule| RuleId::of(rule.key) == Some(rule.id)));
        assert!(CAPS.iter().enumerate().all(|(at, cap)| cap.class as usize == at));
    }

    #[test]
    fn a_mark_falls_straight_from_the_span_to_where_all_is_lost() {
        let price = RuleId::Price.rule();
        for (value, mark) in [(0.0, 1.0), (0.4, 1.0), (0.5, 0.5), (0.6, 0.0), (9.0, 0.0)] {
            assert!((price.mark(value) - mark).abs() < 1e-12, "{value}");
        }
        assert_eq!(RuleId::RootRoom.rule().mark(7.0), 1.0);
    }
}
