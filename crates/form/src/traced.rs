//! What a grower traced on a photo, raised into a skeleton: depth from the clock, thickness from callipers and tips.
//!
//! The photo is taken from the front, level and from afar, so it shows x and z as they are and hides y.

mod depth;
mod line;
mod thick;

use std::collections::BTreeMap;

use measure::{quantity::Millimetre, sourced::Sourced};

use crate::{
    error::Error,
    joint::Joint,
    skeleton::{Edge, Segment, Skeleton, bearing},
};
use line::Line;

/// A direction seen from above as on the face of a clock: 6 is towards the viewer, 3 to the right of the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Clock(u8);

impl Clock {
    /// The hour, from 1 to 12.
    ///
    /// # Errors
    ///
    /// [`Error::OutOfRange`] for any other hour.
    pub fn new(hour: u8) -> Result<Clock, Error> {
        measure::range::within("hour on the clock", f64::from(hour), 1.0, 12.0)?;
        Ok(Clock(hour))
    }

    /// The hour.
    pub fn hour(self) -> u8 {
        self.0
    }

    /// The azimuth it stands for.
    ///
    /// ```
    /// use form::traced::Clock;
    ///
    /// assert_eq!(Clock::new(3)?.azimuth().0, 270.0);
    /// # Ok::<(), form::error::Error>(())
    /// ```
    pub fn azimuth(self) -> measure::quantity::Degrees {
        measure::quantity::Degrees((f64::from(self.0) - 6.0).rem_euclid(12.0) * 30.0)
    }
}

/// How many tips a limb carries, as a grower counts them at a glance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs)]
pub enum TipClass {
    One,
    TwoToFour,
    FiveToNine,
    TenToNineteen,
    TwentyOrMore,
}

impl TipClass {
    /// All, from one to many.
    pub const ALL: [TipClass; 5] = [
        TipClass::One,
        TipClass::TwoToFour,
        TipClass::FiveToNine,
        TipClass::TenToNineteen,
        TipClass::TwentyOrMore,
    ];

    /// The word used in files and on pages.
    pub fn key(self) -> &'static str {
        match self {
            TipClass::One => "1",
            TipClass::TwoToFour => "2-4",
            TipClass::FiveToNine => "5-9",
            TipClass::TenToNineteen => "10-19",
            TipClass::TwentyOrMore => "20+",
        }
    }

    /// The class that goes by this word.
    pub fn from_key(key: &str) -> Option<TipClass> {
        TipClass::ALL.into_iter().find(|class| class.key() == key)
    }

    /// The number of tips reckoned with.
    pub fn reckoned(self) -> f64 {
        match self {
            TipClass::One => 1.0,
            TipClass::TwoToFour => 3.0,
            TipClass::FiveToNine => 7.0,
            TipClass::TenToNineteen => 14.0,
            TipClass::TwentyOrMore => 25.0,
        }
    }
}

/// A thickness measured on a limb.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caliper {
    /// How far along the limb from its base.
    pub along: Millimetre,
    /// How thick it is there.
    pub diameter: Millimetre,
}

/// A limb as it was traced; the one without a bearer is the trunk.
#[derive(Clone, Debug, PartialEq)]
pub struct TracedLimb {
    /// Its number, which becomes that of its axis.
    pub id: u32,
    /// The limb it leaves.
    pub bearer: Option<u32>,
    /// The line in mm, x to the right and z up, base first.
    pub points: Vec<[f64; 2]>,
    /// Where it points, seen from above.
    pub clock: Option<Clock>,
    /// Thicknesses measured on it.
    pub calipers: Vec<Caliper>,
    /// How many tips it carries.
    pub tips: Option<TipClass>,
}

/// How a thickness was had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thickness {
    /// Measured on this segment.
    Measured,
    /// Between two measured places of the limb.
    Interpolated,
    /// Not measured there.
    Inferred(Rule),
}

/// By which rule a thickness was inferred.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Thinning evenly from the last measured place to a twig.
    TaperToTip,
    /// Thickening on below the lowest measured place as above it.
    TaperToBase,
    /// The limb's share of its bearer, by the tips each carries.
    ShareOfBearer,
    /// What its tips or measured branches need to be carried: the trunk was not measured.
    TipsCarried,
}

/// How the depth of a segment was had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// It lies in the plane of the photo: the trunk.
    Seen,
    /// From the hour it points to.
    FromClock,
    /// It points at the viewer or away: its reach is the mean of the others.
    Inferred,
    /// Nothing tells: drawn in the plane of its joint.
    Unknown,
}

/// How a segment was had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Had {
    /// Its thickness.
    pub diameter: Thickness,
    /// Its depth.
    pub depth: Depth,
}

/// What weakens a raised tree.
#[derive(Clone, Debug, PartialEq)]
pub enum Caveat {
    /// The trunk carries no calliper reading; its thickness is only what its branches need.
    TrunkNotMeasured,
    /// A limb points at the viewer or away, so its reach is that of others.
    ReachNotSeen {
        /// The limb.
        limb: u32,
    },
    /// A limb has no hour, so it is drawn flat.
    NoClock {
        /// The limb.
        limb: u32,
    },
    /// The hour says one side, the picture the other; the limb is drawn flat.
    ClockAgainstPicture {
        /// The limb.
        limb: u32,
    },
    /// A limb starts far from its bearer.
    FarFromBearer {
        /// The limb.
        limb: u32,
        /// How far.
        gap: Millimetre,
    },
    /// A calliper reading lies beyond the end of the line; it is taken at its end.
    CaliperBeyondEnd {
        /// The limb.
        limb: u32,
    },
}

/// A raised tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Raised {
    /// Its skeleton; axes carry the numbers of the limbs.
    pub skeleton: Skeleton,
    /// How each segment was had, in their order.
    pub had: Vec<Had>,
    /// What weakens it.
    pub caveats: Vec<Caveat>,
    /// The branching points whose thicknesses were all measured.
    pub measured: Vec<Joint>,
    /// The exponent reckoned with at the trunk's base.
    pub exponent: Sourced<f64>,
}

/// Raises traced limbs into a skeleton.
///
/// Lines are split where something leaves them and where they bend. A limb joins its bearer at the point nearest to its first
/// point. Where a limb is traced from the bark, the piece to the middle of its bearer is added. Thickness is measured where a
/// calliper was put, runs evenly between two such places, thins evenly to a twig beyond the last, and is a share of the bearer's
/// by tips carried where a limb was not measured at all.
///
/// # Errors
///
/// [`Error::Limb`] for a limb with fewer than two points, a number given twice, an unknown bearer, limbs that bear one another,
/// no trunk or two, a point that is no number, a thickness that is none.
pub fn raise(limbs: &[TracedLimb]) -> Result<Raised, Error> {
    let order = order(limbs)?;
    let mut caveats = Vec::new();
    let mut lines: Vec<Line> = Vec::with_capacity(order.len());
    for &(at, bearer) in &order {
        lines.push(Line::of(&limbs[at], bearer.map(|bearer| &lines[bearer]), bearer, &mut caveats)?);
    }
    let depths = depth::give(&mut lines, &mut caveats);
    line::split(&mut lines);
    // Once to see which branching points were measured, once more with the exponent that they tell.
    let first = thick::give(&lines, &[], &mut Vec::new());
    let measured = measured(&build(&lines, &first, &depths)?);
    let thick = thick::give(&lines, &measured, &mut caveats);
    let (skeleton, had) = build(&lines, &thick, &depths)?;
    let exponent = crate::joint::exponent_for(skeleton.segments()[0].base, &measured);
    Ok(Raised { skeleton, had, caveats, measured, exponent })
}

/// The limbs with bearers before what they bear, each with the place of its bearer in that order.
fn order(limbs: &[TracedLimb]) -> Result<Vec<(usize, Option<usize>)>, Error> {
    let mut by_id = BTreeMap::new();
    for (at, limb) in limbs.iter().enumerate() {
        if by_id.insert(limb.id, at).is_some() {
            return Err(Error::Limb { limb: limb.id, fault: "its number is given twice" });
        }
    }
    for limb in limbs {
        if limb.bearer.is_some_and(|bearer| !by_id.contains_key(&bearer)) {
            return Err(Error::Limb { limb: limb.id, fault: "the limb that it leaves is not there" });
        }
    }
    let mut trunks = limbs.iter().enumerate().filter(|(_, limb)| limb.bearer.is_none());
    let Some((trunk, _)) = trunks.next() else {
        let first = limbs.first().ok_or(Error::Empty)?;
        return Err(Error::Limb { limb: first.id, fault: "no limb is the trunk: each leaves another" });
    };
    if let Some((_, other)) = trunks.next() {
        return Err(Error::Limb { limb: other.id, fault: "it is a second trunk: tell which limb it leaves" });
    }
    let mut order = vec![(trunk, None)];
    let mut at = 0;
    while at < order.len() {
        let bearer = limbs[order[at].0].id;
        let borne = limbs.iter().enumerate().filter(|(_, limb)| limb.bearer == Some(bearer));
        order.extend(borne.map(|(limb, _)| (limb, Some(at))));
        at += 1;
    }
    if order.len() < limbs.len() {
        let lost = limbs.iter().enumerate().find(|(at, _)| order.iter().all(|(known, _)| known != at));
        let limb = lost.map_or(0, |(_, limb)| limb.id);
        return Err(Error::Limb { limb, fault: "it and its bearers bear one another in a circle" });
    }
    Ok(order)
}

/// The segments of the lines, limb by limb.
fn build(lines: &[Line], thick: &[thick::Course], depths: &[Depth]) -> Result<(Skeleton, Vec<Had>), Error> {
    let (mut segments, mut had) = (Vec::new(), Vec::new());
    let mut firsts = Vec::with_capacity(lines.len());
    for (at, line) in lines.iter().enumerate() {
        let first = segments.len();
        firsts.push(first);
        let alongs = line.alongs();
        for piece in 1..line.places.len() {
            let way = [0, 1, 2].map(|k| line.places[piece][k] - line.places[piece - 1][k]);
            let (azimuth, inclination) = bearing(way);
            let (bearer, edge) = match (piece, line.bearer) {
                (1, None) => (None, Edge::Root),
                (1, Some((bearer, joint))) => (Some(firsts[bearer] + joint - 1), Edge::Branches),
                _ => (Some(segments.len() - 1), Edge::Follows),
            };
            let (from, to) = (alongs[piece - 1], alongs[piece]);
            let course = &thick[at];
            segments.push(Segment {
                bearer,
                edge,
                axis: line.id,
                length: Millimetre(to - from),
                base: Millimetre(course.at(from)),
                tip: Millimetre(course.at(to)),
                azimuth,
                inclination,
            });
            had.push(Had { diameter: course.had(from, to), depth: depths[at] });
        }
    }
    Ok((Skeleton::new(segments)?, had))
}

/// The branching points at which everything was measured or lies between measured places.
fn measured((skeleton, had): &(Skeleton, Vec<Had>)) -> Vec<Joint> {
    let sure = |at: usize| matches!(had[at].diameter, Thickness::Measured | Thickness::Interpolated);
    let all_sure = |at: usize| sure(at) && skeleton.borne(at).iter().all(|&child| sure(child));
    Joint::of(skeleton).into_iter().filter(|(at, _)| all_sure(*at)).map(|(_, joint)| joint).collect()
}
