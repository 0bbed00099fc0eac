//! How a tree is grown, how large and how strong it is, and which colours it shows: what a pot and a repot ask of it.

use jiff::civil::Date;
use measure::quantity::Centimetre;
use pot::{
    colour::{score::Season, space::Lab},
    fit::{
        frame::Feel,
        sitter::{Kind, Style},
    },
    repot::{insult::Strength, roots::Age},
};

use crate::money::Money;

/// How a tree is grown and shown; one record a tree, each part only where the grower said so.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Grown {
    /// The tree's key.
    pub tree: String,
    /// Its style.
    pub style: Option<Style>,
    /// What kind of tree it is, where its taxon says it wrongly.
    pub kind: Option<Kind>,
    /// How heavy or graceful it looks.
    pub feel: Option<Feel>,
    /// How old it counts for repotting.
    pub age: Option<Age>,
    /// The one season in which it is shown.
    pub shown: Option<Season>,
    /// Asked for tree and pot together, when it is for sale.
    pub asked: Option<Money>,
}

/// How large a tree was on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Stature {
    /// The tree's key.
    pub tree: String,
    /// When it was measured.
    pub day: Date,
    /// From the soil to the living top; the longest line of a cascade.
    pub height: Centimetre,
    /// The trunk just above the roots.
    pub trunk: Centimetre,
}

/// A colour of a tree, read or picked.
#[derive(Clone, Debug, PartialEq)]
pub struct Tint {
    /// The tree's key.
    pub tree: String,
    /// What carries it.
    pub season: Season,
    /// The colour.
    pub colour: Lab,
    /// Read off a photo with a grey card; else picked.
    pub measured: bool,
}

/// How strong a tree was judged on a day.
#[derive(Clone, Debug, PartialEq)]
pub struct Vigour {
    /// The tree's key.
    pub tree: String,
    /// When.
    pub day: Date,
    /// How strong.
    pub strength: Strength,
    /// By what.
    pub why: String,
}
