//! Which side is the front, and what leaning a tree does to it and to its pot.

use measure::{
    quantity::{Degrees, Millimetre},
    range::{OutOfRange, within},
};

use crate::{
    reading::primaries,
    skeleton::{Place, Skeleton},
    traced::Clock,
};

/// How far the roots flare to one hour, from the middle of the trunk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flare {
    /// Where to.
    pub clock: Clock,
    /// How far.
    pub reach: Millimetre,
}

/// A side looked at as the front. Every part goes from 0, bad, to 1, good; all of it is common practice, the scores are ours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Front {
    /// The hour at which the viewer stands.
    pub clock: Clock,
    /// The root flare seen from here against the widest of all sides; none if it was not measured.
    pub flare: Option<f64>,
    /// The movement of the trunk seen from here against the liveliest side.
    pub movement: f64,
    /// How far to a side the lowest branch stands; none without a branch.
    pub lowest: Option<f64>,
    /// How free it is of branches straight at the viewer below the top third.
    pub open: f64,
    /// Whether the apex leans to the viewer, up to a fifth of the height.
    pub lean: f64,
}

impl Front {
    /// All parts together, over the parts that are known. Look at the parts, not at this alone.
    pub fn score(&self) -> f64 {
        let parts = [self.flare, Some(self.movement), self.lowest, Some(self.open), Some(self.lean)];
        let known: Vec<f64> = parts.into_iter().flatten().collect();
        known.iter().sum::<f64>() / known.len() as f64
    }
}

/// A branch this close to the line of sight points at the viewer, °.
const FRONTAL: f64 = 25.0;

/// The twelve sides, as fronts, by the clock from 1 to 12.
pub fn fronts(tree: &Skeleton, flare: &[Flare]) -> Vec<Front> {
    let height = tree.height().0.max(1e-9);
    let primaries = primaries(tree);
    let hours: Vec<Clock> = (1..=12).filter_map(|hour| Clock::new(hour).ok()).collect();
    let movements: Vec<f64> = hours.iter().map(|hour| movement(&tree.turned(hour.azimuth()))).collect();
    let widths: Vec<f64> = hours.iter().map(|hour| flare_seen(flare, hour.azimuth())).collect();
    let against = |all: &[f64], at: usize| {
        let most = all.iter().copied().fold(0.0, f64::max);
        if most > 1e-9 { all[at] / most } else { 0.0 }
    };
    let side = |hour: Clock, azimuth: Degrees| (azimuth.0 - hour.azimuth().0).to_radians();
    hours
        .iter()
        .enumerate()
        .map(|(at, &clock)| {
            let frontal = primaries.iter().filter(|primary| {
                let off = (primary.azimuth.0 - clock.azimuth().0 + 180.0).rem_euclid(360.0) - 180.0;
                off.abs() < FRONTAL && primary.height.0 < height * 2.0 / 3.0
            });
            Front {
                clock,
                flare: (!flare.is_empty()).then(|| against(&widths, at)),
                movement: against(&movements, at),
                lowest: primaries.first().map(|lowest| side(clock, lowest.azimuth).sin().abs()),
                open: 1.0 / (1.0 + frontal.count() as f64),
                lean: lean_score(apex(&tree.turned(clock.azimuth())), height),
            }
        })
        .collect()
}

fn apex(tree: &Skeleton) -> Place {
    let last = tree.axes().swap_remove(0).segments.pop().unwrap_or(0);
    tree.ends()[last]
}

/// 1 while the apex leans to the viewer by up to a fifth of the height, falling to 0 over another fifth to either side.
fn lean_score(apex: Place, height: f64) -> f64 {
    let lean = -apex.y.0 / height;
    let off = (-lean).max(lean - 0.2).max(0.0);
    (1.0 - off / 0.2).max(0.0)
}

/// The flare seen by one who stands at an azimuth.
fn flare_seen(flare: &[Flare], from: Degrees) -> f64 {
    let right = |root: &Flare| -(root.clock.azimuth().0 - from.0).to_radians().sin() * root.reach.0;
    let most = flare.iter().map(right).fold(0.0, f64::max);
    let least = flare.iter().map(right).fold(0.0, f64::min);
    most - least
}

/// How far the trunk seen from the front strays from the straight line from foot to apex, root of the mean square over its length.
fn movement(tree: &Skeleton) -> f64 {
    let (ends, trunk) = (tree.ends(), tree.axes().swap_remove(0));
    let line: Vec<[f64; 2]> = std::iter::once([0.0, 0.0])
        .chain(trunk.segments.iter().map(|&at| [ends[at].x.0, ends[at].z.0]))
        .collect();
    let top = line[line.len() - 1];
    let chord = top[0].hypot(top[1]).max(1e-9);
    let off = |spot: [f64; 2]| (spot[0] * top[1] - spot[1] * top[0]) / chord;
    let (mut squares, mut whole) = (0.0, 0.0);
    for pair in line.windows(2) {
        let length = (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1]);
        let (a, b) = (off(pair[0]), off(pair[1]));
        squares += length * (a * a + a * b + b * b) / 3.0;
        whole += length;
    }
    (squares / whole.max(1e-9)).sqrt() / whole.max(1e-9)
}

/// What leaning a tree changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leant {
    /// Its height above the soil.
    pub height: Millimetre,
    /// The apex to the right of the foot.
    pub apex_right: Millimetre,
    /// The apex towards the viewer.
    pub apex_towards: Millimetre,
    /// The collar comes out of the soil by so much on one side and goes under by as much on the other.
    pub collar: Millimetre,
    /// How steep the lean is in all.
    pub lean: Degrees,
}

/// What leaning a tree to the right and towards the viewer changes; the foot of the trunk stays where it is.
///
/// # Errors
///
/// [`OutOfRange`] for more than 80° either way.
pub fn lean(tree: &Skeleton, right: Degrees, towards: Degrees) -> Result<Leant, OutOfRange> {
    let (across, fore) = (
        within("lean to the right, °", right.0, -80.0, 80.0)?,
        within("lean towards the viewer, °", towards.0, -80.0, 80.0)?,
    );
    let leant = tree.leant(right, towards);
    let apex = apex(&leant);
    let steep = (across.to_radians().cos() * fore.to_radians().cos()).acos();
    Ok(Leant {
        height: leant.height(),
        apex_right: apex.x,
        apex_towards: Millimetre(-apex.y.0),
        collar: Millimetre(tree.segments()[0].base.0 / 2.0 * steep.sin()),
        lean: Degrees(steep.to_degrees()),
    })
}

/// The depth of soil that a root pad takes when it is leant.
///
/// ```
/// use form::front::pad_depth;
/// use measure::quantity::{Degrees, Millimetre};
///
/// let flat = pad_depth(Millimetre(200.0), Millimetre(40.0), Degrees(0.0));
/// let leant = pad_depth(Millimetre(200.0), Millimetre(40.0), Degrees(15.0));
/// assert_eq!(flat, Millimetre(40.0));
/// assert_eq!(leant.0.round(), 90.0);
/// ```
pub fn pad_depth(width: Millimetre, thickness: Millimetre, lean: Degrees) -> Millimetre {
    let angle = lean.0.abs().to_radians();
    Millimetre(width.0 * angle.sin() + thickness.0 * angle.cos())
}

/// The steepest lean at which a root pad fits a pot of this depth inside; none where it does not fit flat.
pub fn steepest(width: Millimetre, thickness: Millimetre, depth: Millimetre) -> Option<Degrees> {
    if thickness.0 > depth.0 {
        return None;
    }
    let (longest, tilt) = (width.0.hypot(thickness.0), thickness.0.atan2(width.0));
    let angle =
        if depth.0 >= longest { std::f64::consts::FRAC_PI_2 } else { (depth.0 / longest).asin() - tilt };
    Some(Degrees(angle.to_degrees()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::skeleton::{Edge, Segment};

    fn tree() -> Skeleton {
        let piece = |bearer, edge, axis, length: f64, base: f64, azimuth, inclination| Segment {
            bearer,
            edge,
            axis,
            length: Millimetre(length),
            base: Millimetre(base),
            tip: Millimetre(0.7 * base),
            azimuth: Degrees(azimuth),
            inclination: Degrees(inclination),
        };
        // A trunk that bends in the plane of 3 and 9 o'clock, one branch at 3, one at 12.
        Skeleton::new(vec![
            piece(None, Edge::Root, 1, 100.0, 40.0, 270.0, 60.0),
            piece(Some(0), Edge::Follows, 1, 100.0, 25.0, 90.0, 60.0),
            piece(Some(0), Edge::Branches, 2, 80.0, 10.0, 270.0, 10.0),
            piece(Some(1), Edge::Follows, 1, 80.0, 15.0, 0.0, 70.0),
            piece(Some(1), Edge::Branches, 3, 60.0, 8.0, 180.0, 10.0),
        ])
        .unwrap()
    }

    #[test]
    fn the_side_that_shows_the_movement_and_the_apex_wins() {
        let fronts = fronts(&tree(), &[]);
        let best = fronts.iter().max_by(|one, other| one.score().total_cmp(&other.score())).unwrap();
        assert_eq!(best.clock.hour(), 6);
        let three = fronts.iter().find(|front| front.clock.hour() == 3).unwrap();
        assert!(three.open == 0.5 && three.movement < 0.5 && three.lowest.unwrap() < 1e-9);
        assert!(fronts.iter().all(|front| front.flare.is_none()));
    }

    #[test]
    fn a_flare_is_seen_widest_from_the_side_that_it_does_not_point_to() {
        let roots: Vec<Flare> = [3, 9, 6]
            .iter()
            .zip([60.0, 60.0, 30.0])
            .map(|(&hour, reach)| Flare { clock: Clock::new(hour).unwrap(), reach: Millimetre(reach) })
            .collect();
        let fronts = fronts(&tree(), &roots);
        let flare = |hour: u8| fronts.iter().find(|front| front.clock.hour() == hour).unwrap().flare.unwrap();
        assert!((flare(6) - 1.0).abs() < 1e-9 && (flare(3) - 0.25).abs() < 1e-9);
    }

    #[test]
    fn leaning_towards_the_viewer_brings_the_apex_forward_and_the_height_down() {
        let upright = lean(&tree(), Degrees(0.0), Degrees(0.0)).unwrap();
        let leant = lean(&tree(), Degrees(0.0), Degrees(20.0)).unwrap();
        assert!(leant.apex_towards.0 > upright.apex_towards.0 && leant.height.0 < upright.height.0);
        assert!((leant.collar.0 - 20.0 * 20_f64.to_radians().sin()).abs() < 1e-9);
        let right = lean(&tree(), Degrees(20.0), Degrees(0.0)).unwrap();
        assert!(right.apex_right.0 > upright.apex_right.0);
        assert!(lean(&tree(), Degrees(90.0), Degrees(0.0)).is_err());
    }

    #[test]
    fn the_steepest_lean_just_fills_the_pot() {
        let [width, thickness, depth] = [200.0, 40.0, 70.0].map(Millimetre);
        let steepest = steepest(width, thickness, depth).unwrap();
        assert!((pad_depth(width, thickness, steepest).0 - 70.0).abs() < 1e-9);
        assert_eq!(super::steepest(width, thickness, Millimetre(30.0)), None);
        assert_eq!(super::steepest(width, thickness, Millimetre(300.0)), Some(Degrees(90.0)));
    }
}
