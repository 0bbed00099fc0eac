//! What of a pot matters to its tree.

use measure::quantity::{Centimetre, Litre, Millimetre};

use crate::colour::space::Lab;

/// The shape of a pot in the words of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Shape {
    Rectangle,
    SoftRectangle,
    Square,
    Oval,
    Round,
    Hexagon,
    Octagon,
    Mokko,
    Drum,
    Cascade,
    Slab,
    Primitive,
}

impl Shape {
    /// As long as it is wide, so that its size goes by its width.
    pub fn is_round(self) -> bool {
        matches!(
            self,
            Shape::Square | Shape::Round | Shape::Hexagon | Shape::Octagon | Shape::Drum | Shape::Primitive
        )
    }
}

/// The outside of the clay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Finish {
    Unglazed,
    Matt,
    Gloss,
}

/// How hard the wall was fired.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Fired {
    High,
    Mid,
    Low,
    Unknown,
}

/// The look of a pot, and of the tree that it suits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Feel {
    /// Straight sides, sharp corners, heavy feet; a heavy, rough, dead-wooded tree.
    Masculine,
    /// Soft corners; most trees.
    Between,
    /// Curves, a soft lip, low feet; a smooth, fine, graceful tree.
    Feminine,
}

/// Money in the smallest coin of one currency; both sides of a comparison are in the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Coins(pub u64);

/// Length, width and height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// The long way across.
    pub length: Centimetre,
    /// The short way across.
    pub width: Centimetre,
    /// Outside to the rim; inside from the floor to the rim.
    pub depth: Centimetre,
}

/// A pot that wants a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Its shape.
    pub shape: Shape,
    /// Outside.
    pub outer: Size,
    /// Inside.
    pub inner: Size,
    /// The soil that it takes.
    pub soil: Litre,
    /// Holes for water.
    pub drain_holes: u8,
    /// Holes for tie wire; none for a box that is drilled as needed.
    pub tie_holes: Option<u8>,
    /// Height of the feet; none when nobody measured them.
    pub feet: Option<Millimetre>,
    /// How hard it was fired.
    pub fired: Fired,
    /// The outside of the clay.
    pub finish: Finish,
    /// Its colour, read off a photo or picked.
    pub colour: Option<Lab>,
    /// Strong features: carving, painting, rough texture, a loud glaze.
    pub features: u8,
    /// Its look.
    pub feel: Option<Feel>,
    /// What it is worth.
    pub value: Option<Coins>,
}

impl Frame {
    /// A celadon oval of 22 cm.
    pub fn sample() -> Frame {
        let size = |length, width, depth| Size {
            length: Centimetre(length),
            width: Centimetre(width),
            depth: Centimetre(depth),
        };
        Frame {
            shape: Shape::Oval,
            outer: size(25.0, 18.5, 6.0),
            inner: size(23.6, 17.1, 4.8),
            soil: Litre(1.45),
            drain_holes: 2,
            tie_holes: Some(4),
            feet: Some(Millimetre(6.0)),
            fired: Fired::High,
            finish: Finish::Gloss,
            colour: Some(Lab { l: 70.92, a: -17.3, b: 6.37 }),
            features: 1,
            feel: Some(Feel::Feminine),
            value: Some(Coins(12_000)),
        }
    }
}
