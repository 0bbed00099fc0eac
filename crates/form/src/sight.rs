//! What the eye sees of a skeleton: tapered limbs as flat shapes, the far ones first.

use measure::quantity::{Degrees, Millimetre};

use crate::skeleton::Skeleton;

/// A limb as it is seen: from its base to its tip, with half its thickness there. x to the right, z up, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// The segment.
    pub segment: usize,
    /// Its axis.
    pub axis: u32,
    /// Where its base is seen.
    pub base: [f64; 2],
    /// Half its thickness there.
    pub base_half: f64,
    /// Where its tip is seen.
    pub tip: [f64; 2],
    /// Half its thickness there.
    pub tip_half: f64,
    /// How far away its middle is; larger is further.
    pub away: f64,
}

impl Seen {
    /// The four corners of the limb, round the way; none where it points straight at the eye.
    pub fn corners(&self) -> Option<[[f64; 2]; 4]> {
        let way = [self.tip[0] - self.base[0], self.tip[1] - self.base[1]];
        let length = way[0].hypot(way[1]);
        if length < 1e-9 {
            return None;
        }
        let side = [-way[1] / length, way[0] / length];
        let at = |place: [f64; 2], half: f64| [place[0] + half * side[0], place[1] + half * side[1]];
        Some([
            at(self.base, self.base_half),
            at(self.tip, self.tip_half),
            at(self.tip, -self.tip_half),
            at(self.base, -self.base_half),
        ])
    }
}

/// What is covered by all that is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// The left edge.
    pub left: Millimetre,
    /// The right edge.
    pub right: Millimetre,
    /// The lower edge.
    pub bottom: Millimetre,
    /// The upper edge.
    pub top: Millimetre,
}

/// The limbs of a tree seen level and from afar by one who stands at this azimuth, the far ones first.
pub fn seen(tree: &Skeleton, from: Degrees) -> Vec<Seen> {
    let turned = tree.turned(from);
    let ends = turned.ends();
    let mut limbs: Vec<Seen> = Vec::with_capacity(ends.len());
    for (at, (segment, end)) in turned.segments().iter().zip(&ends).enumerate() {
        let foot =
            segment.bearer.map_or([0.0; 3], |bearer| [ends[bearer].x.0, ends[bearer].y.0, ends[bearer].z.0]);
        limbs.push(Seen {
            segment: at,
            axis: segment.axis,
            base: [foot[0], foot[2]],
            base_half: segment.base.0 / 2.0,
            tip: [end.x.0, end.z.0],
            tip_half: segment.tip.0 / 2.0,
            away: 0.5 * (foot[1] + end.y.0),
        });
    }
    limbs.sort_by(|one, other| other.away.total_cmp(&one.away));
    limbs
}

/// The frame around all limbs.
pub fn frame(limbs: &[Seen]) -> Option<Frame> {
    let spots = limbs.iter().flat_map(|limb| [(limb.base, limb.base_half), (limb.tip, limb.tip_half)]);
    let mut edges: Option<[f64; 4]> = None;
    for ([x, z], half) in spots {
        let [left, right, bottom, top] = edges.unwrap_or([x, x, z, z]);
        edges = Some([left.min(x - half), right.max(x + half), bottom.min(z), top.max(z + half)]);
    }
    let [left, right, bottom, top] = edges?.map(Millimetre);
    Some(Frame { left, right, bottom, top })
}

/// How far the tree reaches to the left and to the right of its foot in so many even rows from the soil up to its top, mm.
pub fn reach_by_row(limbs: &[Seen], rows: usize) -> Vec<[f64; 2]> {
    let mut reaches = vec![[0.0_f64; 2]; rows];
    let Some(frame) = frame(limbs) else { return reaches };
    let step = frame.top.0 / rows as f64;
    if step <= 0.0 {
        return reaches;
    }
    for limb in limbs {
        let (low, high) = (limb.base[1].min(limb.tip[1]), limb.base[1].max(limb.tip[1]));
        let first = ((low / step).floor().max(0.0) as usize).min(rows - 1);
        let last = ((high / step).floor().max(0.0) as usize).min(rows - 1);
        for (row, reach) in reaches.iter_mut().enumerate().take(last + 1).skip(first) {
            // The part of the limb that lies in this row.
            let share = |z: f64| {
                if high - low < 1e-9 {
                    0.0
                } else {
                    ((z - limb.base[1]) / (limb.tip[1] - limb.base[1])).clamp(0.0, 1.0)
                }
            };
            let edge = |z: f64| {
                let share = share(z);
                let half = limb.base_half + share * (limb.tip_half - limb.base_half);
                (limb.base[0] + share * (limb.tip[0] - limb.base[0]), half)
            };
            let (z0, z1) = ((row as f64 * step).max(low), ((row + 1) as f64 * step).min(high));
            let flat = high - low < 1e-9;
            let spots = if flat {
                [(limb.base[0], limb.base_half), (limb.tip[0], limb.tip_half)]
            } else {
                [edge(z0), edge(z1)]
            };
            for (x, half) in spots {
                reach[0] = reach[0].max(half - x);
                reach[1] = reach[1].max(x + half);
            }
        }
    }
    reaches
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::skeleton::{Edge, Segment};

    fn cross() -> Skeleton {
        let piece = |bearer, edge, axis, length: f64, azimuth, inclination| Segment {
            bearer,
            edge,
            axis,
            length: Millimetre(length),
            base: Millimetre(10.0),
            tip: Millimetre(6.0),
            azimuth: Degrees(azimuth),
            inclination: Degrees(inclination),
        };
        Skeleton::new(vec![
            piece(None, Edge::Root, 1, 100.0, 0.0, 90.0),
            piece(Some(0), Edge::Branches, 2, 50.0, 0.0, 0.0),
            piece(Some(0), Edge::Branches, 3, 40.0, 270.0, 0.0),
        ])
        .unwrap()
    }

    #[test]
    fn near_limbs_are_drawn_last_and_a_quarter_turn_changes_sides() {
        let front = seen(&cross(), Degrees(0.0));
        assert_eq!(front.iter().map(|limb| limb.axis).collect::<Vec<_>>().last(), Some(&2));
        assert!(front.iter().find(|limb| limb.axis == 2).unwrap().corners().is_none());
        let right = front.iter().find(|limb| limb.axis == 3).unwrap();
        assert!((right.tip[0] - 40.0).abs() < 1e-9);
        // Seen from 9 o'clock (azimuth 90), what pointed at the viewer points to the right.
        let side = seen(&cross(), Degrees(90.0));
        let turned = side.iter().find(|limb| limb.axis == 2).unwrap();
        assert!((turned.tip[0] - 50.0).abs() < 1e-9, "{turned:?}");
    }

    #[test]
    fn rows_reach_as_far_as_the_limbs() {
        let rows = reach_by_row(&seen(&cross(), Degrees(0.0)), 10);
        assert!((rows[9][1] - 43.0).abs() < 1e-9 && rows[9][0] > 2.9, "{rows:?}");
        assert!(rows[0][1] > 4.0 && rows[0][1] <= 5.0);
    }
}
