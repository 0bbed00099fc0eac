//! Where a tree spent the middle of its last winter.

use jiff::civil::Date;
use measure::{
    sourced::{Sourced, Standing},
    winter::{Hemisphere, Winter},
};

/// Number of the day that stands for a winter: the fifteenth of January, in the south of July.
pub const MIDDLE: Sourced<i32> = Sourced {
    value: 15,
    standing: Standing::Estimate("a choice of ours: about the coldest weeks of a winter"),
};

/// The stay, by its place among them, in which a tree spent the middle of the last winter up to a day; the first stay where none had
/// begun by then, none where there is no stay at all. Stays are in the order of the days on which they begin.
///
/// ```
/// use jiff::civil::date;
/// use measure::winter::Hemisphere::{North, South};
/// use season::repot::wintered::wintered;
///
/// let stays = [(date(2025, 4, 1), "bench"), (date(2025, 11, 20), "frame"), (date(2026, 3, 10), "bench")];
/// assert_eq!(wintered(&stays, date(2026, 5, 1), North), Some(1));
/// assert_eq!(wintered(&stays, date(2026, 1, 14), North), Some(0), "the winter before: nothing older is known");
/// assert_eq!(wintered(&stays, date(2026, 8, 1), South), Some(2));
/// assert_eq!(wintered::<&str>(&[], date(2026, 5, 1), North), None);
/// ```
pub fn wintered<T>(stays: &[(Date, T)], today: Date, hemisphere: Hemisphere) -> Option<usize> {
    let now = Winter::holding(today, hemisphere);
    let middle = |winter: Winter| winter.date(MIDDLE.value);
    let day = if middle(now) <= today { middle(now) } else { middle(now.earlier(1)) };
    let begun = stays.iter().rposition(|(since, _)| *since <= day);
    begun.or_else(|| (!stays.is_empty()).then_some(0))
}
