//! A glaze set against the tree, part by part: a hint that opens, never a verdict.

use measure::sourced::Standing;

use super::{
    difference::{between, hue_gap},
    harmony::ou_luo,
    space::Lab,
};

/// What of the tree the glaze is set against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Season {
    Bark,
    Leaf,
    Autumn,
    Flower,
    Fruit,
}

impl Season {
    /// How much it counts; what a tree lacks gives its weight to the rest. A fruit counts as a flower does.
    pub fn weight(self) -> f64 {
        match self {
            Season::Bark => 0.35,
            Season::Leaf => 0.25,
            Season::Autumn | Season::Flower | Season::Fruit => 0.20,
        }
    }

    /// Bark and leaf want a quiet glaze; autumn, flower and fruit want its hue to answer.
    fn wants_hue(self) -> bool {
        matches!(self, Season::Autumn | Season::Flower | Season::Fruit)
    }
}

/// A colour of the tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// What carries it.
    pub season: Season,
    /// The colour.
    pub colour: Lab,
}

/// A part of the score.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// Neither lost in the colour nor shouting beside it.
    Separation,
    /// Near it in hue, or opposite.
    Hue,
    /// Not stronger than the colour it should frame.
    Dominance,
    /// Not lighter than the crown above it: light pots rise to the eye.
    Lightness,
    /// The published model of two colours.
    Harmony,
}

impl Part {
    /// All, in the order of [`Weights`].
    pub const ALL: [Part; 5] = [Part::Separation, Part::Hue, Part::Dominance, Part::Lightness, Part::Harmony];

    /// What the part's numbers stand on.
    pub fn standing(self) -> Standing {
        match self {
            Part::Harmony => Standing::Published(
                "Ou and Luo 2006, coefficients by way of seven programs; fitted to flat patches, not to pots",
            ),
            _ => Standing::Practice,
        }
    }
}

/// How much each part counts, in the order of [`Part::ALL`]; 0 switches one off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights(pub [f64; 5]);

impl Default for Weights {
    fn default() -> Self {
        Weights([1.0; 5])
    }
}

/// What of the tree changes the reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Manner {
    /// Shown for its flowers, or a literati: a light pot may rise.
    pub light_pot_may_rise: bool,
}

/// A glaze beside one colour of the tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// The colour.
    pub target: Target,
    /// How much it counts here; the shares of all sum to 1.
    pub share: f64,
    /// How different the two look.
    pub difference: f64,
    /// The parts, each 0 to 1, in the order of [`Part::ALL`]; none where it does not apply.
    pub parts: [Option<f64>; 5],
    /// Their weighed mean; none when every part is off or does not apply.
    pub score: Option<f64>,
}

/// A glaze beside the whole tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// 0 to 1.
    pub whole: f64,
    /// Colour by colour.
    pub beside: Vec<Beside>,
}

/// Scores a glaze against the colours of a tree; none when there is nothing to score by.
///
/// ```text
/// separation  0 at ΔE ≤ 5, 1 from 12 to 45, falling to 0.5 at 70
/// hue         1 at Δh ≤ 30°, 0.4 from 60° to 120°, 1 from 150°
/// dominance   1 − clamp((C_pot − C_target − 5)/35)
/// lightness   1 − clamp((L_pot − L_crown − 10)/40)
/// harmony     clamp((H + 0.9)/1.4),  H without its sum of lightness
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | ΔE | [`between`] | difference | 1 |
/// | Δh, C, L | of `glaze` and each of `tree` | hue apart, strength, lightness | °, 1, 1 |
/// | L_crown | the leaf of `tree` | lightness of the crown | 1 |
/// | H | [`Harmony::kept`](super::harmony::Harmony::kept) | harmony of two colours | 1 |
///
/// **Holds** nowhere in particular: these are the trade's habits put in numbers, untried on bonsai. The hue is scored only where
/// both colours are stronger than 8. **Error** unknown. **Source** common practice, no source; harmony as [`ou_luo`].
/// **Checked** the harmony and the differences in `tests/colour.rs`; the rest nothing outside, worked by hand below.
///
/// # Example
///
/// ```
/// use pot::colour::{score::{Manner, Season, Target, Weights, glaze}, swatch::Swatch};
///
/// let colour = |key| Swatch::of(key).unwrap().lab;
/// let maple = [
///     Target { season: Season::Bark, colour: colour("bark_grey_brown") },
///     Target { season: Season::Autumn, colour: colour("autumn_red") },
/// ];
/// let manner = Manner { light_pot_may_rise: false };
/// let score = |pot| glaze(colour(pot), &maple, manner, Weights::default()).unwrap().whole;
/// assert!(score("pot_celadon") > score("pot_iron_red"));
/// ```
pub fn glaze(glaze: Lab, tree: &[Target], manner: Manner, weights: Weights) -> Option<Score> {
    let crown = tree.iter().find(|target| target.season == Season::Leaf).map(|target| target.colour.l);
    let mut beside: Vec<Beside> = tree
        .iter()
        .map(|&target| {
            let parts = parts(glaze, target, crown.filter(|_| !manner.light_pot_may_rise));
            let score = mean(parts.iter().zip(weights.0).map(|(&part, weight)| (part, weight)));
            let difference = between(glaze, target.colour);
            Beside { target, share: target.season.weight(), difference, parts, score }
        })
        .collect();
    let whole = mean(beside.iter().map(|beside| (beside.score, beside.share)))?;
    let sum: f64 = beside.iter().filter(|one| one.score.is_some()).map(|one| one.share).sum();
    for one in &mut beside {
        one.share = if one.score.is_some() { one.share / sum } else { 0.0 };
    }
    Some(Score { whole, beside })
}

fn mean(parts: impl Iterator<Item = (Option<f64>, f64)>) -> Option<f64> {
    let (mut sum, mut weights) = (0.0, 0.0);
    for (part, weight) in parts {
        if let Some(part) = part {
            sum += weight * part;
            weights += weight;
        }
    }
    (weights > 0.0).then(|| sum / weights)
}

fn parts(pot: Lab, target: Target, crown: Option<f64>) -> [Option<f64>; 5] {
    let strong = pot.chroma() > 8.0 && target.colour.chroma() > 8.0;
    let hue = (strong && target.season.wants_hue()).then(|| answer(hue_gap(pot, target.colour)));
    let stronger = (pot.chroma() - target.colour.chroma() - 5.0) / 35.0;
    let lighter = crown.map(|crown| 1.0 - ((pot.l - crown - 10.0) / 40.0).clamp(0.0, 1.0));
    [
        Some(separation(between(pot, target.colour))),
        hue,
        Some(1.0 - stronger.clamp(0.0, 1.0)),
        lighter,
        Some(((ou_luo(pot, target.colour).kept() + 0.9) / 1.4).clamp(0.0, 1.0)),
    ]
}

fn separation(difference: f64) -> f64 {
    along(difference, &[(5.0, 0.0), (12.0, 1.0), (45.0, 1.0), (70.0, 0.5)])
}

fn answer(degrees: f64) -> f64 {
    along(degrees, &[(30.0, 1.0), (60.0, 0.4), (120.0, 0.4), (150.0, 1.0)])
}

/// The height at `x` of a line bent at `points`, level before the first and after the last.
pub(crate) fn along(x: f64, points: &[(f64, f64)]) -> f64 {
    let after = points.iter().position(|&(at, _)| x <= at);
    match after {
        Some(0) => points[0].1,
        Some(next) => {
            let ((x0, y0), (x1, y1)) = (points[next - 1], points[next]);
            y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        }
        None => points[points.len() - 1].1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const QUIET: Manner = Manner { light_pot_may_rise: false };

    fn target(season: Season, l: f64, a: f64, b: f64) -> Target {
        Target { season, colour: Lab { l, a, b } }
    }

    #[test]
    fn a_pot_of_the_barks_own_colour_is_lost_in_it() {
        let bark = target(Season::Bark, 51.0, 3.0, 12.0);
        let told = glaze(bark.colour, &[bark], QUIET, Weights([1.0, 0.0, 0.0, 0.0, 0.0])).unwrap();
        assert_eq!(told.whole, 0.0);
    }

    #[test]
    fn lines_bend_where_the_rule_says() {
        let seen = [4.0, 5.0, 8.5, 12.0, 45.0, 57.5, 70.0, 99.0].map(separation);
        assert_eq!(seen, [0.0, 0.0, 0.5, 1.0, 1.0, 0.75, 0.5, 0.5]);
        let seen = [0.0, 45.0, 90.0, 135.0, 180.0].map(answer);
        for (ours, by_hand) in seen.into_iter().zip([1.0, 0.7, 0.4, 0.7, 1.0]) {
            assert!((ours - by_hand).abs() < 1e-12);
        }
    }

    #[test]
    fn what_a_tree_lacks_gives_its_weight_to_the_rest() {
        let tree = [target(Season::Bark, 51.0, 3.0, 12.0), target(Season::Autumn, 40.0, 50.0, 34.0)];
        let told = glaze(Lab { l: 71.0, a: -17.0, b: 6.0 }, &tree, QUIET, Weights::default()).unwrap();
        assert!((told.beside[0].share - 0.35 / 0.55).abs() < 1e-12);
        let whole: f64 = told.beside.iter().map(|one| one.share * one.score.unwrap()).sum();
        assert!((whole - told.whole).abs() < 1e-12);
    }

    #[test]
    fn a_part_switched_off_does_not_count_and_all_off_is_no_score() {
        let tree = [target(Season::Leaf, 41.0, -25.0, 30.0)];
        let cream = Lab { l: 81.0, a: -3.0, b: 22.0 };
        let light = glaze(cream, &tree, QUIET, Weights([0.0, 0.0, 0.0, 1.0, 0.0])).unwrap();
        assert!((light.whole - 0.25).abs() < 1e-12, "1 − (81 − 41 − 10)/40");
        let flower = Manner { light_pot_may_rise: true };
        assert_eq!(glaze(cream, &tree, flower, Weights([0.0, 0.0, 0.0, 1.0, 0.0])), None);
        assert_eq!(glaze(cream, &[], QUIET, Weights::default()), None);
    }

    #[test]
    fn a_grey_pot_is_not_judged_by_its_hue() {
        let tree = [target(Season::Flower, 70.0, 33.0, -2.0)];
        let told = glaze(Lab { l: 40.0, a: 2.0, b: 6.0 }, &tree, QUIET, Weights::default()).unwrap();
        assert_eq!(told.beside[0].parts[1], None);
    }
}
