//! The skeleton of a tree: segments that hang on one another, each with its length, thickness and direction.
//!
//! The front is at 6 o'clock. Azimuth 0 points at the viewer, 90 to the left of the picture, 180 away, 270 to the right.
//! Places are counted in millimetres from the middle of the trunk at the soil: x to the right, y away from the viewer, z up.

use std::f64::consts::PI;

use measure::quantity::{CubicMillimetre, Degrees, Millimetre, SquareMillimetre};

use crate::error::Error;

/// How a segment hangs on its bearer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// It stands in the ground.
    Root,
    /// It goes on in the line of its bearer.
    Follows,
    /// It leaves its bearer to the side, as the first piece of a line of its own.
    Branches,
}

/// A piece of a line of growth between two branching points, or between two bends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// The segment it hangs on.
    pub bearer: Option<usize>,
    /// How it hangs there.
    pub edge: Edge,
    /// The number of its axis: its line of growth.
    pub axis: u32,
    /// Its length.
    pub length: Millimetre,
    /// Thickness at its base, just outside the collar.
    pub base: Millimetre,
    /// Thickness at its far end.
    pub tip: Millimetre,
    /// Where it points, seen from above.
    pub azimuth: Degrees,
    /// How steeply it rises; falling is negative.
    pub inclination: Degrees,
}

/// A place in the tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// To the right of the trunk.
    pub x: Millimetre,
    /// Away from the viewer.
    pub y: Millimetre,
    /// Above the soil.
    pub z: Millimetre,
}

impl Place {
    pub(crate) fn of([x, y, z]: [f64; 3]) -> Place {
        Place { x: Millimetre(x), y: Millimetre(y), z: Millimetre(z) }
    }
}

/// Which way an azimuth and an inclination point: a step of length one to the right, away from the viewer, and up.
///
/// ```
/// use form::skeleton::direction;
/// use measure::quantity::Degrees;
///
/// let [x, y, z] = direction(Degrees(60.0), Degrees(15.0));
/// assert_eq!(format!("{x:.5} {y:.5} {z:.5}"), "-0.83652 -0.48296 0.25882");
/// ```
pub fn direction(azimuth: Degrees, inclination: Degrees) -> [f64; 3] {
    let (az, inc) = (azimuth.0.to_radians(), inclination.0.to_radians());
    [-az.sin() * inc.cos(), -az.cos() * inc.cos(), inc.sin()]
}

/// The azimuth, 0 to 360, and the inclination of a way through the tree.
pub fn bearing([x, y, z]: [f64; 3]) -> (Degrees, Degrees) {
    let level = x.hypot(y);
    let azimuth = if level > 0.0 { (-x).atan2(-y).to_degrees().rem_euclid(360.0) } else { 0.0 };
    (Degrees(azimuth), Degrees(z.atan2(level).to_degrees()))
}

/// A tree whose segments hang together: bearers come before what they bear, and the first one stands in the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Skeleton {
    segments: Vec<Segment>,
    /// Where the borne of each segment start in `borne`, with one more at the end.
    starts: Vec<usize>,
    borne: Vec<usize>,
}

impl Skeleton {
    /// A skeleton from its segments.
    ///
    /// # Errors
    ///
    /// [`Error::Empty`] without a segment; [`Error::Figure`] when a length or thickness is not above 0, or an angle is none;
    /// [`Error::Hanging`] when a bearer comes after what it bears, there is more than one root, a line goes on twice, or a
    /// segment carries the number of another line.
    pub fn new(segments: Vec<Segment>) -> Result<Skeleton, Error> {
        if segments.is_empty() {
            return Err(Error::Empty);
        }
        for (at, segment) in segments.iter().enumerate() {
            check_figures(at, segment)?;
        }
        check_hanging(&segments)?;
        let mut starts = vec![0; segments.len() + 1];
        for bearer in segments.iter().filter_map(|segment| segment.bearer) {
            starts[bearer + 1] += 1;
        }
        for at in 0..segments.len() {
            starts[at + 1] += starts[at];
        }
        let (mut next, mut borne) = (starts.clone(), vec![0; segments.len() - 1]);
        for (at, segment) in segments.iter().enumerate() {
            if let Some(bearer) = segment.bearer {
                borne[next[bearer]] = at;
                next[bearer] += 1;
            }
        }
        Ok(Skeleton { segments, starts, borne })
    }

    /// The segments, bearers before what they bear.
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// What hangs on a segment; nothing for a number that is none.
    pub fn borne(&self, at: usize) -> &[usize] {
        match (self.starts.get(at), self.starts.get(at + 1)) {
            (Some(&from), Some(&to)) => &self.borne[from..to],
            _ => &[],
        }
    }

    /// The segment that goes on in the line of this one.
    pub fn next(&self, at: usize) -> Option<usize> {
        self.borne(at).iter().copied().find(|&child| self.segments[child].edge == Edge::Follows)
    }

    /// The segments that bear nothing.
    pub fn tips(&self) -> Vec<usize> {
        (0..self.segments.len()).filter(|&at| self.borne(at).is_empty()).collect()
    }

    /// The segments from this one down to the collar, itself first.
    pub fn way_down(&self, at: usize) -> impl Iterator<Item = usize> {
        let first = (at < self.segments.len()).then_some(at);
        std::iter::successors(first, |&at| self.segments[at].bearer)
    }

    /// How far it is from the far end of a segment along the wood to the collar.
    pub fn path(&self, at: usize) -> Millimetre {
        Millimetre(self.way_down(at).map(|at| self.segments[at].length.0).sum())
    }

    /// The axes in the order in which they are first met, each with its segments from base to tip.
    pub fn axes(&self) -> Vec<Axis> {
        let mut axes = Vec::new();
        for (at, segment) in self.segments.iter().enumerate() {
            if segment.edge != Edge::Follows {
                let line = std::iter::successors(Some(at), |&at| self.next(at)).collect();
                axes.push(Axis { id: segment.axis, bearer: segment.bearer, segments: line });
            }
        }
        axes
    }

    /// The axis of this number.
    pub fn axis(&self, id: u32) -> Option<Axis> {
        self.axes().into_iter().find(|axis| axis.id == id)
    }

    /// Where the segments end, in their order; the first one starts at the soil.
    pub fn ends(&self) -> Vec<Place> {
        let mut ends: Vec<[f64; 3]> = Vec::with_capacity(self.segments.len());
        for segment in &self.segments {
            let foot = segment.bearer.map_or([0.0; 3], |bearer| ends[bearer]);
            let way = direction(segment.azimuth, segment.inclination);
            ends.push([0, 1, 2].map(|k| foot[k] + segment.length.0 * way[k]));
        }
        ends.into_iter().map(Place::of).collect()
    }

    /// The length of all segments together.
    pub fn length(&self) -> Millimetre {
        Millimetre(self.segments.iter().map(|segment| segment.length.0).sum())
    }

    /// The wood of all segments, each taken as a cone that is cut off.
    pub fn wood(&self) -> CubicMillimetre {
        let cone = |s: &Segment| {
            let (base, tip) = (s.base.0, s.tip.0);
            PI / 12.0 * s.length.0 * (base * base + base * tip + tip * tip)
        };
        CubicMillimetre(self.segments.iter().map(cone).sum())
    }

    /// The bark of all segments, each taken as a cone that is cut off.
    pub fn bark(&self) -> SquareMillimetre {
        let cone = |s: &Segment| {
            let (base, tip) = (s.base.0, s.tip.0);
            PI / 2.0 * (base + tip) * s.length.0.hypot((base - tip) / 2.0)
        };
        SquareMillimetre(self.segments.iter().map(cone).sum())
    }

    /// The tree turned so that what pointed to this azimuth points at the viewer.
    pub fn turned(&self, front: Degrees) -> Skeleton {
        let mut tree = self.clone();
        for segment in &mut tree.segments {
            segment.azimuth = Degrees((segment.azimuth.0 - front.0).rem_euclid(360.0));
        }
        tree
    }

    /// The tree leant to the right and towards the viewer; negative angles lean it the other way.
    pub fn leant(&self, right: Degrees, towards: Degrees) -> Skeleton {
        let (across, fore) = (right.0.to_radians(), towards.0.to_radians());
        let mut tree = self.clone();
        for segment in &mut tree.segments {
            let [x, y, z] = direction(segment.azimuth, segment.inclination);
            let (x, z) = (x * across.cos() + z * across.sin(), z * across.cos() - x * across.sin());
            let (y, z) = (y * fore.cos() - z * fore.sin(), z * fore.cos() + y * fore.sin());
            (segment.azimuth, segment.inclination) = bearing([x, y, z]);
        }
        tree
    }

    /// How high the highest end stands above the soil.
    pub fn height(&self) -> Millimetre {
        Millimetre(self.ends().iter().map(|end| end.z.0).fold(0.0, f64::max))
    }
}

/// A line of growth.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// Its number.
    pub id: u32,
    /// The segment it leaves; none for the trunk.
    pub bearer: Option<usize>,
    /// Its segments from base to tip; at least one.
    pub segments: Vec<usize>,
}

fn check_figures(at: usize, segment: &Segment) -> Result<(), Error> {
    let wrong = |quantity, got| Err(Error::Figure { segment: at, quantity, got });
    let lengths = [
        ("length, mm, must be above 0", segment.length),
        ("thickness at the base, mm, must be above 0", segment.base),
        ("thickness at the tip, mm, must be above 0", segment.tip),
    ];
    for (quantity, length) in lengths {
        if !(length.0 > 0.0 && length.0.is_finite()) {
            return wrong(quantity, length.0);
        }
    }
    if !segment.azimuth.0.is_finite() {
        return wrong("azimuth, °, must be a number", segment.azimuth.0);
    }
    if !(-90.0..=90.0).contains(&segment.inclination.0) {
        return wrong("inclination, °, must be from -90 to 90", segment.inclination.0);
    }
    Ok(())
}

fn check_hanging(segments: &[Segment]) -> Result<(), Error> {
    let mut goes_on = vec![false; segments.len()];
    let mut lines = std::collections::BTreeSet::new();
    for (at, segment) in segments.iter().enumerate() {
        let wrong = |fault| Err(Error::Hanging { segment: at, fault });
        match (segment.bearer, segment.edge, at) {
            (None, Edge::Root, 0) => {}
            (_, Edge::Root, 0) | (None, _, 0) => return wrong("the first segment must stand in the ground"),
            (_, Edge::Root, _) => return wrong("a second one stands in the ground"),
            (None, _, _) => return wrong("it hangs on nothing"),
            (Some(bearer), _, _) if bearer >= at => return wrong("its bearer comes after it"),
            (Some(bearer), Edge::Follows, _) => {
                if goes_on[bearer] {
                    return wrong("the line of its bearer already goes on");
                }
                if segments[bearer].axis != segment.axis {
                    return wrong("it goes on in a line but carries another number");
                }
                goes_on[bearer] = true;
                continue;
            }
            (Some(_), Edge::Branches, _) => {}
        }
        if !lines.insert(segment.axis) {
            return wrong("it starts a line whose number another line carries");
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(bearer: Option<usize>, edge: Edge, axis: u32) -> Segment {
        let [length, base, tip] = [100.0, 20.0, 10.0].map(Millimetre);
        Segment { bearer, edge, axis, length, base, tip, azimuth: Degrees(0.0), inclination: Degrees(90.0) }
    }

    #[test]
    fn what_does_not_hang_together_is_refused_by_name() {
        use Edge::*;
        let fault = |segments: Vec<Segment>| match Skeleton::new(segments) {
            Err(Error::Hanging { segment, .. }) => segment,
            other => panic!("{other:?}"),
        };
        let trunk = piece(None, Root, 1);
        assert_eq!(fault(vec![piece(None, Follows, 1)]), 0);
        assert_eq!(fault(vec![trunk, piece(None, Root, 2)]), 1);
        assert_eq!(fault(vec![trunk, piece(Some(1), Follows, 1)]), 1);
        assert_eq!(fault(vec![trunk, piece(Some(0), Follows, 2)]), 1);
        assert_eq!(fault(vec![trunk, piece(Some(0), Branches, 1)]), 1);
        assert_eq!(fault(vec![trunk, piece(Some(0), Follows, 1), piece(Some(0), Follows, 1)]), 2);
        assert_eq!(Skeleton::new(vec![]), Err(Error::Empty));
    }

    #[test]
    fn a_figure_that_is_none_is_named() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let segment = Segment { length: Millimetre(bad), ..piece(None, Edge::Root, 1) };
            let told = Skeleton::new(vec![segment]).unwrap_err().to_string();
            assert!(told.starts_with("segment 0: length, mm, must be above 0 is"), "{told}");
        }
        let steep = Segment { inclination: Degrees(91.0), ..piece(None, Edge::Root, 1) };
        assert!(matches!(Skeleton::new(vec![steep]), Err(Error::Figure { segment: 0, got: 91.0, .. })));
    }

    #[test]
    fn a_bearing_leads_back_to_its_direction() {
        for azimuth in (0..360).step_by(15) {
            for inclination in [-80.0, -10.0, 0.0, 45.0, 89.0] {
                let (az, inc) = bearing(direction(Degrees(f64::from(azimuth)), Degrees(inclination)));
                let turn = (az.0 - f64::from(azimuth) + 180.0).rem_euclid(360.0) - 180.0;
                assert!(turn.abs() < 1e-9 && (inc.0 - inclination).abs() < 1e-9);
            }
        }
    }
}
