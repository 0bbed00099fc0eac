//! Weather and logger files looked through: what they mean, what they leave open, and what of them is kept.

mod logger_file;
mod reply;
mod typical;

pub(super) use logger_file::logger;

use std::collections::BTreeMap;

use climate::record::{HourMean, StationDay, WeatherDay, WeatherHour, WeatherOrigin};
use jiff::{
    civil::Date,
    tz::{Offset, TimeZone},
};
use measure::quantity::{Celsius, Units};
use store::{change::Change, error::Error, reader::Reader};

use super::{Contents, Preview, date_of, unreadable};
use crate::{
    import::{ImportQuestion, Options},
    logger::Scale,
    scale::{self, Known},
    weather::{self, Format, WeatherFile},
};

/// What a weather or logger file holds, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::import) enum WeatherContents {
    /// A station's days and hours.
    Station {
        days: Vec<StationDay>,
        others: Vec<WeatherDay>,
        hours: Vec<HourMean>,
        elements: Vec<WeatherHour>,
    },
    /// A whole typical year.
    Typical { days: Vec<(f64, f64)>, elements: Vec<WeatherHour> },
    /// A place's logger, a series for each of its sensors.
    Logger { place: String, sensors: Vec<SensorHours> },
    /// Past years of a weather model.
    Modelled { days: Vec<StationDay>, elements: Vec<WeatherHour> },
    /// A forecast of this moment; nothing where the same is held already.
    Forecast { at: i64, hours: Vec<HourMean>, elements: Vec<WeatherHour> },
}

/// Hours of one sensor of a place.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::import) struct SensorHours {
    sensor: String,
    hours: Vec<HourMean>,
    humidity: Vec<(i64, f64)>,
}

impl WeatherContents {
    /// Writes it; how many rows were new or different.
    pub(in crate::import) fn add(&self, change: &Change<'_>) -> Result<usize, Error> {
        match self {
            WeatherContents::Station { days, others, hours, elements } => {
                let days = change.add_station_days(days)?.max(change.add_weather_days(others)?);
                let hours = change.add_station_hours(hours)?;
                Ok(days + hours.max(change.add_weather_hours(WeatherOrigin::Station, elements)?))
            }
            WeatherContents::Typical { days, elements } => {
                let added = change.set_typical_year(days)?;
                Ok(added.max(change.add_weather_hours(WeatherOrigin::Typical, elements)?))
            }
            WeatherContents::Logger { place, sensors } => {
                let mut all = 0;
                for SensorHours { sensor, hours, humidity } in sensors {
                    let added = change.add_logged_hours(place, sensor, hours)?;
                    all += added.max(change.add_logged_humidity(place, sensor, humidity)?);
                }
                Ok(all)
            }
            WeatherContents::Modelled { days, elements } => {
                let added = change.add_modelled_days(days)?;
                Ok(added.max(change.add_weather_hours(WeatherOrigin::Reanalysis, elements)?))
            }
            WeatherContents::Forecast { hours, .. } if hours.is_empty() => Ok(0),
            WeatherContents::Forecast { at, hours, elements } => {
                change.set_forecast(*at, hours)?;
                change.set_forecast_elements(elements)?;
                Ok(hours.len())
            }
        }
    }
}

/// Lowest and highest of a series, for the reader to see whether the unit was read right.
fn range_note(celsius: impl Iterator<Item = f64> + Clone) -> Option<String> {
    let low = celsius.clone().fold(f64::INFINITY, f64::min);
    let high = celsius.fold(f64::NEG_INFINITY, f64::max);
    (low <= high).then(|| {
        let shown = |celsius| Units::Metric.temperature(Celsius(celsius));
        format!("read as {} to {}", shown(low), shown(high))
    })
}

/// What the collection knows of the air that a file may be of.
fn known(reader: &Reader, place: Option<&str>) -> Result<Known, Error> {
    let site = reader.site()?.map(|site| (site.latitude, site.elevation));
    let place = match place {
        Some(key) => reader.places()?.into_iter().find(|place| place.key == key),
        None => None,
    };
    let shelter = place.as_ref().map(|place| place.shelter);
    let own = match &place {
        Some(place) => means(&reader.logged(&place.key)?.together.mean),
        None => BTreeMap::new(),
    };
    if !own.is_empty() {
        return Ok(Known { site, shelter, days: own, typical: Vec::new() });
    }
    if shelter.is_some_and(|shelter| shelter.is_frost_free()) {
        return Ok(Known { site, shelter, ..Known::default() });
    }
    let mut days = means(&reader.station_hours()?);
    let whole = reader.station_days()?;
    days.extend(
        whole.iter().filter_map(|day| day.extremes().map(|(low, high)| (day.date, (low + high) / 2.0))),
    );
    let typical = reader.typical_year()?.into_iter().map(|(low, high)| (low + high) / 2.0).collect();
    Ok(Known { site, shelter, days, typical })
}

/// The mean of each day with hours.
fn means(hours: &[HourMean]) -> BTreeMap<Date, f64> {
    let mut sums: BTreeMap<Date, (f64, f64)> = BTreeMap::new();
    for hour in hours {
        let Some(date) = date_of(hour.at, &TimeZone::fixed(Offset::UTC)) else { continue };
        let sum = sums.entry(date).or_default();
        *sum = (sum.0 + hour.temperature, sum.1 + 1.0);
    }
    sums.into_iter().map(|(date, (sum, count))| (date, sum / count)).collect()
}

/// The scale to read the file's unnamed temperatures in, the question it leaves open, and what to note.
fn settled(
    unnamed: &[(i64, f64)],
    usually_celsius: bool,
    known: &Known,
    options: &Options,
) -> (Option<Scale>, Option<ImportQuestion>, Option<String>) {
    if unnamed.is_empty() || options.scale.is_some() {
        return (options.scale, None, None);
    }
    let verdict = scale::judge(unnamed, known);
    let note = |scale: Scale, why: &str| {
        let name = match scale {
            Scale::Celsius => "°C",
            Scale::Fahrenheit => "°F",
            Scale::Kelvin => "kelvin",
        };
        Some(format!("the file names no unit of temperature; read as {name}, {why}"))
    };
    if !usually_celsius {
        let note = verdict.safe.then(|| note(verdict.scale, &format!("because {}", verdict.why))).flatten();
        return (Some(verdict.scale), Some(scale::question(unnamed, &verdict)), note);
    }
    if verdict.safe && verdict.scale != Scale::Celsius {
        let question = ImportQuestion { likely: None, ..scale::question(unnamed, &verdict) };
        return (Some(Scale::Celsius), Some(question), None);
    }
    (Some(Scale::Celsius), None, note(Scale::Celsius, "as columns of these names are"))
}

/// A station's file, a typical year or a saved reply of the open weather service.
pub(super) fn station(
    reader: &Reader,
    name: &str,
    bytes: &[u8],
    zone: &TimeZone,
    options: &Options,
) -> Result<Preview, Error> {
    if reply::looks(bytes) {
        return reply::preview(reader, bytes, zone, options);
    }
    let mut file = match weather::read_as(name, bytes, zone, options) {
        Ok(file) => file,
        Err(refused) => return Ok(unreadable("weather file", refused)),
    };
    let mut questions = Vec::new();
    let mut said = None;
    if !file.unnamed.is_empty() {
        let (scale, question, note) =
            settled(&file.unnamed, file.usually_celsius, &known(reader, None)?, options);
        if scale != options.scale {
            file = match weather::read_as(name, bytes, zone, &Options { scale, ..*options }) {
                Ok(file) => file,
                Err(refused) => return Ok(unreadable("weather file", refused)),
            };
        }
        questions.extend(question);
        said = note;
    }
    if file.format == Format::Epw {
        return Ok(typical::preview(file));
    }
    let mut preview = record(file, zone, &reader.station_days()?);
    preview.notes.extend(said);
    preview.questions = questions;
    Ok(preview)
}

/// A station's days or hours with everything they tell.
fn record(file: WeatherFile, zone: &TimeZone, standing: &[StationDay]) -> Preview {
    let mut notes: Vec<String> = file.notes.iter().map(ToString::to_string).collect();
    let days: Vec<StationDay> = file
        .days
        .iter()
        .map(|day| StationDay { date: day.date, low: day.low, high: day.high, rain: day.rain })
        .filter(|day| day.low.is_some() || day.high.is_some() || day.rain.is_some())
        .collect();
    let others: Vec<WeatherDay> =
        file.days.iter().map(|day| day.others).filter(|day| !day.is_empty()).collect();
    let hours: Vec<HourMean> = file
        .hours
        .iter()
        .map(|hour| HourMean { at: hour.at, temperature: hour.temperature, filled: false })
        .collect();
    let days_range = days.iter().flat_map(|day| [day.low, day.high]).flatten();
    notes.extend(range_note(days_range.chain(hours.iter().map(|hour| hour.temperature))));
    notes.extend(rain_note(&days));
    notes.extend(against_standing(&days, standing));
    notes.extend(kept_note(&others, &file.elements));
    let ends = file.days.first().zip(file.days.last()).map(|(a, b)| (a.date, b.date));
    let ends = ends.or_else(|| Some((date_of(hours.first()?.at, zone)?, date_of(hours.last()?.at, zone)?)));
    Preview {
        format: file.format.words().into(),
        rows: file.days.len() + hours.len().max(file.elements.len()),
        span: ends,
        notes,
        questions: Vec::new(),
        refused: file.refused,
        contents: Some(Contents::Weather(WeatherContents::Station {
            days,
            others,
            hours,
            elements: file.elements,
        })),
    }
}

/// The rain of the file, so that its sum can be held against the source.
fn rain_note(days: &[StationDay]) -> Option<String> {
    let rained: Vec<f64> = days.iter().filter_map(|day| day.rain).collect();
    let bare = days.iter().filter(|day| day.rain.is_some() && day.extremes().is_none()).count();
    (!rained.is_empty()).then(|| {
        let sum: f64 = rained.iter().sum();
        let bare = if bare > 0 {
            format!(", {bare} of them days without both a low and a high")
        } else {
            String::new()
        };
        format!("rain: {sum:.1} mm on {} days{bare}", rained.len())
    })
}

/// Days of which the file has one extreme that passes the other one on record; that one is then dropped.
fn against_standing(days: &[StationDay], standing: &[StationDay]) -> Option<String> {
    let passes = |day: &&StationDay| {
        let Ok(at) = standing.binary_search_by_key(&day.date, |it| it.date) else { return false };
        match (day.low, day.high) {
            (Some(low), None) => standing[at].high.is_some_and(|high| high < low),
            (None, Some(high)) => standing[at].low.is_some_and(|low| low > high),
            _ => false,
        }
    };
    let count = days.iter().filter(passes).count();
    (count > 0).then(|| {
        format!("days whose other extreme on record cannot be beside this one, and is dropped: {count}")
    })
}

/// How much of the other elements is kept.
fn kept_note(days: &[WeatherDay], hours: &[WeatherHour]) -> Option<String> {
    use climate::record::Element;

    let of_hours = Element::ALL.into_iter().map(|element| {
        let count = hours.iter().filter(|hour| hour.get(element).is_some()).count();
        (element.words(), count, "hours")
    });
    let of_days = [
        ("mean temperature", days.iter().filter(|day| day.mean.is_some()).count(), "days"),
        ("humidity", days.iter().filter(|day| day.humidity.is_some()).count(), "days"),
        ("wind", days.iter().filter(|day| day.wind.is_some()).count(), "days"),
        ("sun (radiation)", days.iter().filter(|day| day.radiation.is_some()).count(), "days"),
        ("sunshine", days.iter().filter(|day| day.sunshine.is_some()).count(), "days"),
    ];
    let kept: Vec<String> = of_days
        .into_iter()
        .chain(of_hours)
        .filter(|(_, count, _)| *count > 0)
        .map(|(what, count, unit)| format!("{what} {count} {unit}"))
        .collect();
    (!kept.is_empty()).then(|| format!("also kept: {}", kept.join(", ")))
}

#[cfg(test)]
mod tests;
