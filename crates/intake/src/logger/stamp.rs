//! Dates and times as loggers write them.

use jiff::{
    ToSpan,
    civil::{Date, DateTime},
    tz::Offset,
};

use crate::weather::book;

/// A moment, or a reading of a clock on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Stamp {
    /// Unix seconds.
    Moment(i64),
    /// A local clock.
    Wall(DateTime),
}

/// Which of the first two numbers of a date is the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// 31/12/2026.
    DayFirst,
    /// 12/31/2026.
    MonthFirst,
}

impl Order {
    /// The order that goes by this word: day-first or month-first.
    pub fn from_key(key: &str) -> Option<Order> {
        match key {
            "day-first" => Some(Order::DayFirst),
            "month-first" => Some(Order::MonthFirst),
            _ => None,
        }
    }
}

/// Reads unix seconds or milliseconds, or a date with or without a time of day and an offset.
pub(crate) fn stamp(text: &str, order: Order) -> Option<Stamp> {
    let text = text.trim();
    let digits = text.bytes().all(|byte| byte.is_ascii_digit());
    if digits && matches!(text.len(), 9 | 10 | 13) {
        let count: i64 = text.parse().ok()?;
        let seconds = if text.len() == 13 { count / 1000 } else { count };
        return moment(seconds).map(Stamp::Moment);
    }
    let end = text.find(|c: char| !c.is_ascii_digit() && !"-/.".contains(c)).unwrap_or(text.len());
    let (date, rest) = text.split_at(end);
    let date = calendar_day(date, order)?;
    let rest = rest.trim_start_matches(|c: char| c.is_whitespace() || "Tt,".contains(c));
    if rest.is_empty() {
        return Some(Stamp::Wall(date.at(0, 0, 0, 0)));
    }
    let end = rest.find(|c: char| !c.is_ascii_digit() && !":.,".contains(c)).unwrap_or(rest.len());
    let (clock, tail) = rest.split_at(end);
    let mut tail = tail.trim().to_lowercase();
    let afternoon = ["a.m.", "p.m.", "am", "pm"].into_iter().find_map(|half| {
        let rest = tail.strip_prefix(half)?.trim().to_string();
        Some((half.starts_with('p'), rest))
    });
    let half = afternoon.map(|(afternoon, rest)| {
        tail = rest;
        afternoon
    });
    let wall = date.at(0, 0, 0, 0).checked_add(seconds_of_day(clock, half)?.seconds()).ok()?;
    match tail.as_str() {
        "" => Some(Stamp::Wall(wall)),
        tail => on_clock(offset(tail)?, wall).map(Stamp::Moment),
    }
}

/// The unix seconds at which a clock with this offset shows `wall`.
pub(crate) fn on_clock(offset: Offset, wall: DateTime) -> Option<i64> {
    moment(offset.to_timestamp(wall).ok()?.as_second())
}

/// Unix seconds in the years that are believed.
pub(crate) fn moment(seconds: i64) -> Option<i64> {
    let at = jiff::Timestamp::from_second(seconds).ok()?;
    book::believed(Offset::UTC.to_datetime(at).date()).then_some(seconds)
}

/// The two numbers of a date whose order is open.
pub(crate) fn open_pair(text: &str) -> Option<(u8, u8)> {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && !"-/.".contains(c)).unwrap_or(text.len());
    let parts: Vec<&str> = text[..end].split(['-', '/', '.']).collect();
    match parts[..] {
        [first, second, year] if first.len() <= 2 && !year.is_empty() => {
            Some((first.parse().ok()?, second.parse().ok()?))
        }
        _ => None,
    }
}

/// Whether a date writes its year with two digits.
pub(crate) fn has_short_year(text: &str) -> bool {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && !"-/.".contains(c)).unwrap_or(text.len());
    open_pair(text).is_some()
        && text[..end].rsplit(['-', '/', '.']).next().is_some_and(|year| year.len() == 2)
}

/// A date from its digits.
fn calendar_day(text: &str, order: Order) -> Option<Date> {
    let part = |text: &str| text.parse::<i16>().ok();
    if text.len() == 8 && text.bytes().all(|byte| byte.is_ascii_digit()) {
        return day(part(&text[..4])?, part(&text[4..6])?, part(&text[6..])?);
    }
    let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
    let [first, second, third] = parts[..] else { return None };
    if first.len() == 4 {
        return day(part(first)?, part(second)?, part(third)?);
    }
    let year = match (third.len(), part(third)?) {
        (2, year) if year < 70 => 2000 + year,
        (2, year) => 1900 + year,
        (4, year) => year,
        _ => return None,
    };
    match order {
        Order::DayFirst => day(year, part(second)?, part(first)?),
        Order::MonthFirst => day(year, part(first)?, part(second)?),
    }
}

fn day(year: i16, month: i16, day: i16) -> Option<Date> {
    book::day(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?)
}

/// Seconds after midnight; `half` says afternoon or morning on a clock of twelve hours.
fn seconds_of_day(text: &str, half: Option<bool>) -> Option<i64> {
    let whole = text.split(['.', ',']).next()?;
    let parts: Vec<i64> = whole.split(':').map(|part| part.parse().ok()).collect::<Option<_>>()?;
    let (hour, minute, second) = match parts[..] {
        [hour, minute] => (hour, minute, 0),
        [hour, minute, second] => (hour, minute, second),
        _ => return None,
    };
    let hour = match half {
        None => hour,
        Some(afternoon) if (1..=12).contains(&hour) => hour % 12 + if afternoon { 12 } else { 0 },
        Some(_) => return None,
    };
    let possible = (0..24).contains(&hour) || (hour == 24 && minute == 0 && second == 0);
    let possible = possible && (0..60).contains(&minute) && (0..60).contains(&second);
    possible.then(|| 3600 * hour + 60 * minute + second)
}

/// An offset from UTC: `z`, `utc`, `+01:00`, `-0500`, `gmt+1`.
pub(crate) fn offset(text: &str) -> Option<Offset> {
    let text = text.trim().to_lowercase().replace('\u{2212}', "-");
    let text = text.strip_prefix("utc").or(text.strip_prefix("gmt")).unwrap_or(&text).trim();
    let sign = match text.chars().next() {
        None => return Some(Offset::UTC),
        Some('z') if text.len() == 1 => return Some(Offset::UTC),
        Some('+') => 1,
        Some('-') => -1,
        Some(_) => return None,
    };
    let digits = text[1..].trim();
    let (hours, minutes) = match digits.split_once(':') {
        Some((hours, minutes)) => (hours, minutes),
        None if digits.len() == 4 && digits.is_ascii() => digits.split_at(2),
        None => (digits, "0"),
    };
    let (hours, minutes): (i32, i32) = (hours.parse().ok()?, minutes.parse().ok()?);
    let possible = (0..=14).contains(&hours) && (0..60).contains(&minutes);
    possible.then(|| Offset::from_seconds(sign * (3600 * hours + 60 * minutes)).ok()).flatten()
}

/// An offset named inside a longer text, such as “Date Time, GMT-05:00”.
pub(crate) fn offset_within(text: &str) -> Option<Offset> {
    let text = text.to_lowercase().replace('\u{2212}', "-");
    let part_of_word = |letter: Option<char>| letter.is_some_and(char::is_alphabetic);
    let start = ["gmt", "utc"].iter().find_map(|name| {
        let apart = |at: &usize| {
            let (before, after) = (text[..*at].chars().next_back(), text[at + 3..].chars().next());
            !part_of_word(before) && !part_of_word(after)
        };
        text.match_indices(name).map(|(at, _)| at).find(apart)
    })?;
    let named = &text[start..];
    let end = named[3..].find(|c: char| !c.is_ascii_digit() && !"+-: ".contains(c));
    let named = &named[..end.map_or(named.len(), |end| end + 3)];
    offset(named.trim_end_matches([' ', ':', '-', '+']))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn wall(text: &str) -> Option<Stamp> {
        stamp(text, Order::DayFirst)
    }

    #[test]
    fn clocks_of_twelve_hours_pass_noon_and_midnight() {
        let day = date(2024, 3, 10);
        assert_eq!(wall("10/03/24 12:00:00 AM"), Some(Stamp::Wall(day.at(0, 0, 0, 0))));
        assert_eq!(wall("10/03/24 12:05 pm"), Some(Stamp::Wall(day.at(12, 5, 0, 0))));
        assert_eq!(wall("10/03/24 13:05 pm"), None);
    }

    #[test]
    fn a_time_of_many_digits_is_no_time() {
        assert_eq!(wall("03/10/63 02:8888888888888888880:00 AM"), None);
        assert_eq!(wall("03/10/63 8888888888888888880:00"), None);
    }

    #[test]
    fn an_offset_makes_a_moment() {
        assert_eq!(wall("2024-02-01T01:00:00+01:00"), Some(Stamp::Moment(1_706_745_600)));
        assert_eq!(wall("2024-02-01 00:00Z"), wall("1706745600"));
        assert_eq!(wall("1706745600123"), wall("1706745600"));
    }

    #[test]
    fn hour_24_is_the_next_midnight() {
        assert_eq!(wall("31.12.2024 24:00"), Some(Stamp::Wall(date(2025, 1, 1).at(0, 0, 0, 0))));
    }

    #[test]
    fn an_offset_is_found_in_a_header() {
        let five = Offset::from_seconds(-5 * 3600).unwrap();
        assert_eq!(offset_within("Date Time, GMT-05:00"), Some(five));
        assert_eq!(offset_within("time (UTC)"), Some(Offset::UTC));
        assert_eq!(offset_within("time"), None);
        assert_eq!(offset_within("Dutch"), None);
    }
}
