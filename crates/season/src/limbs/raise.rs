//! The skeleton of a tree from the best photo that it was traced on, with the diameters measured since.

use collection::{
    limb::{Caliper, Limb, TRUNK},
    photo::{Photo, Pixel, Scale, Subject, Trace},
};
use form::{
    silhouette::scale::Scale as CardScale,
    traced::{self, Raised, Thickness, TracedLimb},
};
use jiff::civil::Date;
use measure::quantity::Millimetre;

use super::calendar::Calendar;

/// Why a tree cannot be seen as limbs yet.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotRaised {
    /// No photo, or no trunk traced on any.
    #[error("its trunk is not traced on a photo yet")]
    NothingTraced,
    /// Only on photos without anything of known size.
    #[error("nothing of known size is marked on the photo of {0}")]
    NoScale(Date),
    /// The lines make no tree.
    #[error("the lines make no tree: {0}")]
    Lines(form::error::Error),
}

/// A tree seen as limbs.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// Its skeleton, with how each figure was had.
    pub raised: Raised,
    /// The photo it was traced on.
    pub photo: String,
    /// When that was taken.
    pub day: Date,
    /// Limbs on the tree that are not traced on that photo, nor is what bears them.
    pub left_out: Vec<u32>,
}

/// Readings closer together along a limb than this are of one spot, mm.
const ONE_SPOT: f64 = 5.0;

/// Raises the limbs that stand from the newest photo of the front on which the trunk is traced and something is of known size.
///
/// # Errors
///
/// [`NotRaised`], which the grower can mend.
pub fn raise(
    limbs: &[&Limb],
    photos: &[Photo],
    traces: &[Trace],
    calipers: &[&Caliper],
) -> Result<Seen, NotRaised> {
    let has_trunk = |photo: &&Photo| {
        photo.subject == Subject::Whole
            && photo.clock == 6
            && traces.iter().any(|trace| trace.photo == photo.key && trace.limb == TRUNK)
    };
    let traced: Vec<&Photo> = photos.iter().filter(has_trunk).collect();
    let newest = traced.iter().rev().find(|photo| photo.scale.is_some()).copied();
    let photo = newest.ok_or_else(|| match traced.last() {
        Some(photo) => NotRaised::NoScale(photo.day),
        None => NotRaised::NothingTraced,
    })?;
    let own: Vec<&Trace> = traces.iter().filter(|trace| trace.photo == photo.key).collect();
    let (mut lines, mut left_out): (Vec<TracedLimb>, Vec<u32>) = (Vec::new(), Vec::new());
    let foot = own.iter().find(|trace| trace.limb == TRUNK).map_or([0.0, 0.0], |trace| trace.points[0]);
    let plane = Plane::of(photo, foot).ok_or(NotRaised::NoScale(photo.day))?;
    for limb in by_bearers(limbs) {
        let trace = own.iter().find(|trace| trace.limb == limb.number);
        let stands = limb.bearer.is_none_or(|bearer| lines.iter().any(|line| line.id == bearer));
        match trace.filter(|_| stands) {
            None => left_out.push(limb.number),
            Some(trace) => lines.push(TracedLimb {
                id: limb.number,
                bearer: limb.bearer,
                points: trace.points.iter().map(|spot| plane.millimetres(*spot)).collect(),
                clock: limb.clock,
                calipers: latest(calipers, limb.number),
                tips: limb.tips,
            }),
        }
    }
    let raised = traced::raise(&lines).map_err(NotRaised::Lines)?;
    Ok(Seen { raised, photo: photo.key.clone(), day: photo.day, left_out })
}

/// Limbs with bearers before what they bear.
fn by_bearers<'a>(limbs: &[&'a Limb]) -> Vec<&'a Limb> {
    let mut ordered: Vec<&Limb> = limbs.iter().copied().filter(|limb| limb.bearer.is_none()).collect();
    let mut at = 0;
    while at < ordered.len() {
        let bearer = ordered[at].number;
        ordered.extend(limbs.iter().copied().filter(|limb| limb.bearer == Some(bearer)));
        at += 1;
    }
    ordered
}

/// The latest diameter at each spot of a limb.
fn latest(calipers: &[&Caliper], limb: u32) -> Vec<traced::Caliper> {
    let mut spots: Vec<&Caliper> = Vec::new();
    for reading in calipers.iter().filter(|reading| reading.limb == limb) {
        match spots.iter_mut().find(|spot| (spot.along.0 - reading.along.0).abs() < ONE_SPOT) {
            Some(spot) if spot.day <= reading.day => *spot = reading,
            Some(_) => {}
            None => spots.push(reading),
        }
    }
    spots.iter().map(|spot| traced::Caliper { along: spot.along, diameter: spot.thick }).collect()
}

/// The plane of the trunk on a photo, in millimetres from the trunk's foot at the height of the soil.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Plane {
    /// A line of known length: the same scale all over.
    Level { foot: Pixel, scale: f64 },
    /// A card: its four corners tell how the plane lies to the camera.
    Tilted { foot: [f64; 2], card: CardScale },
}

impl Plane {
    fn of(photo: &Photo, foot: Pixel) -> Option<Plane> {
        let foot = [foot[0], photo.soil.unwrap_or(foot[1])];
        match photo.scale? {
            Scale::Line { .. } => Some(Plane::Level { foot, scale: resolution(photo)?.0 }),
            Scale::Card { corners, size } => {
                let card = CardScale::new(corners, size).ok()?;
                Some(Plane::Tilted { foot: card.place(foot).map(|mm| mm.0), card })
            }
        }
    }

    fn millimetres(&self, spot: Pixel) -> [f64; 2] {
        match self {
            Plane::Level { foot, scale } => [(spot[0] - foot[0]) * scale, (foot[1] - spot[1]) * scale],
            Plane::Tilted { foot, card } => {
                let [x, y] = card.place(spot).map(|mm| mm.0);
                [x - foot[0], foot[1] - y]
            }
        }
    }
}

/// Millimetres that a pixel of a photo shows in the trunk's plane; none without a scale that can be.
pub fn resolution(photo: &Photo) -> Option<Millimetre> {
    match photo.scale? {
        Scale::Line { ends: [from, to], long } => {
            let pixels = (to[0] - from[0]).hypot(to[1] - from[1]);
            (pixels > 0.0).then(|| Millimetre(long.0 / pixels))
        }
        Scale::Card { corners, size } => CardScale::new(corners, size).ok().map(|card| card.at_card()),
    }
}

/// How much thicker a limb's base was read from one time to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// The earlier reading.
    pub from: (Date, Millimetre),
    /// The later one.
    pub to: (Date, Millimetre),
    /// Seasons' rings laid between them.
    pub rings: f64,
}

/// Fewer rings than this between two readings and they tell no year.
const ENOUGH: f64 = 0.5;

impl Growth {
    /// Growth in a season.
    pub fn yearly(&self) -> Millimetre {
        Millimetre((self.to.1.0 - self.from.1.0) / self.rings)
    }
}

/// The last two readings of a limb's base between which at least half a ring was laid.
pub fn growth(calipers: &[&Caliper], limb: u32, calendar: &Calendar) -> Option<Growth> {
    let readings = at_base(calipers, limb);
    let to = *readings.last()?;
    let told = readings.iter().rev().map(|from| (from, calendar.rings(from.0, to.0)));
    let (from, rings) = told.into_iter().find(|(_, rings)| *rings >= ENOUGH)?;
    Some(Growth { from: *from, to, rings })
}

/// The readings of a limb's base, by day.
pub fn at_base(calipers: &[&Caliper], limb: u32) -> Vec<(Date, Millimetre)> {
    let is_base = |reading: &&&Caliper| reading.limb == limb && reading.along.0 < ONE_SPOT;
    let mut readings: Vec<(Date, Millimetre)> =
        calipers.iter().filter(is_base).map(|reading| (reading.day, reading.thick)).collect();
    readings.sort_by_key(|(day, _)| *day);
    readings
}

impl Seen {
    /// A limb's base; none where it was not traced.
    pub fn base(&self, limb: u32) -> Option<Millimetre> {
        let axis = self.raised.skeleton.axis(limb)?;
        Some(self.raised.skeleton.segments()[axis.segments[0]].base)
    }

    /// How the thickness of a limb's base was had.
    pub fn how(&self, limb: u32) -> Option<Thickness> {
        let axis = self.raised.skeleton.axis(limb)?;
        Some(self.raised.had[axis.segments[0]].diameter)
    }

    /// How long a limb is.
    pub fn length(&self, limb: u32) -> Option<Millimetre> {
        let axis = self.raised.skeleton.axis(limb)?;
        Some(Millimetre(axis.segments.iter().map(|&at| self.raised.skeleton.segments()[at].length.0).sum()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::leaves::Leaves;
    use form::traced::Clock;
    use jiff::civil::date;
    use measure::{taxon::Taxon, winter::Hemisphere};

    fn limb(number: u32, bearer: Option<u32>) -> Limb {
        Limb {
            tree: "maple".into(),
            number,
            bearer,
            name: String::new(),
            clock: (number > 0).then(|| Clock::new(3).unwrap()),
            tips: None,
            since: date(2024, 1, 1),
            gone: None,
        }
    }

    fn photo(scale: Option<Scale>) -> Photo {
        Photo {
            key: "front".into(),
            tree: "maple".into(),
            day: date(2025, 12, 1),
            day_told: true,
            subject: Subject::Whole,
            clock: 6,
            wide: 1000,
            high: 1000,
            scale,
            soil: Some(900.0),
            note: String::new(),
        }
    }

    fn traces() -> Vec<Trace> {
        let line = |limb, points: &[Pixel]| Trace { photo: "front".into(), limb, points: points.to_vec() };
        vec![line(0, &[[500.0, 900.0], [500.0, 100.0]]), line(1, &[[500.0, 600.0], [700.0, 500.0]])]
    }

    #[test]
    fn pixels_become_millimetres_above_the_soil() {
        let (trunk, branch, twig) = (limb(0, None), limb(1, Some(0)), limb(2, Some(1)));
        let scale = Scale::Line { ends: [[0.0, 950.0], [1000.0, 950.0]], long: Millimetre(500.0) };
        let thick = |day, mm| Caliper {
            tree: "maple".into(),
            limb: 0,
            day,
            along: Millimetre(0.0),
            thick: Millimetre(mm),
        };
        let (old, new) = (thick(date(2024, 11, 1), 30.0), thick(date(2025, 11, 1), 32.0));
        let limbs = [&twig, &branch, &trunk];
        let seen = raise(&limbs, &[photo(Some(scale))], &traces(), &[&new, &old]).unwrap();
        assert!((seen.raised.skeleton.height().0 - 400.0).abs() < 1e-6);
        assert_eq!(seen.left_out, [2]);
        assert!((seen.raised.skeleton.segments()[0].base.0 - 32.0).abs() < 1e-6);
        let leaves = Leaves::of(Taxon::of("acer-palmatum").unwrap(), None);
        let calendar = Calendar { leaves, hemisphere: Hemisphere::North };
        let growth = growth(&[&new, &old], 0, &calendar).unwrap();
        assert!((growth.yearly().0 - 2.0).abs() < 0.02, "{growth:?}");
        let spring = thick(date(2026, 4, 1), 32.4);
        let told = super::growth(&[&new, &old, &spring], 0, &calendar).unwrap();
        assert_eq!(told.from.0, date(2024, 11, 1), "a winter is no year");
    }

    #[test]
    fn a_card_tells_the_same_as_a_line_when_it_hangs_level() {
        let trunk = limb(0, None);
        let corners = [[100.0, 100.0], [271.2, 100.0], [271.2, 207.96], [100.0, 207.96]];
        let card = Scale::Card { corners, size: [Millimetre(85.6), Millimetre(53.98)] };
        let seen = raise(&[&trunk], &[photo(Some(card))], &traces(), &[]).unwrap();
        assert!((seen.raised.skeleton.height().0 - 400.0).abs() < 1e-6);
        assert!((resolution(&photo(Some(card))).unwrap().0 - 0.5).abs() < 1e-9);
    }

    #[test]
    fn what_is_missing_is_named() {
        let trunk = limb(0, None);
        assert_eq!(raise(&[&trunk], &[], &[], &[]), Err(NotRaised::NothingTraced));
        let unscaled = raise(&[&trunk], &[photo(None)], &traces(), &[]);
        assert_eq!(unscaled, Err(NotRaised::NoScale(date(2025, 12, 1))));
    }
}
