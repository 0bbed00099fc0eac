//! Bytes to text, a line to cells, a cell to a number.

use crate::refusal::Refusal;

/// Text in UTF-8 or UTF-16 with a mark, else one byte per letter; the mark is dropped.
pub(crate) fn decode(bytes: &[u8]) -> String {
    let wide = |from: fn([u8; 2]) -> u16| {
        let units: Vec<u16> = bytes[2..].chunks_exact(2).map(|pair| from([pair[0], pair[1]])).collect();
        String::from_utf16_lossy(&units)
    };
    match bytes {
        [0xff, 0xfe, ..] => wide(u16::from_le_bytes),
        [0xfe, 0xff, ..] => wide(u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => decode(rest),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => text.to_string(),
            Err(_) => bytes.iter().map(|&byte| char::from(byte)).collect(),
        },
    }
}

/// The lines of a text that hold anything, numbered from 1.
pub(crate) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty())
}

/// The cells of one line, trimmed; quotes hold a delimiter, and a quote never runs past its line.
pub(crate) fn cells(line: &str, delimiter: char) -> Vec<String> {
    let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    let mut letters = line.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                cell.push('"');
                letters.next();
            }
            '"' if quoted || cell.trim().is_empty() => quoted = !quoted,
            letter if letter == delimiter && !quoted => {
                cells.push(cell.trim().to_string());
                cell.clear();
            }
            letter => cell.push(letter),
        }
    }
    cells.push(cell.trim().to_string());
    cells
}

/// Which of `;`, tab and `,` parts this header line into most cells.
pub(crate) fn delimiter(header: &str) -> char {
    let count = |delimiter: &char| cells(header, *delimiter).len();
    [',', ';', '\t'].into_iter().rev().max_by_key(count).unwrap_or(',')
}

/// A finite number, with a decimal point or comma and a plain or typographic minus.
pub(crate) fn number(cell: &str) -> Option<f64> {
    let mut plain = cell.trim().replace('\u{2212}', "-");
    if !plain.contains('.') {
        plain = plain.replacen(',', ".", 1);
    }
    plain.parse().ok().filter(|number: &f64| number.is_finite())
}

/// A refusal of `value` on `line`.
pub(crate) fn refusal(line: usize, value: &str, why: &str) -> Refusal {
    let value = if value.chars().count() > 80 {
        value.chars().take(79).chain(['…']).collect()
    } else {
        value.to_string()
    };
    Refusal { line, value, why: why.to_string() }
}
