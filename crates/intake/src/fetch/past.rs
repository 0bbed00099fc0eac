//! Past years from the service's reanalysis, for the dates that the station does not know.

use std::collections::{BTreeMap, BTreeSet};

use climate::record::{StationDay, WeatherOrigin};
use jiff::{
    Timestamp, ToSpan,
    civil::{Date, date},
    tz::TimeZone,
};
use store::{
    reader::Reader,
    store::{Act, Store},
};

use super::{FetchError, How, Service, Spot, ask, site};
use crate::forecast_reply::{self, ForecastReply};

/// First date of the archive.
const FIRST: Date = date(1940, 1, 1);

/// Days back from today to the last date that is asked for; the archive lags about five.
const LAG: i64 = 6;

/// Hours that a day must have before its low and high are believed; one is lost when clocks go forward.
const WHOLE_DAY: usize = 22;

/// What a fetch of past years brought.
#[derive(Clone, Debug, PartialEq)]
pub struct Past {
    /// First and last date asked about.
    pub span: (Date, Date),
    /// Dates that the station knew already; none of them was touched.
    pub known: usize,
    /// Days added, each with a low and a high from the reanalysis.
    pub added: usize,
    /// Where each year's reply came from, with the time it came.
    pub replies: Vec<(How, i64)>,
    /// What is worth knowing.
    pub notes: Vec<String>,
}

/// Fetches past years and adds the days that the station does not know: model data, and noted so in the log.
///
/// All years come, or nothing is written.
///
/// # Errors
///
/// [`FetchError`]; then what the collection held stands.
pub fn archive(store: &mut Store, service: &Service, years: u8, now: i64) -> Result<Past, FetchError> {
    let reader = store.reader()?;
    let (spot, zone) = site(&reader)?;
    let span = span(years, now);
    let (missing, known) = missing(&reader, &zone, span)?;
    let mut past = Past { span, known, added: 0, replies: Vec::new(), notes: Vec::new() };
    let (mut days, mut elements) = (Vec::new(), Vec::new());
    for year in by_year(&missing) {
        let got = ask::ask(service, &wanted(service, spot, &year), now)?;
        let all = days_of(&got.reply, &zone);
        let taken =
            all.into_iter().filter(|day| missing.contains(&day.date) && day.date.year() == year[0].year());
        days.extend(taken);
        elements.extend(got.reply.elements.iter().copied().filter(|hour| {
            let date = day_of(hour.at, &zone);
            missing.contains(&date) && date.year() == year[0].year()
        }));
        past.replies.push((got.how, got.at));
        past.notes.extend(got.notes.into_iter().map(|note| format!("{}: {note}", year[0].year())));
    }
    let lacking = missing.len() - days.len();
    if lacking > 0 {
        past.notes
            .push(format!("{lacking} days stay unknown: the reply has under {WHOLE_DAY} hours of them"));
    }
    if let (Some(first), Some(last)) = (days.first(), days.last()) {
        let words = format!("{} to {} from Open-Meteo (reanalysis, not a station)", first.date, last.date);
        past.added = store.transact(&Act::Import(words), |change| {
            change.add_weather_hours(WeatherOrigin::Reanalysis, &elements)?;
            change.add_modelled_days(&days)
        })?;
    }
    Ok(past)
}

fn span(years: u8, now: i64) -> (Date, Date) {
    let today = day_of(now, &TimeZone::UTC);
    let last = today - LAG.days();
    let first = today.checked_sub(i64::from(years).years()).unwrap_or(FIRST).max(FIRST);
    (first.min(last), last)
}

fn day_of(at: i64, zone: &TimeZone) -> Date {
    zone.to_datetime(Timestamp::from_second(at).unwrap_or_default()).date()
}

/// Dates of the span without a day or an hour of the station, and how many have one.
fn missing(
    reader: &Reader,
    zone: &TimeZone,
    (first, last): (Date, Date),
) -> Result<(BTreeSet<Date>, usize), FetchError> {
    let days = reader.station_days()?;
    let whole = days.iter().filter(|day| day.extremes().is_some());
    let mut held: BTreeSet<Date> = whole.map(|day| day.date).collect();
    held.extend(reader.station_hours()?.iter().map(|hour| day_of(hour.at, zone)));
    let all = first.series(1.day()).take_while(|day| *day <= last);
    let (known, missing): (BTreeSet<Date>, BTreeSet<Date>) = all.partition(|day| held.contains(day));
    Ok((missing, known.len()))
}

/// The dates year by year; no year is empty.
fn by_year(dates: &BTreeSet<Date>) -> Vec<Vec<Date>> {
    let dates: Vec<Date> = dates.iter().copied().collect();
    dates.chunk_by(|a, b| a.year() == b.year()).map(<[Date]>::to_vec).collect()
}

/// One year's question, a day wider on both sides because days there are in GMT.
fn wanted(service: &Service, spot: Spot, year: &[Date]) -> ask::Wanted {
    let first = year[0].yesterday().unwrap_or(FIRST).max(FIRST);
    let last = year[year.len() - 1].tomorrow().unwrap_or(year[0]);
    let path = forecast_reply::archive_query(spot.latitude, spot.longitude, first, last);
    ask::Wanted {
        name: format!("archive_{}_{}", year[0].year(), spot.rounded()),
        address: format!("{}{path}", service.archive),
    }
}

/// The low and high of each whole day on the site's own clock.
pub(crate) fn days_of(reply: &ForecastReply, zone: &TimeZone) -> Vec<StationDay> {
    let mut days: BTreeMap<Date, Vec<f64>> = BTreeMap::new();
    for hour in &reply.hours {
        days.entry(day_of(hour.at, zone)).or_default().push(hour.temperature);
    }
    days.into_iter()
        .filter(|(_, hours)| hours.len() >= WHOLE_DAY)
        .map(|(date, hours)| {
            let low = hours.iter().copied().fold(f64::INFINITY, f64::min);
            let high = hours.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            StationDay::of_extremes(date, low, high)
        })
        .collect()
}
