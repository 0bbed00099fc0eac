//! When a site cools in autumn by its own record: its first cool night, and its first day too cold for roots to heal.

use std::collections::BTreeMap;

use climate::record::StationDay;
use jiff::{ToSpan, civil::Date};
use measure::{
    quantity::Celsius,
    winter::{Hemisphere, Winter},
};

/// A day of an autumn to come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct First {
    /// One autumn in ten has it by then.
    pub early: Date,
    /// Half of the autumns have it by then.
    pub middle: Date,
    /// Autumns it was read from.
    pub autumns: usize,
}

/// What of a day is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// The coldest of the night.
    Night,
    /// The middle of its extremes.
    Day,
}

/// Nights colder than this end the growth of a black pine's second needles (estimate of the trade list).
pub const COOL_NIGHT: Celsius = Celsius(10.0);

/// Days colder than this heal no cut root that was not begun on (common practice).
pub const TOO_COLD_FOR_ROOTS: Celsius = Celsius(8.0);

/// First day number that counts: 1 August in the north. A cool night before is a cool summer's, not autumn's.
const FROM: i32 = -152;

/// Last day number looked at: 31 December in the north.
const TO: i32 = 0;

/// Days of the span that a record must tell for its autumn to count.
const ENOUGH: usize = 120;

/// The next day that is colder, by the station's past autumns; none where too few were recorded whole, or fewer than half come so far.
pub fn first_below(
    station: &[StationDay],
    hemisphere: Hemisphere,
    today: Date,
    (of, limit): (Of, Celsius),
) -> Option<First> {
    let mut autumns: BTreeMap<i16, (usize, Option<i32>)> = BTreeMap::new();
    for day in station {
        let winter = winter_after(day.date, hemisphere);
        let number = winter.day_number(day.date);
        if !(FROM..=TO).contains(&number) {
            continue;
        }
        let value = match of {
            Of::Night => day.low,
            Of::Day => day.low.zip(day.high).map(|(low, high)| (low + high) / 2.0),
        };
        let Some(value) = value else { continue };
        let autumn = autumns.entry(winter.spring_year).or_default();
        autumn.0 += 1;
        if value < limit.0 {
            autumn.1 = Some(autumn.1.map_or(number, |first| first.min(number)));
        }
    }
    let whole: Vec<Option<i32>> =
        autumns.values().filter(|(days, _)| *days >= ENOUGH).map(|(_, first)| *first).collect();
    let mut firsts: Vec<i32> = whole.iter().flatten().copied().collect();
    if firsts.is_empty() || firsts.len() * 2 < whole.len() {
        return None;
    }
    firsts.sort_unstable();
    let (early, middle) = (firsts[firsts.len() / 10], firsts[firsts.len() / 2]);
    let holding = winter_after(today, hemisphere);
    let ahead = if holding.day_number(today) < middle {
        holding
    } else {
        Winter { spring_year: holding.spring_year + 1, ..holding }
    };
    Some(First { early: ahead.date(early), middle: ahead.date(middle), autumns: whole.len() })
}

/// The winter that an autumn day leads to, from 1 August on.
fn winter_after(date: Date, hemisphere: Hemisphere) -> Winter {
    Winter::holding(date.saturating_add(31.days()), hemisphere)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// Nights of 14 °C until a day, of 6 °C from then on, over 1 July to 31 December.
    fn autumn(year: i16, cool: Date) -> impl Iterator<Item = StationDay> {
        (0..184).map(move |day| {
            let on = date(year, 7, 1) + day.days();
            StationDay::of_extremes(on, if on >= cool { 6.0 } else { 14.0 }, 16.0)
        })
    }

    #[test]
    fn the_first_cool_night_is_the_middle_of_past_autumns_and_lies_ahead() {
        let station: Vec<StationDay> = [(2023, 24), (2024, 28), (2025, 30)]
            .into_iter()
            .flat_map(|(year, day)| autumn(year, date(year, 9, day)))
            .collect();
        let of = |today| first_below(&station, Hemisphere::North, today, (Of::Night, COOL_NIGHT)).unwrap();
        assert_eq!(of(date(2026, 6, 20)).middle, date(2026, 9, 28));
        assert_eq!(of(date(2026, 6, 20)).early, date(2026, 9, 24));
        assert_eq!(of(date(2026, 8, 20)).middle, date(2026, 9, 28));
        assert_eq!(of(date(2026, 9, 28)).middle, date(2027, 9, 28));
        assert_eq!(of(date(2026, 12, 20)).middle, date(2027, 9, 28));
        assert_eq!(
            first_below(&station[..90], Hemisphere::North, date(2026, 6, 20), (Of::Night, COOL_NIGHT)),
            None
        );
        let never = (Of::Night, Celsius(0.0));
        assert_eq!(first_below(&station, Hemisphere::North, date(2026, 6, 20), never), None);
    }

    #[test]
    fn the_south_has_its_autumn_half_a_year_on() {
        let station: Vec<StationDay> = (0..184)
            .map(|day| {
                let on = date(2025, 1, 1) + day.days();
                StationDay::of_extremes(on, if on >= date(2025, 3, 28) { 6.0 } else { 14.0 }, 16.0)
            })
            .collect();
        let told =
            first_below(&station, Hemisphere::South, date(2025, 12, 20), (Of::Night, COOL_NIGHT)).unwrap();
        // 28 March 2025 is day -95 of its winter, and so is 28 March 2026.
        assert_eq!(told.middle, date(2026, 3, 28));
        let days =
            first_below(&station, Hemisphere::South, date(2025, 12, 20), (Of::Day, Celsius(12.0))).unwrap();
        assert_eq!(days.middle, told.middle);
    }
}
