//! A saved reply of the open weather service, forecast or past years, read by the reader that fetches it.

use std::collections::BTreeSet;

use climate::record::HourMean;
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::{error::Error, reader::Reader};

use super::{Contents, Preview, WeatherContents, date_of, kept_note, range_note, unreadable};
use crate::{
    fetch::{days_of, elements_from, hours_from, measured_to},
    forecast_reply::{self, ForecastReply},
    import::Options,
    refusal::Refusal,
    weather::Format,
};

/// Degrees between the reply's grid cell and the site beyond which it is another place's.
const FAR: f64 = 0.5;

/// Whether the file is such a reply.
pub(super) fn looks(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    bytes.iter().find(|byte| !byte.is_ascii_whitespace()).is_some_and(|byte| *byte == b'{' || *byte == b'[')
}

/// Past hours alone become days of a weather model where the station has none; a reply with hours to come becomes the
/// forecast.
pub(super) fn preview(
    reader: &Reader,
    bytes: &[u8],
    zone: &TimeZone,
    options: &Options,
) -> Result<Preview, Error> {
    let format = Format::OpenMeteo.words();
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let reply = match forecast_reply::read(bytes) {
        Ok(reply) => reply,
        Err(why) => return Ok(unreadable(format, vec![why])),
    };
    if let Some(why) = wrong_place(reader, &reply)? {
        return Ok(unreadable(format, vec![why]));
    }
    let now = options.now.unwrap_or_else(|| Timestamp::now().as_second());
    let this_hour = now - now.rem_euclid(3600);
    let to_come = reply.hours.last().is_some_and(|hour| hour.at >= this_hour);
    if to_come { forecast(reader, &reply, zone, now) } else { past(reader, &reply, zone) }
}

fn wrong_place(reader: &Reader, reply: &ForecastReply) -> Result<Option<Refusal>, Error> {
    let value = format!("{:.2}, {:.2}", reply.latitude, reply.longitude);
    let Some(site) = reader.site()? else {
        let why = "the site has no place yet; set its latitude and longitude first".into();
        return Ok(Some(Refusal { line: 0, value, why }));
    };
    let apart = (reply.latitude - site.latitude.0).abs().max((reply.longitude - site.longitude.0).abs());
    Ok((apart > FAR).then(|| {
        let why = format!("is not where the site is ({:.2}, {:.2})", site.latitude.0, site.longitude.0);
        Refusal { line: 0, value, why }
    }))
}

fn notes_of(reply: &ForecastReply, hours: &[HourMean]) -> Vec<String> {
    let mut notes: Vec<String> = reply.notes.iter().map(ToString::to_string).collect();
    notes.extend(range_note(hours.iter().map(|hour| hour.temperature)));
    notes
}

fn forecast(reader: &Reader, reply: &ForecastReply, zone: &TimeZone, now: i64) -> Result<Preview, Error> {
    let this_hour = now - now.rem_euclid(3600);
    let from = measured_to(reader, zone)?.map_or(i64::MIN, |to| to.min(this_hour));
    let (hours, elements) = (hours_from(reply, from), elements_from(reply, from));
    let mut notes = notes_of(reply, &hours);
    notes.push(
        "taken as the forecast; the reply does not say when it was fetched, so it counts as of now".into(),
    );
    notes.extend(kept_note(&[], &elements));
    let held = reader.forecast()?.is_some_and(|(_, held)| held == hours);
    let span =
        hours.first().zip(hours.last()).and_then(|(a, b)| date_of(a.at, zone).zip(date_of(b.at, zone)));
    Ok(Preview {
        format: Format::OpenMeteo.words().into(),
        rows: hours.len(),
        span,
        notes,
        questions: Vec::new(),
        refused: Vec::new(),
        contents: Some(Contents::Weather(WeatherContents::Forecast {
            at: now,
            hours: if held { Vec::new() } else { hours },
            elements,
        })),
    })
}

fn past(reader: &Reader, reply: &ForecastReply, zone: &TimeZone) -> Result<Preview, Error> {
    let standing = reader.station_days()?;
    let whole = standing.iter().filter(|day| day.extremes().is_some());
    let mut known: BTreeSet<Date> = whole.map(|day| day.date).collect();
    known.extend(reader.station_hours()?.iter().filter_map(|hour| date_of(hour.at, zone)));
    let all = days_of(reply, zone);
    let count = all.len();
    let days: Vec<_> = all.into_iter().filter(|day| !known.contains(&day.date)).collect();
    let mut notes = notes_of(reply, &hours_from(reply, i64::MIN));
    notes.push("past days of a weather model, no station's record".into());
    if days.len() < count {
        notes.push(format!("days on record already, left as they are: {}", count - days.len()));
    }
    notes.extend(kept_note(&[], &reply.elements));
    let ends = days.first().zip(days.last()).map(|(a, b)| (a.date, b.date));
    Ok(Preview {
        format: Format::OpenMeteo.words().into(),
        rows: count,
        span: ends,
        notes,
        questions: Vec::new(),
        refused: Vec::new(),
        contents: Some(Contents::Weather(WeatherContents::Modelled {
            days,
            elements: reply.elements.clone(),
        })),
    })
}
