//! Whether a tree's window is over.

use jiff::civil::Date;

/// Whether the last likely day of a window has passed; of a window that nobody knows, it has not.
///
/// ```
/// use jiff::civil::date;
/// use season::repot::late::late;
///
/// let window = Some((date(2027, 3, 1), date(2027, 3, 20)));
/// assert!(!late(window, date(2027, 3, 20)) && late(window, date(2027, 3, 21)) && !late(None, date(2027, 6, 1)));
/// ```
pub fn late(window: Option<(Date, Date)>, today: Date) -> bool {
    window.is_some_and(|(_, closes)| closes < today)
}
