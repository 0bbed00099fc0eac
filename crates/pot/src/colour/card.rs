//! The colour of a glaze read off a photo that shows a grey card beside the pot.

use measure::quantity::Share;

use super::{
    cluster::{colours, median, middle},
    space::{Lab, Linear, Srgb, linear},
};

/// A colour of the pot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glaze {
    /// The colour.
    pub colour: Lab,
    /// Share of the pixels kept that carry it.
    pub share: Share,
    /// Mean distance from it in the plane of hues.
    pub spread: f64,
}

/// What a photo says of a pot.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The colours that cover more than 15 % of it, largest first.
    pub glazes: Vec<Glaze>,
    /// What red, green and blue light were multiplied by to make the card grey.
    pub gains: [f64; 3],
    /// Pixels left out as burnt out, black or shining.
    pub left_out: Share,
    /// More than 40 % were left out: take the photo in softer light.
    pub shines: bool,
}

/// Why a photo tells no colour.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Refused {
    /// The card's corner of the photo is too small.
    #[error("the grey card shows {0} pixels, at least {FEWEST} are needed")]
    FewOfCard(usize),
    /// The pot's corner of the photo is too small.
    #[error("the pot shows {0} pixels, at least {FEWEST} are needed")]
    FewOfPot(usize),
    /// The light burnt the card out.
    #[error("the grey card is overexposed: its middle value is {0} of 255")]
    Overexposed(u8),
    /// The card is nearly black.
    #[error("the grey card is underexposed: its middle value is {0} of 255")]
    Underexposed(u8),
    /// Shadow, shine or something else lies on the card.
    #[error("the grey card is not evenly lit: its values spread by {0:.2} of their middle")]
    Uneven(f64),
    /// The stated card is no grey card.
    #[error("a grey card sends back {0} of the light; it must be from 0.05 to 0.95")]
    NoCard(f64),
    /// Nothing of the pot is left.
    #[error("every pixel of the pot is burnt out, black or shining")]
    NothingLeft,
}

/// The fewest pixels of card or pot; a choice of ours.
const FEWEST: usize = 50;
const BURNT: u8 = 250;
const BLACK: u8 = 5;
/// Spread of the card over its middle above which it is not evenly lit.
const EVEN: f64 = 0.1;
/// Share of its glaze's depth of colour below which a bright pixel counts as shine; a choice of ours.
const PALED: f64 = 0.85;
const SHOWN: f64 = 0.15;

/// Reads the colours of a pot, given the pixels of card and pot.
///
/// ```text
/// gain = reflectance/median(card), channel by channel in light;   pot × gain → CIELAB, median
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | reflectance | `reflectance` | light that the card sends back; 0.18 for the usual one | 1 |
/// | gain | [`Reading::gains`] | correction of the light | 1 |
/// | | [`Reading::glazes`] | colours | 1 |
///
/// Burnt-out and black pixels are left out, and among the brightest fifth those that pale towards the light's colour, which
/// are shine. Where the hues do not lie together the pot is parted into two to four colours, always the same way.
///
/// **Holds** for daylight and lamps within about 1500 K of it, pixels in sRGB, and card and pot in the same light.
/// Two colours that differ in lightness alone are read as one. **Error**
/// under 1 in ΔE on made-up photos; a phone's own toning moves lightness by 5 to 10. **Source** von Kries in linear light; shine
/// after Shafer 1985 and Klinker, Shafer and Kanade 1988, by the reference set. **Checked** `tests/glaze_photo.rs`.
///
/// # Errors
///
/// [`Refused`] when the card is clipped, uneven or too small, or nothing of the pot is left.
///
/// # Example
///
/// ```
/// use measure::quantity::Share;
/// use pot::colour::{card::{Refused, read}, space::{Lab, Srgb}};
///
/// let (card, pot) = ([Srgb([118, 118, 118]); 60], [Srgb([140, 184, 163]); 60]);
/// let told = read(&card, &pot, Share(0.18))?;
/// assert!((told.glazes[0].colour.a - Lab::of(pot[0]).a).abs() < 1.0);
/// let white = [Srgb([255, 255, 255]); 60];
/// assert_eq!(read(&white, &pot, Share(0.18)), Err(Refused::Overexposed(255)));
/// # Ok::<(), Refused>(())
/// ```
pub fn read(card: &[Srgb], pot: &[Srgb], reflectance: Share) -> Result<Reading, Refused> {
    let gains = gains(card, reflectance.0)?;
    if pot.len() < FEWEST {
        return Err(Refused::FewOfPot(pot.len()));
    }
    let seen: Vec<Linear> = pot.iter().filter(|pixel| !clipped(**pixel)).map(|&p| lit(p, gains)).collect();
    let body = without_shine(&seen);
    if body.is_empty() {
        return Err(Refused::NothingLeft);
    }
    let pixels: Vec<Lab> = body.iter().map(|light| light.xyz().lab()).collect();
    let left_out = 1.0 - pixels.len() as f64 / pot.len() as f64;
    Ok(Reading { glazes: shown(&pixels), gains, left_out: Share(left_out), shines: left_out > 0.4 })
}

/// The colours worth showing; the middle of all where none covers enough.
fn shown(pixels: &[Lab]) -> Vec<Glaze> {
    let parts = colours(pixels);
    let large: Vec<Glaze> = parts
        .iter()
        .filter(|part| part.share > SHOWN)
        .map(|part| Glaze { colour: part.colour, share: Share(part.share), spread: part.spread })
        .collect();
    if large.is_empty() {
        let (colour, spread) = middle(pixels);
        return vec![Glaze { colour, share: Share(1.0), spread }];
    }
    large
}

/// Burnt out in any channel, or black in all: a dark glaze may well lack one channel.
fn clipped(pixel: Srgb) -> bool {
    pixel.0.iter().any(|&channel| channel >= BURNT) || pixel.0.iter().all(|&channel| channel <= BLACK)
}

fn lit(pixel: Srgb, gains: [f64; 3]) -> Linear {
    let Linear(light) = linear(pixel);
    Linear([light[0] * gains[0], light[1] * gains[1], light[2] * gains[2]])
}

fn gains(card: &[Srgb], reflectance: f64) -> Result<[f64; 3], Refused> {
    if !(0.05..=0.95).contains(&reflectance) {
        return Err(Refused::NoCard(reflectance));
    }
    if card.len() < FEWEST {
        return Err(Refused::FewOfCard(card.len()));
    }
    let mut gains = [0.0; 3];
    for (at, gain) in gains.iter_mut().enumerate() {
        let mut channel: Vec<u8> = card.iter().map(|pixel| pixel.0[at]).collect();
        channel.sort_unstable();
        match channel[channel.len() / 2] {
            high if high >= BURNT => return Err(Refused::Overexposed(high)),
            low if low <= BLACK => return Err(Refused::Underexposed(low)),
            _ => {}
        }
        let light: Vec<f64> =
            card.iter().filter(|pixel| !any_clipped(**pixel)).map(|&pixel| linear(pixel).0[at]).collect();
        if light.len() < FEWEST.min(card.len() / 2) {
            return Err(Refused::FewOfCard(light.len()));
        }
        let mid = median(light.clone());
        let spread = median(light.iter().map(|v| (v - mid).abs()).collect()) / mid;
        if spread > EVEN {
            return Err(Refused::Uneven(spread));
        }
        *gain = reflectance / mid;
    }
    Ok(gains)
}

fn any_clipped(pixel: Srgb) -> bool {
    pixel.0.iter().any(|&channel| channel >= BURNT || channel <= BLACK)
}

/// How deep a colour is, 0 for grey and 1 where a channel is dark; shading leaves it, shine lowers it.
fn depth(light: Linear) -> f64 {
    let high = light.0.iter().copied().fold(f64::MIN, f64::max);
    let low = light.0.iter().copied().fold(f64::MAX, f64::min);
    if high > 0.0 { 1.0 - low.max(0.0) / high } else { 0.0 }
}

/// The pixels less those of the brightest fifth that are paler than the palest quarter of the rest.
fn without_shine(seen: &[Linear]) -> Vec<Linear> {
    let mut order: Vec<f64> = seen.iter().map(|light| light.xyz().y).collect();
    order.sort_by(f64::total_cmp);
    let Some(&bright) = order.get(order.len() * 4 / 5) else { return Vec::new() };
    let mut depths: Vec<f64> = seen.iter().filter(|l| l.xyz().y <= bright).map(|&l| depth(l)).collect();
    depths.sort_by(f64::total_cmp);
    let pale = PALED * depths.get(depths.len() / 4).copied().unwrap_or(0.0);
    seen.iter().filter(|light| light.xyz().y <= bright || depth(**light) >= pale).copied().collect()
}
