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
    /// The line that is to stand upright: from the foot up.
    pub line: [f64; 4],
    /// The soil as it is to lie.
    pub soil: [f64; 4],
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
    let foot = traced
        .and_then(|it| it.points.first().copied())
        .unwrap_or([wide / 2.0, photo.soil.unwrap_or(high * 0.9)]);
    let lean = front.map_or(0.0, |it| it.sideways.0);
    let (sin, cos) = lean.to_radians().sin_cos();
    // What is to stand upright leans to the left by as much as the tree is to lean to the right.
    let long = (foot[1] - high * 0.04).max(high * 0.2);
    let half = wide * 0.35;
    let words = match (front, lean) {
        (None, _) => "no front was agreed on; the line stands upright as it stands today".into(),
        (Some(_), lean) if lean.abs() < 0.5 => "as it stands today".into(),
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
        line: [foot[0], foot[1], foot[0] - sin * long, foot[1] - cos * long],
        soil: [foot[0] - cos * half, foot[1] + sin * half, foot[0] + cos * half, foot[1] - sin * half],
        words: format!("{words}{seen}"),
    })
}
