//! One row of a batch: what it is about, when, how much, in which unit.

use collection::{
    key,
    reading::{Measured, Reading},
};
use jiff::{Timestamp, civil::DateTime};
use measure::quantity::{Celsius, Fahrenheit, Percent};
use serde_json::Value;

use crate::weight;

/// Air that a sensor near trees can have measured, °C; a guard of this house.
const AIR: std::ops::RangeInclusive<f64> = -60.0..=60.0;

/// The start of 2000: no reading is older, so an earlier clock was never set.
const OLDEST: i64 = 946_684_800;

/// How far a sensor's clock may run ahead, seconds.
const AHEAD: i64 = 600;

/// Most letters of a cell shown back.
const SHOWN: usize = 60;

/// What stood there, and why it cannot be taken.
type No = (String, String);

fn no(value: &Value, why: &str) -> No {
    let text = match value {
        Value::String(text) => text.chars().take(SHOWN).collect(),
        Value::Array(_) => "a list".to_string(),
        Value::Object(_) => "an object".to_string(),
        other => other.to_string(),
    };
    (text, why.to_string())
}

/// The reading a row tells, as seen at the moment `now`.
pub(super) fn read(row: &Value, now: i64) -> Result<Reading, No> {
    if !row.is_object() {
        return Err(no(row, "is not a reading with place or tree, kind, at and value"));
    }
    let cell = |name: &str| row.get(name).unwrap_or(&Value::Null);
    let at = moment(cell("at"), now)?;
    let value = cell("value");
    let Some(figure) = value.as_f64().filter(|figure| figure.is_finite()) else {
        return Err(no(value, "is not a number; a value is written as 3.1"));
    };
    let unit = unit(cell("unit"))?;
    let kind = cell("kind");
    let (about, measured) = match kind.as_str() {
        Some("temperature") => ("place", temperature(figure, unit).map_err(|why| no(value, why))?),
        Some("humidity") => ("place", humidity(figure, unit).map_err(|why| no(value, why))?),
        Some("weight") => ("tree", weigh(figure, unit).map_err(|why| no(value, &why))?),
        _ => return Err(no(kind, "is no kind of reading; there are temperature, humidity and weight")),
    };
    let name = cell(about);
    match name.as_str().map(key::from_name).filter(|key| !key.is_empty()) {
        Some(thing) => Ok(Reading { thing, at, measured }),
        None => Err(no(name, &format!("{} needs a {about} by its name", measured.kind()))),
    }
}

/// The unit without its ring, or nothing.
fn unit(cell: &Value) -> Result<&str, No> {
    match cell {
        Value::Null => Ok(""),
        Value::String(unit) => Ok(unit.trim().trim_start_matches('°')),
        other => Err(no(other, "is not a unit")),
    }
}

fn temperature(figure: f64, unit: &str) -> Result<Measured, &'static str> {
    let celsius = match unit {
        "" | "C" | "c" => Celsius(figure),
        "F" | "f" => Fahrenheit(figure).celsius(),
        _ => return Err("is in no unit of temperature; use C or F"),
    };
    if AIR.contains(&celsius.0) {
        Ok(Measured::Temperature(celsius))
    } else {
        Err("no air is that cold or hot; is it another unit, or what the sensor writes when it fails?")
    }
}

fn humidity(figure: f64, unit: &str) -> Result<Measured, &'static str> {
    match unit {
        "" | "%" if (0.0..=100.0).contains(&figure) => Ok(Measured::Humidity(Percent(figure))),
        "" | "%" => Err("humidity runs from 0 to 100 %"),
        _ => Err("is in no unit of humidity; use %"),
    }
}

fn weigh(figure: f64, unit: &str) -> Result<Measured, String> {
    match unit {
        "g" | "kg" | "lb" | "oz" => weight::read(&format!("{figure} {unit}")).map(Measured::Weight),
        "" => Err("a weight needs its unit; use g, kg or lb".into()),
        _ => Err("is in no unit of weight; use g, kg or lb".into()),
    }
}

/// The second a reading was taken: a time with its offset, or seconds since 1970.
fn moment(cell: &Value, now: i64) -> Result<i64, No> {
    let at = match cell {
        Value::String(text) => match text.trim().parse::<Timestamp>() {
            Ok(at) => at.as_millisecond().div_euclid(1000),
            Err(_) if text.trim().parse::<DateTime>().is_ok() => {
                return Err(no(cell, "does not say of which clock; end it with Z or an offset as +02:00"));
            }
            Err(_) => return Err(no(cell, "is not a time written as 2026-07-14T06:40:00Z")),
        },
        Value::Number(number) => match number.as_i64().or(number.as_f64().map(|at| at.floor() as i64)) {
            Some(at) => at,
            None => return Err(no(cell, "is not a time in seconds since 1970")),
        },
        _ => return Err(no(cell, "a reading needs its time, as 2026-07-14T06:40:00Z or seconds since 1970")),
    };
    if at > now.saturating_add(AHEAD) {
        let why =
            "has not come yet; is the sensor's clock right, and does it count seconds, not thousandths?";
        return Err(no(cell, why));
    }
    if at < OLDEST {
        return Err(no(cell, "is before 2000; was the sensor's clock ever set?"));
    }
    Ok(at)
}
