//! Odd values, and a seeded choice among them.

use super::request::MARK;

/// What fingers, scripts and other programs leave in a field.
const ODD: [&str; 76] = [
    "",
    " ",
    "0",
    "-0",
    "1",
    "-1",
    "2.7",
    "0.1",
    "1e308",
    "-1e308",
    "1e-308",
    "1e400",
    "NaN",
    "inf",
    "-inf",
    "1,5",
    "1.2.3",
    "99999999999999999999",
    "9223372036854775807",
    "-9223372036854775808",
    "4294967296",
    "0x10",
    "١٢",
    "１２",
    "½",
    "٢٠٢٦-٠٣-٠٨",
    "2026-02-30",
    "2026-13-01",
    "9999-12-31",
    "9999-12-31T23:59",
    "0000-01-01",
    "-000001-01-01",
    "-9999-01-01",
    "1969-12-31",
    "1899-12-31",
    "2026-03-08",
    "2026-03-09",
    "2027-01-01",
    "2026-03-29T02:30",
    "2026-03-08T05:00",
    "2026-03-08 05:00\n",
    "2026-07-20T18:00",
    "2035-01-01T00:00",
    "2026-W10-7",
    "20260308",
    "24:00",
    "23:59:60",
    "25:00",
    "-2 kg",
    "1e30 kg",
    "80 CHF",
    "-80 CHF",
    "101 %",
    "-5 %",
    "1 mile",
    "12 in",
    "0 mm",
    "<b data-odd>",
    "\"><b data-odd>",
    "'><b data-odd>",
    "</textarea><b data-odd>",
    "<script>alert(1)</script>",
    "' OR 1=1 --",
    "'; DROP TABLE tree; --",
    "%00",
    "\0",
    "\u{1b}[31mred\u{1b}[0m",
    "\u{202e}abc\u{2066}",
    "\u{200f}",
    "\u{feff}",
    "a\r\nSet-Cookie: a=b",
    "line\nline",
    "../../../etc/passwd",
    "//elsewhere.example/",
    "!!!",
    "e\u{301}\u{301}\u{301}",
];

/// Numbers of our own that a form may name.
const KEYS: [&str; 30] = [
    "old-trident",
    "red-lantern",
    "stone-elm",
    "field-maple",
    "olive",
    "nobody",
    "cold-frame",
    "long-bench",
    "attic",
    "open-mix",
    "fine-mix",
    "celadon-oval-22-cm",
    "celadon-oval-46-cm",
    "acer-palmatum",
    "repot",
    "trim",
    "remove",
    "watered",
    "copper",
    "aluminium",
    "air-layer",
    "keep-short",
    "promised",
    "yes",
    "now",
    "morning",
    "evening",
    "gone",
    "broken",
    "2026",
];

/// A source of choices (splitmix64, Steele, Lea and Flood 2014).
pub struct Chance(u64);

impl Chance {
    /// The choices of one case of a seed.
    pub fn new(seed: u64, case: u64) -> Chance {
        Chance(seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ case.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    /// True so many times of a hundred.
    pub fn of_100(&mut self, times: usize) -> bool {
        self.below(100) < times
    }

    pub fn one<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }

    /// A value nobody expects.
    pub fn odd(&mut self) -> String {
        match self.below(20) {
            0 => "x".repeat(1 << (6 + self.below(12))),
            1 => format!("{}{MARK}", self.one(&KEYS)),
            2..=4 => self.one(&KEYS).to_string(),
            _ => self.one(&ODD).to_string(),
        }
    }

    /// What is usual, with something hung on.
    pub fn hung_on(&mut self, usual: &str) -> String {
        let more = self.one(&["\n", "\r\nX-Odd: 1", " ", "\0", MARK, "0", "-1", "\u{202e}", "é"]);
        format!("{usual}{more}")
    }
}
