//! A tree drawn in a pot to scale: its wood at its angle, the clay in the colour of its glaze, the soil and the wet layer in it.

use std::fmt::Write;

use collection::{
    limb::Front,
    potting::{Mix, Pot},
    standing::Stature,
    ware::Ware,
};
use measure::quantity::{Centimetre, Degrees};
use pot::{
    colour::space::{Lab, Srgb},
    fit::frame::Finish,
};
use season::bench;

use crate::{
    limbs::{draw, seen},
    whole::{TreeWhole, Whole},
};

/// A tree in a pot; lengths in millimetres, y down, the soil's surface at nought.
#[derive(Clone, Debug, PartialEq)]
pub struct Preview {
    /// Left, top, width and height of what is drawn.
    pub frame: [f64; 4],
    /// The wood, where the tree was traced.
    pub wood: Option<String>,
    /// The trunk and the crown as measured, where it was not: points of the trunk, then centre and radii of the crown.
    pub sketch: Option<(String, [f64; 4])>,
    /// The clay, as points.
    pub clay: String,
    /// The rim, a band along the top of the clay, as points.
    pub rim: String,
    /// The feet, as points.
    pub feet: Vec<String>,
    /// The colour of the clay as `#rrggbb`, and whether words on it are to be light.
    pub colour: String,
    /// Words on the clay are to be light.
    pub dark: bool,
    /// Whether the glaze shines.
    pub shines: bool,
    /// Half the soil's width at its surface.
    pub soil: f64,
    /// The wet layer: half its width at the floor and at its top, and how far its top and the floor lie below the soil's surface.
    pub wet: Option<[f64; 4]>,
    /// The same in one sentence.
    pub sentence: String,
}

/// The colour a pot is drawn in while nobody measured or picked one: of bare clay, of a glaze.
const UNKNOWN: [&str; 2] = ["pot_unglazed_brown", "pot_cream"];

/// The colour a pot is drawn in, and whether it is its own.
pub fn colour(ware: &Ware) -> (Lab, bool) {
    let usual = UNKNOWN[usize::from(ware.finish != Finish::Unglazed)];
    let swatch = pot::colour::swatch::Swatch::of(usual).map_or(Lab { l: 50.0, a: 0.0, b: 0.0 }, |it| it.lab);
    ware.glaze.map_or((swatch, false), |glaze| (glaze.colour, true))
}

/// A colour as pages write it.
pub fn hex(colour: Lab) -> String {
    let Srgb([r, g, b]) = colour.shown();
    format!("#{r:02x}{g:02x}{b:02x}")
}

fn points(list: &[[f64; 2]]) -> String {
    let mut told = String::new();
    for [x, y] in list {
        let _ = write!(told, "{x:.1},{y:.1} ");
    }
    told.trim_end().to_string()
}

/// Half widths of the outside with their depths below the soil's surface, from the rim down.
fn sides(pot: &Pot) -> Vec<[f64; 2]> {
    let vessel = &pot.vessel;
    let half = |outline: pot::outline::Outline| outline.key().1[0].0 * 5.0;
    let surface = vessel.height.0 - vessel.gap.0;
    let below = |height: f64| (surface - height) * 10.0;
    let middle = vessel.middle.map(|it| [half(it), below(f64::midpoint(vessel.feet.0, vessel.height.0))]);
    [
        Some([half(vessel.top), below(vessel.height.0)]),
        middle,
        Some([half(vessel.bottom), below(vessel.feet.0)]),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Half width at a depth below the soil's surface.
fn half_at(sides: &[[f64; 2]], depth: f64) -> f64 {
    let pair = sides.windows(2).find(|pair| depth <= pair[1][1]).unwrap_or(&sides[sides.len() - 2..]);
    let along = ((depth - pair[0][1]) / (pair[1][1] - pair[0][1]).max(0.1)).clamp(0.0, 1.0);
    pair[0][0] + (pair[1][0] - pair[0][0]) * along
}

fn mirrored(side: &[[f64; 2]]) -> Vec<[f64; 2]> {
    side.iter().map(|&[x, y]| [-x, y]).chain(side.iter().rev().copied()).collect()
}

/// The tree in the pot. Leaning as `front` says, with the flare level with the soil.
pub fn preview(
    whole: &Whole,
    tree: &TreeWhole,
    (pot, ware): (&Pot, &Ware),
    mix: Option<&Mix>,
    front: Option<&Front>,
) -> Preview {
    let vessel = &pot.vessel;
    let sides = sides(pot);
    let (rim, base) = (sides[0], sides[sides.len() - 1]);
    let lip =
        [[rim[0] + 2.0, rim[1]], [rim[0] + 2.0, rim[1] + 6.0], [half_at(&sides, rim[1] + 6.0), rim[1] + 6.0]];
    let ground = base[1] + vessel.feet.0 * 10.0;
    let feet = if vessel.feet.0 <= 0.0 {
        Vec::new()
    } else {
        [-1.0, 1.0]
            .map(|side| {
                let [far, near] = [0.86, 0.6].map(|share| side * share * base[0]);
                points(&[[far, base[1]], [near, base[1]], [near, ground], [far, ground]])
            })
            .to_vec()
    };
    let (wood, mut frame) = wood(whole, tree, front);
    let sketch = if wood.is_none() { sketch(tree) } else { None };
    if let Some((_, [x, y, wide, high])) = &sketch {
        frame = [x - wide, y - high, 2.0 * wide, -(y - high)];
    }
    let inner = half_at(&sides, 0.0) - vessel.wall.0 * 10.0;
    let (own, is_own) = colour(ware);
    Preview {
        frame: around(frame, rim[0].max(base[0]) + 4.0, ground),
        wood,
        sketch,
        clay: points(&mirrored(&sides)),
        rim: points(&mirrored(&lip)),
        feet,
        colour: hex(own),
        dark: own.l < 55.0,
        shines: ware.finish == Finish::Gloss,
        soil: inner,
        wet: mix.and_then(|mix| wet(pot, mix, &sides)),
        sentence: format!(
            "{} in {}, to one scale{}",
            tree.tree.name,
            pot.name,
            if is_own { "" } else { "; the colour of the pot was not written down" }
        ),
    }
}

fn around([left, top, wide, _high]: [f64; 4], pot: f64, ground: f64) -> [f64; 4] {
    let (left, right) = (left.min(-pot), (left + wide).max(pot));
    let air = (right - left) * 0.04;
    [left - air, top - air, right - left + 2.0 * air, ground - top + 2.0 * air]
}

fn wet(pot: &Pot, mix: &Mix, sides: &[[f64; 2]]) -> Option<[f64; 4]> {
    let told = bench::filled(pot, mix, Degrees(0.0)).ok()?;
    let Centimetre(deep) = told.height;
    let floor = deep * 10.0;
    let top = floor - told.wet_layer.0 * 10.0;
    let half = |depth: f64| (half_at(sides, depth) - pot.vessel.wall.0 * 10.0).max(1.0);
    (told.wet_layer.0 > 0.0).then(|| [half(floor), half(top), top, floor])
}

fn wood(whole: &Whole, tree: &TreeWhole, front: Option<&Front>) -> (Option<String>, [f64; 4]) {
    let Ok(seen) = seen(whole, tree) else { return (None, [0.0; 4]) };
    let skeleton = &seen.raised.skeleton;
    let (path, frame) = match front {
        Some(it) => {
            draw::bare(&skeleton.turned(it.clock.azimuth()).leant(it.sideways, it.forward), Degrees(0.0))
        }
        None => draw::bare(skeleton, Degrees(0.0)),
    };
    (Some(path), frame)
}

/// Share of the height below the crown, where nobody traced the tree.
const CLEAR: f64 = 0.3;

/// A trunk and a crown as high, thick and wide as measured.
fn sketch(tree: &TreeWhole) -> Option<(String, [f64; 4])> {
    let Stature { height, trunk, .. } = tree.standing.statures.last()?;
    let (high, half) = (height.0 * 10.0, trunk.0 * 5.0);
    let spread = tree.crown.as_ref().map_or(high, |crown| crown.length.0 * 10.0);
    let tall = high * (1.0 - CLEAR) / 2.0;
    let stem =
        [[-half * 1.3, 0.0], [half * 1.3, 0.0], [half * 0.15, -high * 0.6], [-half * 0.15, -high * 0.6]];
    Some((points(&stem), [0.0, -(high - tall), spread / 2.0, tall]))
}

/// Previews in frames of one size, so that they stand to one scale beside each other.
pub fn beside(previews: &mut [Preview]) {
    let all = previews.iter().map(|it| it.frame).reduce(|a, b| {
        let (left, top) = (a[0].min(b[0]), a[1].min(b[1]));
        let (right, low) = ((a[0] + a[2]).max(b[0] + b[2]), (a[1] + a[3]).max(b[1] + b[3]));
        [left, top, right - left, low - top]
    });
    if let Some(all) = all {
        previews.iter_mut().for_each(|it| it.frame = all);
    }
}
