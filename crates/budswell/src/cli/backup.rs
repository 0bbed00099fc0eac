//! `budswell backup` and `budswell restore`: a copy that holds, and the way back from it.

use std::path::{Path, PathBuf};

use clap::Args;
use jiff::{Timestamp, civil::DateTime, tz::TimeZone};
use store::{
    copies::{Copies, Occasion},
    copy::copy_to_file,
    read_only::{Log, ReadOnly, Summary},
    restore::restore,
};

/// Which collection, and where to.
#[derive(Args)]
pub struct Backup {
    /// The collection's folder.
    #[arg(long)]
    pub data: PathBuf,
    /// A folder for dated backups, or the name of a file that ends with .db; without it, the folder `backups` in the
    /// collection's folder.
    #[arg(long)]
    pub to: Option<PathBuf>,
}

/// Which collection, and from where.
#[derive(Args)]
pub struct Restore {
    /// The collection's folder; a new one, or one whose collection is then kept under a dated name.
    #[arg(long)]
    pub data: PathBuf,
    /// The backup, or a folder with a collection.
    #[arg(long)]
    pub from: PathBuf,
}

/// Now, by the clock of this machine.
pub fn now() -> DateTime {
    TimeZone::system().to_datetime(Timestamp::now())
}

/// Makes a backup and prints where it is.
pub fn backup(given: &Backup) -> anyhow::Result<()> {
    let read = ReadOnly::open(&given.data)?;
    let told = in_words(&read.summary()?);
    let file = given.to.as_deref().filter(|to| !to.is_dir() && to.extension().is_some_and(|it| it == "db"));
    if let Some(file) = file {
        copy_to_file(&read, file)?;
        super::say::say!("{}: {told}; checked", file.display());
    } else {
        let copies =
            given.to.as_deref().map_or_else(|| Copies::of_collection(&given.data), Copies::in_folder);
        let copy = copies.add(&read, now(), &Occasion::Day)?;
        super::say::say!("{}: {told}; checked", copy.path.display());
        copies.thin_out()?.iter().for_each(|name| super::say::say!("deleted the old backup {name}"));
    }
    tell_log(read.log(), &given.data);
    Ok(())
}

/// Puts a backup in its place and prints what it holds.
pub fn run_restore(given: &Restore) -> anyhow::Result<()> {
    let done = restore(&given.data, &given.from, now())?;
    super::say::say!("{}: {}", given.data.display(), in_words(&done.now));
    if let Some(kept) = done.kept {
        super::say::say!("The collection that was there is kept as {}", kept.display());
    }
    tell_log(done.log, &given.from);
    Ok(())
}

fn in_words(it: &Summary) -> String {
    let last = it.last.as_deref().unwrap_or("no day");
    format!("{} trees, {} acts, the last of {last}", it.trees, it.acts)
}

fn tell_log(log: Log, from: &Path) {
    let from = from.display();
    match log {
        Log::Whole => {}
        Log::MayLack => super::say::say!(
            "Careful: {from} was open when it was copied, without its log; its latest changes may be missing."
        ),
        Log::Unknown => super::say::say!(
            "{from} is from an earlier version and has no log beside it; if it was copied while Budswell ran, its latest changes \
             are missing."
        ),
    }
}
