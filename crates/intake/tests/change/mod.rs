//! Seeded changes to kept files: bytes, lines, pieces and words, so that a number tells an input.

use std::{fs, path::Path};

/// The words of a dictionary in libFuzzer's form: one a line in quotes, with `\xNN` for odd bytes.
pub fn words(path: &Path) -> Vec<Vec<u8>> {
    let text = fs::read_to_string(path).unwrap();
    let lines = text.lines().filter_map(|line| line.trim().strip_prefix('"')?.strip_suffix('"'));
    let found: Vec<Vec<u8>> = lines.map(word).collect();
    assert!(found.len() > 20, "the dictionary was not read");
    found
}

fn word(line: &str) -> Vec<u8> {
    let mut parts = line.split("\\x");
    let mut bytes = parts.next().unwrap_or("").as_bytes().to_vec();
    for part in parts {
        bytes.push(u8::from_str_radix(&part[..2], 16).expect("two digits"));
        bytes.extend(&part.as_bytes()[2..]);
    }
    bytes
}

/// A source of changes.
pub struct Change(u64);

impl Change {
    /// The changes of this number under this seed.
    pub fn new(seed: u64, number: u64) -> Change {
        Change(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ number.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    /// The next number (splitmix64, Steele, Lea and Flood 2014).
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// One of the files, changed one to six times.
    pub fn of(&mut self, files: &[(String, Vec<u8>)], words: &[Vec<u8>], longest: usize) -> Vec<u8> {
        let mut bytes = files[self.below(files.len())].1.clone();
        for _ in 0..=self.below(6) {
            let other = &files[self.below(files.len())].1;
            self.once(&mut bytes, other, words);
            bytes.truncate(longest);
        }
        bytes
    }

    fn once(&mut self, bytes: &mut Vec<u8>, other: &[u8], words: &[Vec<u8>]) {
        let at = self.below(bytes.len() + 1);
        match self.below(10) {
            0 => bytes.truncate(at),
            1 if at < bytes.len() => bytes[at] = self.next() as u8,
            2 if at < bytes.len() => bytes[at] ^= 1 << self.below(8),
            3 => {
                let end = (at + 1 + self.below(30)).min(bytes.len());
                bytes.drain(at.min(end)..end);
            }
            4 => {
                let end = (at + 1 + self.below(80)).min(bytes.len());
                let piece = bytes[at.min(end)..end].repeat(1 + self.below(20));
                bytes.splice(at..at, piece);
            }
            5 => {
                let digits = vec![b'0' + self.below(10) as u8; 1 + self.below(25)];
                bytes.splice(at..at, digits);
            }
            6 => {
                let from = self.below(other.len() + 1);
                bytes.truncate(at);
                bytes.extend(&other[from..]);
            }
            7 => self.lines(bytes, b'\n'),
            8 => self.cell(bytes, words),
            _ => {
                let word = words[self.below(words.len())].clone();
                bytes.splice(at..at, word);
            }
        }
    }

    /// Doubles, swaps or drops lines, or cells.
    fn lines(&mut self, bytes: &mut Vec<u8>, edge: u8) {
        let mut lines: Vec<Vec<u8>> = bytes.split(|byte| *byte == edge).map(<[u8]>::to_vec).collect();
        let (one, other) = (self.below(lines.len()), self.below(lines.len()));
        match self.below(3) {
            0 => lines.insert(one, lines[other].clone()),
            1 => lines.swap(one, other),
            _ => drop(lines.remove(one)),
        }
        *bytes = lines.join(&edge);
    }

    /// Puts a word in place of one cell, between commas, semicolons, colons and line ends.
    fn cell(&mut self, bytes: &mut Vec<u8>, words: &[Vec<u8>]) {
        let is_edge = |byte: &u8| matches!(byte, b',' | b';' | b'\n' | b'\t' | b':');
        let at = self.below(bytes.len() + 1);
        let from = bytes[..at].iter().rposition(is_edge).map_or(0, |edge| edge + 1);
        let to = bytes[at..].iter().position(is_edge).map_or(bytes.len(), |edge| at + edge);
        let word = words[self.below(words.len())].clone();
        bytes.splice(from..to, word);
    }
}
