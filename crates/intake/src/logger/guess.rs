//! What a logger's file does not say: the order of its dates and the scale of its temperatures.

use jiff::tz::Offset;

use super::{
    faults,
    header::Scale,
    stamp::{self, Order, Stamp},
};

/// Day first or month first, and whether that is a guess.
pub(crate) fn order(shown: &[String]) -> (Order, bool) {
    let open: Vec<(u8, u8)> = shown.iter().filter_map(|text| stamp::open_pair(text)).collect();
    if open.iter().any(|(first, _)| *first > 12) {
        return (Order::DayFirst, false);
    }
    if open.iter().any(|(_, second)| *second > 12) {
        return (Order::MonthFirst, false);
    }
    let dotted = shown
        .iter()
        .any(|text| stamp::open_pair(text).is_some() && text.contains('.') && !text.contains('/'));
    if open.is_empty() || dotted {
        return (Order::DayFirst, false);
    }
    // The reading that makes the file run through fewer days is the likelier one.
    let travel = |order| -> i64 {
        let walls = shown.iter().filter_map(|text| match stamp::stamp(text, order)? {
            Stamp::Wall(wall) => stamp::on_clock(Offset::UTC, wall),
            Stamp::Moment(at) => Some(at),
        });
        let walls: Vec<i64> = walls.collect();
        walls.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum()
    };
    let (day_first, month_first) = (travel(Order::DayFirst), travel(Order::MonthFirst));
    let halves = shown.iter().any(|text| text.to_lowercase().trim_end_matches('.').ends_with('m'));
    match day_first.cmp(&month_first) {
        std::cmp::Ordering::Less => (Order::DayFirst, true),
        std::cmp::Ordering::Greater => (Order::MonthFirst, true),
        std::cmp::Ordering::Equal if halves => (Order::MonthFirst, true),
        std::cmp::Ordering::Equal => (Order::DayFirst, true),
    }
}

/// The scale that the range of these values by time suggests.
///
/// No air is warmer than 60 °C; and where the whole of a winter is above 25, the winter is in °F.
pub(crate) fn scale(values: impl Iterator<Item = (i64, f64)>) -> Scale {
    let mut warm_winter = None;
    for (at, value) in values.filter(|(_, value)| faults::sentinel(*value, None).is_none()) {
        if (60.0..=130.0).contains(&value) && value > 60.0 {
            return Scale::Fahrenheit;
        }
        let month = jiff::Timestamp::from_second(at).map_or(7, |at| Offset::UTC.to_datetime(at).month());
        let fits = value > 25.0 && !(4..=10).contains(&month);
        warm_winter = Some(warm_winter.unwrap_or(true) && fits);
    }
    if warm_winter == Some(true) { Scale::Fahrenheit } else { Scale::Celsius }
}
