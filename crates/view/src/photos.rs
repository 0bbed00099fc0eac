//! A tree's photos, and the page on which its limbs are traced.

use collection::{
    limb::Limb,
    photo::{Photo, Pixel, Scale},
};
use form::traced::{Clock, TipClass};
use measure::quantity::Centimetre;

use crate::{
    shape::Shape,
    water::stands_in,
    whole::{TreeWhole, Whole},
    words,
};

/// A photo in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoLine {
    /// Its name in addresses.
    pub key: String,
    /// When, and how that is known.
    pub day: String,
    /// What it shows, and from where.
    pub words: String,
    /// How many limbs are traced on it, of how many.
    pub traced: String,
    /// Anything else.
    pub note: String,
}

/// An hour of the clock in words.
pub fn hour(clock: u8) -> String {
    match clock {
        6 => "the front".into(),
        12 => "the back".into(),
        3 => "the right, 3 o'clock".into(),
        9 => "the left, 9 o'clock".into(),
        other => format!("{other} o'clock"),
    }
}

/// The hours to choose from.
pub fn hours() -> Vec<(u8, String)> {
    [6, 7, 8, 9, 10, 11, 12, 1, 2, 3, 4, 5].into_iter().map(|clock| (clock, hour(clock))).collect()
}

/// A tree's photos, the newest first.
pub fn photos(whole: &Whole, shape: &Shape) -> Vec<PhotoLine> {
    let limbs = shape.alive(whole.today).count();
    let line = |photo: &Photo| {
        let traced = shape.traces.iter().filter(|trace| trace.photo == photo.key).count();
        let told = if photo.day_told { "" } else { " (the day it came in)" };
        PhotoLine {
            key: photo.key.clone(),
            day: format!("{}{told}", words::day(photo.day, whole.today)),
            words: format!("{}, from {}", photo.subject.words(), hour(photo.clock)),
            traced: match (traced, photo.scale) {
                (0, _) => "nothing traced yet".into(),
                (count, None) => format!("{} traced, without a scale", words::count(count, "limb", "limbs")),
                (count, Some(_)) => format!("{count} of {limbs} limbs traced"),
            },
            note: photo.note.clone(),
        }
    };
    shape.photos.iter().rev().map(line).collect()
}

/// A limb on the tracing page; its line is empty while it is still to trace.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnLimb {
    /// Its number.
    pub number: u32,
    /// The limb that bears it.
    pub bearer: Option<u32>,
    /// What the grower calls it.
    pub name: String,
    /// The hour it grows towards.
    pub clock: Option<u8>,
    /// How many tips it bears.
    pub tips: &'static str,
    /// Its line.
    pub points: Vec<Pixel>,
}

/// What is traced on a photo so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The spots of what is of known size.
    pub scale: Vec<Pixel>,
    /// What that is: `line`, `card` or `a6`.
    pub scale_kind: &'static str,
    /// How long the line is; the pot's length where nothing was told.
    pub long: String,
    /// Where the soil is.
    pub soil: Option<f64>,
    /// The limbs.
    pub limbs: Vec<DrawnLimb>,
}

/// The page on which a photo is traced.
#[derive(Clone, Debug, PartialEq)]
pub struct TracePage {
    /// The photo's name in addresses.
    pub photo: String,
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// When it was taken.
    pub day: String,
    /// Whether the camera told the day.
    pub day_told: bool,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// Hours to choose from.
    pub hours: Vec<(u8, String)>,
    /// Numbers of tips to choose from.
    pub tips: Vec<&'static str>,
    /// The number of the next new limb; none is ever used twice.
    pub next: u32,
    /// What stands already.
    pub drawing: Drawing,
}

/// The tree a photo is of.
pub fn tree_of<'a>(whole: &'a Whole, photo: &str) -> Option<(&'a TreeWhole, &'a Photo)> {
    whole.trees.iter().find_map(|tree| {
        let found = tree.shape.photos.iter().find(|it| it.key == photo)?;
        Some((tree, found))
    })
}

/// The tracing page of a photo; none where there is no such photo.
pub fn trace(whole: &Whole, key: &str) -> Option<TracePage> {
    let (tree, photo) = tree_of(whole, key)?;
    Some(TracePage {
        photo: key.into(),
        tree: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        day: words::day(photo.day, whole.today),
        day_told: photo.day_told,
        wide: photo.wide,
        high: photo.high,
        hours: hours(),
        tips: TipClass::ALL.map(TipClass::key).to_vec(),
        next: tree.shape.limbs.iter().map(|limb| limb.number.saturating_add(1)).max().unwrap_or(0),
        drawing: drawing(whole, tree, photo),
    })
}

fn drawing(whole: &Whole, tree: &TreeWhole, photo: &Photo) -> Drawing {
    let shape = &tree.shape;
    let limb = |limb: &Limb| DrawnLimb {
        number: limb.number,
        bearer: limb.bearer,
        name: limb.name.clone(),
        clock: limb.clock.map(Clock::hour),
        tips: limb.tips.map_or("", TipClass::key),
        points: shape
            .traces
            .iter()
            .find(|it| it.photo == photo.key && it.limb == limb.number)
            .map_or_else(Vec::new, |line| line.points.clone()),
    };
    let units = whole.units();
    let (scale_kind, scale, long) = match photo.scale {
        Some(Scale::Line { ends, long }) => ("line", ends.to_vec(), units.span(Centimetre(long.0 / 10.0))),
        Some(Scale::Card { corners, size }) => {
            (if size[0].0 > 100.0 { "a6" } else { "card" }, corners.to_vec(), String::new())
        }
        // The pot's length is at hand on most photos.
        None => {
            let pot = stands_in(tree).map(|(pot, _)| whole.pots[pot].vessel.top.key().1[0]);
            ("line", Vec::new(), pot.map_or_else(String::new, |length| units.span(length)))
        }
    };
    Drawing { scale, scale_kind, long, soil: photo.soil, limbs: shape.alive(whole.today).map(limb).collect() }
}
