//! `budswell tonight`: who must move before dark, printed.

use std::path::Path;

use anyhow::bail;
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::store::{FILE, Store};
use view::{
    tonight::{afternoon, tonight},
    whole::whole,
};

use super::say;

/// Prints the coming night of a collection; on another day than today as seen at three in the afternoon.
pub fn run(data: &Path, day: Option<Date>) -> anyhow::Result<()> {
    if !data.join(FILE).is_file() {
        bail!("{} holds no collection", data.display());
    }
    let reader = Store::open(data)?.reader()?;
    let zone = reader.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    let now = Timestamp::now();
    let whole = whole(&reader, day.unwrap_or_else(|| zone.to_datetime(now).date()))?;
    let at = if day.is_some() { afternoon(&whole) } else { now };
    say::out(format_args!("{}", tonight(&whole, at)?.text()));
    Ok(())
}
