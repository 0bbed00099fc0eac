//! `budswell leaves`: which trees are in leaf, when their leaves turn, and which are asked about.

use std::path::PathBuf;

use clap::Args;
use jiff::civil::Date;

use super::{bench::gathered, say::say};

/// Which collection, and on which day.
#[derive(Args)]
pub struct Leaves {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The day to stand on instead of today.
    #[arg(long)]
    today: Option<Date>,
}

/// Prints a line for each tree that drops its leaves.
pub fn run(given: &Leaves) -> anyhow::Result<()> {
    let whole = gathered(&given.data, given.today)?;
    for tree in &whole.trees {
        let Some(row) = view::leaf::leaf(&whole, tree) else { continue };
        let asked = if row.is_asked { "; still in leaf?" } else { "" };
        say!("{}: {} ({}){asked}", tree.tree.name, row.words, row.chance);
        if !row.note.is_empty() {
            say!("  {}", row.note);
        }
    }
    Ok(())
}
