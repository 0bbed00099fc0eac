//! Which scale temperatures are on that name none: judged by what can be, by the collection's own record and by the season
//! of the place, and asked where that is not enough.

use std::collections::BTreeMap;

use jiff::{Timestamp, ToSpan, civil::Date, tz::Offset};
use measure::{
    quantity::{Celsius, Degrees, Metre, Units},
    shelter::Shelter,
    winter::Hemisphere,
};

use crate::{
    import::{Choice, ImportQuestion},
    logger::Scale,
    weather::book,
};

/// What the collection knows that tells scales apart.
#[derive(Clone, Debug, Default)]
pub(crate) struct Known {
    /// Where the site is, and how high.
    pub(crate) site: Option<(Degrees, Metre)>,
    /// What shelters the logger's place; none for a station.
    pub(crate) shelter: Option<Shelter>,
    /// Mean temperatures on record for the same air, °C.
    pub(crate) days: BTreeMap<Date, f64>,
    /// Mean temperatures of a typical year's 366 days, °C, or none.
    pub(crate) typical: Vec<f64>,
}

/// The likelier scale, and whether that is enough to go by.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Verdict {
    pub(crate) scale: Scale,
    pub(crate) safe: bool,
    pub(crate) why: String,
}

/// Mean difference from the record, K, up to which a scale fits it; a guard of this house.
const NEAR: f64 = 8.0;

/// How much farther the other scale must be, K.
const APART: f64 = 8.0;

/// Days around a date in other years that may stand in for it.
const AROUND: i64 = 10;

/// Share of values that must be possible air.
const MOST: f64 = 0.99;

/// Judges values given with their moments.
pub(crate) fn judge(raw: &[(i64, f64)], known: &Known) -> Verdict {
    let can_be = |scale: Scale| {
        let possible = raw.iter().filter(|(_, value)| book::AIR.contains(&scale.celsius(*value))).count();
        possible as f64 >= MOST * raw.len() as f64
    };
    let safe = |scale, why: String| Verdict { scale, safe: true, why };
    match [Scale::Celsius, Scale::Fahrenheit, Scale::Kelvin].map(can_be) {
        [true, false, _] => return safe(Scale::Celsius, "only °C gives air that can be".into()),
        [false, true, _] => return safe(Scale::Fahrenheit, "only °F gives air that can be".into()),
        [false, false, true] => return safe(Scale::Kelvin, "only kelvin gives air that can be".into()),
        _ => {}
    }
    let days = by_day(raw);
    if let Some([celsius, fahrenheit]) = beside_record(&days, known) {
        let why = format!(
            "beside the record of these days the file would be {celsius:+.1} K on average in °C and {fahrenheit:+.1} K in °F"
        );
        let (near, far, scale) = if celsius.abs() <= fahrenheit.abs() {
            (celsius.abs(), fahrenheit.abs(), Scale::Celsius)
        } else {
            (fahrenheit.abs(), celsius.abs(), Scale::Fahrenheit)
        };
        return Verdict { scale, safe: near <= NEAR && far >= near + APART, why };
    }
    let fits = [Scale::Celsius, Scale::Fahrenheit].map(|scale| fits_season(&days, scale, known));
    match fits {
        [true, false] => {
            safe(Scale::Celsius, "in °F it would be too cold for the place and the season".into())
        }
        [false, true] => {
            safe(Scale::Fahrenheit, "in °C it would be too warm for the place and the season".into())
        }
        _ => Verdict {
            scale: Scale::Celsius,
            safe: false,
            why: "both could be, and no weather is on record for these days".into(),
        },
    }
}

/// The mean of each day's values as they stand.
fn by_day(raw: &[(i64, f64)]) -> BTreeMap<Date, f64> {
    let mut sums: BTreeMap<Date, (f64, f64)> = BTreeMap::new();
    for (at, value) in raw {
        let Ok(at) = Timestamp::from_second(*at) else { continue };
        let sum = sums.entry(Offset::UTC.to_datetime(at).date()).or_default();
        *sum = (sum.0 + value, sum.1 + 1.0);
    }
    sums.into_iter().map(|(date, (sum, count))| (date, sum / count)).collect()
}

/// How far the file is from the record on average in °C and in °F, K; none where nothing is on record.
fn beside_record(days: &BTreeMap<Date, f64>, known: &Known) -> Option<[f64; 2]> {
    let same: Vec<(f64, f64)> =
        days.iter().filter_map(|(date, value)| Some((*value, *known.days.get(date)?))).collect();
    let usual = |date: &Date| around(&known.days, *date).or_else(|| typical(&known.typical, *date));
    let pairs = if same.is_empty() {
        days.iter().filter_map(|(date, value)| Some((*value, usual(date)?))).collect()
    } else {
        same
    };
    let mean = |scale: Scale| {
        let apart = pairs.iter().map(|(value, record)| scale.celsius(*value) - record);
        apart.sum::<f64>() / pairs.len() as f64
    };
    (!pairs.is_empty()).then(|| [mean(Scale::Celsius), mean(Scale::Fahrenheit)])
}

/// The mean on record within some days of this date in any year near it.
fn around(record: &BTreeMap<Date, f64>, date: Date) -> Option<f64> {
    let near =
        (-3_i64..=3).filter_map(|years| date.checked_add((years * 365).days()).ok()).flat_map(|middle| {
            let from = middle.checked_sub(AROUND.days()).unwrap_or(middle);
            let to = middle.checked_add(AROUND.days()).unwrap_or(middle);
            record.range(from..=to).map(|(_, mean)| *mean)
        });
    let (sum, count) = near.fold((0.0, 0.0), |(sum, count), mean| (sum + mean, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

fn typical(year: &[f64], date: Date) -> Option<f64> {
    let leap = Date::new(2024, date.month(), date.day()).ok()?;
    year.get(leap.day_of_year() as usize - 1).copied()
}

/// A time of year at the place.
#[derive(Clone, Copy, PartialEq)]
enum Time {
    Summer,
    Winter,
    Between,
}

fn time(date: Date, latitude: Degrees) -> Time {
    let month = match Hemisphere::of(latitude) {
        Hemisphere::North => date.month(),
        Hemisphere::South => (date.month() + 5) % 12 + 1,
    };
    match month {
        6..=8 => Time::Summer,
        12 | 1 | 2 => Time::Winter,
        _ => Time::Between,
    }
}

/// Whether the means of the file's summer, winter and other days are such as the place can have; wide guards of this
/// house, no source. Without a site everything fits.
fn fits_season(days: &BTreeMap<Date, f64>, scale: Scale, known: &Known) -> bool {
    let Some((latitude, height)) = known.site else { return true };
    [Time::Summer, Time::Winter, Time::Between].into_iter().all(|wanted| {
        let values =
            days.iter().filter(|(date, _)| time(**date, latitude) == wanted).map(|(_, value)| *value);
        let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
        let (low, high) = guard(wanted, latitude.0.abs(), known.shelter);
        let low = low - 6.5 * height.0.max(0.0) / 1000.0;
        count == 0.0 || (low..=high).contains(&scale.celsius(sum / count))
    })
}

/// The lowest and highest mean that air at such a place may have at this time of year, °C.
fn guard(time: Time, latitude: f64, shelter: Option<Shelter>) -> (f64, f64) {
    let (low, high) = match time {
        _ if shelter.is_some_and(Shelter::is_frost_free) => (2.0, 42.0),
        _ if latitude < 23.0 => (5.0, 42.0),
        Time::Summer => (3.0, 42.0),
        Time::Winter if latitude < 30.0 => (-20.0, 30.0),
        Time::Winter if latitude < 40.0 => (-30.0, 22.0),
        Time::Winter => (-45.0, 15.0),
        Time::Between => (-30.0, 35.0),
    };
    let glass = matches!(shelter, Some(Shelter::ColdFrame | Shelter::ColdGlasshouse | Shelter::ColdRoom));
    (low, high + if glass { 8.0 } else { 0.0 })
}

/// The question about the scale, with what each answer would mean; a safe verdict is its likely answer.
pub(crate) fn question(raw: &[(i64, f64)], verdict: &Verdict) -> ImportQuestion {
    let choice = |key, scale: Scale| Choice { key, words: meaning(raw, scale) };
    let likely = match verdict.scale {
        Scale::Celsius => "c",
        Scale::Fahrenheit => "f",
        Scale::Kelvin => "k",
    };
    let mut choices = vec![choice("c", Scale::Celsius), choice("f", Scale::Fahrenheit)];
    choices.extend((verdict.scale == Scale::Kelvin).then(|| choice("k", Scale::Kelvin)));
    ImportQuestion {
        option: "unit",
        words: format!("The file does not say °C or °F: {}.", verdict.why),
        choices,
        likely: verdict.safe.then_some(likely),
    }
}

/// Lowest, mean and highest in both units, if the values are on this scale.
fn meaning(raw: &[(i64, f64)], scale: Scale) -> String {
    let values = || raw.iter().map(|(_, value)| scale.celsius(*value));
    let low = values().fold(f64::INFINITY, f64::min);
    let high = values().fold(f64::NEG_INFINITY, f64::max);
    let mean = values().sum::<f64>() / raw.len().max(1) as f64;
    let shown = |units: Units| {
        let [low, mean, high] = [low, mean, high].map(|it| units.temperature(Celsius(it)));
        format!("lowest {low}, mean {mean}, highest {high}")
    };
    let name = match scale {
        Scale::Celsius => "°C",
        Scale::Fahrenheit => "°F",
        Scale::Kelvin => "kelvin",
    };
    format!("{name}: {} ({})", shown(Units::Metric), shown(Units::Imperial))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// Hours from this date on that run evenly from one value to another.
    fn hours(first: Date, count: i64, low: f64, high: f64) -> Vec<(i64, f64)> {
        let start = Offset::UTC.to_timestamp(first.at(0, 0, 0, 0)).unwrap().as_second();
        (0..count)
            .map(|hour| (start + hour * 3600, low + (high - low) * hour as f64 / (count - 1) as f64))
            .collect()
    }

    fn at(latitude: f64) -> Known {
        Known { site: Some((Degrees(latitude), Metre(50.0))), ..Known::default() }
    }

    fn told(raw: &[(i64, f64)], known: &Known) -> (Scale, bool) {
        let verdict = judge(raw, known);
        (verdict.scale, verdict.safe)
    }

    #[test]
    fn a_january_of_the_south_is_celsius_and_one_of_the_north_fahrenheit() {
        let january = date(2026, 1, 5);
        assert_eq!(told(&hours(january, 240, 26.0, 37.0), &at(-37.0)), (Scale::Celsius, true));
        assert_eq!(told(&hours(january, 240, 10.0, 45.0), &at(47.4)), (Scale::Fahrenheit, true));
        let july = date(2026, 7, 5);
        assert_eq!(told(&hours(july, 240, 26.0, 37.0), &at(47.4)), (Scale::Celsius, true));
        assert_eq!(told(&hours(july, 240, 20.0, 55.0), &at(-37.0)), (Scale::Fahrenheit, true));
    }

    #[test]
    fn values_that_both_scales_allow_are_asked_about() {
        let spring = hours(date(2026, 4, 5), 240, 20.0, 30.0);
        assert!(!judge(&spring, &Known::default()).safe);
        assert!(!judge(&spring, &at(47.4)).safe);
        assert_eq!(question(&spring, &judge(&spring, &at(47.4))).likely, None);
    }

    #[test]
    fn the_record_of_the_same_days_decides() {
        let raw = hours(date(2026, 4, 1), 240, 40.0, 50.0);
        let record = |mean: f64| Known {
            days: (0..10).map(|day| (date(2026, 4, 1) + day.days(), mean)).collect(),
            ..at(47.4)
        };
        assert_eq!(told(&raw, &record(8.0)), (Scale::Fahrenheit, true));
        assert_eq!(told(&raw, &record(43.0)), (Scale::Celsius, true));
        assert!(!judge(&raw, &record(26.0)).safe);
    }

    #[test]
    fn another_year_on_record_or_a_typical_one_decides_too() {
        let raw = hours(date(2026, 4, 1), 240, 40.0, 50.0);
        let year_before: BTreeMap<Date, f64> =
            (0..20).map(|day| (date(2025, 3, 25) + day.days(), 7.0)).collect();
        assert_eq!(told(&raw, &Known { days: year_before, ..at(47.4) }), (Scale::Fahrenheit, true));
        assert_eq!(told(&raw, &Known { typical: vec![7.0; 366], ..at(47.4) }), (Scale::Fahrenheit, true));
    }

    #[test]
    fn a_warm_sill_in_january_is_warm() {
        let sill = Known { shelter: Some(Shelter::WarmSill), ..at(47.4) };
        assert_eq!(told(&hours(date(2026, 1, 5), 240, 18.0, 24.0), &sill), (Scale::Celsius, true));
    }

    #[test]
    fn what_no_air_can_be_decides_alone_and_a_stray_value_does_not() {
        let mut summer = hours(date(2026, 7, 1), 240, 60.0, 95.0);
        assert_eq!(told(&summer, &Known::default()), (Scale::Fahrenheit, true));
        summer = hours(date(2026, 7, 1), 240, 15.0, 30.0);
        summer[7].1 = 75.0;
        assert_eq!(told(&summer, &at(47.4)), (Scale::Celsius, true));
        assert_eq!(
            told(&hours(date(2026, 7, 1), 24, 285.0, 301.0), &Known::default()),
            (Scale::Kelvin, true)
        );
    }

    #[test]
    fn each_answer_says_what_the_file_would_mean() {
        let raw = hours(date(2026, 4, 5), 3, 32.0, 50.0);
        let asked = question(&raw, &judge(&raw, &Known::default()));
        assert!(asked.choices[1].words.contains("lowest 0.0 °C, mean 5.0 °C, highest 10.0 °C"), "{asked}");
    }
}
