//! `budswell check`: looks over a collection's file.

use std::path::Path;

use anyhow::bail;
use store::store::{FILE, Store};

/// Prints what is wrong, and fails if anything is.
pub fn run(data: &Path) -> anyhow::Result<()> {
    if !data.join(FILE).is_file() {
        bail!("{} holds no collection", data.display());
    }
    let reader = Store::open(data)?.reader()?;
    let faults = reader.faults()?;
    for fault in &faults {
        println!("{fault}");
    }
    if !faults.is_empty() {
        bail!("{} faults in {}", faults.len(), data.display());
    }
    println!(
        "{}: sound; {} trees, {} places, {} acts, {} files kept",
        data.display(),
        reader.trees()?.len(),
        reader.places()?.len(),
        reader.last_act()?,
        reader.files()?.len()
    );
    Ok(())
}
