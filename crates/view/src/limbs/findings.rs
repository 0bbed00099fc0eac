//! What the structure of a tree shows against the rules of the trade, each of which can be switched off for a tree.

use crate::whole::{TreeWhole, Whole};

/// A finding on the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule's name in addresses.
    pub rule: String,
    /// The rule and the limb.
    pub title: String,
    /// What was measured and what is usual.
    pub words: String,
    /// Where the rule comes from.
    pub standing: String,
    /// Whether it lies outside what is usual.
    pub outside: bool,
}

/// The findings of the rules that hold for the tree, those outside first, and the rules switched off.
pub fn findings(_whole: &Whole, _tree: &TreeWhole) -> (Vec<Finding>, Vec<(String, String)>) {
    (Vec::new(), Vec::new())
}
