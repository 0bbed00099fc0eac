//! The colour of a pot read off its kept photo, which shows a grey card beside it.

use collection::ware::{Glaze, Told, Ware};
use image::RgbImage;
use measure::quantity::Share;
use pot::colour::{
    card::{Reading, Refused, read},
    space::Srgb,
};
use store::{
    error::Error,
    photo::Size,
    reader::Reader,
    store::{Act, Store},
};

use super::{known_pot, version};
use crate::record::{FormError, bad, number};

/// No more pixels than this of card or pot are looked at, evenly spread; more would not change the middle.
const MOST_PIXELS: usize = 40_000;

/// The light that the usual grey card sends back, per cent.
const USUAL_CARD: f64 = 18.0;

/// Two corners of the kept picture, as typed: left, top, wide and high of each, in its pixels.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct GlazeForm<'a> {
    pub photo: &'a str,
    /// `card_x`, `card_y`, `card_wide`, `card_high`.
    pub card: [&'a str; 4],
    /// `pot_x`, `pot_y`, `pot_wide`, `pot_high`.
    pub pot: [&'a str; 4],
    /// Light that the card sends back, per cent; empty for 18.
    pub reflectance: &'a str,
    pub revision: &'a str,
}

/// Why no colour was read.
#[derive(Debug, thiserror::Error)]
pub enum GlazeError {
    /// A field that cannot be taken, or the store's no.
    #[error(transparent)]
    Form(#[from] FormError),
    /// The photo tells no colour.
    #[error("{0}; take another photo in even light, or pick the colour")]
    Photo(#[from] Refused),
}

impl From<store::error::Error> for GlazeError {
    fn from(why: store::error::Error) -> GlazeError {
        GlazeError::Form(why.into())
    }
}

/// Reads the colour of a pot off one of its photos and keeps the largest as its colour.
///
/// # Errors
///
/// [`GlazeError`] when a corner is not on the photo, card and pot lie over each other, the photo tells no colour, or the pot's record has moved on; then nothing was kept.
pub fn read_glaze(store: &mut Store, form: GlazeForm<'_>) -> Result<Reading, GlazeError> {
    let measured = measure_glaze(&store.reader()?, form)?;
    Ok(keep_glaze(store, measured)?)
}

/// A glaze that was read off a photo and is not kept yet.
#[derive(Clone, Debug)]
pub struct Measured {
    ware: Ware,
    reading: Reading,
}

/// Reads the colour of a glaze off a photo; nothing is written.
///
/// # Errors
///
/// [`GlazeError`] as [`read_glaze`] has them.
pub fn measure_glaze(reader: &Reader, form: GlazeForm<'_>) -> Result<Measured, GlazeError> {
    let photo = reader.pot_photos()?.into_iter().find(|photo| photo.key == form.photo);
    let photo = photo.ok_or_else(|| bad("photo", form.photo, "is not in the collection"))?;
    let bytes = reader.pot_picture(&photo.key, Size::Full)?;
    let bytes = bytes.ok_or_else(|| bad("photo", form.photo, "has no picture"))?;
    let (_, known) = known_pot(reader, &photo.pot)?;
    // Looked at before the photo is opened, and held to again by the store when the colour is kept.
    let yours = version(form.revision)?;
    if yours != known.revision {
        return Err(Error::Stale { key: photo.pot, yours, stored: known.revision }.into());
    }
    let picture = image::load_from_memory(&bytes)
        .map_err(|_| bad("photo", form.photo, "cannot be opened; send it again"))?
        .into_rgb8();
    let [card, glazed] =
        [Corner::read(&picture, "grey card", form.card)?, Corner::read(&picture, "pot", form.pot)?];
    if card.overlaps(glazed) {
        let why = "lies over the frame of the grey card; draw the two apart";
        return Err(bad("pot", &form.pot.join(" "), why).into());
    }
    let reading = read(&card.pixels(&picture), &glazed.pixels(&picture), reflectance(form.reflectance)?)?;
    let Some(largest) = reading.glazes.first() else { return Err(Refused::NothingLeft.into()) };
    let glaze = Glaze { colour: largest.colour, told: Told::Measured { spread: largest.spread } };
    let ware = Ware { glaze: Some(glaze), revision: yours, ..known };
    Ok(Measured { ware, reading })
}

/// Keeps a colour that was read; a pot that changed meanwhile keeps its own.
///
/// # Errors
///
/// [`FormError`] from the store.
pub fn keep_glaze(store: &mut Store, Measured { ware, reading }: Measured) -> Result<Reading, FormError> {
    store.transact(&Act::ReadGlaze(ware.pot.clone()), |change| change.set_ware(&ware))?;
    Ok(reading)
}

fn reflectance(typed: &str) -> Result<Share, FormError> {
    let figure = typed.trim().trim_end_matches('%').trim_end();
    match figure {
        "" => Ok(Share(USUAL_CARD / 100.0)),
        told => Ok(Share(number("light that the card sends back", told, 5.0, 95.0)? / 100.0)),
    }
}

/// A part of a picture: from where, and how wide and high, in its pixels.
#[derive(Clone, Copy, Debug)]
struct Corner {
    x: u32,
    y: u32,
    wide: u32,
    high: u32,
}

impl Corner {
    fn read(picture: &RgbImage, what: &'static str, typed: [&str; 4]) -> Result<Corner, FormError> {
        let whole = |typed: &str, most: u32| {
            Ok::<u32, FormError>(number(what, typed, 0.0, f64::from(most))?.round() as u32)
        };
        let (x, y) = (whole(typed[0], picture.width())?, whole(typed[1], picture.height())?);
        let (wide, high) = (whole(typed[2], picture.width() - x)?, whole(typed[3], picture.height() - y)?);
        if wide == 0 || high == 0 {
            let why = "is marked by no corner of the photo; draw a frame over it";
            return Err(bad(what, &typed.join(" "), why));
        }
        Ok(Corner { x, y, wide, high })
    }

    fn overlaps(self, other: Corner) -> bool {
        self.x < other.x + other.wide
            && other.x < self.x + self.wide
            && self.y < other.y + other.high
            && other.y < self.y + self.high
    }

    /// Its pixels, evenly thinned where there are very many.
    fn pixels(self, picture: &RgbImage) -> Vec<Srgb> {
        let (wide, high) = (self.wide as usize, self.high as usize);
        let count = wide * high;
        let step = count.div_ceil(MOST_PIXELS);
        // A step that divides the width would look down single columns.
        let step = if step > 1 && wide.is_multiple_of(step) { step + 1 } else { step };
        let at = |index: usize| {
            let (across, down) = (index % wide, index / wide);
            Srgb(picture.get_pixel(self.x + across as u32, self.y + down as u32).0)
        };
        (0..count).step_by(step).map(at).collect()
    }
}
