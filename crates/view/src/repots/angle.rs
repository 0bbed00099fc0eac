//! The line on the front's photo that is to stand upright after the repot, and the soil square to it.

use collection::photo::Subject;
use form::traced::Clock;

use crate::{
    photos::hour,
    whole::{TreeWhole, Whole},
    words,
};

/// The front's photo with the line that is to stand upright.
#[derive(Clone, Debug, PartialEq)]
pub struct AngleLine {
    /// The photo's key.
    pub photo: String,
    /// When it was taken.
    pub day: String,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// The line that is to stand upright, from the foot up, and the soil as it is to lie; none where the trunk was not traced.
    pub lines: Option<[[f64; 4]; 2]>,
    /// In words.
    pub words: String,
}

/// The line on the front's photo that is to stand upright, and the soil square to it through the foot of the trunk.
pub(crate) fn line(whole: &Whole, tree: &TreeWhole) -> Option<AngleLine> {
    let front = tree.shape.fronts.iter().find(|it| it.rank == 0);
    let clock = front.map_or(6, |it| it.clock.hour());
    let mut photos = tree.shape.photos.iter().rev().filter(|it| it.subject == Subject::Whole);
    let photo = photos.clone().find(|it| it.clock == clock).or_else(|| photos.find(|it| it.clock == 6))?;
    let traced =
        tree.shape.traces.iter().find(|it| it.photo == photo.key && it.limb == collection::limb::TRUNK);
    let (wide, high) = (f64::from(photo.wide), f64::from(photo.high));
    let lean = front.map_or(0.0, |it| it.sideways.0);
    let (sin, cos) = lean.to_radians().sin_cos();
    // What is to stand upright leans to the left by as much as the tree is to lean to the right.
    let lines = traced.and_then(|it| it.points.first().copied()).map(|[x, y]| {
        let long = (y - high * 0.04).max(high * 0.2);
        let half = wide * 0.35;
        [
            [x, y, x - sin * long, y - cos * long],
            [x - cos * half, y + sin * half, x + cos * half, y - sin * half],
        ]
    });
    let words = match (front, lean) {
        _ if lines.is_none() => "its trunk was not traced on it, so no line is drawn".into(),
        (None, _) => "no front was agreed on; the line stands upright as on the photo".into(),
        (Some(_), lean) if lean.abs() < 0.5 => {
            "the line stands upright as on the photo: no lean was agreed on".into()
        }
        (Some(_), lean) => {
            let way = if lean > 0.0 { "right" } else { "left" };
            format!("the line is to stand upright: the tree comes {:.0}° to the {way}", lean.abs())
        }
    };
    let other = front.filter(|it| photo.clock != it.clock.hour()).map(|it| it.clock);
    let seen = other.map_or(String::new(), |it: Clock| {
        format!("; the photo shows another side than {}", hour(it.hour()))
    });
    Some(AngleLine {
        photo: photo.key.clone(),
        day: words::day(photo.day, whole.today),
        wide: photo.wide,
        high: photo.high,
        lines,
        words: format!("{words}{seen}"),
    })
}
