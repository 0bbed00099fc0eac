//! A picture of an invented tree before a cloth, as a camera level with it would take it.

use image::{ExtendedColorType, Rgb, RgbImage, codecs::jpeg::JpegEncoder};

use crate::{
    Sitter,
    wood::{Built, Piece, Spot},
};

/// How the picture lies over the tree.
pub struct Frame {
    wide: u32,
    high: u32,
    /// Pixels in a millimetre.
    scale: f64,
    /// Where the trunk's foot is.
    foot: [f64; 2],
}

impl Frame {
    pub fn of(sitter: &Sitter, built: &Built) -> Frame {
        let all = built.stood.iter().flatten();
        let (mut left, mut right, mut top) = (-sitter.pot[0] * 5.0, sitter.pot[0] * 5.0, sitter.high);
        for (from, to, _) in all {
            left = left.min(from[0]).min(to[0]);
            right = right.max(from[0]).max(to[0]);
            top = top.max(from[2]).max(to[2]);
        }
        let (wide, high) = (right - left + 120.0, top + sitter.pot[1] * 10.0 + 130.0);
        let scale = 1200.0 / wide.max(high);
        Frame {
            wide: (wide * scale) as u32,
            high: (high * scale) as u32,
            scale,
            foot: [(60.0 - left) * scale, (top + 60.0) * scale],
        }
    }

    fn at(&self, place: Spot) -> [f64; 2] {
        [self.foot[0] + place[0] * self.scale, self.foot[1] - place[2] * self.scale]
    }

    /// A place as the sheets write a spot.
    pub fn spot(&self, place: Spot) -> String {
        let [x, y] = self.at(place);
        format!("{x:.1},{y:.1}")
    }

    pub fn soil(&self) -> f64 {
        self.foot[1]
    }

    /// Both ends of the pot's rim.
    pub fn rim(&self, sitter: &Sitter) -> (String, String) {
        let half = sitter.pot[0] * 5.0;
        (self.spot([-half, 0.0, -6.0]), self.spot([half, 0.0, -6.0]))
    }
}

/// The colour of something at a distance: further away is paler.
fn bark(away: f64) -> [f64; 3] {
    let pale = (away / 400.0).clamp(-0.5, 0.5) * 26.0;
    [62.0 + pale, 52.0 + pale, 44.0 + pale]
}

/// The picture as a JPEG; the younger tree lacks the last twigs.
pub fn picture(sitter: &Sitter, built: &Built, frame: &Frame, younger: bool) -> Vec<u8> {
    let mut cloth = RgbImage::from_fn(frame.wide, frame.high, |x, y| {
        let (u, v) = (f64::from(x) / f64::from(frame.wide) - 0.5, f64::from(y) / f64::from(frame.high) - 0.5);
        let light = 226.0 - 26.0 * (u * u + v * v) * 2.0 - 8.0 * v + f64::from((x * 7 + y * 13) % 5) * 0.6;
        Rgb([light * 0.985, light * 0.99, light].map(|it| it as u8))
    });
    let mut wood: Vec<&Piece> = built.flare.iter().chain(&built.stood[usize::from(!younger)]).collect();
    wood.sort_by(|a, b| b.0[1].total_cmp(&a.0[1]));
    for (from, to, thick) in wood {
        let radius = thick.map(|it| (it / 2.0 * frame.scale).max(0.55));
        capsule(&mut cloth, frame.at(*from), frame.at(*to), radius, bark(from[1]));
    }
    // The soil hides the foot of the trunk.
    pot(sitter, frame, &mut cloth);
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 82)
        .encode(&cloth, frame.wide, frame.high, ExtendedColorType::Rgb8)
        .expect("memory takes it");
    bytes
}

fn pot(sitter: &Sitter, frame: &Frame, cloth: &mut RgbImage) {
    let half = sitter.pot[0] * 5.0;
    let deep = sitter.pot[1] * 10.0;
    for y in 0..frame.high {
        let down = (f64::from(y) - frame.foot[1]) / frame.scale;
        if !(0.0..=deep).contains(&down) {
            continue;
        }
        let rim = if down < 12.0 { 4.0 } else { 0.0 };
        let wide = half + rim - 0.12 * half * (down / deep);
        for x in 0..frame.wide {
            let across = (f64::from(x) - frame.foot[0]) / frame.scale;
            if across.abs() <= wide {
                let round = 1.0 - 0.35 * (across / wide).powi(2);
                let glaze = [58.0, 74.0, 86.0].map(|it| (it * round + 12.0) as u8);
                cloth.put_pixel(x, y, Rgb(glaze));
            }
        }
    }
}

/// Paints a tapered piece with soft edges.
fn capsule(cloth: &mut RgbImage, from: [f64; 2], to: [f64; 2], radius: [f64; 2], colour: [f64; 3]) {
    let reach = radius[0].max(radius[1]) + 1.0;
    let bound = |low: f64, most: u32| low.clamp(0.0, f64::from(most)) as u32;
    let xs = bound(from[0].min(to[0]) - reach, cloth.width())
        ..bound(from[0].max(to[0]) + reach + 1.0, cloth.width());
    let ys = bound(from[1].min(to[1]) - reach, cloth.height())
        ..bound(from[1].max(to[1]) + reach + 1.0, cloth.height());
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let long = (dx * dx + dy * dy).max(1e-9);
    for y in ys {
        for x in xs.clone() {
            let (px, py) = (f64::from(x) + 0.5 - from[0], f64::from(y) + 0.5 - from[1]);
            let t = ((px * dx + py * dy) / long).clamp(0.0, 1.0);
            let far = (px - t * dx).hypot(py - t * dy);
            let r = radius[0] + (radius[1] - radius[0]) * t;
            let cover = (r - far + 0.5).clamp(0.0, 1.0);
            if cover > 0.0 {
                let under = *cloth.get_pixel(x, y);
                let shade = 1.0 - 0.22 * (far / r.max(0.5)).min(1.0);
                let mixed = [0, 1, 2]
                    .map(|at| (f64::from(under[at]) * (1.0 - cover) + colour[at] * shade * cover) as u8);
                cloth.put_pixel(x, y, Rgb(mixed));
            }
        }
    }
}
