//! When the candles of a two-flush pine are cut: counted back from the site's first cool night by how long its needles shall grow.

use jiff::{ToSpan, civil::Date};
use measure::{
    quantity::{Centimetre, Millimetre},
    sourced::Standing,
};

/// What the days stand on.
pub const STANDING: Standing = Standing::Estimate(
    "days of the trade list, counted back from your site's mean first night below 10 °C; common practice and an estimate",
);

/// How long the new needles have: a large tree wants longer ones, so it is cut earlier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Up to 36 cm high.
    Small,
    /// Up to 60 cm.
    Medium,
    /// Higher.
    Large,
}

/// The last days that leave the shortest needles time to harden, before the first cool night.
pub const LEAST: i32 = 80;

impl Size {
    /// By height, as sizes are classed: kifu and below small, chuhin medium, the rest large.
    ///
    /// ```
    /// use measure::quantity::Centimetre;
    /// use season::candles::Size;
    ///
    /// assert_eq!([22.0, 50.0, 70.0].map(|cm| Size::of(Centimetre(cm))), [Size::Small, Size::Medium, Size::Large]);
    /// ```
    pub fn of(height: Centimetre) -> Size {
        match height.0 {
            high if high <= 36.0 => Size::Small,
            high if high <= 60.0 => Size::Medium,
            _ => Size::Large,
        }
    }

    /// By the length of needles that is wanted (bounds our estimate: the trade names sizes of trees, not lengths).
    ///
    /// ```
    /// use measure::quantity::Millimetre;
    /// use season::candles::Size;
    ///
    /// assert_eq!([15.0, 30.0, 50.0].map(|mm| Size::for_needles(Millimetre(mm))), [Size::Small, Size::Medium, Size::Large]);
    /// ```
    pub fn for_needles(wanted: Millimetre) -> Size {
        match wanted.0 {
            short if short <= 20.0 => Size::Small,
            middle if middle <= 35.0 => Size::Medium,
            _ => Size::Large,
        }
    }

    /// Days before the first cool night: the first and the last on which candles are cut.
    pub fn days(self) -> [i32; 2] {
        match self {
            Size::Large => [120, 110],
            Size::Medium => [110, 95],
            Size::Small => [95, LEAST],
        }
    }
}

/// The days on which candles are cut: the first and the last. Of a tree of unknown height the middle size's.
///
/// ```
/// use jiff::civil::date;
/// use season::candles::{Size, window};
///
/// let cool = date(2026, 9, 28);
/// assert_eq!(window(Size::Large, cool), [date(2026, 5, 31), date(2026, 6, 10)]);
/// assert_eq!(window(Size::Small, cool), [date(2026, 6, 25), date(2026, 7, 10)]);
/// ```
pub fn window(size: Size, cool: Date) -> [Date; 2] {
    size.days().map(|days| cool.saturating_sub(i64::from(days).days()))
}

/// Days before a show on which candles are cut, first and last: needles must be out of their sheaths and hard (our estimate, as the trade's
/// plan of a show has it).
pub const BEFORE_SHOW: [i32; 2] = [110, 85];

/// The same where the tree is shown on a day: as early as both the autumn and the show ask.
///
/// ```
/// use jiff::civil::date;
/// use season::candles::{Size, window_for_show};
///
/// let cool = date(2026, 9, 28);
/// // A November show asks for nothing earlier than the autumn does.
/// assert_eq!(window_for_show(Size::Large, cool, date(2026, 11, 14)), [date(2026, 5, 31), date(2026, 6, 10)]);
/// assert_eq!(window_for_show(Size::Small, cool, date(2026, 9, 6)), [date(2026, 5, 19), date(2026, 6, 13)]);
/// ```
pub fn window_for_show(size: Size, cool: Date, shown: Date) -> [Date; 2] {
    let [from, to] = window(size, cool);
    let [first, last] = BEFORE_SHOW.map(|days| shown.saturating_sub(i64::from(days).days()));
    [from.min(first), to.min(last)]
}
