//! Lists to describe a tree by.

/// Lists to describe a tree by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TreeLists {
    /// Styles.
    pub styles: Vec<(&'static str, &'static str)>,
    /// Kinds of tree as the choice of a pot sees them.
    pub kinds: Vec<(&'static str, &'static str)>,
    /// Feels.
    pub feels: Vec<(&'static str, &'static str)>,
    /// Ages for repotting.
    pub ages: Vec<(&'static str, &'static str)>,
    /// What carries a colour.
    pub seasons: Vec<(&'static str, &'static str)>,
    /// Usual colours of trees.
    pub tints: Vec<(&'static str, String)>,
    /// How strong.
    pub strengths: Vec<(&'static str, &'static str)>,
    /// What a tree may have to bear: key and words with what its number is.
    pub tolls: Vec<(&'static str, &'static str)>,
}

/// The lists to describe a tree by.
pub fn tree_lists() -> TreeLists {
    use pot::{
        colour::{
            score::Season,
            swatch::{Kind, SWATCHES},
        },
        fit::{
            frame::Feel,
            sitter::{Kind as Grown, Style},
        },
        repot::{insult::Strength, roots::Age},
    };
    TreeLists {
        styles: Style::ALL.map(|it| (it.key(), it.words())).to_vec(),
        kinds: Grown::ALL.map(|it| (it.key(), it.words())).to_vec(),
        feels: Feel::ALL.map(|it| (it.key(), it.words())).to_vec(),
        ages: Age::ALL.map(|it| (it.key(), it.words())).to_vec(),
        seasons: Season::ALL.map(|it| (it.key(), it.words())).to_vec(),
        tints: SWATCHES
            .iter()
            .filter(|it| it.kind != Kind::Pot)
            .map(|it| (it.key, it.key.replace('_', " ")))
            .collect(),
        strengths: Strength::ALL.map(|it| (it.key(), it.words())).to_vec(),
        tolls: collection::toll::KINDS.iter().map(|it| (it.key, it.words)).collect(),
    }
}
