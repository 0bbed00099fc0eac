//! A tree drawn as a bare silhouette from its front, with what is meant for each limb by line, sign and letter.

use std::{collections::BTreeMap, fmt::Write};

use collection::intention::Wish;
use form::skeleton::{Place, Skeleton};

use super::{meant, seen};
use crate::{
    shape::Shape,
    whole::{TreeWhole, Whole},
};

/// A limb's wish on the drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The wish as files and patterns name it.
    pub key: &'static str,
    /// The limb's line.
    pub line: String,
    /// Its dashes.
    pub dashes: String,
    /// The sign at its tip.
    pub sign: String,
    /// Where its word stands.
    pub x: String,
    /// Where its word stands.
    pub y: String,
    /// Its number.
    pub word: String,
}

/// A silhouette in millimetres, with y down as SVG counts it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// The frame as SVG takes it.
    pub frame: String,
    /// Left end of the soil.
    pub left: String,
    /// Right end of the soil.
    pub right: String,
    /// The thinnest line.
    pub hair: String,
    /// The width of the lines.
    pub stroke: String,
    /// The height of the letters.
    pub letter: String,
    /// The ground about the letters.
    pub halo: String,
    /// The wood.
    pub wood: String,
    /// What is meant.
    pub marks: Vec<Mark>,
    /// The drawing in a sentence.
    pub sentence: String,
}

/// A point of the drawing.
type Spot = [f64; 2];

fn spot(place: Place) -> Spot {
    [place.x.0, -place.z.0]
}

/// Both ends of each segment as seen from the front.
fn pieces(tree: &Skeleton) -> Vec<[Spot; 2]> {
    let ends: Vec<Spot> = tree.ends().into_iter().map(spot).collect();
    let foot = |bearer: Option<usize>| bearer.map_or([0.0, 0.0], |bearer| ends[bearer]);
    tree.segments().iter().zip(&ends).map(|(segment, end)| [foot(segment.bearer), *end]).collect()
}

/// Left, top, width and height of a frame that holds everything with some air about it.
fn frame(pieces: &[[Spot; 2]]) -> [f64; 4] {
    let spots = pieces.iter().flatten();
    let bounds = spots.fold([0.0_f64, 0.0, 0.0, 0.0], |it, [x, y]| {
        [it[0].min(*x), it[1].min(*y), it[2].max(*x), it[3].max(*y)]
    });
    let (wide, high) = (bounds[2] - bounds[0], bounds[3] - bounds[1]);
    let air = wide.max(high) * 0.08;
    [bounds[0] - air, bounds[1] - air, wide + 2.0 * air, high + 2.0 * air]
}

/// The tapered wood as one path.
fn wood(tree: &Skeleton, pieces: &[[Spot; 2]], thinnest: f64) -> String {
    let mut path = String::new();
    for (segment, [from, to]) in tree.segments().iter().zip(pieces) {
        let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
        let long = dx.hypot(dy).max(1e-6);
        let (nx, ny) = (-dy / long, dx / long);
        let [base, tip] = [segment.base, segment.tip].map(|mm| (mm.0 / 2.0).max(thinnest));
        let corner = |at: &Spot, by: f64| format!("{:.1} {:.1}", at[0] + nx * by, at[1] + ny * by);
        let _ = write!(
            path,
            "M{}L{}A{tip:.1} {tip:.1} 0 0 1 {}L{}Z",
            corner(from, -base),
            corner(to, -tip),
            corner(to, tip),
            corner(from, base)
        );
    }
    path
}

/// The line of each limb, base first.
fn lines(tree: &Skeleton, pieces: &[[Spot; 2]]) -> BTreeMap<u32, Vec<Spot>> {
    let mut lines: BTreeMap<u32, Vec<Spot>> = BTreeMap::new();
    for (segment, [from, to]) in tree.segments().iter().zip(pieces) {
        lines.entry(segment.axis).or_insert_with(|| vec![*from]).push(*to);
    }
    lines
}

/// Dashes of a wish, in widths of its line; none for a whole line.
pub fn dashes(wish: Wish) -> &'static [f64] {
    match wish {
        Wish::LetRun | Wish::KeepShort | Wish::Shorten => &[],
        Wish::Remove => &[3.0, 2.0],
        Wish::Thin | Wish::LeaveAlone => &[0.1, 2.5],
        Wish::Wire => &[1.2, 1.2],
        Wish::Guy => &[6.0, 3.0],
    }
}

/// The sign of a wish at the tip of a line that comes from `back`, as a path of about `size`.
pub fn sign(wish: Wish, tip: Spot, back: Spot, size: f64) -> String {
    let (dx, dy) = (tip[0] - back[0], tip[1] - back[1]);
    let long = dx.hypot(dy).max(1e-6);
    let (ux, uy) = (dx / long, dy / long);
    // Along the line and across it, in sizes.
    let at = |along: f64, across: f64| {
        let x = tip[0] + (ux * along - uy * across) * size;
        let y = tip[1] + (uy * along + ux * across) * size;
        format!("{x:.1} {y:.1}")
    };
    let bar = |along: f64| format!("M{}L{}", at(along, -1.0), at(along, 1.0));
    match wish {
        Wish::LetRun => format!("M{}L{}L{}", at(0.0, -1.0), at(1.6, 0.0), at(0.0, 1.0)),
        Wish::KeepShort => bar(0.0),
        Wish::Shorten => format!("{}{}", bar(-0.5), bar(0.3)),
        Wish::Remove => format!("M{}L{}M{}L{}", at(-1.0, -1.0), at(1.0, 1.0), at(-1.0, 1.0), at(1.0, -1.0)),
        Wish::Thin => format!("M{}L{}M{}L{}", at(0.0, 0.0), at(1.4, -1.0), at(0.0, 0.0), at(1.4, 1.0)),
        Wish::Wire => {
            let r = format!("{:.1}", size * 0.9);
            format!("M{}A{r} {r} 0 1 1 {}A{r} {r} 0 1 1 {}", at(0.0, -0.9), at(0.0, 0.9), at(0.0, -0.9))
        }
        Wish::Guy => {
            let down = [tip[0], tip[1] + 2.2 * size];
            format!("M{:.1} {:.1}L{:.1} {:.1}", tip[0], tip[1], down[0], down[1])
        }
        Wish::LeaveAlone => format!(
            "M{}L{}L{}L{}Z",
            at(-0.8, -0.8),
            at(0.8, -0.8),
            at(0.8, 0.8),
            at(-0.8, 0.8)
        ),
    }
}

/// The tree from its front; none while it is not traced.
pub fn front(whole: &Whole, tree: &TreeWhole) -> Option<Drawn> {
    let seen = seen(whole, &tree.shape).ok()?;
    let skeleton = &seen.raised.skeleton;
    let mut drawn = bare(skeleton, &tree.tree.name);
    let unit = size(&frame(&pieces(skeleton)));
    drawn.marks = marks(whole, &tree.shape, skeleton, unit);
    Some(drawn)
}

/// A hundredth of the drawing.
fn size(frame: &[f64; 4]) -> f64 {
    frame[2].max(frame[3]) / 100.0
}

/// The silhouette alone.
pub fn bare(skeleton: &Skeleton, name: &str) -> Drawn {
    let pieces = pieces(skeleton);
    let frame = frame(&pieces);
    let unit = size(&frame);
    let figure = |it: f64| format!("{it:.2}");
    Drawn {
        frame: format!("{:.1} {:.1} {:.1} {:.1}", frame[0], frame[1], frame[2], frame[3]),
        left: figure(frame[0]),
        right: figure(frame[0] + frame[2]),
        hair: figure(unit * 0.25),
        stroke: figure(unit * 0.7),
        letter: figure(unit * 3.4),
        halo: figure(unit * 0.9),
        wood: wood(skeleton, &pieces, unit * 0.12),
        marks: Vec::new(),
        sentence: format!("{name} as a bare silhouette from its front"),
    }
}

fn marks(whole: &Whole, shape: &Shape, skeleton: &Skeleton, unit: f64) -> Vec<Mark> {
    let lines = lines(skeleton, &pieces(skeleton));
    let mark = |(&limb, line): (&u32, &Vec<Spot>)| {
        let told = meant(shape, limb, whole.units(), whole.today).filter(|told| !told.inherited)?;
        let wish = Wish::from_key(told.key)?;
        let (&tip, &back) = (line.last()?, line.get(line.len().checked_sub(2)?)?);
        let points: Vec<String> = line.iter().map(|[x, y]| format!("{x:.1},{y:.1}")).collect();
        let dashes: Vec<String> =
            dashes(wish).iter().map(|width| format!("{:.2}", width * unit * 0.7)).collect();
        Some(Mark {
            key: told.key,
            line: points.join(" "),
            dashes: if dashes.is_empty() { "none".into() } else { dashes.join(" ") },
            sign: sign(wish, tip, back, unit * 1.6),
            x: format!("{:.1}", tip[0] + unit * 2.0),
            y: format!("{:.1}", tip[1] - unit * 1.2),
            word: limb.to_string(),
        })
    };
    lines.iter().filter_map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_wishes_look_alike_without_their_colour() {
        let looks: Vec<(Vec<u64>, String)> = Wish::ALL
            .into_iter()
            .map(|wish| {
                let dashes = dashes(wish).iter().map(|width| width.to_bits()).collect();
                (dashes, sign(wish, [10.0, 0.0], [0.0, 0.0], 1.0))
            })
            .collect();
        for (at, look) in looks.iter().enumerate() {
            assert!(!looks[..at].contains(look), "{:?}", Wish::ALL[at]);
        }
    }
}
