//! What the grower's likings taught about colour, and how two hues stand to each other.

use pot::colour::{score::Weights, space::Lab};

use crate::whole::Whole;

/// Weights learned from likings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// What each part of the colour counts.
    pub weights: Weights,
}

/// What the likings taught; none while there are none that tell.
pub fn learned(_whole: &Whole) -> Option<Learned> {
    None
}

/// The same in words.
pub fn words(_whole: &Whole) -> String {
    String::new()
}

/// How the hue of a glaze stands to a colour of the tree.
pub fn relation(_glaze: Lab, _own: Lab) -> String {
    String::new()
}
