//! What a glaze is to a colour of the tree, in the words of the trade; told beside the score, and counted by nobody.

use measure::sourced::Standing;

use super::{difference::hue_gap, space::Lab};

/// What a glaze is to a colour of the tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relation {
    /// Of no colour to speak of: always safe.
    Neutral,
    /// The same hue: a quiet frame.
    Echo,
    /// Near in hue and as light: muddy.
    Muddy,
    /// About a third of the circle away: a lively contrast.
    Split,
    /// Nearly opposite: answers flower, fruit and autumn at their height.
    NearComplement,
    /// None of these.
    None,
}

/// What the spans stand on.
pub const STANDING: Standing =
    Standing::Estimate("spans of hue made for planning; how light counts as alike is ours");

/// Lightness within which two colours count as alike.
const AS_LIGHT: f64 = 15.0;

/// Weaker than this a colour counts as neutral.
const NEUTRAL: f64 = 8.0;

impl Relation {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Relation::Neutral => "a neutral: always safe",
            Relation::Echo => "an echo of its hue: a quiet frame",
            Relation::Muddy => "near its hue and as light: muddy, better avoided",
            Relation::Split => "a contrast a third of the circle away: for leaves over mixed bark",
            Relation::NearComplement => {
                "nearly opposite in hue: answers flower, fruit and autumn at their height"
            }
            Relation::None => "no relation with a name",
        }
    }
}

/// What a glaze is to a colour of the tree.
///
/// ```text
/// neutral C < 8;   echo Δh ≤ 30°;   muddy 30° < Δh ≤ 60° with ΔL ≤ 15;   split 90° ≤ Δh < 140°;   near complement Δh ≥ 140°
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | C | of either | strength | 1 |
/// | Δh, ΔL | between `glaze` and `target` | hue and lightness apart | °, 1 |
///
/// **Holds** as far as the trade's habits do. **Error** unknown: taste. **Source** estimate of the reference set; that a colour as
/// light lies within 15, and that a target without colour makes any glaze neutral beside it, are ours. **Checked** `tests/colour.rs`.
///
/// ```
/// use pot::colour::{relation::{Relation, relation}, swatch::Swatch};
///
/// let of = |key| Swatch::of(key).unwrap().lab;
/// assert_eq!(relation(of("pot_cobalt"), of("autumn_yellow")), Relation::NearComplement);
/// assert_eq!(relation(of("pot_unglazed_grey"), of("autumn_red")), Relation::Neutral);
/// ```
pub fn relation(glaze: Lab, target: Lab) -> Relation {
    if glaze.chroma() < NEUTRAL || target.chroma() < NEUTRAL {
        return Relation::Neutral;
    }
    let is_as_light = (glaze.l - target.l).abs() <= AS_LIGHT;
    match hue_gap(glaze, target) {
        gap if gap <= 30.0 => Relation::Echo,
        gap if gap <= 60.0 && is_as_light => Relation::Muddy,
        gap if gap >= 140.0 => Relation::NearComplement,
        gap if gap >= 90.0 => Relation::Split,
        _ => Relation::None,
    }
}
