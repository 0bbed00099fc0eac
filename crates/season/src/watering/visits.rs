//! When the grower can be at the pots again: the rounds of each day that no shift or absence covers.

use collection::drink::{Away, RoundTimes};
use jiff::{ToSpan, civil::Date, tz::TimeZone};

/// Hours of the local clock in which someone who comes home still goes to the pots.
const AWAKE: std::ops::Range<i8> = 5..23;

/// The rounds from a day on, by the local clock, that no absence covers, and each coming home by day; seconds since 1970.
///
/// ```
/// use collection::drink::{Away, RoundTimes};
/// use jiff::{civil::date, tz::TimeZone};
/// use season::watering::visits::visits;
///
/// let day = date(2026, 7, 14);
/// let at = |hour: i64| 1_783_987_200 + hour * 3600; // 2026-07-14 00:00 UTC
/// let shift = Away { uid: "x".into(), from: at(6), to: at(20), words: "shift".into() };
/// let home = visits(&TimeZone::UTC, RoundTimes::USUAL, &[shift], day, 2);
/// assert_eq!((home.len(), home[0]), (3, at(20))); // the shift covers both rounds of the 14th, but not the coming home
/// ```
pub fn visits(zone: &TimeZone, times: RoundTimes, aways: &[Away], from: Date, days: i64) -> Vec<i64> {
    let rounds = (0..days).flat_map(|day| {
        let date = from + day.days();
        [times.morning, times.evening].map(|time| {
            zone.to_ambiguous_zoned_datetime(date.to_datetime(time))
                .compatible()
                .map_or(i64::MAX, |at| at.timestamp().as_second())
        })
    });
    let away = |at: i64| aways.iter().any(|away| (away.from..away.to).contains(&at));
    let end = from + days.days();
    let homecomings = aways.iter().map(|away| away.to).filter(|&to| {
        let local = zone.to_datetime(jiff::Timestamp::from_second(to).unwrap_or_default());
        (from..end).contains(&local.date()) && AWAKE.contains(&local.hour())
    });
    let mut home: Vec<i64> =
        rounds.filter(|&at| at < i64::MAX).chain(homecomings).filter(|&at| !away(at)).collect();
    home.sort_unstable();
    home.dedup();
    home
}

/// The absence that keeps the grower away after a moment, before the next visit.
pub fn kept_by(aways: &[Away], now: i64, next: i64) -> Option<&Away> {
    aways.iter().find(|away| away.from < next && away.to > now && away.to <= next.max(away.from + 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn moment(text: &str) -> i64 {
        text.parse::<jiff::Timestamp>().unwrap().as_second()
    }

    #[test]
    fn the_night_of_the_changing_clocks_keeps_the_local_hour() {
        let zone = TimeZone::get("Europe/Zurich").unwrap();
        let home = visits(&zone, RoundTimes::USUAL, &[], date(2026, 3, 28), 2);
        let expected =
            ["2026-03-28T05:30:00Z", "2026-03-28T18:00:00Z", "2026-03-29T04:30:00Z", "2026-03-29T17:00:00Z"];
        assert_eq!(home, expected.map(moment));
    }

    #[test]
    fn a_week_away_leaves_no_round() {
        let away = Away {
            uid: "x".into(),
            from: moment("2026-08-01T00:00:00Z"),
            to: moment("2026-08-08T00:00:00Z"),
            words: "away".into(),
        };
        let home =
            visits(&TimeZone::UTC, RoundTimes::USUAL, std::slice::from_ref(&away), date(2026, 8, 1), 8);
        assert_eq!(home.len(), 2, "coming home at midnight is no visit");
        assert_eq!(
            kept_by(std::slice::from_ref(&away), moment("2026-07-31T19:00:00Z"), home[0]),
            Some(&away)
        );
    }
}
