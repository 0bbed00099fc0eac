//! The opt-in fetch of a forecast and of past years from the open weather service Open-Meteo.

mod ask;
mod cache;
mod past;

use std::{path::PathBuf, time::Duration};

use climate::record::{HourMean, WeatherHour};
use jiff::tz::TimeZone;
use store::{
    reader::Reader,
    store::{Act, Store},
};

use crate::forecast_reply::{self, ForecastReply};

pub use ask::How;
pub(crate) use past::days_of;
pub use past::{Past, archive};

/// Where to ask, where replies are kept, and how long to wait.
#[derive(Clone, Debug)]
pub struct Service {
    /// Base address of the forecast.
    pub forecast: String,
    /// Base address of the archive of past years.
    pub archive: String,
    /// Folder of the kept replies; made when the first one comes.
    pub cache: PathBuf,
    /// Longest wait for one reply.
    pub patience: Duration,
    /// Wait before the first repeat; the next one is twice as long.
    pub pause: Duration,
}

impl Service {
    /// The open service at its public addresses.
    ///
    /// ```
    /// let service = intake::fetch::Service::open_meteo("cache".into());
    /// assert_eq!(service.forecast, "https://api.open-meteo.com");
    /// ```
    pub fn open_meteo(cache: PathBuf) -> Service {
        Service {
            forecast: "https://api.open-meteo.com".into(),
            archive: "https://archive-api.open-meteo.com".into(),
            cache,
            patience: Duration::from_secs(10),
            pause: Duration::from_secs(1),
        }
    }
}

/// What a fetch brought.
#[derive(Clone, Debug, PartialEq)]
pub struct Fetched {
    /// When the reply came from the service, seconds since 1970.
    pub at: i64,
    /// Hours from now on.
    pub coming: usize,
    /// Hours between the station's last reading and now, from the service's model.
    pub gap: usize,
    /// Start of the last hour, seconds since 1970.
    pub to: i64,
    /// Where the reply came from.
    pub how: How,
    /// What is worth knowing.
    pub notes: Vec<String>,
}

/// Why there is nothing new; what the collection held stands.
#[derive(Debug, thiserror::Error)]
pub enum FetchError {
    /// Nobody said where the collection stands.
    #[error("the site has no place yet; set its latitude and longitude first")]
    NoSite,
    /// The service could not be reached, and no earlier reply is kept.
    #[error("the service cannot be reached ({why}); {}", held_words(*.held))]
    Offline {
        /// What the line said.
        why: String,
        /// Age of the forecast that the collection still holds, seconds.
        held: Option<i64>,
    },
    /// The service says no.
    #[error("the service says no (status {status}): {reason}")]
    Refused {
        /// The status it gave.
        status: u16,
        /// Its reason.
        reason: String,
    },
    /// The reply is not what the service's own papers promise.
    #[error("the reply was not understood: {0}")]
    NotUnderstood(String),
    /// The store did not do it.
    #[error(transparent)]
    Store(#[from] store::error::Error),
}

fn held_words(held: Option<i64>) -> String {
    held.map_or("no forecast is held".into(), |held| {
        format!("the forecast that is held was fetched {} ago and stands", age(held))
    })
}

/// An age in the largest unit that tells it.
///
/// ```
/// assert_eq!(intake::fetch::age(7_300), "2 hours");
/// assert_eq!(intake::fetch::age(3 * 86_400), "3 days");
/// ```
pub fn age(seconds: i64) -> String {
    let minutes = seconds.max(0) / 60;
    let (number, unit) = match minutes {
        0 => return "less than a minute".into(),
        1..120 => (minutes, "minute"),
        120..2880 => (minutes / 60, "hour"),
        _ => (minutes / 1440, "day"),
    };
    if number == 1 { format!("1 {unit}") } else { format!("{number} {unit}s") }
}

/// Where on Earth to ask for.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spot {
    latitude: f64,
    longitude: f64,
}

impl Spot {
    /// As it goes out and names a kept reply: two decimals and no more.
    fn rounded(self) -> String {
        format!("{:.2}_{:.2}", self.latitude, self.longitude)
    }
}

fn site(reader: &Reader) -> Result<(Spot, TimeZone), FetchError> {
    let site = reader.site()?.ok_or(FetchError::NoSite)?;
    let zone = TimeZone::get(&site.zone).unwrap_or(TimeZone::UTC);
    Ok((Spot { latitude: site.latitude.0, longitude: site.longitude.0 }, zone))
}

/// The forecast to ask for, read from the collection so that nothing is locked while the line is slow.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    spot: Spot,
    past_days: u8,
    held: Option<i64>,
}

impl Question {
    /// The question that fits the collection: its place, and back to the station's last reading.
    ///
    /// # Errors
    ///
    /// [`FetchError::NoSite`], or the store's.
    pub fn of(reader: &Reader, now: i64) -> Result<Question, FetchError> {
        let (spot, zone) = site(reader)?;
        let gap = measured_to(reader, &zone)?.map_or(i64::MAX, |to| (now - to).max(0) / 86_400 + 1);
        let past_days = [7, 31].into_iter().find(|&days| gap <= i64::from(days)).unwrap_or(92);
        Ok(Question { spot, past_days, held: reader.forecast()?.map(|(at, _)| at) })
    }

    /// Asks the service, or takes the reply that is kept when it is younger than an hour or the line is down.
    ///
    /// # Errors
    ///
    /// [`FetchError`], but not the store's.
    pub fn ask(&self, service: &Service, now: i64) -> Result<Reply, FetchError> {
        let path = forecast_reply::query(self.spot.latitude, self.spot.longitude, self.past_days);
        let wanted = ask::Wanted {
            name: format!("forecast_{}", self.spot.rounded()),
            address: format!("{}{path}", service.forecast),
        };
        let got = ask::ask(service, &wanted, now).map_err(|why| self.with_held(why, now))?;
        Ok(Reply { question: self.clone(), got })
    }

    fn with_held(&self, why: FetchError, now: i64) -> FetchError {
        match why {
            FetchError::Offline { why, .. } => {
                FetchError::Offline { why, held: self.held.map(|at| now - at) }
            }
            other => other,
        }
    }
}

/// A forecast that came and is not written yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Reply {
    question: Question,
    got: ask::Got,
}

impl Reply {
    /// Writes the hours from now on, and those since the station's last reading, as the forecast.
    ///
    /// The station's own record is never touched. What is held already makes no new act.
    ///
    /// # Errors
    ///
    /// [`FetchError`] when no hour is of use, or the store's.
    pub fn keep(self, store: &mut Store, now: i64) -> Result<Fetched, FetchError> {
        let reader = store.reader()?;
        let (_, zone) = site(&reader)?;
        let this_hour = now - now.rem_euclid(3600);
        let from = measured_to(&reader, &zone)?.map_or(i64::MIN, |to| to.min(this_hour));
        let hours = hours_from(&self.got.reply, from);
        let elements = elements_from(&self.got.reply, from);
        let Some(last) = hours.last() else { return Err(self.useless(now)) };
        let coming = hours.iter().filter(|hour| hour.at >= this_hour).count();
        let fetched = Fetched {
            at: self.got.at,
            coming,
            gap: hours.len() - coming,
            to: last.at,
            how: self.got.how,
            notes: self.got.notes,
        };
        if reader.forecast()?.is_none_or(|held| held != (fetched.at, hours.clone())) {
            store.transact(&Act::Fetch, |change| {
                change.set_forecast(fetched.at, &hours)?;
                change.set_forecast_elements(&elements)
            })?;
        }
        Ok(fetched)
    }

    fn useless(self, now: i64) -> FetchError {
        match self.got.how {
            How::Offline(why) => self.question.with_held(FetchError::Offline { why, held: None }, now),
            _ => FetchError::NotUnderstood("it holds no hour past the station's record".into()),
        }
    }
}

/// Takes a reply that is in hand as the forecast of a moment: the hours from then on.
///
/// # Errors
///
/// [`FetchError`] when it is no reply or holds no hour from then on, or the store's.
pub fn take(store: &mut Store, reply: &[u8], at: i64) -> Result<usize, FetchError> {
    let reply = forecast_reply::read(reply).map_err(|why| FetchError::NotUnderstood(why.to_string()))?;
    let hours = hours_from(&reply, at);
    if hours.is_empty() {
        return Err(FetchError::NotUnderstood("it holds no hour to come".into()));
    }
    let elements = elements_from(&reply, at);
    store.transact(&Act::Fetch, |change| {
        change.set_forecast(at, &hours)?;
        change.set_forecast_elements(&elements)
    })?;
    Ok(hours.len())
}

/// The other elements of the hours from a moment on.
pub(crate) fn elements_from(reply: &ForecastReply, from: i64) -> Vec<WeatherHour> {
    reply.elements.iter().filter(|hour| hour.at >= from).copied().collect()
}

/// The hours from a moment on.
pub(crate) fn hours_from(reply: &ForecastReply, from: i64) -> Vec<HourMean> {
    let hours = reply.hours.iter().filter(|hour| hour.at >= from);
    hours.map(|hour| HourMean { at: hour.at, temperature: hour.temperature, filled: false }).collect()
}

/// The moment up to which the station's record runs.
pub(crate) fn measured_to(reader: &Reader, zone: &TimeZone) -> Result<Option<i64>, store::error::Error> {
    let days = reader.station_days()?;
    let day = days.iter().rfind(|day| day.extremes().is_some()).and_then(|day| {
        let midnight = day.date.tomorrow().ok()?.at(0, 0, 0, 0);
        Some(zone.to_timestamp(midnight).ok()?.as_second())
    });
    let hour = reader.station_hours()?.last().map(|hour| hour.at + 3600);
    Ok(day.max(hour))
}

/// Fetches the forecast for the collection's site and keeps it.
///
/// # Errors
///
/// [`FetchError`]; then what the collection held stands.
pub fn forecast(store: &mut Store, service: &Service, now: i64) -> Result<Fetched, FetchError> {
    Question::of(&store.reader()?, now)?.ask(service, now)?.keep(store, now)
}
