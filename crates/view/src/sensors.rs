//! The sensors of a place: how far they are apart, which is the colder, and what a check in ice water takes off each.

use std::collections::BTreeMap;

use climate::sensors::Sensors;
use collection::incident::IceCheck;
use jiff::civil::Date;
use measure::quantity::Units;
use season::air::Spot;
use store::logger::Logged;

use crate::words;

/// A sensor of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Sensor {
    /// Its name; empty for what came without one.
    pub name: String,
    /// The day of its last hour.
    pub last: Date,
    /// Its checks in ice water with their numbers, by day.
    pub checks: Vec<(i64, IceCheck)>,
}

/// The sensors of a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlaceSensors {
    /// Each.
    pub each: Vec<Sensor>,
    /// Of late, beside each other.
    pub apart: Vec<Apart>,
}

impl PlaceSensors {
    /// Those of a place, by what they told.
    pub fn of(place: &str, logged: &Logged, spot: Spot, checks: &[(i64, IceCheck)]) -> PlaceSensors {
        let told = logged.sensors.iter().filter_map(|(name, hours)| {
            let own = checks.iter().filter(|(_, it)| it.place == place && it.sensor == *name);
            let last = spot.solar_date(hours.last()?.at);
            Some(Sensor { name: name.clone(), last, checks: own.cloned().collect() })
        });
        let last = logged.sensors.values().filter_map(|hours| Some(hours.last()?.at)).max().unwrap_or(0);
        let of_late = logged.sensors.iter().map(|(name, hours)| {
            let since = last - OF_LATE * 86_400;
            (name.clone(), hours.iter().filter(|hour| since <= hour.at && !hour.filled).copied().collect())
        });
        PlaceSensors { each: told.collect(), apart: apart(&of_late.collect()) }
    }

    /// Their names.
    pub fn names(&self) -> Vec<String> {
        self.each.iter().map(|it| it.name.clone()).collect()
    }
}

/// Cuts what was logged off after a day.
pub(crate) fn until(mut logged: Logged, spot: Spot, today: Date) -> Logged {
    let Logged { sensors, together } = &mut logged;
    for hours in sensors.values_mut().chain([&mut together.mean, &mut together.lowest]) {
        hours.retain(|hour| spot.solar_date(hour.at) <= today);
    }
    logged
}

/// A sensor as its place's page shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct SensorRow {
    /// Its name, for the form.
    pub name: String,
    /// The same in words.
    pub title: String,
    /// Its last hour.
    pub last: String,
    /// What is taken off its readings, and by which check.
    pub words: String,
    /// The number of the last check.
    pub check: Option<i64>,
}

/// A sensor's row.
pub fn row(it: &Sensor, units: Units, today: Date) -> SensorRow {
    let check = it.checks.last();
    let words = check.map_or_else(
        || "not checked in ice water; taken as it reads".into(),
        |(_, check)| match -check.shown.0 {
            0.0 => format!("right by its ice check of {}", words::day(check.day, today)),
            off => {
                let [sign, of] = [if off < 0.0 { "\u{2212}" } else { "+" }, &units.difference(off.abs())];
                format!("corrected by {sign}{of}, ice check of {}", words::day(check.day, today))
            }
        },
    );
    let last = words::day(it.last, today);
    let title = if it.name.is_empty() { "The logger without a name" } else { &it.name }.to_string();
    SensorRow { name: it.name.clone(), title, last, words, check: check.map(|(id, _)| *id) }
}

/// What a sensor is called on pages.
fn title(name: &str) -> &str {
    if name.is_empty() { "the logger without a name" } else { name }
}

/// Two sensors beside each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Apart {
    /// Their names, the colder first; empty for what came without one.
    pub names: [String; 2],
    /// Hours that both tell.
    pub hours: usize,
    /// How much warmer the second is on average, K.
    pub mean: f64,
    /// The furthest they were apart, K.
    pub most: f64,
}

/// Days of late over which sensors are held beside each other.
pub const OF_LATE: i64 = 60;

/// A mean difference from which one of two sensors is doubted, K (our choice: loggers are sold as good to half a degree).
pub const DOUBTED: f64 = 0.5;

/// The check in ice water.
pub const ICE_CHECK: &str = "Ice-water check: fill a cup with crushed ice, add water until the ice just floats, stir, and hold the sensor in the \
    middle, in a dry bag where it is not tight, for ten minutes: it should show 0 °C (32 °F), and what it shows else is its error (the ice \
    point; common practice)";

/// Every pair of sensors with hours in common.
///
/// ```
/// use climate::record::HourMean;
/// use view::sensors::apart;
///
/// let hour = |at, temperature| HourMean { at, temperature, filled: false };
/// let hours = [("door", -2.0), ("wall", 1.0)]
///     .map(|(name, warm)| (name.to_string(), vec![hour(0, warm), hour(3600, warm - 1.0)]))
///     .into();
/// let told = apart(&hours);
/// assert_eq!((told[0].names[0].as_str(), told[0].hours, told[0].mean), ("door", 2, 3.0));
/// ```
pub fn apart(sensors: &Sensors) -> Vec<Apart> {
    let mut told = Vec::new();
    for (rank, (name, hours)) in sensors.iter().enumerate() {
        let own: BTreeMap<i64, f64> = hours.iter().map(|hour| (hour.at, hour.temperature)).collect();
        for (other, theirs) in sensors.iter().skip(rank + 1) {
            let gaps: Vec<f64> =
                theirs.iter().filter_map(|hour| Some(hour.temperature - own.get(&hour.at)?)).collect();
            if gaps.is_empty() {
                continue;
            }
            let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
            let most = gaps.iter().fold(0.0_f64, |most, gap| most.max(gap.abs()));
            let names = if mean < 0.0 { [other, name] } else { [name, other] }.map(Clone::clone);
            told.push(Apart { names, hours: gaps.len(), mean: mean.abs(), most });
        }
    }
    told
}

/// A pair in words.
pub fn say(it: &Apart, units: Units) -> String {
    let [cold, warm] = [title(&it.names[0]), title(&it.names[1])];
    format!(
        "{warm} is {} warmer than {cold} on average over {}, {} apart at most; the lower of each hour counts for frost, their mean for buds and cold",
        units.difference(it.mean),
        words::count(it.hours, "hour", "hours"),
        units.difference(it.most)
    )
}
