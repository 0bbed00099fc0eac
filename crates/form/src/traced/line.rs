//! The line of one limb: made smooth, hung on its bearer, and split where others leave it.

use measure::quantity::Millimetre;

use super::{Caliper, Caveat, Clock, TipClass, TracedLimb};
use crate::error::Error;

/// Bends smaller than this share of the length are not kept.
const SMOOTH: f64 = 0.012;

/// No segment is shorter than this, mm.
pub(super) const SHORTEST: f64 = 0.5;

/// A limb on its way to segments.
pub(super) struct Line {
    pub(super) id: u32,
    /// The place of its bearer, and later the vertex of the bearer on which it stands.
    pub(super) bearer: Option<(usize, usize)>,
    /// How far along its bearer's seen line it stands.
    joint: f64,
    /// Its vertices: x, y and z; y stays 0 until depth is given.
    pub(super) places: Vec<[f64; 3]>,
    pub(super) clock: Option<Clock>,
    pub(super) calipers: Vec<Caliper>,
    pub(super) tips: Option<TipClass>,
    /// The piece that was put before its first point.
    pub(super) lead: f64,
}

impl Line {
    pub(super) fn of(
        limb: &TracedLimb,
        bearer: Option<&Line>,
        at: Option<usize>,
        caveats: &mut Vec<Caveat>,
    ) -> Result<Line, Error> {
        let wrong = |fault| Err(Error::Limb { limb: limb.id, fault });
        if limb.points.iter().flatten().any(|figure| !figure.is_finite()) {
            return wrong("a point is no number");
        }
        let mut calipers = limb.calipers.clone();
        if calipers.iter().any(|one| !(one.diameter.0 > 0.0 && one.diameter.0.is_finite())) {
            return wrong("a thickness must be above 0");
        }
        if calipers.iter().any(|one| !(one.along.0 >= 0.0 && one.along.0.is_finite())) {
            return wrong("a thickness must lie on the limb");
        }
        calipers.sort_by(|one, other| one.along.0.total_cmp(&other.along.0));
        let mut points: Vec<[f64; 2]> = Vec::with_capacity(limb.points.len());
        for &point in &limb.points {
            if points.last().is_none_or(|last| apart(*last, point) >= SHORTEST) {
                points.push(point);
            }
        }
        if points.len() < 2 {
            return wrong("it needs two points or more that lie apart");
        }
        let mut points = smooth(&points);
        let (mut joint, mut lead) = (0.0, 0.0);
        if let Some(bearer) = bearer {
            let (along, place) = nearest(&bearer.seen(), points[0]);
            let gap = apart(place, points[0]);
            if gap > FAR.max(0.15 * bearer.seen_length()) {
                caveats.push(Caveat::FarFromBearer { limb: limb.id, gap: Millimetre(gap) });
            }
            let off = gap >= SHORTEST.max(SMOOTH * bearer.seen_length());
            (joint, lead) = (along, if off { gap } else { 0.0 });
            if off {
                points.insert(0, place)
            } else {
                points[0] = place
            }
            while points.len() > 2 && apart(points[0], points[1]) < SHORTEST {
                points.remove(1);
            }
            if apart(points[0], points[1]) < SHORTEST {
                return wrong("it lies on the limb that it leaves");
            }
        }
        let places = points.into_iter().map(|[x, z]| [x, 0.0, z]).collect();
        let bearer = at.map(|at| (at, 0));
        Ok(Line { id: limb.id, bearer, joint, places, clock: limb.clock, calipers, tips: limb.tips, lead })
    }

    fn seen(&self) -> Vec<[f64; 2]> {
        self.places.iter().map(|place| [place[0], place[2]]).collect()
    }

    pub(super) fn seen_length(&self) -> f64 {
        self.seen().windows(2).map(|pair| apart(pair[0], pair[1])).sum()
    }

    /// How far along its wood each vertex lies.
    pub(super) fn alongs(&self) -> Vec<f64> {
        let mut alongs = vec![0.0];
        for pair in self.places.windows(2) {
            let step = (0..3).map(|k| (pair[1][k] - pair[0][k]).powi(2)).sum::<f64>().sqrt();
            alongs.push(alongs[alongs.len() - 1] + step);
        }
        alongs
    }

    /// Where a limb stands on this one in depth, by how far along the seen line.
    pub(super) fn place_at(&self, joint: f64) -> [f64; 3] {
        let mut left = joint;
        for pair in self.places.windows(2) {
            let step = apart([pair[0][0], pair[0][2]], [pair[1][0], pair[1][2]]);
            if left <= step && step > 0.0 {
                return [0, 1, 2].map(|k| pair[0][k] + (pair[1][k] - pair[0][k]) * left / step);
            }
            left -= step;
        }
        self.places[self.places.len() - 1]
    }

    pub(super) fn joint(&self) -> f64 {
        self.joint
    }
}

/// A limb that starts further from its bearer than this is mentioned, mm.
const FAR: f64 = 30.0;

/// Gives every line a vertex where another leaves it, and tells those on which vertex they stand.
pub(super) fn split(lines: &mut [Line]) {
    for at in 0..lines.len() {
        let Some((bearer, _)) = lines[at].bearer else { continue };
        let joint = lines[at].joint;
        let foot = lines[bearer].place_at(joint);
        let line = &mut lines[bearer];
        let (mut best, mut gap) = (1, f64::INFINITY);
        for (vertex, place) in line.places.iter().enumerate().skip(1) {
            let apart = (0..3).map(|k| (place[k] - foot[k]).powi(2)).sum::<f64>().sqrt();
            if apart < gap {
                (best, gap) = (vertex, apart);
            }
        }
        let first = line.places[0];
        let from_base = (0..3).map(|k| (first[k] - foot[k]).powi(2)).sum::<f64>().sqrt();
        if gap >= SHORTEST && from_base >= SHORTEST {
            let mut left = joint;
            let piece = line.places.windows(2).position(|pair| {
                let step = apart([pair[0][0], pair[0][2]], [pair[1][0], pair[1][2]]);
                let here = left <= step;
                left -= step;
                here
            });
            best = piece.unwrap_or(line.places.len() - 2) + 1;
            line.places.insert(best, foot);
            for other in lines.iter_mut().take(at) {
                if let Some((same, vertex)) = &mut other.bearer
                    && *same == bearer
                    && *vertex >= best
                {
                    *vertex += 1;
                }
            }
        }
        lines[at].bearer = Some((bearer, best));
        // The limb starts where its bearer now has a vertex.
        let start = lines[bearer].places[best];
        let shift = [0, 1, 2].map(|k| start[k] - lines[at].places[0][k]);
        for place in &mut lines[at].places {
            (0..3).for_each(|k| place[k] += shift[k]);
        }
    }
}

fn apart(one: [f64; 2], other: [f64; 2]) -> f64 {
    (one[0] - other[0]).hypot(one[1] - other[1])
}

/// The place on a line nearest to a point, and how far along it lies.
fn nearest(line: &[[f64; 2]], point: [f64; 2]) -> (f64, [f64; 2]) {
    let (mut best, mut gap, mut before) = ((0.0, line[0]), f64::INFINITY, 0.0);
    for pair in line.windows(2) {
        let (foot, distance) = foot(pair[0], pair[1], point);
        if distance < gap {
            gap = distance;
            best = (before + apart(pair[0], foot), foot);
        }
        before += apart(pair[0], pair[1]);
    }
    best
}

/// The place between two points nearest to a third, and how far off that is.
fn foot(from: [f64; 2], to: [f64; 2], point: [f64; 2]) -> ([f64; 2], f64) {
    let way = [to[0] - from[0], to[1] - from[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    let along = (point[0] - from[0]) * way[0] + (point[1] - from[1]) * way[1];
    let share = if square > 0.0 { (along / square).clamp(0.0, 1.0) } else { 0.0 };
    let foot = [from[0] + share * way[0], from[1] + share * way[1]];
    (foot, apart(foot, point))
}

/// Leaves out the points that lie almost on the line between those kept (Douglas and Peucker).
fn smooth(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let length: f64 = points.windows(2).map(|pair| apart(pair[0], pair[1])).sum();
    let (last, enough) = (points.len() - 1, (SMOOTH * length).max(SHORTEST));
    let mut kept = vec![false; points.len()];
    (kept[0], kept[last]) = (true, true);
    let mut waiting = vec![(0, last)];
    while let Some((from, to)) = waiting.pop() {
        let off = |at: usize| foot(points[from], points[to], points[at]).1;
        let furthest = (from + 1..to).max_by(|&one, &other| off(one).total_cmp(&off(other)));
        if let Some(at) = furthest.filter(|&at| off(at) > enough) {
            kept[at] = true;
            waiting.extend([(from, at), (at, to)]);
        }
    }
    points.iter().zip(kept).filter(|(_, kept)| *kept).map(|(point, _)| *point).collect()
}
