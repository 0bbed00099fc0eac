//! A move: what the place that a tree goes to does to it in the fortnight to come.

use jiff::civil::Date;
use measure::quantity::Celsius;

/// The place that a tree is to be moved to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Going {
    /// The fortnight there; none where no weather tells it.
    pub there: Option<There>,
    /// It gives no light.
    pub is_dark: bool,
    /// Light there, mol/m² a day with its clouds, where a figure can be given.
    pub light: Option<f64>,
    /// The tree comes from weak light, or the dark, into the sun.
    pub is_into_sun: bool,
    /// It takes one more tree.
    pub has_room: bool,
}

/// The fortnight in a place, held against the lines of a tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct There {
    /// The lowest air, on the safe side.
    pub low: Celsius,
    /// Its day, where it was read or is forecast.
    pub on: Option<Date>,
    /// The lowest air where the tree stands now.
    pub low_here: Option<Celsius>,
    /// The line above the soil; none for bare wood at rest.
    pub line: Option<Celsius>,
    /// The coldest that the ball gets.
    pub ball: Celsius,
    /// The line at the root.
    pub ball_line: Celsius,
    /// The mean.
    pub mean: Celsius,
    /// The highest air, on the safe side.
    pub high: Celsius,
    /// The air above which it is shaded.
    pub shade_above: Celsius,
    /// A heated room.
    pub is_heated: bool,
    /// The tree is a hardy one at rest.
    pub is_resting: bool,
}
