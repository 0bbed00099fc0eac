//! Raw replies on disk, each with the time it came and the address that gave it.

use std::{fs, io, path::Path};

use super::ask::Wanted;
use crate::forecast_reply::{self, ForecastReply};

/// A kept reply that still reads.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Kept {
    pub at: i64,
    pub address: String,
    pub reply: ForecastReply,
}

/// The kept reply of this name; a file that no longer reads is as good as none.
pub(super) fn read(folder: &Path, name: &str) -> Option<Kept> {
    let bytes = fs::read(folder.join(file(name))).ok()?;
    let end = bytes.iter().position(|&byte| byte == b'\n')?;
    let (at, address) = std::str::from_utf8(&bytes[..end]).ok()?.split_once(' ')?;
    let reply = forecast_reply::read(&bytes[end + 1..]).ok()?;
    Some(Kept { at: at.parse().ok()?, address: address.into(), reply })
}

/// Keeps a reply in place of the one before, whole or not at all.
pub(super) fn keep(folder: &Path, wanted: &Wanted, now: i64, bytes: &[u8]) -> io::Result<()> {
    fs::create_dir_all(folder)?;
    let half = folder.join(format!("{}.half", wanted.name));
    let head = format!("{now} {}\n", wanted.address);
    fs::write(&half, [head.as_bytes(), bytes].concat())?;
    fs::rename(half, folder.join(file(&wanted.name)))
}

fn file(name: &str) -> String {
    format!("{name}.reply")
}
