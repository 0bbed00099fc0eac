//! A tree that comes as a Multiscale Tree Graph: drawn on a sheet that stands in for a photo, and traced on it.

use std::io::Cursor;

use collection::{
    limb::{Caliper, Limb, TRUNK},
    photo::{Photo, Pixel, Scale, Subject, Trace},
};
use form::{
    mtg, sight,
    skeleton::{Axis, Skeleton},
    traced::Clock,
};
use image::{GrayImage, ImageFormat, Luma};
use jiff::civil::Date;
use measure::quantity::{Degrees, Millimetre};
use store::store::{Act, Store};

use crate::{
    photo,
    record::{FormError, bad, known_tree},
};

/// Pixels along the longer side of the sheet.
const SHEET: f64 = 1600.0;

/// Pixels left free about the tree.
const AIR: f64 = 80.0;

/// Most segments taken from a graph.
const MOST: usize = 20_000;

/// The sheet: what it shows and where.
#[derive(Debug)]
struct Sheet {
    size: [u32; 2],
    /// Pixels in a millimetre.
    scale: f64,
    /// The foot of the trunk.
    foot: Pixel,
}

impl Sheet {
    fn of(seen: &[sight::Seen]) -> Option<Sheet> {
        let frame = sight::frame(seen)?;
        let (left, right) = (frame.left.0.min(0.0), frame.right.0.max(0.0));
        let (bottom, top) = (frame.bottom.0.min(0.0), frame.top.0.max(1.0));
        let scale = (SHEET - 2.0 * AIR) / (right - left).max(top - bottom);
        let pixels = |long: f64| ((long * scale + 2.0 * AIR).ceil() as u32).max(400);
        Some(Sheet {
            size: [pixels(right - left), pixels(top - bottom)],
            scale,
            foot: [AIR - left * scale, AIR + top * scale],
        })
    }

    fn at(&self, [x, z]: [f64; 2]) -> Pixel {
        let round = |it: f64| (it * 10.0).round() / 10.0;
        [round(self.foot[0] + x * self.scale), round(self.foot[1] - z * self.scale)]
    }

    /// The tree in black on white.
    fn picture(&self, seen: &[sight::Seen]) -> GrayImage {
        let mut sheet = GrayImage::from_pixel(self.size[0], self.size[1], Luma([236]));
        for it in seen {
            let ([x0, y0], [x1, y1]) = (self.at(it.base), self.at(it.tip));
            let steps = (x1 - x0).hypot(y1 - y0).ceil().max(1.0);
            for step in 0..=steps as u32 {
                let t = f64::from(step) / steps;
                let half = ((it.base_half + (it.tip_half - it.base_half) * t) * self.scale).max(0.7);
                dot(&mut sheet, [x0 + (x1 - x0) * t, y0 + (y1 - y0) * t], half);
            }
        }
        sheet
    }
}

fn dot(sheet: &mut GrayImage, [x, y]: Pixel, half: f64) {
    let span = |middle: f64, most: u32| {
        let clamp = |it: f64| it.clamp(0.0, f64::from(most)) as u32;
        clamp((middle - half).floor())..clamp((middle + half).ceil() + 1.0)
    };
    for row in span(y, sheet.height()) {
        for column in span(x, sheet.width()) {
            if (f64::from(column) + 0.5 - x).hypot(f64::from(row) + 0.5 - y) <= half {
                sheet.put_pixel(column, row, Luma([40]));
            }
        }
    }
}

/// A tree graph that was read and drawn, and is not taken yet.
#[derive(Debug)]
pub struct Graph {
    skeleton: Skeleton,
    seen: Vec<sight::Seen>,
    sheet: Sheet,
    taken: photo::Taken,
}

/// Reads a tree graph and draws it; nothing is written.
///
/// # Errors
///
/// [`FormError`] naming the line and the value.
pub fn read(text: &str) -> Result<Graph, FormError> {
    let skeleton = mtg::read(text).map_err(|why| bad("tree graph", "", why.to_string()))?;
    if skeleton.segments().len() > MOST {
        return Err(bad(
            "tree graph",
            &skeleton.segments().len().to_string(),
            format!("pieces are more than {MOST}"),
        ));
    }
    let mut seen = sight::seen(&skeleton, Degrees(0.0));
    let sheet = Sheet::of(&seen).ok_or_else(|| bad("tree graph", "", "shows nothing"))?;
    let mut bytes = Vec::new();
    sheet
        .picture(&seen)
        .write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png)
        .map_err(|why| bad("tree graph", "", why.to_string()))?;
    let taken = photo::open(&bytes).map_err(|why| bad("tree graph", "", why.to_string()))?;
    seen.sort_by_key(|it| it.segment);
    Ok(Graph { skeleton, seen, sheet, taken })
}

/// Takes a tree graph in as the limbs of a tree that has none yet.
///
/// Directions are kept to the hour, and the lines as they are seen from the front; the graph's own numbers become those of the limbs.
///
/// # Errors
///
/// [`FormError`] naming the line and the value; then nothing was written.
pub fn take(store: &mut Store, tree: &str, text: &str, today: Date) -> Result<usize, FormError> {
    has_none(store, tree)?;
    keep(store, tree, &read(text)?, today)
}

fn has_none(store: &Store, tree: &str) -> Result<String, FormError> {
    let tree = known_tree(store, tree)?;
    if store.reader()?.limbs()?.iter().any(|limb| limb.tree == tree) {
        return Err(bad("tree graph", &tree, "has limbs already; their numbers must not change"));
    }
    Ok(tree)
}

/// Takes a graph that was read as the limbs of a tree that has none yet.
///
/// # Errors
///
/// [`FormError`]; then nothing was written.
pub fn keep(store: &mut Store, tree: &str, graph: &Graph, today: Date) -> Result<usize, FormError> {
    let tree = has_none(store, tree)?;
    let Graph { skeleton, seen, sheet, taken } = graph;
    let axes = skeleton.axes();
    let rank = |id: u32| axes.iter().position(|axis| axis.id == id).unwrap_or(0) as u32;
    let photo = Photo {
        key: format!("{tree}-graph-{today}"),
        tree: tree.clone(),
        day: today,
        day_told: true,
        subject: Subject::Whole,
        clock: 6,
        wide: taken.wide,
        high: taken.high,
        scale: Some(Scale::Line {
            ends: [sheet.foot, [sheet.foot[0] + 100.0 * sheet.scale, sheet.foot[1]]],
            long: Millimetre(100.0),
        }),
        soil: Some(sheet.foot[1]),
        note: "drawn from a tree graph".into(),
    };
    store.transact(&Act::Trace(tree.clone()), |change| {
        if !change.add_photo(&photo, &taken.hash, [&taken.full, &taken.small])? {
            return Err(bad("tree graph", "", "its drawing is kept for this tree already"));
        }
        for axis in &axes {
            let first = &skeleton.segments()[axis.segments[0]];
            let number = rank(axis.id);
            change.set_limb(&limb(&tree, axis, skeleton, number, rank, today))?;
            let foot = std::iter::once(sheet.at(seen[axis.segments[0]].base));
            let points = foot.chain(axis.segments.iter().map(|&at| sheet.at(seen[at].tip))).collect();
            change.set_trace(&Trace { photo: photo.key.clone(), limb: number, points })?;
            change.add_caliper(&Caliper {
                tree: tree.clone(),
                limb: number,
                day: today,
                along: Millimetre(0.0),
                thick: first.base,
            })?;
        }
        Ok::<(), FormError>(())
    })?;
    Ok(axes.len())
}

fn limb(
    tree: &str,
    axis: &Axis,
    skeleton: &Skeleton,
    number: u32,
    rank: impl Fn(u32) -> u32,
    today: Date,
) -> Limb {
    let bearer = axis.bearer.map(|at| rank(skeleton.segments()[at].axis));
    let hour = (skeleton.segments()[axis.segments[0]].azimuth.0 / 30.0 + 6.0).round().rem_euclid(12.0) as u8;
    Limb {
        tree: tree.into(),
        number,
        bearer,
        name: if number == TRUNK { "trunk".into() } else { format!("branch {number}") },
        clock: bearer.and_then(|_| Clock::new(if hour == 0 { 12 } else { hour }).ok()),
        tips: None,
        since: today,
        gone: None,
    }
}
