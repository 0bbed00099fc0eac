//! What a logger's file does not say: the order of its dates.

use std::cmp::Ordering;

use jiff::tz::Offset;

use super::stamp::{self, Order, Stamp};

/// Day first or month first, and whether that is a guess.
pub(crate) fn order(shown: &[String]) -> (Order, bool) {
    let open: Vec<(u8, u8)> = shown.iter().filter_map(|text| stamp::open_pair(text)).collect();
    let beyond_a_month = |number: u8| (13..=31).contains(&number);
    let day_first = open.iter().filter(|(first, _)| beyond_a_month(*first)).count();
    let month_first = open.iter().filter(|(_, second)| beyond_a_month(*second)).count();
    match day_first.cmp(&month_first) {
        Ordering::Greater => return (Order::DayFirst, month_first > 0),
        Ordering::Less => return (Order::MonthFirst, day_first > 0),
        Ordering::Equal => {}
    }
    let dotted = |text: &&String| text.trim_start_matches(|c: char| c.is_ascii_digit()).starts_with('.');
    if open.is_empty()
        || shown.iter().filter(|text| stamp::open_pair(text).is_some()).all(|text| dotted(&text))
    {
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
        Ordering::Less => (Order::DayFirst, true),
        Ordering::Greater => (Order::MonthFirst, true),
        Ordering::Equal if halves => (Order::MonthFirst, true),
        Ordering::Equal => (Order::DayFirst, true),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_broken_date_does_not_turn_the_others() {
        let shown = ["03/13/2026", "03/14/2026", "13/03/2026"].map(str::to_string);
        assert_eq!(order(&shown), (Order::MonthFirst, true));
    }
}
