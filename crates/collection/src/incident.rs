//! A bad day of a place as the grower kept it, what it cost each tree that stood there, and a sensor held in ice water.

use jiff::civil::Date;
use measure::quantity::Celsius;

/// What a bad day was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Warmer than the place ever is by itself: a heater, an open door to a warm room, sun on a closed frame.
    Warm,
    /// Colder than it is by itself: a heater that failed, a lid left open.
    Cold,
    /// As cold as the night made it, and too cold for a tree that stood there.
    Frost,
}

impl Cause {
    /// All of them.
    pub const ALL: [Cause; 3] = [Cause::Warm, Cause::Cold, Cause::Frost];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Cause::Warm => "warm",
            Cause::Cold => "cold",
            Cause::Frost => "frost",
        }
    }

    /// The cause that goes by this word.
    pub fn from_key(key: &str) -> Option<Cause> {
        Cause::ALL.into_iter().find(|it| it.key() == key)
    }
}

/// What the grower says of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// It happened, to the trees too.
    Happened,
    /// The logger alone was wrong: in a warm hand, in the sun, out of the place.
    Logger,
}

impl Said {
    /// Both.
    pub const ALL: [Said; 2] = [Said::Happened, Said::Logger];

    /// The word used in forms and files.
    pub fn key(self) -> &'static str {
        match self {
            Said::Happened => "happened",
            Said::Logger => "logger",
        }
    }

    /// The answer that goes by this word.
    pub fn from_key(key: &str) -> Option<Said> {
        Said::ALL.into_iter().find(|it| it.key() == key)
    }
}

/// A part of a tree that has a line in frost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Part {
    Buds,
    FlowerBuds,
    Leaves,
    Evergreen,
    NewGrowth,
    Roots,
    CutRoots,
    WokenRoots,
}

impl Part {
    /// All of them.
    pub const ALL: [Part; 8] = [
        Part::Buds,
        Part::FlowerBuds,
        Part::Leaves,
        Part::Evergreen,
        Part::NewGrowth,
        Part::Roots,
        Part::CutRoots,
        Part::WokenRoots,
    ];

    /// The word used in files.
    pub fn key(self) -> &'static str {
        match self {
            Part::Buds => "buds",
            Part::FlowerBuds => "flower-buds",
            Part::Leaves => "leaves",
            Part::Evergreen => "evergreen",
            Part::NewGrowth => "new-growth",
            Part::Roots => "roots",
            Part::CutRoots => "cut-roots",
            Part::WokenRoots => "woken-roots",
        }
    }

    /// The part that goes by this word.
    pub fn from_key(key: &str) -> Option<Part> {
        Part::ALL.into_iter().find(|it| it.key() == key)
    }

    /// Whether it lies in the pot.
    pub fn is_root(self) -> bool {
        matches!(self, Part::Roots | Part::CutRoots | Part::WokenRoots)
    }
}

/// A line that was passed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Under {
    /// Of what.
    pub part: Part,
    /// The line.
    pub line: Celsius,
    /// How cold it got: the air, or for roots the middle of the pot.
    pub reached: Celsius,
}

impl Under {
    /// How far below the line, K.
    pub fn depth(&self) -> f64 {
        self.line.0 - self.reached.0
    }
}

/// What it cost a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// The tree's key.
    pub tree: String,
    /// Days of cold lost; less than 0 where it gained some.
    pub cold: f64,
    /// Days by which its buds are full later; none where that was not known.
    pub later: Option<i32>,
    /// The line that was passed by most; none where none was.
    pub under: Option<Under>,
}

/// A bad day of a place, as long as it lasted.
#[derive(Clone, Debug, PartialEq)]
pub struct Incident {
    /// The place's key.
    pub place: String,
    /// What it was.
    pub cause: Cause,
    /// What the grower says of it.
    pub said: Said,
    /// The sensor that alone was wrong; none where all of the place were.
    pub sensor: Option<String>,
    /// From and to, seconds since 1970, UTC.
    pub span: [i64; 2],
    /// How many of its hours were odd or too cold.
    pub hours: u32,
    /// The lowest read in it.
    pub lowest: Celsius,
    /// The highest.
    pub highest: Celsius,
    /// What was to be expected where it was furthest off; none where it was as the weather made it.
    pub expected: Option<Celsius>,
    /// When it was kept.
    pub day: Date,
    /// The trees that stood there, those to look at first before others.
    pub trees: Vec<Cost>,
}

/// A sensor held in ice water.
#[derive(Clone, Debug, PartialEq)]
pub struct IceCheck {
    /// The place's key.
    pub place: String,
    /// The sensor's name; empty for one that has none.
    pub sensor: String,
    /// When.
    pub day: Date,
    /// What it showed where 0 °C is right.
    pub shown: Celsius,
}
