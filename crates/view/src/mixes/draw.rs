//! A pot cut open along its long side, with what its mix holds by height.

use collection::potting::Pot;
use measure::quantity::{Centimetre, Degrees, Share, Units};
use pot::outline::Outline;
use season::bench::{AIR_ENOUGH, Filled, LAYERS};

use super::per_cent;

/// Width of the picture and the part of it that the pot may take, with the tallest it may be.
const WIDTH: f64 = 340.0;
const POT_WIDE: f64 = 168.0;
const POT_TALL: f64 = 150.0;

/// Distance of two lines of figures, and the margin above and below.
const LINE: f64 = 17.0;
const MARGIN: f64 = 8.0;

/// Where the figures begin.
const WORDS: f64 = 192.0;

/// Share of the base from its edge to a foot, and a foot's width.
const FOOT: [f64; 2] = [0.08, 0.12];

/// A level layer of the soil.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Its top.
    pub y: f64,
    /// How tall it is.
    pub tall: f64,
    /// How wet it looks, from 1 with the fewest drops to 4.
    pub drops: u8,
}

/// The figures of a layer, and the line that leads to them.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Where the line begins.
    pub from: f64,
    /// Where the words stand.
    pub y: f64,
    /// Water and air.
    pub words: String,
}

/// A pot cut open.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Height of the picture.
    pub tall: f64,
    /// The clay, as points.
    pub clay: String,
    /// The feet, as points.
    pub feet: Vec<String>,
    /// The soil, as points; the bands are cut to it.
    pub soil: String,
    /// The layers from the floor up.
    pub bands: Vec<Band>,
    /// The wet layer's top and height, where there is one.
    pub wet: Option<(f64, f64)>,
    /// The figures.
    pub marks: Vec<Mark>,
    /// Right end of the pot, where the lines begin.
    pub edge: f64,
    /// The same in one sentence.
    pub sentence: String,
}

/// Points of the cut, cm, as the pot stands level: right is along the long side, up is up.
type Points = Vec<[f64; 2]>;

/// Both halves of a body: half widths with their heights, from the bottom up.
fn mirrored(half: &[[f64; 2]]) -> Points {
    half.iter().map(|&[x, y]| [-x, y]).chain(half.iter().rev().copied()).collect()
}

/// Half widths of the outside, from the base to the rim.
fn outside(pot: &Pot) -> Vec<[f64; 2]> {
    let half = |outline: Outline| outline.key().1[0].0 / 2.0;
    let (base, rim) = (pot.vessel.feet.0, pot.vessel.height.0);
    let middle = pot.vessel.middle.map(|middle| [half(middle), f64::midpoint(base, rim)]);
    [Some([half(pot.vessel.bottom), base]), middle, Some([half(pot.vessel.top), rim])]
        .into_iter()
        .flatten()
        .collect()
}

/// Half width of the outside at a height.
fn half_at(outside: &[[f64; 2]], height: f64) -> f64 {
    let pair = outside.windows(2).find(|pair| height <= pair[1][1]).unwrap_or(&outside[outside.len() - 2..]);
    let along = ((height - pair[0][1]) / (pair[1][1] - pair[0][1])).max(0.0);
    pair[0][0] + (pair[1][0] - pair[0][0]) * along
}

/// The soil between two heights.
fn soil(pot: &Pot, outside: &[[f64; 2]]) -> Points {
    let floor = pot.vessel.feet.0 + pot.vessel.floor.0;
    let top = pot.vessel.height.0 - pot.vessel.gap.0;
    let bend = outside.iter().map(|at| at[1]).filter(|&height| floor < height && height < top);
    let heights: Vec<f64> = [floor].into_iter().chain(bend).chain([top]).collect();
    let half: Vec<[f64; 2]> = heights
        .into_iter()
        .map(|height| [(half_at(outside, height) - pot.vessel.wall.0).max(0.1), height])
        .collect();
    mirrored(&half)
}

fn feet(pot: &Pot) -> Vec<Points> {
    if pot.vessel.feet.0 <= 0.0 {
        return Vec::new();
    }
    let base = pot.vessel.bottom.key().1[0].0;
    [-1.0, 1.0]
        .map(|side| {
            let [near, far] = [0.5 - FOOT[0] - FOOT[1], 0.5 - FOOT[0]].map(|share| side * share * base);
            vec![[near, 0.0], [near, pot.vessel.feet.0], [far, pot.vessel.feet.0], [far, 0.0]]
        })
        .to_vec()
}

/// Turns points about the lowest left corner of the soil, which lies at nought afterwards.
fn tipped(points: &[[f64; 2]], corner: [f64; 2], angle: Degrees) -> Points {
    let (sin, cos) = angle.0.to_radians().sin_cos();
    let turn = |&[x, y]: &[f64; 2]| {
        let [x, y] = [x - corner[0], y - corner[1]];
        [x * cos - y * sin, x * sin + y * cos]
    };
    points.iter().map(turn).collect()
}

/// From centimetres about the corner to the picture.
#[derive(Clone, Copy, Debug)]
struct Scale {
    left: f64,
    by: f64,
    /// Where the lowest point of the soil lies in the picture.
    zero: f64,
    tall: f64,
    edge: f64,
}

impl Scale {
    fn of(all: &[[f64; 2]]) -> Scale {
        let least = |at: usize| all.iter().map(|it| it[at]).fold(f64::INFINITY, f64::min);
        let most = |at: usize| all.iter().map(|it| it[at]).fold(f64::NEG_INFINITY, f64::max);
        let (left, low) = (least(0), least(1));
        let (wide, high) = (most(0) - left, most(1) - low);
        let by = (POT_WIDE / wide).min(POT_TALL / high);
        let tall = (high * by).max(LINE * LAYERS as f64) + 2.0 * MARGIN;
        let ground = f64::midpoint(tall, high * by);
        Scale { left, by, zero: ground + low * by, tall, edge: 2.0 + wide * by }
    }

    fn y(self, height: f64) -> f64 {
        self.zero - height * self.by
    }

    fn points(self, points: &[[f64; 2]]) -> String {
        let point = |&[x, y]: &[f64; 2]| format!("{:.1},{:.1}", 2.0 + (x - self.left) * self.by, self.y(y));
        points.iter().map(point).collect::<Vec<_>>().join(" ")
    }
}

/// How many drops a layer shows: fewer the more air there is.
fn drops(air: f64) -> u8 {
    match air {
        ..0.15 => 4,
        0.15..0.25 => 3,
        0.25..0.35 => 2,
        _ => 1,
    }
}

/// The pot cut open.
pub(super) fn cut(pot: &Pot, told: &Filled, angle: Degrees, units: Units, mix: &str) -> Drawing {
    let outside = outside(pot);
    let level = soil(pot, &outside);
    let corner = level[0];
    let turn = |points: &[[f64; 2]]| tipped(points, corner, angle);
    let (clay, soil) = (turn(&mirrored(&outside)), turn(&level));
    let feet: Vec<Points> = feet(pot).iter().map(|foot| turn(foot)).collect();
    let scale = Scale::of(&[clay.clone(), feet.concat()].concat());
    let step = told.height.0 / LAYERS as f64;
    let bands = (0..LAYERS).map(|at| {
        let top = scale.y(if at + 1 == LAYERS { told.height.0 * 1.3 } else { step * (at as f64 + 1.0) });
        let air = told.porosity.0 - told.layers[at].0;
        Band { y: top, tall: scale.y(step * at as f64) - top, drops: drops(air) }
    });
    let top = scale.y(told.wet_layer.0);
    Drawing {
        tall: scale.tall,
        clay: scale.points(&clay),
        feet: feet.iter().map(|foot| scale.points(foot)).collect(),
        soil: scale.points(&soil),
        bands: bands.collect(),
        wet: (told.wet_layer.0 >= 0.05).then_some((top, scale.zero - top)),
        marks: marks(told, scale, step),
        edge: scale.edge,
        sentence: sentence(told, units, mix),
    }
}

/// The figures beside the pot, a line apart, each led to from the middle of its layer.
fn marks(told: &Filled, scale: Scale, step: f64) -> Vec<Mark> {
    let apart = LINE.max(step * scale.by);
    let middle = scale.y(told.height.0 / 2.0);
    let reach = apart * (LAYERS as f64 - 1.0) / 2.0;
    let middle = middle.clamp(MARGIN + reach, (scale.tall - MARGIN - reach).max(MARGIN + reach));
    (0..LAYERS)
        .map(|at| {
            let air = Share(told.porosity.0 - told.layers[at].0);
            Mark {
                from: scale.y(step * (at as f64 + 0.5)),
                y: middle + reach - apart * at as f64,
                words: format!("{} water, {} air", per_cent(told.layers[at]), per_cent(air)),
            }
        })
        .collect()
}

fn sentence(told: &Filled, units: Units, mix: &str) -> String {
    let wet = match told.wet_layer {
        Centimetre(top) if top < 0.05 => "no wet layer".into(),
        top => format!("air under {} in the lowest {}", per_cent(AIR_ENOUGH), units.span(top)),
    };
    format!("The pot cut open with {mix}: {wet}; the figures stand in the table below")
}

/// Width of the picture, and where the figures begin.
impl Drawing {
    /// Width of the picture.
    pub fn wide(&self) -> f64 {
        WIDTH
    }

    /// Where the figures begin.
    pub fn words(&self) -> f64 {
        WORDS
    }
}
