//! What a file is, told from its first bytes and its length before SQLite opens it.

use std::{
    fmt, fs,
    io::{self, Read},
    path::Path,
};

/// The number in the header by which a collection is known, "Buds" in ASCII; set by migration 10.
pub const APPLICATION_ID: i64 = 0x4275_6473;

const MAGIC: &[u8; 16] = b"SQLite format 3\0";
const HEADER: usize = 100;

/// Why a file is no collection.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Not one byte.
    Empty,
    /// Readable text.
    Text,
    /// Bytes of some other kind.
    Strange,
    /// Fewer bytes than its header tells.
    CutOff {
        /// Bytes that its header tells.
        told: u64,
        /// Bytes that are there.
        found: u64,
    },
    /// A database, of another program.
    Foreign,
    /// A database without a single table.
    Bare,
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Empty => write!(out, "the file is empty (0 bytes)"),
            Fault::Text => write!(out, "it is a text file, not a collection"),
            Fault::Strange => write!(out, "it is not a collection, nor any database"),
            Fault::CutOff { told, found } => {
                write!(out, "it is cut off: {found} bytes of {told} are there, so copy or download it again")
            }
            Fault::Foreign => write!(out, "it is a database of another program"),
            Fault::Bare => write!(out, "it is a database without any records"),
        }
    }
}

/// What is wrong with a file by its header and length; nothing for what looks like a whole database.
///
/// With a log beside it a file may be shorter than its header tells, since the log holds the rest.
///
/// # Errors
///
/// When the file cannot be read.
pub fn fault(path: &Path, has_log: bool) -> io::Result<Option<Fault>> {
    let found = fs::metadata(path)?.len();
    let mut head = Vec::with_capacity(HEADER);
    fs::File::open(path)?.take(HEADER as u64).read_to_end(&mut head)?;
    Ok(of_bytes(&head, found, has_log))
}

fn of_bytes(head: &[u8], found: u64, has_log: bool) -> Option<Fault> {
    if found == 0 {
        return Some(Fault::Empty);
    }
    if !head.starts_with(MAGIC) {
        if head.len() < MAGIC.len() && MAGIC.starts_with(head) {
            return Some(Fault::CutOff { told: HEADER as u64, found });
        }
        return Some(if is_text(head) { Fault::Text } else { Fault::Strange });
    }
    let (Some(size), Some(pages), HEADER) = (page_size(head), number(head, 28), head.len()) else {
        return Some(Fault::CutOff { told: HEADER as u64, found });
    };
    // The count of pages holds only when the file was last written by a SQLite that keeps it.
    let holds = number(head, 24) == number(head, 92);
    let told = if holds { size * u64::from(pages) } else { found.next_multiple_of(size) };
    (!has_log && found < told).then_some(Fault::CutOff { told, found })
}

/// Bytes per page; a header may store 1 for 65,536.
fn page_size(head: &[u8]) -> Option<u64> {
    let stored = u16::from_be_bytes(head.get(16..18)?.try_into().ok()?);
    match stored {
        1 => Some(65_536),
        512.. if stored.is_power_of_two() => Some(u64::from(stored)),
        _ => Some(512),
    }
}

fn number(head: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_be_bytes(head.get(at..at + 4)?.try_into().ok()?))
}

fn is_text(head: &[u8]) -> bool {
    // The last character may be cut in two.
    let whole = match std::str::from_utf8(head) {
        Ok(text) => text,
        Err(why) if why.error_len().is_none() => {
            std::str::from_utf8(&head[..why.valid_up_to()]).unwrap_or("\0")
        }
        Err(_) => "\0",
    };
    whole.chars().all(|letter| !letter.is_control() || letter.is_whitespace())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn header(pages: u32) -> Vec<u8> {
        let mut head = vec![0; HEADER];
        head[..16].copy_from_slice(MAGIC);
        head[16..18].copy_from_slice(&4096u16.to_be_bytes());
        head[28..32].copy_from_slice(&pages.to_be_bytes());
        head
    }

    #[test]
    fn each_kind_of_file_is_known_by_its_first_bytes() {
        let cut = |told, found| Some(Fault::CutOff { told, found });
        for (head, found, has_log, told) in [
            (vec![], 0, false, Some(Fault::Empty)),
            (b"name,taxon\nold maple,\xc3".to_vec(), 23, false, Some(Fault::Text)),
            (b"\xff\xd8\xff\xe0\0\x10JFIF\0".to_vec(), 11, false, Some(Fault::Strange)),
            (b"SQLite f".to_vec(), 8, false, cut(100, 8)),
            (header(3)[..60].to_vec(), 60, false, cut(100, 60)),
            (header(3), 12_288, false, None),
            (header(3), 12_287, false, cut(12_288, 12_287)),
            (header(3), 8_192, true, None),
            (header(3), 16_384, false, None),
        ] {
            assert_eq!(of_bytes(&head, found, has_log), told, "{found} bytes of {head:?}");
        }
    }
}
