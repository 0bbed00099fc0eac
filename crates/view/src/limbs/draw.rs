//! A tree drawn as a bare silhouette from its front, with what is meant for each limb by line, sign and letter.

use std::fmt::Write;

use collection::{intention::Wish, limb::TRUNK};
use form::{
    sight,
    skeleton::{Axis, Skeleton},
};
use measure::quantity::Degrees;

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

/// A limb as it is seen: its line from base to tip with half its thickness at each spot.
struct Line {
    limb: u32,
    spots: Vec<(Spot, f64)>,
}

/// The limbs as seen by one who stands at an azimuth, with y down.
fn lines(tree: &Skeleton, from: Degrees) -> Vec<Line> {
    let mut pieces = sight::seen(tree, from);
    pieces.sort_by_key(|piece| piece.segment);
    let spot = |[x, z]: [f64; 2]| [x, -z];
    let line = |axis: Axis| {
        let first = &pieces[axis.segments[0]];
        let foot = std::iter::once((spot(first.base), first.base_half));
        let rest = axis.segments.iter().map(|&at| (spot(pieces[at].tip), pieces[at].tip_half));
        Line { limb: axis.id, spots: foot.chain(rest).collect() }
    };
    tree.axes().into_iter().map(line).collect()
}

/// Left, top, width and height of a frame that holds everything with some air about it.
fn frame(lines: &[Line]) -> [f64; 4] {
    let spots = lines.iter().flat_map(|line| &line.spots);
    let bounds = spots.fold([0.0_f64; 4], |it, ([x, y], half)| {
        [it[0].min(x - half), it[1].min(y - half), it[2].max(x + half), it[3].max(*y)]
    });
    let (wide, high) = (bounds[2] - bounds[0], bounds[3] - bounds[1]);
    let air = wide.max(high) * 0.07;
    [bounds[0] - air, bounds[1] - air, wide + 2.0 * air, high + 2.0 * air]
}

/// The tapered wood as one path of smooth outlines; nothing is drawn thinner than `thinnest` to either side.
fn wood(lines: &[Line], thinnest: f64) -> String {
    let mut path = String::new();
    for line in lines {
        let spots = &line.spots;
        let last = spots.len() - 1;
        let side = |by: f64| -> Vec<Spot> {
            (0..=last)
                .map(|at| {
                    let ([x, y], half) = spots[at];
                    // The trunk stands flat on the soil; elsewhere the outline runs square to the line.
                    let [nx, ny] = if at == 0 && line.limb == TRUNK {
                        [1.0, 0.0]
                    } else {
                        square(spots[at.saturating_sub(1)].0, spots[(at + 1).min(last)].0)
                    };
                    let out = half.max(thinnest) * by;
                    [x + nx * out, y + ny * out]
                })
                .collect()
        };
        let (left, mut right) = (side(-1.0), side(1.0));
        right.reverse();
        let tip = spots[last].1.max(thinnest);
        let _ = write!(path, "M{:.1} {:.1}", left[0][0], left[0][1]);
        smooth(&mut path, &left);
        let _ = write!(path, "A{tip:.2} {tip:.2} 0 0 1 {:.1} {:.1}", right[0][0], right[0][1]);
        smooth(&mut path, &right);
        path.push('Z');
    }
    path
}

/// A tree's wood as seen from an azimuth, with y down and the foot at nought: the path, and left, top, width and height of its frame.
pub(crate) fn bare(tree: &Skeleton, from: Degrees) -> (String, [f64; 4]) {
    let lines = lines(tree, from);
    let frame = frame(&lines);
    (wood(&lines, size(&frame) * 0.12), frame)
}

/// A step of length one square to the way from one spot to another, to its right as seen with y down.
fn square(from: Spot, to: Spot) -> Spot {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let long = dx.hypot(dy).max(1e-6);
    [-dy / long, dx / long]
}

/// Curves through all spots after the first (Catmull and Rom's spline as Bézier pieces).
fn smooth(path: &mut String, spots: &[Spot]) {
    let at = |index: isize| spots[index.clamp(0, spots.len() as isize - 1) as usize];
    for index in 0..spots.len() as isize - 1 {
        let [a, b, c, d] = [index - 1, index, index + 1, index + 2].map(at);
        let lead = |from: Spot, to: Spot, base: Spot, by: f64| {
            [base[0] + (to[0] - from[0]) / 6.0 * by, base[1] + (to[1] - from[1]) / 6.0 * by]
        };
        let (one, two) = (lead(a, c, b, 1.0), lead(b, d, c, -1.0));
        let _ =
            write!(path, "C{:.1} {:.1} {:.1} {:.1} {:.1} {:.1}", one[0], one[1], two[0], two[1], c[0], c[1]);
    }
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
        Wish::LeaveAlone => {
            format!("M{}L{}L{}L{}Z", at(-0.8, -0.8), at(0.8, -0.8), at(0.8, 0.8), at(-0.8, 0.8))
        }
    }
}

/// The tree from its front; none while it is not traced.
pub fn front(whole: &Whole, tree: &TreeWhole) -> Option<Drawn> {
    let seen = seen(whole, tree).ok()?;
    let lines = lines(&seen.raised.skeleton, Degrees(0.0));
    let sentence = format!("{} as a bare silhouette from its front", tree.tree.name);
    let mut drawn = drawn(&lines, frame(&lines), sentence);
    drawn.marks = marks(whole, &tree.shape, &lines, size(&frame(&lines)));
    Some(drawn)
}

/// What is meant, drawn on the photo that the tree was traced on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnPhoto {
    /// The photo's key.
    pub photo: String,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// The width of the lines.
    pub stroke: String,
    /// The height of the letters.
    pub letter: String,
    /// The ground about lines and letters.
    pub halo: String,
    /// What is meant.
    pub marks: Vec<Mark>,
}

/// The wishes on the photo; none while the tree is not traced.
pub fn on_photo(whole: &Whole, tree: &TreeWhole) -> Option<OnPhoto> {
    let seen = seen(whole, tree).ok()?;
    let photo = tree.shape.photos.iter().find(|photo| photo.key == seen.photo)?;
    let alive: Vec<u32> = tree.shape.alive(whole.today).map(|limb| limb.number).collect();
    let traced = tree.shape.traces.iter().filter(|it| it.photo == photo.key && alive.contains(&it.limb));
    let lines: Vec<Line> = traced
        .map(|it| Line { limb: it.limb, spots: it.points.iter().map(|spot| (*spot, 0.0)).collect() })
        .collect();
    let unit = f64::from(photo.wide.max(photo.high)) / 100.0;
    Some(OnPhoto {
        photo: photo.key.clone(),
        wide: photo.wide,
        high: photo.high,
        stroke: format!("{:.1}", unit * 0.6),
        letter: format!("{:.1}", unit * 3.2),
        halo: format!("{:.1}", unit * 1.3),
        marks: marks(whole, &tree.shape, &lines, unit),
    })
}

/// A hundredth of the drawing.
fn size(frame: &[f64; 4]) -> f64 {
    frame[2].max(frame[3]) / 100.0
}

/// Silhouettes of several trees to one scale, each as seen from an azimuth, with its words.
pub fn beside(trees: &[(&Skeleton, Degrees, String)]) -> Vec<Drawn> {
    let seen: Vec<Vec<Line>> = trees.iter().map(|(tree, from, _)| lines(tree, *from)).collect();
    let frames: Vec<[f64; 4]> = seen.iter().map(|lines| frame(lines)).collect();
    let all = frames.iter().fold([0.0_f64; 4], |it, frame| {
        [
            it[0].min(frame[0]),
            it[1].min(frame[1]),
            it[2].max(frame[0] + frame[2]),
            it[3].max(frame[1] + frame[3]),
        ]
    });
    let common = [all[0], all[1], all[2] - all[0], all[3] - all[1]];
    let each = seen.iter().zip(trees);
    each.map(|(lines, (_, _, words))| drawn(lines, common, words.clone())).collect()
}

fn drawn(lines: &[Line], frame: [f64; 4], sentence: String) -> Drawn {
    let unit = size(&frame);
    let figure = |it: f64| format!("{it:.2}");
    Drawn {
        frame: format!("{:.1} {:.1} {:.1} {:.1}", frame[0], frame[1], frame[2], frame[3]),
        left: figure(frame[0]),
        right: figure(frame[0] + frame[2]),
        hair: figure(unit * 0.25),
        stroke: figure(unit * 0.7),
        letter: figure(unit * LETTER),
        halo: figure(unit * 0.9),
        wood: wood(lines, unit * 0.12),
        marks: Vec::new(),
        sentence,
    }
}

/// The height of the numbers, in units of the picture.
const LETTER: f64 = 3.4;

fn marks(whole: &Whole, shape: &Shape, lines: &[Line], unit: f64) -> Vec<Mark> {
    let mut stand: Vec<[f64; 2]> = Vec::new();
    let mark = |line: &Line| {
        let told = meant(shape, line.limb, whole.units(), whole.today).filter(|told| !told.inherited)?;
        let wish = Wish::from_key(told.key)?;
        let [.., (back, _), (tip, _)] = line.spots.as_slice() else { return None };
        let points: Vec<String> = line.spots.iter().map(|([x, y], _)| format!("{x:.1},{y:.1}")).collect();
        let dashes: Vec<String> =
            dashes(wish).iter().map(|width| format!("{:.2}", width * unit * 0.7)).collect();
        let number = line.limb.to_string();
        let at = clear(&mut stand, *tip, unit, number.len());
        Some(Mark {
            key: told.key,
            line: points.join(" "),
            dashes: if dashes.is_empty() { "none".into() } else { dashes.join(" ") },
            sign: sign(wish, *tip, *back, unit * 1.6),
            x: format!("{:.1}", at[0]),
            y: format!("{:.1}", at[1]),
            word: number,
        })
    };
    lines.iter().filter_map(mark).collect()
}

/// A place for a number beside a tip: to its right, else to its left, else further down on the right until none stands there.
fn clear(stand: &mut Vec<[f64; 2]>, tip: [f64; 2], unit: f64, digits: usize) -> [f64; 2] {
    let letter = unit * LETTER;
    let y = tip[1] - unit * 1.2;
    let right = [tip[0] + unit * 2.0, y];
    let left = [tip[0] - unit * 2.0 - 0.65 * letter * digits as f64, y];
    let is_free = |at: &[f64; 2]| {
        stand.iter().all(|it| (it[0] - at[0]).abs() >= 1.3 * letter || (it[1] - at[1]).abs() >= letter)
    };
    let below = std::iter::successors(Some(right), |at| Some([at[0], at[1] + letter / 4.0]));
    let at = [right, left].into_iter().chain(below).find(is_free).unwrap_or(right);
    stand.push(at);
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_at_one_tip_stand_beside_each_other() {
        let mut stand = Vec::new();
        let places = [[0.0, 0.0], [2.0, -1.0], [1.0, 0.0]].map(|tip| clear(&mut stand, tip, 3.0, 2));
        assert!(places[0][0] > 0.0 && places[1][0] < 0.0 && places[2][1] > places[0][1], "{places:?}");
        let far = clear(&mut stand, [60.0, 0.0], 3.0, 2);
        assert!(far[0] > 60.0, "{far:?}");
    }

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
