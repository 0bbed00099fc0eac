//! `budswell bench`, `wires` and `photo`: a tree's card, the wires to look at, and a photo taken in.

use std::{fs, path::PathBuf};

use anyhow::{Context, bail};
use clap::Args;
use intake::photo::{PhotoForm, keep};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use store::store::{FILE, Store};
use view::{
    limbs::{bench::card, wires},
    whole::{Whole, whole},
};

use super::say;

/// Which tree's card.
#[derive(Args)]
pub struct Bench {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The day to stand on instead of today.
    #[arg(long)]
    today: Option<Date>,
    /// The tree's name in addresses, as old-maple.
    tree: String,
}

/// Which wires.
#[derive(Args)]
pub struct Wires {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The day to stand on instead of today.
    #[arg(long)]
    today: Option<Date>,
    /// Free hours.
    #[arg(long, default_value_t = 2.0)]
    hours: f64,
}

/// A photo to take in.
#[derive(Args)]
pub struct Photo {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The tree's name in addresses, as old-maple.
    #[arg(long)]
    tree: String,
    /// The day it was taken, where the camera does not tell.
    #[arg(long, default_value = "")]
    day: String,
    /// The hour it was taken from; 6 is today's front.
    #[arg(long, default_value = "")]
    clock: String,
    /// What it shows: whole, part or roots.
    #[arg(long, default_value = "")]
    subject: String,
    /// JPEG or PNG.
    file: PathBuf,
}

fn opened(data: &std::path::Path) -> anyhow::Result<(Store, Date)> {
    if !data.join(FILE).is_file() {
        bail!("{} holds no collection", data.display());
    }
    let store = Store::open(data)?;
    let zone =
        store.reader()?.site()?.and_then(|site| TimeZone::get(&site.zone).ok()).unwrap_or(TimeZone::UTC);
    Ok((store, zone.to_datetime(Timestamp::now()).date()))
}

/// A collection as the pages see it on a day.
pub fn gathered(data: &std::path::Path, today: Option<Date>) -> anyhow::Result<Whole> {
    let (store, now) = opened(data)?;
    Ok(whole(&store.reader()?, today.unwrap_or(now))?)
}

/// Prints a tree's card.
pub fn bench(given: &Bench) -> anyhow::Result<()> {
    let whole = gathered(&given.data, given.today)?;
    let tree = whole.tree(&given.tree).with_context(|| format!("no tree is called “{}”", given.tree))?;
    say::out(format_args!("{}", card(&whole, tree).text()));
    Ok(())
}

/// Prints the wires, the one to look at first on top.
pub fn wires(given: &Wires) -> anyhow::Result<()> {
    let whole = gathered(&given.data, given.today)?;
    say::out(format_args!("{}", wires::page(&whole, None, given.hours).text()));
    Ok(())
}

/// Takes a photo in.
pub fn photo(given: &Photo) -> anyhow::Result<()> {
    let (mut store, today) = opened(&given.data)?;
    let bytes = fs::read(&given.file).with_context(|| given.file.display().to_string())?;
    let form = PhotoForm {
        tree: &given.tree,
        day: &given.day,
        subject: &given.subject,
        clock: &given.clock,
        note: "",
    };
    let kept = keep(&mut store, form, &bytes, today).with_context(|| given.file.display().to_string())?;
    let told = if kept.day_told { "" } else { ", a day nobody told" };
    say::say!("{}: {} × {} pixels, {}{told}", kept.key, kept.wide, kept.high, kept.day);
    Ok(())
}
