//! `budswell may`: what may be done to a tree today, and why, and what to be careful of.

use std::path::PathBuf;

use anyhow::Context;
use clap::Args;
use jiff::civil::Date;
use state::work::Work;
use view::{cautions, verdicts};

use super::{bench::gathered, say::say};

/// Which tree, and which work.
#[derive(Args)]
pub struct May {
    /// The collection's folder.
    #[arg(long)]
    data: PathBuf,
    /// The day to stand on instead of today.
    #[arg(long)]
    today: Option<Date>,
    /// One kind of work only: repot, hard-prune, trim, pinch, defoliate, decandle, wire, unwire, layer, move or feed.
    #[arg(long)]
    work: Option<String>,
    /// The tree, by its name in addresses, as old-maple.
    tree: String,
}

/// Prints the verdict for each kind of work, with every reason.
pub fn run(given: &May) -> anyhow::Result<()> {
    let whole = gathered(&given.data, given.today)?;
    let tree = whole.tree(&given.tree).with_context(|| format!("no tree is called “{}”", given.tree))?;
    let work = given.work.as_deref().map(|word| {
        Work::from_key(word).with_context(|| format!("no work is called “{word}”; see --help for the words"))
    });
    let work = work.transpose()?;
    for line in cautions::of(&whole, tree).iter().flat_map(|it| &it.lines) {
        say!("Careful: {} ({})", line.words, line.standing);
    }
    for line in verdicts::lines(verdicts::of(&whole, tree), whole.today, whole.units()) {
        if work.is_some_and(|work| work.key() != line.key) {
            continue;
        }
        say!("{}: {}", line.work, line.answer);
        line.why.iter().for_each(|why| say!("  {why}"));
        if !line.points.is_empty() {
            say!("  points: {}", line.points);
        }
        say!("  ({})", line.standing);
    }
    Ok(())
}
