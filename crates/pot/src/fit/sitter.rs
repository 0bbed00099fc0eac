//! What of a tree matters to its pot.

use measure::quantity::{Centimetre, Litre};

use super::frame::{Coins, Feel};
use crate::{colour::score::Target, table::SizeClass};

/// How the tree is grown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Style {
    FormalUpright,
    InformalUpright,
    Broom,
    Slanting,
    Windswept,
    SemiCascade,
    Cascade,
    Literati,
    Clump,
    Forest,
    Raft,
    OverRock,
}

/// What kind of tree it is, as the choice of a pot sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Pines, junipers, spruces, yews, cypresses.
    Conifer,
    /// Evergreen with broad leaves.
    Evergreen,
    /// Smooth and fine: maples, beeches, zelkovas.
    Deciduous,
    /// Old, rough, heavy: oaks, old elms.
    RoughDeciduous,
    /// Shown for its flowers.
    Flowering,
    /// Shown for its fruit.
    Fruiting,
    /// From where it never freezes.
    Tropical,
}

/// Where the potted tree spends its winter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Winter {
    /// Never freezes.
    FrostFree,
    /// Freezes lightly: cold frame, garage, wall of the house.
    Sheltered,
    /// Freezes through.
    Open,
}

/// The roots as they will be after the planned cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootPad {
    /// The long way.
    pub length: Centimetre,
    /// The short way.
    pub width: Centimetre,
    /// From the flare down.
    pub depth: Centimetre,
    /// What they fill; none where only the three measures are known, then a flat oval of them.
    pub volume: Option<Litre>,
}

impl RootPad {
    /// What the roots fill.
    pub fn filled(&self) -> Litre {
        let oval = std::f64::consts::FRAC_PI_4 * self.length.0 * self.width.0 * self.depth.0 / 1000.0;
        self.volume.unwrap_or(Litre(oval))
    }
}

/// A tree that wants a pot.
#[derive(Clone, Debug, PartialEq)]
pub struct Sitter {
    /// From the soil to the living top; the longest line of a cascade.
    pub height: Centimetre,
    /// The crown, side to side.
    pub spread: Centimetre,
    /// The trunk just above the roots; the thickest of a group.
    pub trunk: Centimetre,
    /// Its roots after the planned cut.
    pub roots: RootPad,
    /// The room that its crown takes; none when nobody measured it.
    pub crown: Option<Litre>,
    /// Left alone for long shifts, or on a hot site.
    pub thirsty: bool,
    /// How it is grown.
    pub style: Style,
    /// What kind of tree it is.
    pub kind: Kind,
    /// How heavy or graceful it looks.
    pub feel: Option<Feel>,
    /// Colours of bark, leaf, autumn, flower and fruit, those that are known.
    pub colours: Vec<Target>,
    /// Asked for tree and pot together, when it is for sale.
    pub price: Option<Coins>,
    /// Where it spends the winter.
    pub winter: Winter,
}

impl Sitter {
    /// The size of the tree.
    pub fn size(&self) -> SizeClass {
        SizeClass::of_height(self.height)
    }

    /// A Japanese maple of 32 cm.
    pub fn sample() -> Sitter {
        use crate::colour::{score::Season, space::Lab};
        let target = |season, l, a, b| Target { season, colour: Lab { l, a, b } };
        Sitter {
            height: Centimetre(32.0),
            spread: Centimetre(34.0),
            trunk: Centimetre(5.0),
            roots: RootPad {
                length: Centimetre(19.0),
                width: Centimetre(13.0),
                depth: Centimetre(3.5),
                volume: Some(Litre(0.8)),
            },
            crown: Some(Litre(9.0)),
            thirsty: false,
            style: Style::InformalUpright,
            kind: Kind::Deciduous,
            feel: Some(Feel::Feminine),
            colours: vec![
                target(Season::Bark, 61.06, 0.33, 7.11),
                target(Season::Leaf, 40.84, -25.29, 29.53),
                target(Season::Autumn, 40.62, 50.47, 34.09),
            ],
            price: None,
            winter: Winter::Sheltered,
        }
    }
}
