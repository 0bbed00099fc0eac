//! A sheet read by the table of its kind: separator and header first, then each row, and every line that cannot be taken by its number.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::{
    cells::{Record, Records, SEPARATORS, unified},
    format::{Column, Format, Takes},
    row::{Row, Way},
    table,
};
use crate::refusal::Refusal;

/// Units that a header may tell behind a column's name.
const UNITS: [&str; 12] = ["mm", "cm", "m", "in", "inch", "inches", "g", "kg", "lb", "oz", "l", "ft"];

/// What growers call a column that goes by another name here.
const OTHER_NAMES: [(&str, &str); 9] = [
    ("date", "day"),
    ("species", "taxon"),
    ("location", "place"),
    ("comment", "note"),
    ("remarks", "note"),
    ("diameter", "thick"),
    ("stage_code", "stage"),
    ("timezone", "zone"),
    ("altitude", "elevation"),
];

/// What a sheet held: each row that could be taken with its line, and each that could not.
#[derive(Clone, Debug, PartialEq)]
pub struct Read<T> {
    /// Line in the file and what stood there.
    pub rows: Vec<(usize, T)>,
    /// Lines that cannot be taken.
    pub refused: Vec<Refusal>,
    /// What is worth knowing of the file.
    pub notes: Vec<String>,
    /// False where the header itself is wrong, so that no line could be read.
    pub readable: bool,
}

impl<T> Read<T> {
    /// Every row, or every refusal: the whole sheet or nothing of it.
    ///
    /// # Errors
    ///
    /// Every line that cannot be taken.
    pub fn whole(self) -> Result<Vec<T>, Vec<Refusal>> {
        if self.refused.is_empty() {
            Ok(self.rows.into_iter().map(|(_, row)| row).collect())
        } else {
            Err(self.refused)
        }
    }
}

impl Read<Row> {
    /// Each row turned into what it tells of.
    pub(super) fn take<T>(self, take: impl Fn(&Row) -> Result<T, Refusal>) -> Read<T> {
        let (mut rows, mut refused) = (Vec::with_capacity(self.rows.len()), self.refused);
        for (line, row) in self.rows {
            match take(&row) {
                Ok(noun) => rows.push((line, noun)),
                Err(why) => refused.push(why),
            }
        }
        Read { rows, refused, notes: self.notes, readable: self.readable }
    }
}

/// The rows of a sheet of this kind, read on a day.
pub(crate) fn rows(text: &str, format: &'static Format, today: Option<Date>) -> Read<Row> {
    let text = unified(text);
    let (told, text) = separator_told(&text);
    let separator = told.unwrap_or_else(|| separator(text, format));
    let mut records = Records::new(text, separator);
    let skipped = usize::from(told.is_some());
    let mut read = Read { rows: Vec::new(), refused: Vec::new(), notes: Vec::new(), readable: false };
    let head = match records.next() {
        Some(Ok(record)) => Head::of(&record, format, skipped),
        Some(Err(why)) => Err(vec![below(why, skipped)]),
        None => Err(vec![Refusal { line: 1, value: String::new(), why: "the file holds no line".into() }]),
    };
    let head = match head {
        Ok(head) => head,
        Err(refused) => return Read { refused, ..read },
    };
    read.readable = true;
    read.notes.clone_from(&head.notes);
    match separator {
        ';' => read.notes.push("cells are separated by semicolons; 12,4 is read as 12.4".into()),
        '\t' => read.notes.push("cells are separated by tabs; 12,4 is read as 12.4".into()),
        _ => {}
    }
    let way = Way { has_comma: separator != ',', today };
    for record in records {
        match record.map_err(|why| below(why, skipped)) {
            Ok(record) if record.cells.iter().all(String::is_empty) => {}
            Ok(record) => match head.row(record, format, way, skipped) {
                Ok(row) => read.rows.push((row.line, row)),
                Err(why) => read.refused.push(why),
            },
            Err(why) => read.refused.push(why),
        }
    }
    read
}

/// A refusal as many lines further down.
fn below(why: Refusal, lines: usize) -> Refusal {
    Refusal { line: why.line + lines, ..why }
}

/// The separator that the first line tells as `sep=;`, and the text behind that line.
fn separator_told(text: &str) -> (Option<char>, &str) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let told = first.trim().strip_prefix("sep=").and_then(|sign| sign.chars().next());
    match told.filter(|sign| SEPARATORS.contains(sign)) {
        Some(sign) => (Some(sign), rest),
        None => (None, text),
    }
}

/// The separator by which the header has the most columns that we know, and then the most cells.
fn separator(text: &str, format: &Format) -> char {
    let weight = |sign: char| {
        let Some(Ok(head)) = Records::new(text, sign).next() else { return (0, 0) };
        let known = head.cells.iter().filter(|cell| format.columns.iter().any(|it| it.name == plain(cell)));
        (known.count(), head.cells.len())
    };
    let mut best = SEPARATORS[0];
    for sign in SEPARATORS {
        if weight(sign) > weight(best) {
            best = sign;
        }
    }
    best
}

/// A header's cell as a column would be called.
fn plain(cell: &str) -> String {
    cell.trim().to_lowercase().replace([' ', '-'], "_")
}

/// A column's name without the unit behind it, and the unit.
fn with_unit(name: &str) -> Option<(&str, &str)> {
    let (base, unit) = match name.strip_suffix([')', ']']) {
        Some(open) => open.rsplit_once(['(', '['])?,
        None => name.rsplit_once('_')?,
    };
    UNITS.contains(&unit).then_some((base.trim_end_matches('_'), unit))
}

/// Where each column of the table stands in the sheet.
struct Head {
    places: Vec<Option<usize>>,
    cells: usize,
    notes: Vec<String>,
}

impl Head {
    fn of(record: &Record, format: &'static Format, skipped: usize) -> Result<Head, Vec<Refusal>> {
        let names: Vec<String> = record.cells.iter().map(|cell| plain(cell)).collect();
        let mut head =
            Head { places: vec![None; format.columns.len()], cells: names.len(), notes: Vec::new() };
        let line = record.line + skipped;
        let refuse = |value: &str, why: String| Refusal { line, value: value.to_string(), why };
        let (mut refused, mut unknown) = (Vec::new(), Vec::new());
        for (at, name) in names.iter().enumerate() {
            let (base, unit) = match with_unit(name) {
                Some((base, unit)) if format.columns.iter().all(|it| it.name != name) => (base, Some(unit)),
                _ => (name.as_str(), None),
            };
            let Some(column) = format.columns.iter().position(|it| it.name == base) else {
                unknown.push((at, name));
                continue;
            };
            match unit.and_then(|unit| other_unit(&format.columns[column], unit)) {
                Some(why) => refused.push(refuse(&record.cells[at], why)),
                None if head.places[column].is_some() => {
                    refused.push(refuse(&record.cells[at], format!("the column {base} stands twice")));
                }
                None => head.places[column] = Some(at),
            }
        }
        for (at, name) in unknown {
            match head.near(name, format) {
                Some(meant) => {
                    refused.push(refuse(&record.cells[at], format!("is no column; did you mean {meant}?")));
                }
                None => head.notes.push(not_used(at, name, format)),
            }
        }
        let missing = |(column, place): &(&Column, &Option<usize>)| column.is_needed && place.is_none();
        let wanting: Vec<&str> =
            format.columns.iter().zip(&head.places).filter(missing).map(|(column, _)| column.name).collect();
        if !wanting.is_empty() && refused.is_empty() {
            let (noun, verb) = if wanting.len() == 1 { ("column", "") } else { ("columns", "") };
            let why = format!("the header has no {noun} {}{verb}", wanting.join(", "));
            refused.push(refuse(&record.cells.join(", "), why));
        }
        if refused.is_empty() { Ok(head) } else { Err(refused) }
    }

    /// The column of the table that a name in the header is a slip of, if it is nowhere else in it.
    fn near(&self, name: &str, format: &'static Format) -> Option<&'static str> {
        let free = format.columns.iter().zip(&self.places).filter(|(_, place)| place.is_none());
        let other = OTHER_NAMES.iter().find(|(other, _)| *other == name).map(|(_, column)| *column);
        let slips = |column: &str| match column.len() {
            0..3 => 0,
            3..5 => 1,
            _ => 2,
        };
        free.map(|(column, _)| column.name).find(|column| {
            other == Some(column) || (1..=slips(column)).contains(&strsim::damerau_levenshtein(name, column))
        })
    }

    fn row(&self, record: Record, format: &'static Format, way: Way, skipped: usize) -> Result<Row, Refusal> {
        let line = record.line + skipped;
        let (has, mut cells) = (record.cells.len(), record.cells);
        let refuse = |value: &str, why| Err(Refusal { line, value: value.to_string(), why });
        if let Some(extra) = cells.iter().skip(self.cells).find(|cell| !cell.is_empty()) {
            let why = format!(
                "is one cell too many: the row has {has}, the header {}; a cell with a separator in it goes in quotes",
                self.cells
            );
            return refuse(extra, why);
        }
        if has < self.cells {
            let why = format!("the row has {has} cells, the header {}; was the line cut off?", self.cells);
            return refuse(cells.first().map_or("", String::as_str), why);
        }
        let cells = self
            .places
            .iter()
            .map(|place| place.map_or_else(String::new, |at| std::mem::take(&mut cells[at])));
        Ok(Row { line, columns: format.columns, cells: cells.collect(), way })
    }
}

/// What is wrong with a unit told beside a column, if anything.
fn other_unit(column: &Column, unit: &str) -> Option<String> {
    match column.takes {
        Takes::Number(_, own) if own == unit => None,
        Takes::Number(_, own) => Some(format!("{} is in {own} here; turn its cells into {own}", column.name)),
        Takes::Weight => Some(format!("write the unit beside each weight, as 1.84 {unit}")),
        _ => None,
    }
}

/// That a column is not used, and which sheets have one of its name.
fn not_used(at: usize, name: &str, format: &Format) -> String {
    if name.is_empty() {
        return format!("column {} has no name and is not used", at + 1);
    }
    let elsewhere: BTreeSet<&str> = table::all()
        .filter(|other| other.key != format.key && other.columns.iter().any(|column| column.name == name))
        .map(|other| other.key)
        .collect();
    let elsewhere: Vec<&str> = elsewhere.into_iter().take(4).collect();
    let hint = match elsewhere.is_empty() {
        true => String::new(),
        false => format!("; a sheet of another kind has it ({})", elsewhere.join(", ")),
    };
    let shown: String = name.chars().take(40).collect();
    format!("the column {shown} is not used{hint}")
}
