//! A photo of a tree: when, from where, and how many millimetres a pixel is.

use jiff::civil::Date;
use measure::quantity::Millimetre;

/// What a photo shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// The whole tree.
    Whole,
    /// A part of it, close up.
    Part,
    /// The roots, or what was found under the soil.
    Roots,
}

impl Subject {
    /// All.
    pub const ALL: [Subject; 3] = [Subject::Whole, Subject::Part, Subject::Roots];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Subject::Whole => "whole",
            Subject::Part => "part",
            Subject::Roots => "roots",
        }
    }

    /// The subject that goes by this word.
    pub fn from_key(key: &str) -> Option<Subject> {
        Subject::ALL.into_iter().find(|subject| subject.key() == key)
    }

    /// The subject in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Subject::Whole => "the whole tree",
            Subject::Part => "a part of it",
            Subject::Roots => "roots",
        }
    }
}

/// A spot on a photo, in pixels of the upright picture: right from its left edge, down from its top.
pub type Pixel = [f64; 2];

/// Something of known size on a photo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// A line of known length in the trunk's plane: the pot's width, a rule.
    Line {
        /// Its ends.
        ends: [Pixel; 2],
        /// How long it is.
        long: Millimetre,
    },
    /// A flat card in the trunk's plane.
    Card {
        /// Its corners, from the top left one round to the right.
        corners: [Pixel; 4],
        /// Its width and height.
        size: [Millimetre; 2],
    },
}

impl Scale {
    /// The scale as files keep it: `line x,y x,y mm` or `card x,y x,y x,y x,y mm mm`.
    pub fn key(&self) -> String {
        match self {
            Scale::Line { ends, long } => format!("line {} {}", path_key(ends), long.0),
            Scale::Card { corners, size } => {
                format!("card {} {} {}", path_key(corners), size[0].0, size[1].0)
            }
        }
    }

    /// The scale that files keep so.
    ///
    /// ```
    /// use collection::photo::Scale;
    ///
    /// let scale = Scale::from_key("line 10,20 310,20 150").unwrap();
    /// assert_eq!(Scale::from_key(&scale.key()), Some(scale));
    /// assert!(Scale::from_key("line 10,20 310,20 0").is_none());
    /// ```
    pub fn from_key(key: &str) -> Option<Scale> {
        let mut words = key.split_whitespace();
        let kind = words.next()?;
        let words: Vec<&str> = words.collect();
        let size = |word: &str| {
            let mm: f64 = word.parse().ok()?;
            (0.0 < mm && mm.is_finite()).then_some(Millimetre(mm))
        };
        match (kind, words.as_slice()) {
            ("line", [from, to, long]) => {
                let ends = [pixel(from)?, pixel(to)?];
                (ends[0] != ends[1]).then_some(Scale::Line { ends, long: size(long)? })
            }
            ("card", [a, b, c, d, wide, high]) => Some(Scale::Card {
                corners: [pixel(a)?, pixel(b)?, pixel(c)?, pixel(d)?],
                size: [size(wide)?, size(high)?],
            }),
            _ => None,
        }
    }
}

fn pixel(word: &str) -> Option<Pixel> {
    let (x, y) = word.split_once(',')?;
    let spot: Pixel = [x.parse().ok()?, y.parse().ok()?];
    spot.iter().all(|at: &f64| at.is_finite()).then_some(spot)
}

/// Spots as files keep them: `x,y x,y …`.
pub fn path_key(path: &[Pixel]) -> String {
    path.iter().map(|[x, y]| format!("{x},{y}")).collect::<Vec<_>>().join(" ")
}

/// The spots that files keep so.
///
/// ```
/// use collection::photo::{path, path_key};
///
/// assert_eq!(path_key(&path("12,40.5 13,9").unwrap()), "12,40.5 13,9");
/// assert!(path("12;40").is_none());
/// ```
pub fn path(key: &str) -> Option<Vec<Pixel>> {
    key.split_whitespace().map(pixel).collect()
}

/// A photo of a tree, upright and without the place it was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// Name in addresses, unique in the collection.
    pub key: String,
    /// The tree's key.
    pub tree: String,
    /// When it was taken.
    pub day: Date,
    /// Whether the camera told the day; else it is the day it came in, and may be wrong.
    pub day_told: bool,
    /// What it shows.
    pub subject: Subject,
    /// The hour the camera stood at: 6 is today's front.
    pub clock: u8,
    /// Pixels across.
    pub wide: u32,
    /// Pixels high.
    pub high: u32,
    /// Something of known size on it.
    pub scale: Option<Scale>,
    /// Where the soil is, in pixels from the top.
    pub soil: Option<f64>,
    /// Anything else.
    pub note: String,
}

/// A limb's line on a photo, from its base to its tip.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// The photo's key.
    pub photo: String,
    /// Which limb of the photo's tree.
    pub limb: u32,
    /// The line.
    pub points: Vec<Pixel>,
}

/// A stroke of the brush that mends the outline of a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Whether it adds to the tree, or takes off.
    pub on: bool,
    /// Half the width of the brush, pixels.
    pub half: f64,
    /// Where it went.
    pub path: Vec<Pixel>,
}

/// Strokes as files keep them: `on 6 x,y x,y; off 10 x,y`.
pub fn strokes_key(strokes: &[Stroke]) -> String {
    let line =
        |it: &Stroke| format!("{} {} {}", if it.on { "on" } else { "off" }, it.half, path_key(&it.path));
    strokes.iter().map(line).collect::<Vec<_>>().join("; ")
}

/// The strokes that files keep so.
///
/// ```
/// use collection::photo::{strokes, strokes_key};
///
/// let kept = "on 6 10,12 40,12; off 3.5 80,90";
/// assert_eq!(strokes_key(&strokes(kept).unwrap()), kept);
/// assert!(strokes("on wide 1,1").is_none());
/// ```
pub fn strokes(key: &str) -> Option<Vec<Stroke>> {
    let stroke = |line: &str| {
        let (word, rest) = line.trim().split_once(' ')?;
        let (half, spots) = rest.split_once(' ')?;
        let half: f64 = half.parse().ok().filter(|half: &f64| (0.1..=1000.0).contains(half))?;
        let on = match word {
            "on" => true,
            "off" => false,
            _ => return None,
        };
        let spots = path(spots)?;
        (!spots.is_empty()).then_some(Stroke { on, half, path: spots })
    };
    key.split(';').filter(|line| !line.trim().is_empty()).map(stroke).collect()
}
