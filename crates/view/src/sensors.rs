//! Two sensors in one place: how far they are apart, which is the colder, and how to find out who is right.

use std::collections::BTreeMap;

use measure::quantity::Units;

use crate::words;

/// Hourly means of each sensor of a place.
pub type Hours = BTreeMap<String, Vec<(i64, f64)>>;

/// Two sensors beside each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Apart {
    /// Their names, the colder first; empty for what was sent before names were kept.
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
/// use view::sensors::{Hours, apart};
///
/// let hours: Hours = [("door", -2.0), ("wall", 1.0)]
///     .map(|(name, warm)| (name.to_string(), vec![(0, warm), (3600, warm - 1.0)]))
///     .into();
/// let told = apart(&hours);
/// assert_eq!((told[0].names[0].as_str(), told[0].hours, told[0].mean), ("door", 2, 3.0));
/// ```
pub fn apart(sensors: &Hours) -> Vec<Apart> {
    let mut told = Vec::new();
    for (rank, (name, hours)) in sensors.iter().enumerate() {
        let own: BTreeMap<i64, f64> = hours.iter().copied().collect();
        for (other, theirs) in sensors.iter().skip(rank + 1) {
            let gaps: Vec<f64> = theirs.iter().filter_map(|(at, warm)| Some(warm - own.get(at)?)).collect();
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
    let name =
        |name: &String| if name.is_empty() { "sent before names were kept".into() } else { name.clone() };
    let [cold, warm] = [name(&it.names[0]), name(&it.names[1])];
    format!(
        "{warm} is {} warmer than {cold} on average over {}, {} apart at most; the lower of each hour counts",
        units.difference(it.mean),
        words::count(it.hours, "hour", "hours"),
        units.difference(it.most)
    )
}
