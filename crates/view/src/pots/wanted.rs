//! A pot to think of buying, as typed.

use measure::quantity::{Centimetre, Units};
use pot::{
    colour::swatch::Swatch,
    fit::frame::{Finish, Shape, Size},
};
use season::repot::{frame::Framed, wanted::wanted};

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
    /// The pot as a frame, with what has to be guessed.
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
        let depth = number("height", self.height)?;
        let shape = Shape::from_key(self.shape).ok_or("choose a shape")?;
        let finish = Finish::from_key(self.finish).ok_or("choose a finish")?;
        let colour = Swatch::of(self.swatch).map(|it| it.lab);
        wanted(shape, Size { length, width, depth }, finish, colour).map_err(|why| why.to_string())
    }
}
