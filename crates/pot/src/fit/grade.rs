//! What each rule measures on a pot and a tree.

use super::{
    frame::{Finish, Frame, Shape},
    rule::{CAPS, Rule, RuleId},
    sitter::{Kind, Sitter, Style},
};
use crate::{colour::score::Season, table::SizeClass};

/// A rule held against a pot and a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grade {
    /// The rule.
    pub rule: &'static Rule,
    /// What was measured.
    pub found: f64,
    /// How well it keeps the rule, 0 to 1.
    pub mark: f64,
    /// What the rule counts here.
    pub weight: f64,
}

/// Share of the crown's room that the soil must hold, on a mild site and where it is hot or the grower is long away.
pub const ROOT_ROOM: [f64; 2] = [0.12, 0.20];

/// Depth that flowers and fruit ask for, and that a group asks for, in widths of the trunk; the least depth of a group, cm.
pub const DEPTHS: [f64; 3] = [1.4, 0.4, 2.0];

/// What the rule measures here; none where it does not apply or something is not known.
pub(super) fn measured(id: RuleId, pot: &Frame, tree: &Sitter) -> Option<f64> {
    let (length, width, depth) = (pot.outer.length.0, pot.outer.width.0, pot.outer.depth.0);
    let hangs = matches!(tree.style, Style::Cascade | Style::SemiCascade);
    match id {
        RuleId::Length => {
            (!hangs && !pot.shape.is_round()).then(|| length / tree.height.0.max(tree.spread.0))
        }
        RuleId::Across => (!hangs && pot.shape.is_round()).then(|| width / tree.height.0),
        RuleId::Depth => (!hangs).then(|| depth / asked_depth(tree)),
        RuleId::Width => {
            matches!(pot.shape, Shape::Oval | Shape::Rectangle | Shape::SoftRectangle).then(|| width / length)
        }
        RuleId::CascadeHeight => (tree.style == Style::Cascade).then(|| depth / width),
        RuleId::Feel => Some(steps(pot.feel? as i8, tree.feel? as i8)),
        RuleId::Formality => Some(steps(freedom_of_shape(pot.shape), freedom_of_style(tree.style))),
        RuleId::Finish => Some(usual(pot.finish, tree.kind, tree.size())),
        RuleId::Brightness => Some(pot.colour?.chroma() / CAPS[tree.size() as usize].chroma),
        RuleId::LightStep => {
            let bark = tree.colours.iter().find(|target| target.season == Season::Bark)?;
            Some((pot.colour?.l - bark.colour.l).abs() / CAPS[tree.size() as usize].step)
        }
        RuleId::Colour => None,
        RuleId::OneFeature => Some(f64::from(pot.features)),
        RuleId::RootRoom => Some(pot.soil.0 / (tree.crown?.0 * ROOT_ROOM[usize::from(tree.thirsty)])),
        RuleId::Price => {
            let (worth, asked) = (pot.value?.0, tree.price?.0);
            (asked > 0).then(|| worth as f64 / asked as f64)
        }
    }
}

fn steps(a: i8, b: i8) -> f64 {
    f64::from((a - b).abs())
}

/// The depth that the tree asks for, cm.
pub(super) fn asked_depth(tree: &Sitter) -> f64 {
    let [flowers, group, least] = DEPTHS;
    match (tree.style, tree.kind) {
        (Style::Forest | Style::Raft, _) => (group * tree.trunk.0).max(least),
        (_, Kind::Flowering | Kind::Fruiting) => flowers * tree.trunk.0,
        _ => tree.trunk.0,
    }
}

/// 0 formal, 1 semi-formal, 2 free.
fn freedom_of_shape(shape: Shape) -> i8 {
    match shape {
        Shape::Rectangle | Shape::Square => 0,
        Shape::SoftRectangle | Shape::Oval | Shape::Hexagon | Shape::Octagon | Shape::Mokko => 1,
        Shape::Round | Shape::Drum | Shape::Cascade | Shape::Slab | Shape::Primitive => 2,
    }
}

/// 0 formal, 1 semi-formal, 2 free.
fn freedom_of_style(style: Style) -> i8 {
    match style {
        Style::FormalUpright => 0,
        Style::InformalUpright | Style::Broom | Style::Slanting | Style::Clump | Style::OverRock => 1,
        Style::Windswept
        | Style::SemiCascade
        | Style::Cascade
        | Style::Literati
        | Style::Forest
        | Style::Raft => 2,
    }
}

/// How usual a finish is: bare clay under conifers, glaze under leaf, flower and fruit; a small tree carries shine.
fn usual(finish: Finish, kind: Kind, size: SizeClass) -> f64 {
    let [bare, matt, gloss] = match kind {
        Kind::Conifer => [1.0, 0.5, 0.2],
        Kind::Evergreen => [1.0, 0.8, 0.6],
        Kind::RoughDeciduous => [1.0, 0.9, 0.7],
        Kind::Deciduous => [0.4, 1.0, 1.0],
        Kind::Flowering | Kind::Fruiting => [0.3, 0.9, 1.0],
        Kind::Tropical => [0.8, 1.0, 1.0],
    };
    match finish {
        Finish::Unglazed => bare,
        Finish::Matt => matt,
        Finish::Gloss if size <= SizeClass::Shohin => f64::midpoint(gloss, 1.0),
        Finish::Gloss => gloss,
    }
}

#[cfg(test)]
mod tests {
    use measure::quantity::Centimetre;

    use super::*;
    use crate::fit::{
        Ruling, fit,
        frame::{Coins, Frame},
    };

    fn found(id: RuleId, pot: &Frame, tree: &Sitter) -> f64 {
        measured(id, pot, tree).expect("the rule applies")
    }

    #[test]
    fn length_and_depth_are_held_against_height_and_trunk() {
        let (pot, tree) = (Frame::sample(), Sitter::sample());
        assert!((found(RuleId::Length, &pot, &tree) - 25.0 / 34.0).abs() < 1e-12);
        assert!((found(RuleId::Depth, &pot, &tree) - 1.2).abs() < 1e-12);
        let fruit = Sitter { kind: Kind::Fruiting, ..tree.clone() };
        assert!((found(RuleId::Depth, &pot, &fruit) - 6.0 / 7.0).abs() < 1e-12);
        let forest = Sitter { style: Style::Forest, trunk: Centimetre(3.0), ..tree };
        assert!((found(RuleId::Depth, &pot, &forest) - 3.0).abs() < 1e-12, "6 cm over the least of 2 cm");
    }

    #[test]
    fn a_round_pot_goes_by_its_width_and_a_cascade_by_its_height() {
        let round = Frame { shape: Shape::Round, ..Frame::sample() };
        let tree = Sitter::sample();
        assert_eq!(measured(RuleId::Length, &round, &tree), None);
        assert!(measured(RuleId::Across, &round, &tree).is_some());
        let cascade = Sitter { style: Style::Cascade, ..tree };
        for off in [RuleId::Length, RuleId::Across, RuleId::Depth] {
            assert_eq!(measured(off, &round, &cascade), None);
        }
        assert!((found(RuleId::CascadeHeight, &round, &cascade) - 6.0 / 18.5).abs() < 1e-12);
    }

    #[test]
    fn the_same_bright_shining_pot_suits_the_smaller_tree_better() {
        let mut pot = Frame::sample();
        pot.colour = Some(crate::colour::space::Lab { l: 40.0, a: 30.0, b: -40.0 });
        let tall = |height| Sitter { height: Centimetre(height), kind: Kind::Conifer, ..Sitter::sample() };
        for rule in [RuleId::Brightness, RuleId::Finish] {
            let mark = |height| rule.rule().mark(found(rule, &pot, &tall(height)));
            assert!(mark(10.0) > mark(32.0) && mark(32.0) >= mark(80.0), "{rule:?}");
        }
    }

    #[test]
    fn a_tree_for_sale_is_not_swallowed_by_its_frame() {
        let asked = |price| Sitter { price: Some(Coins(price)), ..Sitter::sample() };
        let score = |price| fit(&Frame::sample(), &asked(price), &Ruling::default()).score.unwrap().0;
        assert!(score(60_000) > score(22_000));
        assert_eq!(measured(RuleId::Price, &Frame::sample(), &Sitter::sample()), None);
    }

    #[test]
    fn what_is_not_known_is_not_graded() {
        let pot = Frame { colour: None, feel: None, value: None, ..Frame::sample() };
        let told = fit(&pot, &Sitter { crown: None, ..Sitter::sample() }, &Ruling::default());
        let graded: Vec<RuleId> = told.grades.iter().map(|grade| grade.rule.id).collect();
        for absent in [RuleId::Colour, RuleId::Brightness, RuleId::Feel, RuleId::RootRoom, RuleId::Price] {
            assert!(!graded.contains(&absent), "{absent:?}");
        }
    }
}
