//! Several sensors of one place: each corrected by its checks in ice water, then their mean and their lowest by the hour.

use std::collections::BTreeMap;

use crate::record::{HourMean, bridged};

/// The hours of each sensor of a place by its name, by time.
pub type Sensors = BTreeMap<String, Vec<HourMean>>;

/// What a place's sensors amount to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Together {
    /// The mean of each hour: what a bud in the middle of the place feels.
    pub mean: Vec<HourMean>,
    /// The lowest of each hour: what the coldest corner comes to.
    pub lowest: Vec<HourMean>,
}

/// A check in ice water: from when it holds, seconds since 1970, and what the sensor showed, °C.
pub type Check = (i64, f64);

/// Hours that two sensors must have in common before one stands in for the other (our choice: two days).
const IN_COMMON: usize = 48;

/// Seconds for which a sensor that fell silent is stood in for (our choice: a fortnight in which nobody changed its battery).
const STOOD_IN: i64 = 14 * 86_400;

/// Takes a sensor's own error off its hours: each by the last check before it, those before the first by the first.
///
/// ```
/// use climate::{record::HourMean, sensors::correct};
///
/// let hour = |at, temperature| HourMean { at, temperature, filled: false };
/// let mut hours = [hour(0, 2.0), hour(100, 2.0), hour(200, 2.0)];
/// correct(&mut hours, &[(50, 0.4), (150, -0.5)]);
/// assert_eq!(hours.map(|it| it.temperature), [1.6, 1.6, 2.5]);
/// ```
pub fn correct(hours: &mut [HourMean], checks: &[Check]) {
    let Some((_, first)) = checks.first() else { return };
    for hour in hours {
        let last = checks.iter().rev().find(|(from, _)| *from <= hour.at);
        hour.temperature -= last.map_or(*first, |(_, shown)| *shown);
    }
}

/// The mean and the lowest of a place's sensors by the hour.
///
/// An hour filled in one series makes room for what another measured; what is then still open is bridged anew. A sensor that falls silent, as one does whose battery froze, is stood in for by the others and its mean difference from them for a
/// fortnight, where they had two days in common: else the coldest corner would warm up by its sensor's silence.
///
/// **Holds** while a corner differs from another by about the same. **Error** of hours stood in for that of the difference's scatter.
/// **Source** arithmetic, limits of ours. **Checked** nothing outside.
///
/// ```
/// use climate::{record::HourMean, sensors::{Sensors, together}};
///
/// let series = |warm: f64, hours: i64| {
///     (0..hours).map(|at| HourMean { at: at * 3600, temperature: warm, filled: false }).collect()
/// };
/// let told = together(&Sensors::from([("door".into(), series(-3.0, 50)), ("wall".into(), series(1.0, 60))]));
/// assert_eq!((told.mean[10].temperature, told.lowest[10].temperature), (-1.0, -3.0));
/// assert_eq!((told.mean[55].temperature, told.lowest[55].temperature), (-1.0, -3.0));
/// ```
pub fn together(sensors: &Sensors) -> Together {
    let all: Vec<&Vec<HourMean>> = sensors.values().filter(|hours| !hours.is_empty()).collect();
    if let [only] = all[..] {
        return Together { mean: only.clone(), lowest: only.clone() };
    }
    let apart = differences(&all);
    let mut hours: BTreeMap<i64, Vec<Option<HourMean>>> = BTreeMap::new();
    for (rank, series) in all.iter().enumerate() {
        for hour in series.iter().filter(|hour| !hour.filled) {
            hours.entry(hour.at).or_insert_with(|| vec![None; all.len()])[rank] = Some(*hour);
        }
    }
    let ([mut means, mut lows], mut last) = ([Vec::new(), Vec::new()], vec![None::<i64>; all.len()]);
    for (at, read) in hours {
        let mut values: Vec<f64> = read.iter().flatten().map(|hour| hour.temperature).collect();
        for (rank, own) in read.iter().enumerate() {
            if own.is_some() {
                last[rank] = Some(at);
            } else if last[rank].is_some_and(|last| at - last <= STOOD_IN) {
                let others = read
                    .iter()
                    .enumerate()
                    .filter_map(|(other, hour)| Some(hour.as_ref()?.temperature + apart[rank][other]?));
                values.extend(mean(others));
            }
        }
        means.extend(mean(values.iter().copied()).map(|mean| (at, mean)));
        lows.push((at, values.iter().copied().fold(f64::INFINITY, f64::min)));
    }
    Together { mean: bridged(means), lowest: bridged(lows) }
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = values.fold((0.0, 0.0_f64), |(sum, count), it| (sum + it, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// How much warmer each sensor is than each other on average, K; none where they have too little in common.
fn differences(all: &[&Vec<HourMean>]) -> Vec<Vec<Option<f64>>> {
    let by_time: Vec<BTreeMap<i64, f64>> = all
        .iter()
        .map(|series| series.iter().filter(|it| !it.filled).map(|it| (it.at, it.temperature)).collect())
        .collect();
    let apart = |own: &BTreeMap<i64, f64>, other: &BTreeMap<i64, f64>| {
        let gaps: Vec<f64> = own.iter().filter_map(|(at, warm)| Some(warm - other.get(at)?)).collect();
        if gaps.len() < IN_COMMON { None } else { mean(gaps.into_iter()) }
    };
    by_time.iter().map(|own| by_time.iter().map(|other| apart(own, other)).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn series(warm: f64, hours: std::ops::Range<i64>) -> Vec<HourMean> {
        hours.map(|at| HourMean { at: at * 3600, temperature: warm, filled: false }).collect()
    }

    fn of(sensors: &[(&str, Vec<HourMean>)]) -> Together {
        together(&sensors.iter().map(|(name, hours)| ((*name).to_string(), hours.clone())).collect())
    }

    #[test]
    fn one_sensor_is_itself_and_none_is_nothing() {
        let own = series(2.0, 0..5);
        assert_eq!(of(&[("a", own.clone()), ("b", vec![])]), Together { mean: own.clone(), lowest: own });
        assert_eq!(of(&[]), Together::default());
    }

    #[test]
    fn a_sensor_is_stood_in_for_a_fortnight_and_not_before_it_hung_there() {
        let told = of(&[("cold", series(-5.0, 100..200)), ("warm", series(1.0, 0..1000))]);
        let lowest = |at: usize| told.lowest[at].temperature;
        assert_eq!([lowest(50), lowest(150), lowest(300), lowest(199 + 336)], [1.0, -5.0, -5.0, -5.0]);
        assert_eq!([lowest(199 + 337), told.mean[300].temperature], [1.0, -2.0]);
    }

    #[test]
    fn sensors_with_a_day_in_common_do_not_stand_in_for_each_other() {
        let told = of(&[("cold", series(-5.0, 0..24)), ("warm", series(1.0, 0..100))]);
        assert_eq!((told.lowest[10].temperature, told.lowest[30].temperature), (-5.0, 1.0));
    }
}
