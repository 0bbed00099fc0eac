//! What looks ask of a pot for a tree, and what its roots ask, side by side: where the two disagree both are shown.

use measure::quantity::{Centimetre, Litre};

use super::{
    grade::{ROOT_ROOM, asked_depth},
    rule::RuleId,
    sitter::{Sitter, Style},
};

/// What is asked of a pot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asked {
    /// Outer length of a long pot that looks right; none for a tree that hangs.
    pub length: Option<[Centimetre; 2]>,
    /// Outer width of a round pot that looks right; none for a tree that hangs.
    pub across: Option<[Centimetre; 2]>,
    /// Outer depth that looks right; none for a tree that hangs.
    pub depth: Option<[Centimetre; 2]>,
    /// The least soil for what its crown drinks between two visits; none where nobody measured the crown.
    pub soil: Option<Litre>,
}

/// What looks ask of a pot for this tree, and what its roots ask.
///
/// ```text
/// l = [0.55, 0.8]·max(h, s),   w = [0.28, 0.5]·h,   d = [0.7, 1.5]·trunk,   V ≥ 0.12·V_crown, or 0.20 where it is left alone long
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | h, s, trunk | [`Sitter`] | height, spread, trunk above the roots | cm |
/// | l, w, d | returned | outer length of a long pot, width of a round one, depth | cm |
/// | V | [`Asked::soil`] | soil | L |
///
/// **Holds** as far as the trade's habits do; spans are those of the rules, so that a pot within them loses nothing. Forests, flowers
/// and fruit ask for other depths, as the rule of depth says. **Error** unknown: taste, and for the soil a planning figure.
/// **Source** common practice, no source; the share of the crown is an estimate of the reference set. **Checked** below against the
/// rules, at both ends of each span.
///
/// # Example
///
/// ```
/// use pot::fit::{asked::asked, sitter::Sitter};
///
/// let told = asked(&Sitter::sample());
/// assert_eq!(told.length.map(|it| it.map(|cm| cm.0.round())), Some([19.0, 27.0]));
/// assert_eq!(told.soil.map(|it| format!("{:.2}", it.0)).as_deref(), Some("1.08"));
/// ```
pub fn asked(tree: &Sitter) -> Asked {
    let hangs = matches!(tree.style, Style::Cascade | Style::SemiCascade);
    let span = |rule: RuleId, of: f64| {
        let [low, high] = rule.rule().span;
        (!hangs).then_some([Centimetre(low * of), Centimetre(high * of)])
    };
    Asked {
        length: span(RuleId::Length, tree.height.0.max(tree.spread.0)),
        across: span(RuleId::Across, tree.height.0),
        depth: span(RuleId::Depth, asked_depth(tree)),
        soil: tree.crown.map(|crown| Litre(crown.0 * ROOT_ROOM[usize::from(tree.thirsty)])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::{Ruling, fit, frame::Frame};

    /// How well a rule is kept by a pot changed in one measure.
    fn mark(rule: RuleId, change: impl Fn(&mut Frame)) -> f64 {
        let mut pot = Frame::sample();
        change(&mut pot);
        let told = fit(&pot, &Sitter::sample(), &Ruling::default());
        told.grades.iter().find(|grade| grade.rule.id == rule).unwrap().mark
    }

    #[test]
    fn a_pot_at_either_end_of_what_is_asked_loses_nothing_and_one_beyond_does() {
        let told = asked(&Sitter::sample());
        let [short, long] = told.length.unwrap();
        for (length, kept) in [(short.0, true), (long.0, true), (short.0 - 0.5, false), (long.0 + 0.5, false)]
        {
            let mark = mark(RuleId::Length, |pot| pot.outer.length = Centimetre(length));
            assert_eq!(mark > 1.0 - 1e-9, kept, "{length}");
        }
        let [shallow, deep] = told.depth.unwrap();
        for (depth, kept) in
            [(shallow.0, true), (deep.0, true), (shallow.0 - 0.2, false), (deep.0 + 0.2, false)]
        {
            let mark = mark(RuleId::Depth, |pot| pot.outer.depth = Centimetre(depth));
            assert_eq!(mark > 1.0 - 1e-9, kept, "{depth}");
        }
        let least = told.soil.unwrap();
        assert!(mark(RuleId::RootRoom, |pot| pot.soil = least) > 1.0 - 1e-9);
        assert!(mark(RuleId::RootRoom, |pot| pot.soil = Litre(least.0 * 0.9)) < 1.0);
    }

    #[test]
    fn a_cascade_asks_for_no_length() {
        let tree = Sitter { style: Style::Cascade, ..Sitter::sample() };
        let told = asked(&tree);
        assert!(told.length.is_none() && told.depth.is_none() && told.soil.is_some());
    }
}
