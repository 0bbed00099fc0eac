//! `budswell repots`, `share` and `soil`: who goes this season, which pot for which tree, and what to order by when.

use std::path::PathBuf;

use anyhow::Context;
use clap::Args;
use jiff::civil::Date;
use view::{pots::share::share, repots};

use super::{bench::gathered, say};

/// A collection on a day.
#[derive(Args)]
pub struct On {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The day to stand on instead of today.
    #[arg(long)]
    today: Option<Date>,
}

/// Which repots.
#[derive(Args)]
pub struct Repots {
    #[command(flatten)]
    on: On,
    /// One tree's bench, by its name in addresses, as old-maple.
    tree: Option<String>,
}

/// Prints the season's repots, or the bench of one tree.
pub fn repots(given: &Repots) -> anyhow::Result<()> {
    let whole = gathered(&given.on.data, given.on.today)?;
    match &given.tree {
        Some(key) => {
            let tree = whole.tree(key).with_context(|| format!("no tree is called “{key}”"))?;
            say::out(format_args!("{}", repots::bench::bench(&whole, tree).text()));
        }
        None => say::out(format_args!("{}", repots::repots(&whole).text())),
    }
    Ok(())
}

/// Prints which pot goes to which tree, and in which order.
pub fn pots(given: &On) -> anyhow::Result<()> {
    say::out(format_args!("{}", share(&gathered(&given.data, given.today)?, None).text()));
    Ok(())
}

/// Prints what to order, and by when.
pub fn soil(given: &On) -> anyhow::Result<()> {
    say::out(format_args!("{}", repots::goods::soil(&gathered(&given.data, given.today)?).text()));
    Ok(())
}
