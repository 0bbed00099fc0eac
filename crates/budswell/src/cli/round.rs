//! `budswell round`: which pots need water before the next possible visit, in walking order.

use std::path::PathBuf;

use anyhow::{Context, bail};
use clap::Args;
use jiff::{
    Timestamp,
    civil::{Date, DateTime},
    tz::TimeZone,
};
use store::store::{FILE, Store};
use view::{round::round, verdicts::feed, water, whole::whole};

use super::say;

/// Whose round and when.
#[derive(Args)]
pub struct Round {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The moment by the site's clock, as 2026-07-14T06:30; now without it.
    #[arg(long)]
    at: Option<DateTime>,
}

/// Prints the round.
pub fn run(given: &Round) -> anyhow::Result<()> {
    if !given.data.join(FILE).is_file() {
        bail!("{} holds no collection", given.data.display());
    }
    let reader = Store::open(&given.data)?.reader()?;
    let zone = reader.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    let (day, now): (Date, i64) = match given.at {
        Some(at) => (at.date(), water::moment(at, &zone)),
        None => (zone.to_datetime(Timestamp::now()).date(), Timestamp::now().as_second()),
    };
    let whole = whole(&reader, day)?;
    let page = round(&whole, now).context("no site or no weather yet")?;
    say::out(format_args!("{}", page.text()));
    for it in feed(&whole) {
        let names: Vec<&str> = it.trees.iter().map(|(_, name)| name.as_str()).collect();
        say::out(format_args!("Feed, {}: {}\n", it.words, names.join(", ")));
    }
    Ok(())
}
