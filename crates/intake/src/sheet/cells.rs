//! A sheet cut into rows and cells, with the line each row starts on; a quote that swallows rows is named where it opened.

use std::borrow::Cow;

use crate::refusal::Refusal;

/// Lines that a quoted cell may run over; a note of the longest kind has fewer.
const MOST_LINES: usize = 100;

/// Letters of what is shown of a cell that cannot be read.
const SHOWN: usize = 40;

/// A row of a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Record {
    /// Line it starts on, from 1.
    pub line: usize,
    /// Its cells, without the blanks round them.
    pub cells: Vec<String>,
}

/// Marks between cells, in the order in which a header that fits several is read.
pub(super) const SEPARATORS: [char; 3] = [',', ';', '\t'];

/// Line ends of every system as line feeds.
pub(super) fn unified(text: &str) -> Cow<'_, str> {
    let text = text.trim_start_matches('\u{feff}');
    match text.contains('\r') {
        true => Cow::Owned(text.replace("\r\n", "\n").replace('\r', "\n")),
        false => Cow::Borrowed(text),
    }
}

/// The rows of a text whose lines end in line feeds; lines with nothing on them are passed over.
///
/// Cells in double quotes may hold separators, line ends, and quotes written twice (RFC 4180); a quote inside a cell that does not start
/// with one is a plain letter, as in `12" oval`.
pub(super) struct Records<'a> {
    rest: &'a str,
    line: usize,
    separator: char,
}

impl<'a> Records<'a> {
    pub(super) fn new(text: &'a str, separator: char) -> Records<'a> {
        Records { rest: text, line: 1, separator }
    }

    /// The cell at the front of what is left, up to its separator or line end, which stay.
    fn cell(&mut self) -> Result<String, Refusal> {
        let Some(quoted) = self.rest.strip_prefix('"') else {
            let end = self.rest.find([self.separator, '\n']).unwrap_or(self.rest.len());
            let (cell, rest) = self.rest.split_at(end);
            self.rest = rest;
            return Ok(cell.trim().to_string());
        };
        let (mut cell, mut rest, mut lines) = (String::new(), quoted, 0);
        while let Some(at) = rest.find(['"', '\n']) {
            let (part, mark) = rest.split_at(at);
            cell.push_str(part);
            if let Some(after) = mark.strip_prefix('\n') {
                lines += 1;
                if lines > MOST_LINES {
                    break;
                }
                cell.push('\n');
                rest = after;
            } else if let Some(after) = mark.strip_prefix("\"\"") {
                cell.push('"');
                rest = after;
            } else {
                let after = mark[1..].trim_start_matches(' ');
                if after.is_empty() || after.starts_with([self.separator, '\n']) {
                    (self.rest, self.line) = (after, self.line + lines);
                    return Ok(cell.trim().to_string());
                }
                let on = if lines == 0 { String::new() } else { format!(" on line {}", self.line + lines) };
                return Err(self.broken(
                    quoted,
                    format!("the quote that opens here closes{on} in the middle of a cell; write a quote inside quotes twice"),
                ));
            }
        }
        Err(self.broken(quoted, format!("a quote opens here and does not close within {MOST_LINES} lines")))
    }

    /// Why a quoted cell cannot be read; reading goes on behind the line it opened on.
    fn broken(&mut self, quoted: &'a str, why: String) -> Refusal {
        let end = quoted.find('\n').unwrap_or(quoted.len());
        let (opened, rest) = quoted.split_at(end);
        let refusal = Refusal { line: self.line, value: opened.chars().take(SHOWN).collect(), why };
        self.rest = rest;
        self.end_line();
        refusal
    }

    fn end_line(&mut self) {
        if let Some(rest) = self.rest.strip_prefix('\n') {
            self.rest = rest;
            self.line += 1;
        }
    }
}

impl Iterator for Records<'_> {
    type Item = Result<Record, Refusal>;

    fn next(&mut self) -> Option<Self::Item> {
        while self.rest.starts_with('\n') {
            self.end_line();
        }
        if self.rest.is_empty() {
            return None;
        }
        let mut record = Record { line: self.line, cells: Vec::new() };
        loop {
            match self.cell() {
                Ok(cell) => record.cells.push(cell),
                Err(why) => return Some(Err(why)),
            }
            match self.rest.strip_prefix(self.separator) {
                Some(rest) => self.rest = rest,
                None => break,
            }
        }
        self.end_line();
        Some(Ok(record))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn read(text: &str, separator: char) -> Vec<Result<Record, Refusal>> {
        Records::new(&unified(text), separator).collect()
    }

    fn lines(text: &str) -> Vec<(usize, usize)> {
        read(text, ',')
            .into_iter()
            .map(|record| record.map(|it| (it.line, it.cells.len())).unwrap())
            .collect()
    }

    #[test]
    fn rows_know_their_line_past_blank_lines_and_cells_of_several_lines() {
        assert_eq!(lines("a,b\n\n\n1,2\n\"x\ny\n\",3\n4,5\n"), [(1, 2), (4, 2), (5, 2), (8, 2)]);
        assert_eq!(lines("a,b\r\n\r\n1,2\r\n"), lines("a,b\n\n1,2\n"));
        assert_eq!(lines("a,b\r\r1,2\r"), lines("a,b\n\n1,2\n"));
    }

    #[test]
    fn a_quote_that_swallows_rows_is_named_where_it_opened_and_the_rest_is_read() {
        let rows: String = (0..500).map(|row| format!("tree {row},acer-palmatum\n")).collect();
        let text = format!("name,taxon\n\"Old maple,acer-palmatum\n{rows}");
        let read = read(&text, ',');
        let Err(why) = &read[1] else { panic!("{:?}", read[1]) };
        assert_eq!((why.line, why.value.as_str()), (2, "Old maple,acer-palmatum"));
        assert_eq!(read.len(), 502);
        let last = read[501].as_ref().unwrap();
        assert_eq!((last.line, last.cells[0].as_str()), (502, "tree 499"));
    }

    #[test]
    fn a_quote_that_closes_at_a_later_rows_quote_is_named_with_both_lines() {
        let read = read("name,note\n\"Elm,\nOak,\"old, big\"\n", ',');
        let Err(why) = &read[1] else { panic!("{:?}", read[1]) };
        assert!(why.line == 2 && why.why.contains("closes on line 3"), "{why:?}");
        assert_eq!(read[2].as_ref().unwrap().cells, ["Oak", "old, big"]);
    }

    #[test]
    fn inches_inside_a_cell_are_plain_letters() {
        assert_eq!(
            read("12\" oval,\"say \"\"yes\"\"\"\n", ',')[0].as_ref().unwrap().cells,
            ["12\" oval", "say \"yes\""]
        );
    }

    proptest! {
        /// Source: RFC 4180, by another program: the `csv` crate writes the cells and reads what we read.
        #[test]
        fn cells_written_by_another_program_come_back(
            rows in prop::collection::vec(prop::collection::vec("[a-zß老\"\n,; ]{0,6}", 3), 1..8),
            separator in prop::sample::select(vec![',', ';', '\t']),
        ) {
            let mut writer = csv::WriterBuilder::new().delimiter(separator as u8).from_writer(Vec::new());
            for row in &rows {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false).flexible(true).delimiter(separator as u8).trim(csv::Trim::All).from_reader(text.as_bytes());
            let theirs: Vec<Vec<String>> =
                reader.records().map(|row| row.unwrap().iter().map(str::to_string).collect()).collect();
            let ours: Vec<Vec<String>> = read(&text, separator).into_iter().map(|row| row.unwrap().cells).collect();
            prop_assert_eq!(ours, theirs);
        }

        #[test]
        fn no_text_breaks_the_reader(text in "[a\",\n;\r\t ]{0,200}") {
            for separator in SEPARATORS {
                prop_assert!(read(&text, separator).len() <= text.len() + 1);
            }
        }
    }
}
