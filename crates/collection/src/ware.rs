//! What is known of a pot beyond its measures: shape, clay, glaze, maker, worth, where it is, and its photos.

use jiff::civil::Date;
use measure::quantity::{Gram, Millimetre};
use pot::{
    colour::space::Lab,
    fit::frame::{Feel, Finish, Fired, Shape},
    outline::Outline,
};

use crate::{
    money::Money,
    potting::{Pot, Wall},
};

/// Where a glaze's colour comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Told {
    /// Read off a photo with a grey card; how far its pixels lie apart.
    Measured {
        /// Spread of the reading, in steps of difference.
        spread: f64,
    },
    /// Picked from the usual colours.
    Picked,
}

/// The colour of a pot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glaze {
    /// The colour.
    pub colour: Lab,
    /// Where it comes from.
    pub told: Told,
}

/// Where a pot is that no tree stands in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whereabouts {
    /// On the shelf.
    Shelf,
    /// Lent, or at a show.
    Lent,
    /// Sold or given away.
    Gone,
    /// Broken.
    Broken,
}

impl Whereabouts {
    /// All.
    pub const ALL: [Whereabouts; 4] =
        [Whereabouts::Shelf, Whereabouts::Lent, Whereabouts::Gone, Whereabouts::Broken];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Whereabouts::Shelf => "shelf",
            Whereabouts::Lent => "lent",
            Whereabouts::Gone => "gone",
            Whereabouts::Broken => "broken",
        }
    }

    /// The one that goes by this word.
    pub fn from_key(key: &str) -> Option<Whereabouts> {
        Whereabouts::ALL.into_iter().find(|it| it.key() == key)
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Whereabouts::Shelf => "on the shelf",
            Whereabouts::Lent => "lent",
            Whereabouts::Gone => "sold or given away",
            Whereabouts::Broken => "broken",
        }
    }
}

/// What is known of a pot beyond its measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Ware {
    /// The pot's key.
    pub pot: String,
    /// A training pot or box, taken as needed and never reserved.
    pub training: bool,
    /// How many there are alike; 1 but for training pots.
    pub count: u16,
    /// Its shape.
    pub shape: Shape,
    /// The outside of the clay.
    pub finish: Finish,
    /// How hard it was fired.
    pub fired: Fired,
    /// Holes for water.
    pub drain_holes: Option<u8>,
    /// How wide each is.
    pub hole: Option<Millimetre>,
    /// Holes for tie wire.
    pub tie_holes: Option<u8>,
    /// Its look.
    pub feel: Option<Feel>,
    /// Strong features: carving, painting, rough texture, a loud glaze.
    pub features: u8,
    /// Its colour.
    pub glaze: Option<Glaze>,
    /// Its weight, empty and dry.
    pub empty: Option<Gram>,
    /// Who made it.
    pub maker: String,
    /// How its mark reads.
    pub mark: String,
    /// Kiln or region.
    pub kiln: String,
    /// Country it comes from.
    pub origin: String,
    /// How old it is said to be, and by whom.
    pub era: String,
    /// When it was bought.
    pub bought: Option<Date>,
    /// For how much.
    pub paid: Option<Money>,
    /// From whom; not for other eyes.
    pub seller: String,
    /// Chips, hairlines, patina.
    pub condition: String,
    /// What it was worth, and when that was said.
    pub worth: Option<(Money, Date)>,
    /// Where it is while no tree stands in it.
    pub whereabouts: Whereabouts,
    /// The board of the shelf, or with whom.
    pub spot: String,
    /// Anything else.
    pub note: String,
    /// Counts the changes to this record and to what is said of the pot; an edit must name the one it started from.
    pub revision: u32,
}

impl Ware {
    /// A pot of which only the measures are known: the shape by its outline, everything else open.
    pub fn unknown(pot: &Pot) -> Ware {
        Ware {
            pot: pot.key.clone(),
            training: false,
            count: 1,
            shape: match pot.vessel.top {
                Outline::Rectangle { .. } => Shape::Rectangle,
                Outline::RoundedRectangle { .. } => Shape::SoftRectangle,
                Outline::Round { .. } => Shape::Round,
                Outline::Hexagon { .. } => Shape::Hexagon,
                Outline::Octagon { .. } => Shape::Octagon,
                _ => Shape::Oval,
            },
            finish: match pot.wall {
                Wall::Glazed => Finish::Matt,
                Wall::Stoneware | Wall::Earthenware => Finish::Unglazed,
            },
            fired: Fired::Unknown,
            drain_holes: None,
            hole: None,
            tie_holes: None,
            feel: None,
            features: 0,
            glaze: None,
            empty: None,
            maker: String::new(),
            mark: String::new(),
            kiln: String::new(),
            origin: String::new(),
            era: String::new(),
            bought: None,
            paid: None,
            seller: String::new(),
            condition: String::new(),
            worth: None,
            whereabouts: Whereabouts::Shelf,
            spot: String::new(),
            note: String::new(),
            revision: 0,
        }
    }
}

/// What a photo of a pot shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PotSide {
    /// Its front.
    Front,
    /// Its mark.
    Mark,
    /// Its base.
    Base,
}

impl PotSide {
    /// All.
    pub const ALL: [PotSide; 3] = [PotSide::Front, PotSide::Mark, PotSide::Base];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            PotSide::Front => "front",
            PotSide::Mark => "mark",
            PotSide::Base => "base",
        }
    }

    /// The one that goes by this word.
    pub fn from_key(key: &str) -> Option<PotSide> {
        PotSide::ALL.into_iter().find(|it| it.key() == key)
    }

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            PotSide::Front => "its front",
            PotSide::Mark => "its mark",
            PotSide::Base => "its base",
        }
    }
}

/// A photo of a pot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PotPhoto {
    /// Name in addresses, unique among the photos of pots.
    pub key: String,
    /// The pot's key.
    pub pot: String,
    /// When it was taken, or came in.
    pub day: Date,
    /// What it shows.
    pub side: PotSide,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
}
