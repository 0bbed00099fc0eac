//! A logger's file looked through: a series for each sensor that it names, or one under the name that the grower gives.

use std::collections::BTreeMap;

use climate::record::HourMean;
use jiff::{civil::Date, tz::TimeZone};
use measure::quantity::Units;
use store::{error::Error, reader::Reader};

use super::{
    Contents, Preview, SensorHours, WeatherContents, date_of, known, range_note, settled, unreadable,
};
use crate::{
    import::{Choice, ImportQuestion, Options},
    limits::NAME,
    logger::{self, LoggerFile, Order},
    record,
    refusal::Refusal,
};

/// A logger's file for a place, of a sensor of this name where the file names none.
pub(in crate::import::look_through) fn logger(
    reader: &Reader,
    [place, sensor]: [&str; 2],
    bytes: &[u8],
    zone: &TimeZone,
    options: &Options,
) -> Result<Preview, Error> {
    if reader.places()?.iter().all(|known| known.key != place) {
        let why = "no place in the collection has this name".into();
        return Ok(unreadable("logger file", vec![Refusal { line: 0, value: place.into(), why }]));
    }
    let parts = logger::by_sensor(bytes);
    let named = |own: &str| if own.is_empty() { sensor.to_string() } else { own.to_string() };
    let names: Vec<String> = parts.iter().map(|(own, _)| named(own)).collect();
    let long = names.iter().find_map(|name| record::line("sensor", name, NAME).err().map(|why| (name, why)));
    if let Some((name, why)) = long {
        let refused = Refusal { line: 0, value: name.clone(), why: why.to_string() };
        return Ok(unreadable("logger file", vec![refused]));
    }
    let mut all: Option<Preview> = None;
    for ((_, text), name) in parts.iter().zip(&names) {
        let own = one(reader, [place, name], text.as_bytes(), zone, options)?;
        all = Some(match all {
            None => own,
            Some(before) => joined(before, own),
        });
    }
    let mut told = all.unwrap_or_else(|| unreadable("logger file", Vec::new()));
    if let Some(Contents::Weather(WeatherContents::Logger { sensors, .. })) = &told.contents {
        let stands = reader.logged(place)?.sensors;
        told.notes.extend(sensors.iter().filter_map(|it| replaces(it, stands.get(&it.sensor)?)));
    }
    if names.len() > 1 {
        told.notes.push(format!("sensors: {}", names.join(", ")));
    }
    Ok(told)
}

/// The hours of two sensors of one file.
fn joined(mut before: Preview, own: Preview) -> Preview {
    before.rows += own.rows;
    let ends = before.span.into_iter().chain(own.span).flat_map(|(first, last)| [first, last]);
    before.span = ends.clone().min().zip(ends.max());
    for note in own.notes {
        if !before.notes.contains(&note) {
            before.notes.push(note);
        }
    }
    // One answer holds for the whole file; that of the sensor that leaves it open is asked.
    for question in own.questions {
        match before.questions.iter_mut().find(|it| it.option == question.option) {
            Some(it) if it.likely.is_none() => {}
            Some(it) if question.likely == it.likely => {}
            Some(it) => it.likely = None,
            None => before.questions.push(question),
        }
    }
    before.refused.extend(own.refused);
    before.refused.sort_by_key(|it| it.line);
    match (&mut before.contents, own.contents) {
        (
            Some(Contents::Weather(WeatherContents::Logger { sensors, .. })),
            Some(Contents::Weather(WeatherContents::Logger { sensors: more, .. })),
        ) => more.into_iter().for_each(|it| match sensors.iter_mut().find(|own| own.sensor == it.sensor) {
            Some(own) => own.take(it),
            None => sensors.push(it),
        }),
        (before, Some(own)) if before.is_none() => *before = Some(own),
        _ => {}
    }
    before
}

/// Hours that a file must have in common with what stands before it is doubted to be of the same sensor: a day.
const IN_COMMON: usize = 24;

/// What a file must be away from what stands on average, K: a logger read out twice says the same.
const ANOTHER: f64 = 0.3;

/// What is said of a file that would take the place of other hours under the same name.
fn replaces(it: &SensorHours, stands: &[HourMean]) -> Option<String> {
    let stands: BTreeMap<i64, f64> = stands.iter().map(|hour| (hour.at, hour.temperature)).collect();
    let gaps = it.hours.iter().filter_map(|hour| Some((hour.temperature - stands.get(&hour.at)?).abs()));
    let (sum, count) = gaps.fold((0.0, 0_usize), |(sum, count), gap| (sum + gap, count + 1));
    let apart = sum / count as f64;
    (count >= IN_COMMON && apart > ANOTHER).then(|| {
        let by = Units::Metric.difference(apart);
        format!(
            "{count} of its hours stand already and differ by {by} on average; they are replaced. If it is another sensor of the place, \
             give its name: then both are kept"
        )
    })
}

impl SensorHours {
    /// Takes the rows without a name in, where they are of the same sensor; what stands stays.
    fn take(&mut self, other: SensorHours) {
        let mut hours: BTreeMap<i64, HourMean> = other.hours.into_iter().map(|it| (it.at, it)).collect();
        hours.extend(self.hours.drain(..).map(|it| (it.at, it)));
        self.hours = hours.into_values().collect();
        let mut humidity: BTreeMap<i64, f64> = other.humidity.into_iter().collect();
        humidity.extend(self.humidity.drain(..));
        self.humidity = humidity.into_iter().collect();
    }
}

fn one(
    reader: &Reader,
    [place, sensor]: [&str; 2],
    bytes: &[u8],
    zone: &TimeZone,
    options: &Options,
) -> Result<Preview, Error> {
    let mut file = match logger::read_as(bytes, zone, options) {
        Ok(file) => file,
        Err(refused) => return Ok(unreadable("logger file", refused)),
    };
    let mut questions = Vec::new();
    let mut said = None;
    if !file.unnamed.is_empty() {
        let (scale, question, note) = settled(&file.unnamed, false, &known(reader, Some(place))?, options);
        if scale != options.scale {
            file = match logger::read_as(bytes, zone, &Options { scale, ..*options }) {
                Ok(file) => file,
                Err(refused) => return Ok(unreadable("logger file", refused)),
            };
        }
        questions.extend(question);
        said = note;
    }
    if file.date_order_guessed {
        questions.push(order_question(&file, bytes, zone, options));
    }
    let mut preview = logged([place, sensor], file, zone);
    preview.notes.extend(said);
    preview.questions = questions;
    Ok(preview)
}

/// Which of the first two numbers is the day, with the dates each answer would give; the order in which the file runs
/// through far fewer days is the likely one.
fn order_question(file: &LoggerFile, bytes: &[u8], zone: &TimeZone, options: &Options) -> ImportQuestion {
    let days = |order: Order| {
        let read = match file.order == order {
            true => Some(file.clone()),
            false => logger::read_as(bytes, zone, &Options { order: Some(order), ..*options }).ok(),
        };
        read.and_then(|read| {
            let ends = read.readings.first().zip(read.readings.last())?;
            date_of(ends.0.at, zone).zip(date_of(ends.1.at, zone))
        })
    };
    let [day, month] = [Order::DayFirst, Order::MonthFirst].map(days);
    let words = |name: &str, ends: Option<(Date, Date)>| match ends {
        Some((first, last)) => format!("{name}: {first} to {last}"),
        None => format!("{name}: no date can be read"),
    };
    let length = |ends: Option<(Date, Date)>| {
        ends.map_or(i64::MAX / 8, |(first, last)| i64::from((last - first).get_days()) + 1)
    };
    let (day_length, month_length) = (length(day), length(month));
    let likely = match () {
        () if day_length * 3 <= month_length => Some("day-first"),
        () if month_length * 3 <= day_length => Some("month-first"),
        () => None,
    };
    ImportQuestion {
        option: "dates",
        words: "No day above 12 shows whether the day or the month comes first.".into(),
        choices: vec![
            Choice { key: "day-first", words: words("day first", day) },
            Choice { key: "month-first", words: words("month first", month) },
        ],
        likely,
    }
}

fn logged([place, sensor]: [&str; 2], file: LoggerFile, zone: &TimeZone) -> Preview {
    let mut notes: Vec<String> = file.notes.iter().map(ToString::to_string).collect();
    if file.date_order_guessed {
        let first = if file.order == Order::DayFirst { "day" } else { "month" };
        notes
            .push(format!("no day above 12 shows whether day or month comes first; {first} first was taken"));
    }
    let hours: Vec<HourMean> = logger::hourly(&file.readings);
    let humidity = logger::humidity(&file.readings);
    notes.extend(range_note(hours.iter().map(|hour| hour.temperature)));
    notes.push(format!("{} readings make {} hours", file.readings.len(), hours.len()));
    if !humidity.is_empty() {
        notes.push(format!("also kept: humidity {} hours", humidity.len()));
    }
    Preview {
        format: "logger file".into(),
        rows: hours.len(),
        span: hours.first().zip(hours.last()).and_then(|(a, b)| date_of(a.at, zone).zip(date_of(b.at, zone))),
        notes,
        questions: Vec::new(),
        refused: file.refused,
        contents: Some(Contents::Weather(WeatherContents::Logger {
            place: place.into(),
            sensors: vec![SensorHours { sensor: sensor.into(), hours, humidity }],
        })),
    }
}
