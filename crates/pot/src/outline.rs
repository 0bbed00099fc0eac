//! The outline of a pot seen from above, and its area.

use measure::{
    quantity::{Centimetre, SquareCentimetre},
    range::{OutOfRange, within},
};

/// What a pot's rim or base looks like from above; lengths are across the outside, or the inside, as the place says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// Four square corners.
    Rectangle {
        /// The longer side.
        length: Centimetre,
        /// The shorter side.
        width: Centimetre,
    },
    /// Straight sides with corners cut to a quarter round.
    RoundedRectangle {
        /// The longer side.
        length: Centimetre,
        /// The shorter side.
        width: Centimetre,
        /// Radius of the corners.
        corner: Centimetre,
    },
    /// An ellipse.
    Oval {
        /// The long way across.
        length: Centimetre,
        /// The short way across.
        width: Centimetre,
    },
    /// Two straight sides between half rounds.
    Stadium {
        /// The long way across.
        length: Centimetre,
        /// The short way across, which is the width of the half rounds.
        width: Centimetre,
    },
    /// A circle.
    Round {
        /// Across.
        diameter: Centimetre,
    },
    /// Six even sides.
    Hexagon {
        /// Across, from flat side to flat side.
        flats: Centimetre,
    },
    /// Eight even sides.
    Octagon {
        /// Across, from flat side to flat side.
        flats: Centimetre,
    },
    /// Between an oval (2) and a rectangle (much more); 3 for the soft corners of a mokko pot.
    Superellipse {
        /// The long way across.
        length: Centimetre,
        /// The short way across.
        width: Centimetre,
        /// How square it is.
        exponent: f64,
    },
}

/// The most a pot measures across, cm; a guard of this house.
const WIDEST: f64 = 300.0;

impl Outline {
    /// The word used in files, the two ways across, and what rounds it: the corner's radius in cm or the exponent.
    ///
    /// ```
    /// use measure::quantity::Centimetre;
    /// use pot::outline::Outline;
    ///
    /// let oval = Outline::Oval { length: Centimetre(30.0), width: Centimetre(22.0) };
    /// let (word, [length, width], shape) = oval.key();
    /// assert_eq!(Outline::from_key(word, length, width, shape), Some(oval));
    /// ```
    pub fn key(self) -> (&'static str, [Centimetre; 2], Option<f64>) {
        match self {
            Outline::Rectangle { length, width } => ("rectangle", [length, width], None),
            Outline::RoundedRectangle { length, width, corner } => {
                ("rounded-rectangle", [length, width], Some(corner.0))
            }
            Outline::Oval { length, width } => ("oval", [length, width], None),
            Outline::Stadium { length, width } => ("stadium", [length, width], None),
            Outline::Round { diameter } => ("round", [diameter, diameter], None),
            Outline::Hexagon { flats } => ("hexagon", [flats, flats], None),
            Outline::Octagon { flats } => ("octagon", [flats, flats], None),
            Outline::Superellipse { length, width, exponent } => {
                ("superellipse", [length, width], Some(exponent))
            }
        }
    }

    /// The outline that goes by this word; none for another word or where what rounds it is wanting.
    pub fn from_key(
        word: &str,
        length: Centimetre,
        width: Centimetre,
        shape: Option<f64>,
    ) -> Option<Outline> {
        Some(match word {
            "rectangle" => Outline::Rectangle { length, width },
            "rounded-rectangle" => Outline::RoundedRectangle { length, width, corner: Centimetre(shape?) },
            "oval" => Outline::Oval { length, width },
            "stadium" => Outline::Stadium { length, width },
            "round" => Outline::Round { diameter: length },
            "hexagon" => Outline::Hexagon { flats: length },
            "octagon" => Outline::Octagon { flats: length },
            "superellipse" => Outline::Superellipse { length, width, exponent: shape? },
            _ => return None,
        })
    }

    /// The area that the outline encloses.
    ///
    /// ```text
    /// rectangle l·w                      rounded rectangle l·w − (4 − π)·r²
    /// oval      π·l·w/4                  stadium           (l − w)·w + π·w²/4
    /// round     π·d²/4                   hexagon           √3/2·f²
    /// octagon   2·(√2 − 1)·f²            superellipse      l·w·Γ(1 + 1/n)²/Γ(1 + 2/n)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | l, w, d, f | `length`, `width`, `diameter`, `flats` | across | cm |
    /// | r | `corner` | radius of the corners | cm |
    /// | n | `exponent` | how square | 1 |
    /// | | returned | area | cm² |
    ///
    /// **Holds** for sides up to 300 cm, a corner up to half the width, an exponent of 1 to 50.
    /// **Error** none for a pot of that outline. **Source** plane geometry. **Checked** `tests/vessel.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a measure is not that of such an outline.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::Centimetre;
    /// use pot::outline::Outline;
    ///
    /// let oval = Outline::Oval { length: Centimetre(36.0), width: Centimetre(27.0) };
    /// assert_eq!(format!("{:.0} cm²", oval.area()?.0), "763 cm²");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn area(self) -> Result<SquareCentimetre, OutOfRange> {
        use std::f64::consts::{PI, SQRT_2};
        let [l, w] = self.checked()?;
        Ok(SquareCentimetre(match self {
            Outline::Rectangle { .. } => l * w,
            Outline::RoundedRectangle { corner: Centimetre(r), .. } => l * w - (4.0 - PI) * r * r,
            Outline::Oval { .. } | Outline::Round { .. } => PI * l * w / 4.0,
            Outline::Stadium { .. } => (l - w) * w + PI * w * w / 4.0,
            Outline::Hexagon { .. } => 3.0_f64.sqrt() / 2.0 * w * w,
            Outline::Octagon { .. } => 2.0 * (SQRT_2 - 1.0) * w * w,
            Outline::Superellipse { exponent: n, .. } => {
                l * w * libm::tgamma(1.0 + 1.0 / n).powi(2) / libm::tgamma(1.0 + 2.0 / n)
            }
        }))
    }

    /// The long and the short way across, cm.
    pub(crate) fn across(self) -> [f64; 2] {
        match self {
            Outline::Rectangle { length, width }
            | Outline::RoundedRectangle { length, width, .. }
            | Outline::Oval { length, width }
            | Outline::Stadium { length, width }
            | Outline::Superellipse { length, width, .. } => [length.0, width.0],
            Outline::Round { diameter: across }
            | Outline::Hexagon { flats: across }
            | Outline::Octagon { flats: across } => [across.0; 2],
        }
    }

    /// Both ways across, if every measure is that of such an outline.
    fn checked(self) -> Result<[f64; 2], OutOfRange> {
        let [l, w] = self.across();
        within("width of the pot, cm", w, 0.1, WIDEST)?;
        within("length of the pot, cm", l, 0.1, WIDEST)?;
        match self {
            Outline::RoundedRectangle { corner, .. } => {
                within("radius of the corners, cm", corner.0, 0.0, l.min(w) / 2.0)?;
            }
            // A stadium shorter than wide would lose its half rounds.
            Outline::Stadium { .. } => {
                within("length of the pot, cm", l, w, WIDEST)?;
            }
            Outline::Superellipse { exponent, .. } => {
                within("exponent of the outline", exponent, 1.0, 50.0)?;
            }
            _ => {}
        }
        Ok([l, w])
    }

    /// The outline that lies `by` inside this one all round.
    pub(crate) fn inside(self, by: f64) -> Outline {
        let less = |across: Centimetre| Centimetre(across.0 - 2.0 * by);
        match self {
            Outline::Rectangle { length, width } => {
                Outline::Rectangle { length: less(length), width: less(width) }
            }
            Outline::RoundedRectangle { length, width, corner } => {
                let corner = Centimetre((corner.0 - by).max(0.0));
                Outline::RoundedRectangle { length: less(length), width: less(width), corner }
            }
            Outline::Oval { length, width } => Outline::Oval { length: less(length), width: less(width) },
            Outline::Stadium { length, width } => {
                Outline::Stadium { length: less(length), width: less(width) }
            }
            Outline::Round { diameter } => Outline::Round { diameter: less(diameter) },
            Outline::Hexagon { flats } => Outline::Hexagon { flats: less(flats) },
            Outline::Octagon { flats } => Outline::Octagon { flats: less(flats) },
            Outline::Superellipse { length, width, exponent } => {
                Outline::Superellipse { length: less(length), width: less(width), exponent }
            }
        }
    }

    /// The outline halfway up between this one and another of its kind, sides running straight.
    pub(crate) fn halfway(self, other: Outline) -> Option<Outline> {
        let mid = |a: Centimetre, b: Centimetre| Centimetre(f64::midpoint(a.0, b.0));
        Some(match (self, other) {
            (Outline::Rectangle { length: a, width: b }, Outline::Rectangle { length, width }) => {
                Outline::Rectangle { length: mid(a, length), width: mid(b, width) }
            }
            (
                Outline::RoundedRectangle { length: a, width: b, corner: c },
                Outline::RoundedRectangle { length, width, corner },
            ) => Outline::RoundedRectangle {
                length: mid(a, length),
                width: mid(b, width),
                corner: mid(c, corner),
            },
            (Outline::Oval { length: a, width: b }, Outline::Oval { length, width }) => {
                Outline::Oval { length: mid(a, length), width: mid(b, width) }
            }
            (Outline::Stadium { length: a, width: b }, Outline::Stadium { length, width }) => {
                Outline::Stadium { length: mid(a, length), width: mid(b, width) }
            }
            (Outline::Round { diameter: a }, Outline::Round { diameter }) => {
                Outline::Round { diameter: mid(a, diameter) }
            }
            (Outline::Hexagon { flats: a }, Outline::Hexagon { flats }) => {
                Outline::Hexagon { flats: mid(a, flats) }
            }
            (Outline::Octagon { flats: a }, Outline::Octagon { flats }) => {
                Outline::Octagon { flats: mid(a, flats) }
            }
            (
                Outline::Superellipse { length: a, width: b, exponent: n },
                Outline::Superellipse { length, width, exponent },
            ) if n == exponent => {
                Outline::Superellipse { length: mid(a, length), width: mid(b, width), exponent }
            }
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Area of the even polygon with so many sides, by its triangles.
    fn polygon(sides: f64, flats: f64) -> f64 {
        sides * (flats / 2.0).powi(2) * (std::f64::consts::PI / sides).tan()
    }

    #[test]
    fn even_sides_enclose_their_triangles() {
        let flats = Centimetre(17.0);
        let [six, eight] =
            [Outline::Hexagon { flats }, Outline::Octagon { flats }].map(|pot| pot.area().unwrap().0);
        assert!((six - polygon(6.0, 17.0)).abs() < 1e-9 && (eight - polygon(8.0, 17.0)).abs() < 1e-9);
    }

    #[test]
    fn a_superellipse_of_two_is_an_oval() {
        let (length, width) = (Centimetre(30.0), Centimetre(20.0));
        let oval = Outline::Oval { length, width }.area().unwrap().0;
        let soft = Outline::Superellipse { length, width, exponent: 2.0 }.area().unwrap().0;
        assert!((oval - soft).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_outline_is_refused() {
        let (length, width) = (Centimetre(10.0), Centimetre(20.0));
        assert!(Outline::Stadium { length, width }.area().is_err());
        assert!(Outline::RoundedRectangle { length, width, corner: Centimetre(5.1) }.area().is_err());
        assert!(Outline::Round { diameter: Centimetre(-3.0) }.area().is_err());
        assert!(Outline::Superellipse { length, width, exponent: f64::NAN }.area().is_err());
    }
}
