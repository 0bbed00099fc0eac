//! A tree in the round: which side to look at it from, how to lean it, and today's front beside up to two candidates.

use collection::limb::Front;
use form::{
    front::{fronts, lean},
    skeleton::Skeleton,
};
use measure::quantity::{Degrees, Millimetre, Units};

use super::{
    draw::{Drawn, beside},
    long, seen,
};
use crate::{
    photos::{hour, hours},
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

/// A side of the tree as a front.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// The hour.
    pub hour: u8,
    /// In words.
    pub words: String,
    /// How far to turn the picture to see it.
    pub turn: i32,
    /// Flare, movement, lowest branch, free of branches at the viewer, lean of the apex, in per cent; none where it is not known.
    pub parts: [Option<u8>; 5],
    /// All known parts together.
    pub score: u8,
}

/// A front that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// 0 for today's front.
    pub rank: u8,
    /// Its title.
    pub title: &'static str,
    /// The tree as it would stand.
    pub drawn: Drawn,
    /// From where, and how it leans.
    pub words: String,
    /// What the lean changes.
    pub change: String,
    /// Why.
    pub why: String,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct FrontPage {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// On what this rests, or what is missing.
    pub rests: String,
    /// Segments: base x, y, z and radius, tip x, y, z and radius in mm, and the limb.
    pub wood: Vec<[f64; 9]>,
    /// Limbs to name in the picture: number and place of the tip.
    pub marks: Vec<(u32, [f64; 3])>,
    /// Height of the picture, mm.
    pub high: f64,
    /// Width that holds the tree from every side, mm.
    pub wide: f64,
    /// The twelve sides, the best first.
    pub sides: Vec<Side>,
    /// Today's front and the candidates.
    pub kept: Vec<Kept>,
    /// Hours to choose from.
    pub hours: Vec<(u8, String)>,
    /// What is not known.
    pub caveats: Vec<String>,
}

/// The page of a tree.
pub fn front(whole: &Whole, tree: &TreeWhole) -> FrontPage {
    let mut page = FrontPage {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        rests: String::new(),
        wood: Vec::new(),
        marks: Vec::new(),
        high: 1.0,
        wide: 1.0,
        sides: Vec::new(),
        kept: Vec::new(),
        hours: hours(),
        caveats: Vec::new(),
    };
    let seen = match seen(whole, tree) {
        Ok(seen) => seen,
        Err(why) => {
            page.rests = why.to_string();
            return page;
        }
    };
    page.rests = format!("as traced on the photo of {}", words::day(seen.day, whole.today));
    page.caveats = super::caveats(&tree.shape, seen);
    page.caveats.push("the root flare was not measured round the trunk, so it does not count here".into());
    page.caveats.push(
        "one photo shows the trunk from one side only: how it moves seen from the others, and how far it leans to you, is not known and does not count"
            .into(),
    );
    let skeleton = &seen.raised.skeleton;
    wood(skeleton, &mut page);
    page.sides = sides(skeleton);
    page.kept = kept(whole, tree, skeleton);
    page
}

fn wood(skeleton: &Skeleton, page: &mut FrontPage) {
    let ends: Vec<[f64; 3]> =
        skeleton.ends().into_iter().map(|place| [place.x.0, place.y.0, place.z.0]).collect();
    let round = |it: f64| (it * 10.0).round() / 10.0;
    for (segment, end) in skeleton.segments().iter().zip(&ends) {
        let foot = segment.bearer.map_or([0.0; 3], |bearer| ends[bearer]);
        let [a, b] = [segment.base, segment.tip].map(|mm| mm.0 / 2.0);
        let row = [foot[0], foot[1], foot[2], a, end[0], end[1], end[2], b, f64::from(segment.axis)];
        page.wood.push(row.map(round));
    }
    for axis in
        skeleton.axes().iter().filter(|axis| axis.bearer.is_none_or(|at| skeleton.segments()[at].axis == 0))
    {
        if let Some(&last) = axis.segments.last() {
            page.marks.push((axis.id, ends[last].map(round)));
        }
    }
    page.high = round(ends.iter().map(|end| end[2]).fold(1.0, f64::max));
    page.wide = round(2.0 * ends.iter().map(|end| end[0].hypot(end[1])).fold(1.0, f64::max));
}

/// The parts that one photo from the front can tell: the trunk lies in its plane, so nobody saw how it moves from another side, nor how far
/// it leans to the viewer.
fn known(side: form::front::Front) -> [Option<f64>; 5] {
    [side.flare, None, side.lowest, Some(side.open), None]
}

fn score(side: form::front::Front) -> f64 {
    let known: Vec<f64> = known(side).into_iter().flatten().collect();
    known.iter().sum::<f64>() / known.len() as f64
}

fn sides(skeleton: &Skeleton) -> Vec<Side> {
    let percent = |it: f64| (it * 100.0).round() as u8;
    let mut sides: Vec<Side> = fronts(skeleton, &[])
        .into_iter()
        .map(|side| Side {
            hour: side.clock.hour(),
            words: hour(side.clock.hour()),
            turn: side.clock.azimuth().0 as i32,
            parts: known(side).map(|part| part.map(percent)),
            score: percent(score(side)),
        })
        .collect();
    sides.sort_by_key(|side| std::cmp::Reverse(side.score));
    sides
}

/// What the fronts are called by rank.
const TITLES: [&str; 3] = ["Today's front", "First candidate", "Second candidate"];

fn kept(whole: &Whole, tree: &TreeWhole, skeleton: &Skeleton) -> Vec<Kept> {
    let fronts: Vec<&Front> = tree.shape.fronts.iter().collect();
    let stood: Vec<Skeleton> =
        fronts.iter().map(|it| skeleton.turned(it.clock.azimuth()).leant(it.sideways, it.forward)).collect();
    let views: Vec<(&Skeleton, Degrees, String)> = stood
        .iter()
        .zip(&fronts)
        .map(|(stood, it)| {
            let words = format!("{} from {}", tree.tree.name, hour(it.clock.hour()));
            (stood, Degrees(0.0), words)
        })
        .collect();
    beside(&views)
        .into_iter()
        .zip(&fronts)
        .map(|(drawn, it)| Kept {
            rank: it.rank,
            title: TITLES[usize::from(it.rank.min(2))],
            drawn,
            words: format!("from {}, {}", hour(it.clock.hour()), tilt(it)),
            change: change(whole.units(), skeleton, it),
            why: it.why.clone(),
        })
        .collect()
}

/// The front that was agreed on, how the tree shall lean, and why; none where no front was kept.
pub fn agreed(shape: &Shape) -> Option<String> {
    let it = shape.fronts.iter().find(|it| it.rank == 0)?;
    let why = if it.why.is_empty() { String::new() } else { format!(": {}", it.why) };
    Some(format!("Looked at from {}, {}{why}", hour(it.clock.hour()), tilt(it)))
}

pub(crate) fn tilt(it: &Front) -> String {
    let part = |degrees: f64, plus: &str, minus: &str| {
        let way = if degrees > 0.0 { plus } else { minus };
        (degrees.abs() >= 0.5).then(|| format!("{:.0}° {way}", degrees.abs()))
    };
    let parts: Vec<String> = [
        part(it.sideways.0, "to the right", "to the left"),
        part(it.forward.0, "towards you", "away from you"),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() { "as it stands".into() } else { format!("leant {}", parts.join(" and ")) }
}

/// Leaning further than this is usually done in two repots (common practice, no source).
const TWO_REPOTS: f64 = 15.0;

fn change(units: Units, skeleton: &Skeleton, it: &Front) -> String {
    let turned = skeleton.turned(it.clock.azimuth());
    let Ok(leant) = lean(&turned, it.sideways, it.forward) else { return String::new() };
    let side = |mm: Millimetre, plus: &str, minus: &str| {
        format!("{} {}", long(units, Millimetre(mm.0.abs())), if mm.0 >= 0.0 { plus } else { minus })
    };
    let mut told = format!(
        "Stands {} high; the apex {} of the foot and {}",
        long(units, leant.height),
        side(leant.apex_right, "to the right", "to the left"),
        side(leant.apex_towards, "towards you", "away from you"),
    );
    if leant.lean.0 >= 0.5 {
        told += &format!(
            "; the collar comes {} out of the soil on one side and goes as far under on the other",
            long(units, leant.collar)
        );
    }
    if leant.lean.0 > TWO_REPOTS {
        told += "; more than 15° is usually split over two repots (common practice, no source)";
    }
    told + "."
}
