//! `budswell check`: looks over a collection or a backup, and writes nothing.

use std::path::Path;

use anyhow::bail;
use store::read_only::{Log, ReadOnly};

use super::say;

/// Prints what is wrong, and fails if anything is or may be.
pub fn run(data: &Path) -> anyhow::Result<()> {
    let read = ReadOnly::open(data)?;
    let faults = read.faults()?;
    for fault in &faults {
        say::say!("{fault}");
    }
    if !faults.is_empty() {
        bail!("{} faults in {}", faults.len(), data.display());
    }
    let (told, reader) = (read.summary()?, read.reader());
    let held = format!(
        "{} trees, {} places, {} acts, {} files kept",
        told.trees,
        reader.places()?.len(),
        told.acts,
        reader.files()?.len()
    );
    let last = told.last.as_deref().unwrap_or("no day");
    if read.log() == Log::MayLack {
        say::say!("{}: {held}", data.display());
        bail!(
            "This file was copied while Budswell had it open, without its log. The last change in it is number {} of {last}; \
             any later ones are missing. Use `budswell backup` to copy a collection.",
            told.acts
        );
    }
    say::say!("{}: sound; {held}", data.display());
    if read.log() == Log::Unknown {
        say::say!(
            "It is from an earlier version and has no log beside it: if it was copied while Budswell ran, changes after \
             number {} of {last} are missing.",
            told.acts
        );
    }
    Ok(())
}
