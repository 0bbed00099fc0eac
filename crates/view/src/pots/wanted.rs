//! A pot to think of buying, as typed.

use collection::{
    potting::{Pot, Wall},
    ware::{Glaze, Told, Ware},
};
use measure::quantity::{Centimetre, Litre, Units};
use pot::{
    colour::swatch::Swatch,
    fit::frame::{Finish, Fired, Shape},
    outline::Outline,
    vessel::Vessel,
};
use season::repot::frame::{Framed, frame};

/// A pot to think of buying, as typed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Wanted<'a> {
    /// Its shape.
    pub shape: &'a str,
    /// Outer length.
    pub length: &'a str,
    /// Outer width.
    pub width: &'a str,
    /// Height.
    pub height: &'a str,
    /// Its finish.
    pub finish: &'a str,
    /// A usual colour.
    pub swatch: &'a str,
}

impl Wanted<'_> {
    /// The pot as a frame: feet of 8 mm, a wall of a fortieth of its length, two tie holes, fired high.
    ///
    /// # Errors
    ///
    /// What was typed that cannot be.
    pub fn framed(&self, units: Units) -> Result<Framed, String> {
        let number = |name: &str, text: &str| {
            let told =
                text.trim().replace(',', ".").parse::<f64>().ok().filter(|it| (1.0..=300.0).contains(it));
            let cm = told.map(|it| if units == Units::Metric { it } else { it * 2.54 });
            cm.map(Centimetre).ok_or_else(|| format!("{name} “{text}” is no length of a pot"))
        };
        let length = number("length", self.length)?;
        let width = if self.width.trim().is_empty() { length } else { number("width", self.width)? };
        let height = number("height", self.height)?;
        let shape = Shape::from_key(self.shape).ok_or_else(|| format!("“{}” is no shape", self.shape))?;
        let finish =
            Finish::from_key(self.finish).ok_or_else(|| format!("“{}” is no finish", self.finish))?;
        let top = match shape {
            Shape::Rectangle | Shape::SoftRectangle | Shape::Square | Shape::Slab => {
                Outline::Rectangle { length, width }
            }
            _ => Outline::Oval { length, width },
        };
        let wall = Centimetre((length.0 / 40.0).clamp(0.4, 1.5));
        let pot = Pot {
            key: "wanted".into(),
            name: "the new pot".into(),
            wall: if finish == Finish::Unglazed { Wall::Stoneware } else { Wall::Glazed },
            vessel: Vessel {
                top,
                middle: None,
                bottom: top,
                height,
                feet: Centimetre(0.8_f64.min(height.0 / 6.0)),
                floor: wall,
                wall,
                lip: Centimetre(0.0),
                gap: Centimetre(0.6_f64.min(height.0 / 8.0)),
                measured: None::<Litre>,
            },
        };
        let glaze = Swatch::of(self.swatch).map(|it| Glaze { colour: it.lab, told: Told::Picked });
        let ware =
            Ware { shape, finish, fired: Fired::High, tie_holes: Some(2), glaze, ..Ware::unknown(&pot) };
        frame(&pot, &ware).map_err(|why| why.to_string())
    }
}
