//! How far towards the viewer or away each limb reaches, by the hour it points to.

use super::{Caveat, Depth, line::Line};

/// Below this sine a limb points so much at the viewer or away that the photo does not show its reach.
const UNSEEN: f64 = 0.3;

/// Gives depth to all lines, bearers first; tells how each was had.
pub(super) fn give(lines: &mut [Line], caveats: &mut Vec<Caveat>) -> Vec<Depth> {
    let reaches: Vec<Option<f64>> = lines.iter().map(seen_reach).collect();
    let joints: Vec<Option<(usize, f64)>> =
        lines.iter().map(|line| line.bearer.map(|(bearer, _)| (bearer, line.joint()))).collect();
    let mut depths = Vec::with_capacity(lines.len());
    for at in 0..lines.len() {
        if let Some((bearer, joint)) = joints[at] {
            let foot = lines[bearer].place_at(joint);
            lines[at].places.iter_mut().for_each(|place| place[1] = foot[1]);
        }
        let line = &mut lines[at];
        let limb = line.id;
        let Some(clock) = line.clock else {
            if line.bearer.is_some() {
                caveats.push(Caveat::NoClock { limb });
            }
            depths.push(if line.bearer.is_some() { Depth::Unknown } else { Depth::Seen });
            continue;
        };
        let azimuth = clock.azimuth().0.to_radians();
        let (sine, cosine) = (azimuth.sin(), azimuth.cos());
        depths.push(if sine.abs() < UNSEEN {
            let reach = reach_of_others(&reaches, &joints, at);
            caveats.push(Caveat::ReachNotSeen { limb });
            if let Some(reach) = reach {
                line.reach_out(-cosine * reach);
            }
            if reach.is_some() { Depth::Inferred } else { Depth::Unknown }
        } else {
            let across = line.across();
            if -sine * across < 0.0 {
                caveats.push(Caveat::ClockAgainstPicture { limb });
                Depth::Unknown
            } else {
                let (x, y) = (line.places[0][0], line.places[0][1]);
                line.places.iter_mut().for_each(|place| place[1] = y + (place[0] - x) * cosine / sine);
                Depth::FromClock
            }
        });
    }
    depths
}

/// How far a limb reaches sideways from its foot to its end, by what the photo shows and the hour.
fn seen_reach(line: &Line) -> Option<f64> {
    let sine = line.clock?.azimuth().0.to_radians().sin();
    (sine.abs() >= UNSEEN && -sine * line.across() > 0.0).then(|| line.across().abs() / sine.abs())
}

/// The mean reach of the other limbs of the same bearer that stand about as high, or of all of them.
fn reach_of_others(reaches: &[Option<f64>], joints: &[Option<(usize, f64)>], at: usize) -> Option<f64> {
    let (bearer, joint) = joints[at]?;
    let others = || {
        let known = reaches.iter().zip(joints).filter_map(|(reach, joint)| Some(((*reach)?, (*joint)?)));
        known.filter(|(_, (other, _))| *other == bearer).map(|(reach, (_, height))| (reach, height))
    };
    let highest = others().map(|(_, height)| height).fold(joint, f64::max);
    let mean =
        |reaches: Vec<f64>| (!reaches.is_empty()).then(|| reaches.iter().sum::<f64>() / reaches.len() as f64);
    let near = others().filter(|(_, height)| (height - joint).abs() <= 0.15 * highest);
    mean(near.map(|other| other.0).collect()).or_else(|| mean(others().map(|other| other.0).collect()))
}

impl Line {
    /// From its foot to its end, to the right in the picture.
    fn across(&self) -> f64 {
        self.places[self.places.len() - 1][0] - self.places[0][0]
    }

    /// Leads the line out to this depth, evenly along what is seen of it.
    fn reach_out(&mut self, depth: f64) {
        let alongs = self.alongs();
        let whole = alongs[alongs.len() - 1];
        for (place, along) in self.places.iter_mut().zip(alongs) {
            place[1] += depth * along / whole;
        }
    }
}
