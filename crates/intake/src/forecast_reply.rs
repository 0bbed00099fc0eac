//! The open forecast service's public JSON reply, forecast and archive alike, and the questions that fetch it.

use climate::record::{Element, WeatherHour};
use jiff::{
    civil::Date,
    tz::{Offset, TimeZoneDatabase},
};
use measure::quantity::Fahrenheit;
use serde_json::Value;

use crate::{
    logger::stamp::{self, Order, Stamp},
    refusal::Refusal,
    weather::{
        DayRow, HourRow, Note,
        book::{DayBook, HourBook, Kind, Settled},
        note::{Tally, Why},
        text::refusal,
    },
};

/// What a reply held.
#[derive(Clone, Debug, PartialEq)]
pub struct ForecastReply {
    /// Latitude of the grid cell that answered, degrees north.
    pub latitude: f64,
    /// Longitude of the grid cell that answered, degrees east.
    pub longitude: f64,
    /// Hours in order, each once.
    pub hours: Vec<HourRow>,
    /// Hours of the other elements, in order.
    pub elements: Vec<WeatherHour>,
    /// Days in order, each once, where the reply has them.
    pub days: Vec<DayRow>,
    /// What was left out or is in doubt, counted.
    pub notes: Vec<Note>,
}

/// What is asked for by the hour.
const HOURLY: &str =
    "temperature_2m,relative_humidity_2m,precipitation,wind_speed_10m,shortwave_radiation&wind_speed_unit=ms";

/// Path and question for the hourly forecast: the last days (92 at most) and the next 16.
///
/// The place goes out with two decimals, about a kilometre: nearer than the forecast's grid, and no address.
///
/// ```
/// let path = intake::forecast_reply::query(47.4, 8.5, 7);
/// assert!(path.starts_with("/v1/forecast?latitude=47.40&longitude=8.50&hourly=temperature_2m,relative_humidity_2m,"));
/// ```
pub fn query(latitude: f64, longitude: f64, past_days: u8) -> String {
    format!(
        "/v1/forecast?latitude={latitude:.2}&longitude={longitude:.2}&hourly={HOURLY}\
         &past_days={past_days}&forecast_days=16&timezone=GMT&timeformat=unixtime"
    )
}

/// Path and question for the hours of past days, both ends included.
///
/// ```
/// use jiff::civil::date;
///
/// let path = intake::forecast_reply::archive_query(47.4, 8.5, date(2025, 11, 1), date(2026, 2, 28));
/// assert!(path.contains("&start_date=2025-11-01&end_date=2026-02-28&"));
/// ```
pub fn archive_query(latitude: f64, longitude: f64, from: Date, to: Date) -> String {
    format!(
        "/v1/archive?latitude={latitude:.2}&longitude={longitude:.2}&start_date={from}&end_date={to}\
         &hourly={HOURLY}&timezone=GMT&timeformat=unixtime"
    )
}

/// Reads a reply.
///
/// The service puts one offset on all its stamps, also past a change of clocks, so the moment is the
/// stamp less that offset in every row.
///
/// # Errors
///
/// The reply is an error, names its reason then; or is no such reply; or holds what is no temperature.
///
/// # Example
///
/// ```
/// let refused = intake::forecast_reply::read(br#"{"error": true, "reason": "Too many"}"#).unwrap_err();
/// assert_eq!(refused.value, "Too many");
/// ```
pub fn read(bytes: &[u8]) -> Result<ForecastReply, Refusal> {
    let reply: Value = serde_json::from_slice(bytes)
        .map_err(|why| refusal(why.line(), "", &format!("the reply is not whole JSON: {why}")))?;
    if reply["error"] == Value::Bool(true) {
        let reason = reply["reason"].as_str().unwrap_or("no reason given");
        return Err(refusal(0, reason, "is what the service answered"));
    }
    if reply.is_array() {
        return Err(refusal(0, "", "the reply holds several places; ask for one at a time"));
    }
    let latitude = number(&reply, "latitude", 90.0)?;
    let longitude = number(&reply, "longitude", 180.0)?;
    let offset = reply["utc_offset_seconds"].as_i64().unwrap_or(0);
    let offset = i32::try_from(offset).ok().and_then(|seconds| Offset::from_seconds(seconds).ok());
    let offset = offset.ok_or_else(|| {
        refusal(0, &reply["utc_offset_seconds"].to_string(), "is no offset from UTC in seconds")
    })?;
    let (hours, elements, tally) = hours(&reply, offset)?;
    let (days, notes) = days(&reply, offset, tally)?;
    if hours.is_empty() && days.is_empty() {
        return Err(refusal(0, "", "the reply holds neither hours nor days"));
    }
    Ok(ForecastReply { latitude, longitude, hours, elements, days, notes })
}

fn number(reply: &Value, name: &str, most: f64) -> Result<f64, Refusal> {
    let degrees = reply[name].as_f64().filter(|degrees| degrees.abs() <= most);
    degrees.ok_or_else(|| refusal(0, &reply[name].to_string(), &format!("is no {name}")))
}

/// Stamps and the values beside them.
type Column<'a> = (&'a [Value], &'a [Value]);

/// The stamps of a block and one of its columns, of equal length.
fn column<'a>(block: &'a Value, name: &str) -> Result<Option<Column<'a>>, Refusal> {
    let list = |name: &str| block[name].as_array().map(Vec::as_slice);
    match (list("time"), list(name)) {
        (Some(times), Some(values)) if times.len() == values.len() => Ok(Some((times, values))),
        (Some(times), Some(values)) => {
            let why = format!("times, but {} values of {name}", values.len());
            Err(refusal(0, &times.len().to_string(), &why))
        }
        _ => Ok(None),
    }
}

/// A value in °C or mm by the unit the reply names, `None` where the service has none.
fn value(shown: &Value, unit: &Value) -> Result<Option<f64>, Refusal> {
    if shown.is_null() {
        return Ok(None);
    }
    let number = shown.as_f64().ok_or_else(|| refusal(0, &shown.to_string(), "is not a number"))?;
    match unit.as_str() {
        Some("°C" | "mm") | None => Ok(Some(number)),
        Some("°F") => Ok(Some(Fahrenheit(number).celsius().0)),
        Some("inch") => Ok(Some(number * 25.4)),
        Some(unit) => Err(refusal(0, unit, "is no unit that is known here")),
    }
}

/// Unix seconds of a stamp: a number is UTC already, a text is on the reply's own clock.
fn moment(shown: &Value, offset: Offset) -> Result<i64, Refusal> {
    let at = match (shown.as_i64(), shown.as_str()) {
        (Some(seconds), _) => stamp::moment(seconds),
        (None, Some(text)) => match stamp::stamp(text, Order::DayFirst) {
            Some(Stamp::Wall(wall)) => stamp::on_clock(offset, wall),
            Some(Stamp::Moment(at)) => Some(at),
            None => None,
        },
        (None, None) => None,
    };
    at.ok_or_else(|| refusal(0, &shown.to_string(), "is no time"))
}

/// Hours of temperature and of the other elements, with what was noted.
type Hours = (Vec<HourRow>, Vec<WeatherHour>, Tally);

fn hours(reply: &Value, offset: Offset) -> Result<Hours, Refusal> {
    let mut book = HourBook::new(true);
    let unit = &reply["hourly_units"]["temperature_2m"];
    if let Some((times, values)) = column(&reply["hourly"], "temperature_2m")? {
        for (time, shown) in times.iter().zip(values) {
            let at = moment(time, offset)?;
            match value(shown, unit)? {
                Some(celsius) => book.put(at, celsius, 0),
                None => book.tally.add(Why::Missing, 1),
            }
        }
    }
    for (name, element) in ELEMENTS {
        elements(reply, offset, name, element, &mut book)?;
    }
    let Settled { hours, elements, tally, refused } = book.settle();
    refused.into_iter().next().map_or(Ok((hours, elements, tally)), Err)
}

/// The other elements by the service's names. Rain and radiation are of the hour before the stamp.
const ELEMENTS: [(&str, Element); 6] = [
    ("relative_humidity_2m", Element::Humidity),
    ("dew_point_2m", Element::DewPoint),
    ("wind_speed_10m", Element::Wind),
    ("shortwave_radiation", Element::Radiation),
    ("sunshine_duration", Element::Sunshine),
    ("precipitation", Element::Rain),
];

/// Reads a column of another element; one that is absent, uneven or in another unit is left out, not refused.
fn elements(
    reply: &Value,
    offset: Offset,
    name: &str,
    element: Element,
    book: &mut HourBook,
) -> Result<(), Refusal> {
    let Ok(Some((times, values))) = column(&reply["hourly"], name) else { return Ok(()) };
    let parts = match (element, reply["hourly_units"][name].as_str().unwrap_or("")) {
        (Element::Humidity, "%") | (Element::Wind, "m/s") | (Element::Radiation, "W/m²") => 1.0,
        (Element::DewPoint, "°C") | (Element::Rain, "mm") => 1.0,
        (Element::Wind, "km/h") => 1.0 / 3.6,
        (Element::Wind, "mp/h" | "mph") => 0.447_04,
        (Element::Wind, "kn") => 1852.0 / 3600.0,
        (Element::Rain, "inch") => 25.4,
        (Element::Sunshine, "s") => 1.0 / 3600.0,
        _ => {
            book.tally.add(Why::ElementUnit, 1);
            return Ok(());
        }
    };
    for (time, shown) in times.iter().zip(values) {
        let Some(value) = shown.as_f64() else { continue };
        let back = if element.is_sum() { 3600 } else { 0 };
        book.put_element(moment(time, offset)? - back, element, value * parts);
    }
    Ok(())
}

fn days(reply: &Value, offset: Offset, tally: Tally) -> Result<(Vec<DayRow>, Vec<Note>), Refusal> {
    const COLUMNS: [(&str, Kind); 4] = [
        ("temperature_2m_min", Kind::Low),
        ("temperature_2m_max", Kind::High),
        ("temperature_2m_mean", Kind::Mean),
        ("precipitation_sum", Kind::Rain),
    ];
    let mut book = DayBook::new(true);
    book.tally = tally;
    let zone = reply["timezone"].as_str().and_then(|name| TimeZoneDatabase::bundled().get(name).ok());
    for (name, kind) in COLUMNS {
        let Some((times, values)) = column(&reply["daily"], name)? else { continue };
        for (time, shown) in times.iter().zip(values) {
            let midnight = moment(time, offset)?;
            let local = jiff::Timestamp::from_second(midnight).map(|at| offset.to_datetime(at));
            let date = local.map_err(|_| refusal(0, &time.to_string(), "is no time"))?.date();
            match value(shown, &reply["daily_units"][name])? {
                Some(value) => book.put(date, kind, value, 0),
                None => book.tally.add(Why::Missing, 1),
            }
        }
    }
    let (days, mut tally, refused) = book.settle();
    if let Some(refused) = refused.into_iter().next() {
        return Err(refused);
    }
    let shifted = |day: &&DayRow| {
        let noon = day.date.at(12, 0, 0, 0);
        let zone = zone.as_ref();
        zone.is_some_and(|zone| zone.to_timestamp(noon).is_ok_and(|at| zone.to_offset(at) != offset))
    };
    tally.add(Why::DayShifted, days.iter().filter(shifted).count());
    Ok((days, tally.notes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reply(rest: &str) -> Result<ForecastReply, Refusal> {
        read(format!(r#"{{"latitude": 47.4, "longitude": 8.5, {rest}}}"#).as_bytes())
    }

    #[test]
    fn seconds_are_utc_already_and_days_take_the_offset() {
        let reply = reply(
            r#""utc_offset_seconds": 3600, "timezone": "Europe/Zurich",
               "hourly": {"time": [1767222000, 1767225600], "temperature_2m": [1.5, 2]},
               "daily_units": {"precipitation_sum": "inch"},
               "daily": {"time": [1767222000], "temperature_2m_min": [-1], "precipitation_sum": [1]}"#,
        )
        .unwrap();
        assert_eq!((reply.hours[1].at, reply.hours[1].temperature), (1_767_225_600, 2.0));
        let day = reply.days[0];
        assert_eq!((day.date.to_string().as_str(), day.rain), ("2026-01-01", Some(25.4)));
        assert!(reply.notes.iter().all(|note| note.why != Why::DayShifted));
    }

    #[test]
    fn days_past_a_change_of_clocks_are_told() {
        let reply = reply(
            r#""utc_offset_seconds": 3600, "timezone": "Europe/Zurich",
               "daily": {"time": ["2026-03-28", "2026-03-29"], "temperature_2m_max": [11, 12]}"#,
        );
        let shifted = Note { why: Why::DayShifted, count: 1, largest: None };
        assert!(reply.unwrap().notes.contains(&shifted));
    }

    #[test]
    fn what_is_no_single_reply_is_refused() {
        assert!(read(b"[]").unwrap_err().why.contains("several places"));
        assert!(read(b"<html>").unwrap_err().why.contains("JSON"));
        assert!(reply(r#""elevation": 1"#).is_err());
        let uneven = r#""hourly": {"time": [1767222000], "temperature_2m": []}"#;
        assert!(reply(uneven).unwrap_err().why.contains("0 values"));
        let hot = r#""hourly": {"time": [1767222000], "temperature_2m": [80]}"#;
        assert_eq!(reply(hot).unwrap_err().value, "80");
    }
}
