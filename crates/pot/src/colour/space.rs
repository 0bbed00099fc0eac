//! A colour in the words of a screen, of light, and of the eye, and the ways between them.

use measure::quantity::Degrees;

/// A colour as a screen or a photo file holds it, 0 to 255 a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Srgb(pub [u8; 3]);

/// Shares of light in the screen's red, green and blue; 1 is the screen's white.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linear(pub [f64; 3]);

/// Tristimulus values; white has a `y` of 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Xyz {
    /// Mostly red.
    pub x: f64,
    /// Lightness as the eye weighs it.
    pub y: f64,
    /// Mostly blue.
    pub z: f64,
}

/// A colour as the eye orders it (CIELAB, against [`WHITE`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// From 0, black, to 100, white.
    pub l: f64,
    /// From green to red.
    pub a: f64,
    /// From blue to yellow.
    pub b: f64,
}

/// The same by lightness, strength and hue.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lch {
    /// From 0, black, to 100, white.
    pub l: f64,
    /// Strength; 0 is grey.
    pub chroma: f64,
    /// From 0 to 360; none for a grey, which has no hue.
    pub hue: Option<Degrees>,
}

/// The one white of this house: the screen's, xy 0.3127, 0.3290.
pub const WHITE: Xyz = Xyz { x: 0.950_455_927_051_671_7, y: 1.0, z: 1.089_057_750_759_878_4 };

/// Below this strength a colour counts as grey; a choice of ours.
const GREY: f64 = 1.0;

const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_390_799_265_959_5, 0.357_584_339_383_877_96, 0.180_480_788_401_834_3],
    [0.212_639_005_871_510_36, 0.715_168_678_767_755_9, 0.072_192_315_360_733_71],
    [0.019_330_818_715_591_85, 0.119_194_779_794_625_99, 0.950_532_152_249_660_6],
];

const FROM_XYZ: [[f64; 3]; 3] = [
    [3.240_969_941_904_521_3, -1.537_383_177_570_093_5, -0.498_610_760_293_003_3],
    [-0.969_243_636_280_879_8, 1.875_967_501_507_720_6, 0.041_555_057_407_175_61],
    [0.055_630_079_696_993_61, -0.203_976_958_888_976_57, 1.056_971_514_242_878_6],
];

fn times(matrix: &[[f64; 3]; 3], [a, b, c]: [f64; 3]) -> [f64; 3] {
    matrix.map(|[p, q, r]| p * a + q * b + r * c)
}

/// Light of a photo's pixel.
///
/// ```text
/// v ≤ 0.04045: v/12.92,   else ((v + 0.055)/1.055)^2.4
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | v | `colour`/255 | value of a channel | 1 |
/// | | returned | share of light | 1 |
///
/// **Holds** for pictures in sRGB. **Error** none beyond the eight bits. **Source** IEC 61966-2-1, by the reference set.
/// **Checked** `tests/colour.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::space::{Srgb, linear};
///
/// assert_eq!(format!("{:.4}", linear(Srgb([128, 128, 128])).0[0]), "0.2159");
/// ```
pub fn linear(colour: Srgb) -> Linear {
    Linear(colour.0.map(|channel| {
        let v = f64::from(channel) / 255.0;
        if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
    }))
}

/// The nearest pixel that shows this light; none when a screen cannot show it.
///
/// ```text
/// v ≤ 0.0031308: 12.92·v,   else 1.055·v^(1/2.4) − 0.055
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | v | `light` | share of light | 1 |
/// | | returned/255 | value of a channel | 1 |
///
/// **Holds** for light that no more than half a step of a channel leaves the screen's span. **Error** half a step of 255.
/// **Source** IEC 61966-2-1, by the reference set. **Checked** `tests/colour.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::space::{Lab, Srgb, encoded};
///
/// let celadon = Lab { l: 70.92, a: -17.3, b: 6.37 };
/// assert!(encoded(celadon.xyz().linear()).is_some());
/// let too_blue = Lab { l: 30.0, a: 0.0, b: -90.0 };
/// assert_eq!(encoded(too_blue.xyz().linear()), None);
/// ```
pub fn encoded(light: Linear) -> Option<Srgb> {
    let shown = light.0.map(steps);
    let fits = shown.iter().all(|step| (-0.5..=255.5).contains(step));
    fits.then(|| Srgb(shown.map(|step| step.round() as u8)))
}

/// The nearest pixel, each channel held within the screen's span.
pub fn nearest(light: Linear) -> Srgb {
    Srgb(light.0.map(|v| steps(v).round().clamp(0.0, 255.0) as u8))
}

fn steps(v: f64) -> f64 {
    255.0 * if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 }
}

impl Linear {
    /// The same as tristimulus values.
    pub fn xyz(self) -> Xyz {
        let [x, y, z] = times(&TO_XYZ, self.0);
        Xyz { x, y, z }
    }
}

impl Xyz {
    /// The same as light of the screen; channels may leave 0 to 1 where a screen cannot show it.
    pub fn linear(self) -> Linear {
        Linear(times(&FROM_XYZ, [self.x, self.y, self.z]))
    }

    /// The colour as the eye orders it.
    ///
    /// ```text
    /// L = 116 f(Y) − 16,   a = 500 (f(X) − f(Y)),   b = 200 (f(Y) − f(Z))
    /// f(t) = ∛t for t > (6/29)³, else t/(3 (6/29)²) + 4/29
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | X, Y, Z | `self` over [`WHITE`] | tristimulus values | 1 |
    /// | L, a, b | returned | CIELAB | 1 |
    ///
    /// **Holds** for any light. **Error** 0.03 against libraries that keep another white. **Source** CIE 15, by the reference
    /// set. **Checked** `tests/colour.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use pot::colour::space::{Srgb, linear};
    ///
    /// let grey = linear(Srgb([128, 128, 128])).xyz().lab();
    /// assert_eq!(format!("{:.2} {:.2}", grey.l, grey.a.abs()), "53.59 0.00");
    /// ```
    pub fn lab(self) -> Lab {
        let [x, y, z] = [self.x / WHITE.x, self.y / WHITE.y, self.z / WHITE.z].map(forth);
        Lab { l: 116.0 * y - 16.0, a: 500.0 * (x - y), b: 200.0 * (y - z) }
    }
}

const KNEE: f64 = 6.0 / 29.0;

fn forth(t: f64) -> f64 {
    if t > KNEE * KNEE * KNEE { t.cbrt() } else { t / (3.0 * KNEE * KNEE) + 4.0 / 29.0 }
}

fn back(f: f64) -> f64 {
    if f > KNEE { f * f * f } else { 3.0 * KNEE * KNEE * (f - 4.0 / 29.0) }
}

impl Lab {
    /// The colour of a pixel.
    pub fn of(pixel: Srgb) -> Lab {
        linear(pixel).xyz().lab()
    }

    /// The pixel to show it by, as near as a screen comes.
    pub fn shown(self) -> Srgb {
        nearest(self.xyz().linear())
    }

    /// The same as tristimulus values.
    pub fn xyz(self) -> Xyz {
        let y = (self.l + 16.0) / 116.0;
        let [x, y, z] = [y + self.a / 500.0, y, y - self.b / 200.0].map(back);
        Xyz { x: x * WHITE.x, y: y * WHITE.y, z: z * WHITE.z }
    }

    /// Strength; 0 is grey.
    pub fn chroma(self) -> f64 {
        self.a.hypot(self.b)
    }

    /// Direction in the plane of hues, from 0 to 360, whatever the strength.
    pub(crate) fn angle(self) -> f64 {
        let degrees = self.b.atan2(self.a).to_degrees();
        if degrees < 0.0 { degrees + 360.0 } else { degrees }
    }

    /// The same by lightness, strength and hue; a strength under 1 has no hue.
    ///
    /// ```
    /// use pot::colour::space::Lab;
    ///
    /// let cobalt = Lab { l: 30.26, a: 4.12, b: -34.96 }.lch();
    /// assert_eq!(format!("{:.0}", cobalt.hue.unwrap().0), "277");
    /// assert_eq!(Lab { l: 50.0, a: 0.3, b: 0.2 }.lch().hue, None);
    /// ```
    pub fn lch(self) -> Lch {
        let chroma = self.chroma();
        Lch { l: self.l, chroma, hue: (chroma >= GREY).then(|| Degrees(self.angle())) }
    }
}

/// Contrast of two colours on a screen.
///
/// ```text
/// (Y₁ + 0.05)/(Y₂ + 0.05),   Y = 0.2126 R + 0.7152 G + 0.0722 B
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | R, G, B | of each by [`linear`] | light | 1 |
/// | Y₁, Y₂ | of `a` and `b`, the lighter first | lightness by the guideline's own rounded weights | 1 |
/// | | returned | contrast ratio, 1 to 21 | 1 |
///
/// **Holds** for text on a screen; it says nothing about a pot. **Error** none. **Source** WCAG 2.2, by the reference set.
/// **Checked** `tests/colour.rs`.
///
/// # Example
///
/// ```
/// use pot::colour::space::{Srgb, contrast};
///
/// assert_eq!(contrast(Srgb([0, 0, 0]), Srgb([255, 255, 255])), 21.0);
/// ```
pub fn contrast(a: Srgb, b: Srgb) -> f64 {
    let [a, b] = [a, b].map(|colour| {
        let Linear([r, g, b]) = linear(colour);
        0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05
    });
    a.max(b) / a.min(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_step_of_a_channel_comes_back_from_the_eyes_order() {
        for step in 0..=255 {
            for pixel in [[step, 40, 200], [7, step, 90], [250, 130, step]].map(Srgb) {
                assert_eq!(encoded(Lab::of(pixel).xyz().linear()), Some(pixel));
            }
        }
    }
}
