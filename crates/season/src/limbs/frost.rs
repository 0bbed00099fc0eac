//! The first frost that a site may expect, from its past autumns.

use std::collections::BTreeMap;

use climate::record::StationDay;
use jiff::civil::Date;
use measure::{
    quantity::Weeks,
    winter::{Hemisphere, Winter},
};

use super::calendar::Calendar;

/// The first frost of an autumn to come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FirstFrost {
    /// One autumn in ten has it by then.
    pub early: Date,
    /// Half of the autumns have it by then.
    pub middle: Date,
    /// Autumns it was read from.
    pub autumns: usize,
}

/// Fewer days than this of a winter's first hundred and they do not tell its first frost.
const ENOUGH: usize = 85;

/// The next first frost by the station's past autumns; none where no whole autumn was recorded.
pub fn first_frost(station: &[StationDay], hemisphere: Hemisphere, today: Date) -> Option<FirstFrost> {
    let mut autumns: BTreeMap<i16, (usize, Option<i32>)> = BTreeMap::new();
    for day in station {
        let winter = Winter::holding(day.date, hemisphere);
        let number = winter.day_number(day.date);
        if number > Winter::FIRST_DAY + 100 {
            continue;
        }
        let Some(low) = day.low else { continue };
        let autumn = autumns.entry(winter.spring_year).or_default();
        autumn.0 += 1;
        if low < 0.0 {
            autumn.1 = Some(autumn.1.map_or(number, |first| first.min(number)));
        }
    }
    let mut firsts: Vec<i32> =
        autumns.values().filter(|(days, _)| *days >= ENOUGH).filter_map(|(_, first)| *first).collect();
    firsts.sort_unstable();
    let middle = *firsts.get(firsts.len() / 2)?;
    let early = firsts[firsts.len() / 10];
    let holding = Winter::holding(today, hemisphere);
    let ahead = if holding.day_number(today) < 0 {
        holding
    } else {
        Winter { spring_year: holding.spring_year + 1, ..holding }
    };
    Some(FirstFrost { early: ahead.date(early), middle: ahead.date(middle), autumns: firsts.len() })
}

/// Weeks of growth left before leaf fall or the first frost: if frost comes early, and in the middle of autumns; none while the tree rests.
pub fn warm_weeks(calendar: &Calendar, frost: Option<FirstFrost>, today: Date) -> [Weeks; 2] {
    let (year, share) = calendar.moment(today);
    if share <= 0.0 || share >= 1.0 {
        return [Weeks(0.0); 2];
    }
    let fall = calendar.date(year, 1.0);
    let until = |end: Date| Weeks(f64::from((end.min(fall) - today).get_days()).max(0.0) / 7.0);
    match frost {
        Some(frost) => [until(frost.early), until(frost.middle)],
        None => [until(fall); 2],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::{ToSpan, civil::date};

    #[test]
    fn the_first_frost_is_the_middle_of_past_autumns() {
        let autumn = |year: i16, frost: Date| {
            (0..120).map(move |day| {
                let on = date(year, 9, 1) + day.days();
                StationDay::of_extremes(on, if on >= frost { -1.0 } else { 4.0 }, 10.0)
            })
        };
        let station: Vec<StationDay> = autumn(2023, date(2023, 10, 30))
            .chain(autumn(2024, date(2024, 10, 16)))
            .chain(autumn(2025, date(2025, 10, 20)))
            .collect();
        let told = first_frost(&station, Hemisphere::North, date(2026, 8, 12)).unwrap();
        assert_eq!((told.early, told.middle, told.autumns), (date(2026, 10, 16), date(2026, 10, 20), 3));
        let leaves = crate::leaves::Leaves::of(measure::taxon::Taxon::of("acer-campestre").unwrap(), None);
        let calendar = Calendar { leaves, hemisphere: Hemisphere::North };
        let [early, middle] = warm_weeks(&calendar, Some(told), date(2026, 8, 12));
        assert!((early.0 - 65.0 / 7.0).abs() < 1e-9 && middle.0 > early.0);
        assert_eq!(warm_weeks(&calendar, Some(told), date(2027, 1, 15)), [Weeks(0.0); 2]);
        assert_eq!(first_frost(&station[..40], Hemisphere::North, date(2026, 8, 12)), None);
    }
}
