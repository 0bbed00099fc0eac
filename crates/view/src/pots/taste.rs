//! What the grower's likings taught about colour, and how two hues stand to each other.

use pot::colour::{relation, score::Part, space::Lab, taste::Taste};

use super::shared::pots;
use crate::{repots::case::record, whole::Whole, words};

/// A part of the colour in a few words.
fn part(it: Part) -> &'static str {
    match it {
        Part::Separation => "standing apart",
        Part::Hue => "answering hue",
        Part::Dominance => "not being stronger",
        Part::Lightness => "not being lighter",
        Part::Harmony => "the two-colour model",
    }
}

/// What the likings taught; none while there are none.
pub fn learned(whole: &Whole) -> Option<Taste> {
    *whole.shelf.taste.get_or_init(|| {
        if whole.shelf.likings.is_empty() {
            return None;
        }
        let records: Vec<_> = whole.trees.iter().map(|tree| record(whole, tree, false)).collect();
        Some(season::repot::taste::taste(&records, &pots(whole), &whole.shelf.likings).taste)
    })
}

/// The same in words.
pub fn words(whole: &Whole) -> String {
    let Some(taste) = learned(whole) else {
        return "every part of the colour counts alike until you say which of two you like better".into();
    };
    let told: Vec<String> = taste
        .told()
        .iter()
        .map(|(it, weight, spread)| format!("{} {weight:.2} (± {spread:.2})", part(*it)))
        .collect();
    let few = if taste.barely_moves() { "; so few barely move it" } else { "" };
    format!(
        "After {} the parts of the colour count: {}{few}",
        words::count(taste.choices, "choice of yours", "choices of yours"),
        told.join(", ")
    )
}

/// How the hue of a glaze stands to a colour of the tree.
pub fn relation(glaze: Lab, own: Lab) -> String {
    relation::relation(glaze, own).words().into()
}
