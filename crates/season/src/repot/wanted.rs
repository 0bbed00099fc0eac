//! A pot to think of buying: only its shape, outer size, finish and colour are known, and the rest is guessed.

use collection::{
    potting::{Pot, Wall},
    ware::{Glaze, Told, Ware},
};
use measure::{
    quantity::Centimetre,
    sourced::{Sourced, Standing},
};
use pot::{
    colour::space::Lab,
    error::Error,
    fit::frame::{Finish, Fired, Shape, Size},
    outline::Outline,
    vessel::Vessel,
};

use super::frame::{Framed, frame};

const OURS: Standing = Standing::Estimate("a guess of ours for a pot that nobody has measured yet");

/// Height of its feet.
pub const FEET: Sourced<Centimetre> = Sourced { value: Centimetre(0.8), standing: OURS };
/// The most of its height that the feet take, as its part: a sixth.
pub const FEET_PART: Sourced<f64> = Sourced { value: 6.0, standing: OURS };
/// Thickness of wall and floor, as the part of its length: a fortieth.
pub const WALL_PART: Sourced<f64> = Sourced { value: 40.0, standing: OURS };
/// The thinnest and the thickest wall.
pub const WALL: Sourced<[Centimetre; 2]> =
    Sourced { value: [Centimetre(0.4), Centimetre(1.5)], standing: OURS };
/// Rim above the soil.
pub const GAP: Sourced<Centimetre> = Sourced { value: Centimetre(0.6), standing: OURS };
/// The most of its height that the rim stands above the soil, as its part: an eighth.
pub const GAP_PART: Sourced<f64> = Sourced { value: 8.0, standing: OURS };
/// Radius of the corners of a soft rectangle, as the part of its width: a sixth.
pub const CORNER_PART: Sourced<f64> = Sourced { value: 6.0, standing: OURS };
/// How square a mokko pot is, as an exponent between 2 for an ellipse and much more for a rectangle.
pub const MOKKO: Sourced<f64> = Sourced { value: 3.0, standing: OURS };
/// Holes for wire.
pub const TIE_HOLES: Sourced<u8> = Sourced { value: 2, standing: OURS };

/// The outline that goes with a shape. What is as wide as it is long goes by the shorter of its two measures; a pot for a cascade, a
/// slab and a bowl without a form are taken for ovals.
///
/// ```
/// use measure::quantity::Centimetre;
/// use pot::{fit::frame::Shape, outline::Outline};
/// use season::repot::wanted::outline;
///
/// let told = outline(Shape::Hexagon, Centimetre(26.0), Centimetre(24.0));
/// assert_eq!(told, Outline::Hexagon { flats: Centimetre(24.0) });
/// ```
pub fn outline(shape: Shape, length: Centimetre, width: Centimetre) -> Outline {
    let (length, width) = if width.0 > length.0 { (width, length) } else { (length, width) };
    match shape {
        Shape::Rectangle => Outline::Rectangle { length, width },
        Shape::SoftRectangle => {
            Outline::RoundedRectangle { length, width, corner: Centimetre(width.0 / CORNER_PART.value) }
        }
        Shape::Square => Outline::Rectangle { length: width, width },
        Shape::Round | Shape::Drum => Outline::Round { diameter: width },
        Shape::Hexagon => Outline::Hexagon { flats: width },
        Shape::Octagon => Outline::Octagon { flats: width },
        Shape::Mokko => Outline::Superellipse { length, width, exponent: MOKKO.value },
        Shape::Oval | Shape::Cascade | Shape::Slab | Shape::Primitive => Outline::Oval { length, width },
    }
}

/// A pot to think of buying as a frame for a tree, from its outer length, width and height. Feet, wall, rim and holes are guessed as
/// above, and it is taken to be fired high: measure it before you pay for it.
///
/// # Errors
///
/// [`Error`] when the measures are not those of a pot.
///
/// # Example
///
/// ```
/// use measure::quantity::Centimetre;
/// use pot::fit::frame::{Finish, Shape, Size};
/// use season::repot::wanted::wanted;
///
/// let [length, width, depth] = [40.0, 30.0, 8.0].map(Centimetre);
/// let told = wanted(Shape::Oval, Size { length, width, depth }, Finish::Matt, None)?;
/// assert!((told.frame.inner.length.0 - 38.0).abs() < 1e-9 && (told.frame.inner.depth.0 - 6.2).abs() < 1e-9);
/// # Ok::<(), pot::error::Error>(())
/// ```
pub fn wanted(shape: Shape, outer: Size, finish: Finish, colour: Option<Lab>) -> Result<Framed, Error> {
    let Size { length, width, depth: height } = outer;
    let [thin, thick] = WALL.value;
    let top = outline(shape, length, width);
    let wall = Centimetre((length.0.max(width.0) / WALL_PART.value).clamp(thin.0, thick.0));
    let vessel = Vessel {
        top,
        middle: None,
        bottom: top,
        height,
        feet: Centimetre(FEET.value.0.min(height.0 / FEET_PART.value)),
        floor: wall,
        wall,
        lip: Centimetre(0.0),
        gap: Centimetre(GAP.value.0.min(height.0 / GAP_PART.value)),
        measured: None,
    };
    let clay = if finish == Finish::Unglazed { Wall::Stoneware } else { Wall::Glazed };
    let pot = Pot { key: "wanted".into(), name: "the new pot".into(), wall: clay, vessel };
    let glaze = colour.map(|colour| Glaze { colour, told: Told::Picked });
    let ties = Some(TIE_HOLES.value);
    let ware = Ware { shape, finish, fired: Fired::High, tie_holes: ties, glaze, ..Ware::unknown(&pot) };
    frame(&pot, &ware)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(shape: Shape, size: [f64; 3]) -> Result<Framed, Error> {
        let [length, width, depth] = size.map(Centimetre);
        wanted(shape, Size { length, width, depth }, Finish::Gloss, None)
    }

    #[test]
    fn every_shape_makes_a_frame_with_room_in_it() {
        for shape in Shape::ALL {
            for size in [[6.0, 5.0, 2.0], [30.0, 22.0, 8.0], [90.0, 60.0, 12.0], [20.0, 26.0, 30.0]] {
                let frame = told(shape, size).unwrap_or_else(|why| panic!("{shape:?} {size:?}: {why}")).frame;
                assert!(
                    frame.shape == shape && frame.soil.0 > 0.0 && frame.inner.length.0 >= frame.inner.width.0
                );
                let is_even = (frame.outer.length.0 - frame.outer.width.0).abs() < 1e-9;
                assert!(is_even || !shape.is_round() || shape == Shape::Primitive, "{shape:?}");
            }
        }
    }

    #[test]
    fn a_round_pot_holds_less_than_a_square_one_and_an_octagon_stands_between() {
        let soil = |shape| told(shape, [30.0, 30.0, 10.0]).unwrap().frame.soil.0;
        let by_size = [Shape::Round, Shape::Octagon, Shape::Hexagon, Shape::Square].map(soil);
        assert!(by_size.is_sorted(), "{by_size:?}");
        assert!(told(Shape::Oval, [30.0, 22.0, 0.0]).is_err());
    }
}
