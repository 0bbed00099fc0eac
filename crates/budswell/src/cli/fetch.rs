//! `budswell fetch`: the forecast and past years from the open weather service, only when asked for.

use std::path::PathBuf;

use anyhow::bail;
use clap::Args;
use intake::fetch::{Fetched, How, Past, Service, age, archive, forecast};
use jiff::Timestamp;
use store::store::{FILE, Store};

use super::say;

/// Folder of the kept replies, inside the collection's folder.
pub const CACHE: &str = "cache";

/// What to ask for.
#[derive(Args)]
pub struct Fetch {
    /// The collection's folder.
    #[arg(long)]
    pub data: PathBuf,
    /// Past years to fill in where the station has no record; first the years, then the forecast.
    #[arg(long, value_parser = clap::value_parser!(u8).range(1..=40))]
    pub years: Option<u8>,
    /// Another address to ask for the forecast.
    #[arg(long, hide = true)]
    pub base_forecast: Option<String>,
    /// Another address to ask for past years.
    #[arg(long, hide = true)]
    pub base_archive: Option<String>,
}

impl Fetch {
    fn service(&self) -> Service {
        let mut service = Service::open_meteo(self.data.join(CACHE));
        if let Some(base) = &self.base_forecast {
            service.forecast.clone_from(base);
        }
        if let Some(base) = &self.base_archive {
            service.archive.clone_from(base);
        }
        service
    }
}

/// Fetches, and says what came and how old it is.
pub fn run(given: &Fetch) -> anyhow::Result<()> {
    if !given.data.join(FILE).is_file() {
        bail!("{} holds no collection", given.data.display());
    }
    let mut store = Store::open(&given.data)?;
    let (service, now) = (given.service(), Timestamp::now().as_second());
    if let Some(years) = given.years {
        tell_past(&archive(&mut store, &service, years, now)?);
    }
    tell_forecast(&forecast(&mut store, &service, now)?, now);
    say::say!(
        "Weather data by Open-Meteo.com, CC BY 4.0; free for non-commercial use, see https://open-meteo.com/en/terms"
    );
    Ok(())
}

fn tell_past(past: &Past) {
    let (first, last) = past.span;
    say::say!("past years, {first} to {last}: {} days added (reanalysis, not a station)", past.added);
    say::say!("the station's own record knew {} of the days; none of them was touched", past.known);
    past.notes.iter().for_each(|note| say::say!("note: {note}"));
}

fn tell_forecast(fetched: &Fetched, now: i64) {
    let to = Timestamp::from_second(fetched.to).map_or_else(|_| String::new(), |to| to.to_string());
    say::say!(
        "forecast: {} hours to {to}, {} hours since the station's last reading",
        fetched.coming,
        fetched.gap
    );
    match &fetched.how {
        How::Asked => say::say!("fetched just now"),
        How::Fresh => {
            say::say!("fetched {} ago; within the hour the service is not asked again", age(now - fetched.at))
        }
        How::Offline(why) => {
            say::say!(
                "the service cannot be reached ({why}); this is the reply of {} ago",
                age(now - fetched.at)
            );
        }
    }
    fetched.notes.iter().for_each(|note| say::say!("note: {note}"));
}
