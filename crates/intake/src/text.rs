//! Bytes of a text file into letters: which encoding it is in, told by name, or why it cannot be told.

use std::fmt;

use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{UTF_16BE, UTF_16LE, WINDOWS_1252};

use crate::refusal::Refusal;

/// How the letters of a file are written as bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte order mark.
    Utf8,
    /// UTF-16, low byte first.
    Utf16Le,
    /// UTF-16, high byte first.
    Utf16Be,
    /// Windows-1252, which holds Latin-1.
    Windows1252,
}

impl fmt::Display for Encoding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Encoding::Utf8 => "UTF-8",
            Encoding::Utf16Le => "UTF-16 LE",
            Encoding::Utf16Be => "UTF-16 BE",
            Encoding::Windows1252 => "Windows-1252 (Latin-1)",
        })
    }
}

/// A text file as letters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decoded {
    /// The text, without a byte order mark.
    pub text: String,
    /// The encoding it was in.
    pub encoding: Encoding,
}

impl Decoded {
    /// What a preview says of the encoding; nothing for a file all of whose letters are ASCII or UTF-8.
    ///
    /// Where bytes alone cannot settle the letters, up to three words that hold them are shown to check.
    pub fn note(&self) -> Option<String> {
        match self.encoding {
            Encoding::Utf8 => None,
            Encoding::Windows1252 => {
                let words = self.text.split(|letter: char| !letter.is_alphanumeric());
                let mut shown: Vec<&str> = Vec::new();
                for word in words.filter(|word| !word.is_ascii() && word.chars().count() <= LONGEST_WORD) {
                    if shown.len() < WORDS_SHOWN && !shown.contains(&word) {
                        shown.push(word);
                    }
                }
                let words = match shown.is_empty() {
                    true => String::new(),
                    false => format!("; check these words: {}", shown.join(", ")),
                };
                Some(format!("the letters were read as {}{words}", self.encoding))
            }
            other => Some(format!("the letters were read as {other}")),
        }
    }
}

/// Whether a text may have more than one line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lines {
    /// A name or a short text: no line feed and no tab.
    One,
    /// A note.
    Many,
}

/// Why a text cannot be kept, if it holds a sign that nobody sees or that a terminal or a page would obey.
///
/// Refused are the controls of ISO 6429 (C0, C1 and delete), the signs that turn the direction of text, the ones that part lines, and
/// blanks of no width. The joiners U+200C and U+200D are kept: Persian, the scripts of India and emoji are written with them.
pub(crate) fn fault(text: &str, lines: Lines) -> Option<String> {
    let is_line = |sign: char| lines == Lines::Many && matches!(sign, '\n' | '\r' | '\t');
    let sign = text.chars().find(|sign| !is_line(*sign) && (is_hidden(*sign) || *sign == '\u{fffd}'))?;
    Some(match sign {
        '\n' | '\r' => "has more than one line".into(),
        '\t' => "has a tab in it".into(),
        '\u{fffd}' => "holds �, which stands for a letter that was lost; save the original file again".into(),
        sign => format!("holds a sign that cannot be seen, U+{:04X}; type it again without", u32::from(sign)),
    })
}

/// Whether a sign is a control, or turns, parts or hides text without being seen.
pub fn is_hidden(sign: char) -> bool {
    sign.is_control()
        || matches!(
            sign,
            '\u{61c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
        )
}

/// Words shown to check the letters by.
const WORDS_SHOWN: usize = 3;

/// Letters of the longest word shown to check the letters by.
const LONGEST_WORD: usize = 30;

/// Reads the letters of a text file.
///
/// Byte order marks are followed; text that is valid UTF-8 is UTF-8; zero bytes at every second place tell UTF-16 without a mark. What is
/// left is one byte per letter: Windows-1252, unless the bytes look like another encoding, which is then refused by name.
///
/// # Errors
///
/// A [`Refusal`] with the first line that cannot be read, and what to do.
///
/// ```
/// use intake::text::{Encoding, decode};
///
/// let decoded = decode(b"name\nM\xfcller\n").unwrap();
/// assert_eq!((decoded.text.as_str(), decoded.encoding), ("name\nMüller\n", Encoding::Windows1252));
/// ```
pub fn decode(bytes: &[u8]) -> Result<Decoded, Refusal> {
    let decoded = |text: String, encoding| Ok(Decoded { text, encoding });
    if let Some(rest) = bytes.strip_prefix(b"\xff\xfe") {
        return wide(rest, Encoding::Utf16Le);
    }
    if let Some(rest) = bytes.strip_prefix(b"\xfe\xff") {
        return wide(rest, Encoding::Utf16Be);
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.contains(&0) {
        return match parity_of_zeros(bytes) {
            Some(encoding) => wide(bytes, encoding),
            None => Err(refused(
                bytes,
                0,
                "the file holds zero bytes, so it is not text; save it as CSV in UTF-8",
            )),
        };
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => decoded(text.to_string(), Encoding::Utf8),
        Err(why) => one_byte(bytes, why.valid_up_to()),
    }
}

/// UTF-16 without its mark: every zero byte stands at the same one of two places.
fn parity_of_zeros(bytes: &[u8]) -> Option<Encoding> {
    let zeros = |parity: usize| bytes.iter().skip(parity).step_by(2).any(|byte| *byte == 0);
    match (bytes.len().is_multiple_of(2), zeros(0), zeros(1)) {
        (true, false, true) => Some(Encoding::Utf16Le),
        (true, true, false) => Some(Encoding::Utf16Be),
        _ => None,
    }
}

fn wide(bytes: &[u8], encoding: Encoding) -> Result<Decoded, Refusal> {
    let table = if encoding == Encoding::Utf16Le { UTF_16LE } else { UTF_16BE };
    let (text, is_broken) = table.decode_without_bom_handling(bytes);
    if is_broken {
        let line = 1 + text
            .chars()
            .take_while(|letter| *letter != char::REPLACEMENT_CHARACTER)
            .filter(is_line)
            .count();
        let why = format!(
            "these bytes are no letters of {encoding}; the file may be cut off, save it again as UTF-8"
        );
        return Err(Refusal { line, value: String::new(), why });
    }
    Ok(Decoded { text: text.into_owned(), encoding })
}

fn is_line(letter: &char) -> bool {
    *letter == '\n'
}

/// Text of one byte per letter; refused where it looks like anything but Windows-1252, or is UTF-8 in part.
fn one_byte(bytes: &[u8], broken_at: usize) -> Result<Decoded, Refusal> {
    let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
    detector.feed(bytes, true);
    let guess = detector.guess(None, Utf8Detection::Deny);
    let is_mixed = bytes.utf8_chunks().any(|chunk| !chunk.valid().is_ascii());
    let why = if guess != WINDOWS_1252 {
        format!(
            "the letters are not UTF-8 and look like {}; save the file as UTF-8 and bring it again",
            guess.name()
        )
    } else if is_mixed {
        "this line is not UTF-8, though others are: two encodings in one file; save it all as UTF-8"
            .to_string()
    } else if let Some(byte) = bytes.iter().find(|byte| UNUSED.contains(byte)) {
        format!(
            "byte {byte:#04x} is no letter of UTF-8 nor of Windows-1252, so the encoding is not known; save the file as UTF-8"
        )
    } else {
        let (text, _) = WINDOWS_1252.decode_without_bom_handling(bytes);
        return Ok(Decoded { text: text.into_owned(), encoding: Encoding::Windows1252 });
    };
    Err(refused(bytes, broken_at, &why))
}

/// Bytes to which Windows-1252 gives no letter.
const UNUSED: [u8; 5] = [0x81, 0x8d, 0x8f, 0x90, 0x9d];

fn refused(bytes: &[u8], at: usize, why: &str) -> Refusal {
    let line = 1 + bytes[..at].iter().filter(|byte| **byte == b'\n').count();
    Refusal { line, value: String::new(), why: why.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "name,taxon\nMüller’s Bergahorn,acer-pseudoplatanus\n";

    fn as_wide(text: &str, bytes: impl Fn(u16) -> [u8; 2]) -> Vec<u8> {
        text.encode_utf16().flat_map(bytes).collect()
    }

    fn marked(mark: &[u8], bytes: &[u8]) -> Vec<u8> {
        [mark, bytes].concat()
    }

    #[test]
    fn the_same_text_comes_out_of_every_encoding() {
        let (le, be) = (as_wide(TEXT, u16::to_le_bytes), as_wide(TEXT, u16::to_be_bytes));
        let files = [
            (TEXT.as_bytes().to_vec(), Encoding::Utf8),
            (marked(b"\xef\xbb\xbf", TEXT.as_bytes()), Encoding::Utf8),
            (marked(b"\xff\xfe", &le), Encoding::Utf16Le),
            (marked(b"\xfe\xff", &be), Encoding::Utf16Be),
            (le, Encoding::Utf16Le),
            (be, Encoding::Utf16Be),
            (WINDOWS_1252.encode(TEXT).0.into_owned(), Encoding::Windows1252),
        ];
        for (bytes, encoding) in files {
            assert_eq!(decode(&bytes), Ok(Decoded { text: TEXT.into(), encoding }));
        }
    }

    #[test]
    fn a_note_names_the_encoding_and_the_words_to_check() {
        let note = |bytes: &[u8]| decode(bytes).unwrap().note();
        assert_eq!(note(TEXT.as_bytes()), None);
        let latin = note(b"name\nM\xfcller\nGro\xdfe Eiche\n").unwrap();
        assert_eq!(
            latin,
            "the letters were read as Windows-1252 (Latin-1); check these words: Müller, Große"
        );
        let wide = note(&marked(b"\xff\xfe", &as_wide("name\n", u16::to_le_bytes))).unwrap();
        assert_eq!(wide, "the letters were read as UTF-16 LE");
    }

    #[test]
    fn another_encoding_is_refused_by_its_name_and_line() {
        let sheet = "name,taxon\nold,acer-palmatum\n老松の盆栽、五葉松と黒松を育てる,pinus\n";
        let (bytes, ..) = encoding_rs::SHIFT_JIS.encode(sheet);
        let why = decode(&bytes).unwrap_err();
        assert!(why.line == 3 && why.why.contains("look like Shift_JIS"), "{why:?}");
        let (bytes, ..) = encoding_rs::WINDOWS_1251.encode("name\nСтарая сосна, посажена давно\n");
        assert!(decode(&bytes).unwrap_err().why.contains("windows-1251"));
    }

    #[test]
    fn two_encodings_in_one_file_are_refused_with_the_line_of_the_other() {
        let why = decode(b"name\nM\xc3\xbcller\nK\xf6ln\n").unwrap_err();
        assert_eq!(why.line, 3);
        assert!(why.why.contains("two encodings"), "{why:?}");
    }

    #[test]
    fn zero_bytes_and_half_letters_are_no_text() {
        assert!(decode(b"PK\x03\x04\x00\x00\x00\x08").unwrap_err().why.contains("zero bytes"));
        let cut = marked(b"\xff\xfe", b"a\x00\n\x00b");
        assert_eq!(decode(&cut).unwrap_err().line, 2);
    }
}
