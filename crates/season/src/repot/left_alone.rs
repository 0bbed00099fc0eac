//! Whether pots are left alone for long, by the grower's absences.

use collection::drink::Away;
use measure::{
    quantity::{Days, Hours},
    sourced::{Sourced, Standing},
};

const OURS: Standing = Standing::Estimate("a choice of ours: a shift with the way there and back");

/// An absence from this long on leaves a pot alone for long.
pub const LONG_AWAY: Sourced<Hours> = Sourced { value: Hours(10.0), standing: OURS };

/// Absences that begin less than this before or after a moment tell how the grower lives then.
pub const ABOUT_NOW: Sourced<Days> = Sourced {
    value: Days(30.0),
    standing: Standing::Estimate("a choice of ours: a month of shifts either way"),
};

/// Whether pots are left alone for long about a moment, told in seconds since 1970: some absence that begins about then is a long one.
///
/// ```
/// use collection::drink::Away;
/// use season::repot::left_alone::left_alone;
///
/// let (noon, hour) = (1_800_000_000, 3600);
/// let shift = |from: i64, hours: i64| Away { uid: String::new(), from, to: from + hours * hour, words: String::new() };
/// assert!(left_alone(&[shift(noon - 5 * 24 * hour, 10)], noon));
/// assert!(!left_alone(&[shift(noon, 9), shift(noon - 30 * 24 * hour, 12)], noon));
/// ```
pub fn left_alone(aways: &[Away], moment: i64) -> bool {
    let long = (LONG_AWAY.value.0 * 3600.0) as i64;
    let about = (ABOUT_NOW.value.0 * 86_400.0) as i64;
    aways.iter().any(|away| away.to - away.from >= long && (away.from - moment).abs() < about)
}
