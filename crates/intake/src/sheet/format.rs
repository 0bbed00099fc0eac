//! What a sheet of each kind looks like: its columns, what each takes, and an example; readers, help and checks all use this one table.

use std::fmt::{self, Write};

/// What a column takes.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// The name of what the row tells of.
    Name,
    /// The name of something that is in the collection.
    Known(&'static str),
    /// One line of text of at most so many letters.
    Line(usize),
    /// Text of at most so many letters, in one or more lines.
    Text(usize),
    /// A number between two bounds, in a unit.
    Number([f64; 2], &'static str),
    /// A whole number between two bounds.
    Whole([u32; 2]),
    /// A day that has come.
    Day,
    /// A day that may lie ahead.
    AnyDay,
    /// A moment by the site's clock.
    Moment,
    /// A year, up to ten years ahead.
    Year,
    /// Yes or no.
    YesNo,
    /// One of these words.
    Word(fn() -> Vec<String>),
    /// A weight, in grams where it does not say.
    Weight,
    /// Money, as 120 CHF.
    Money,
    /// Something else, told in words.
    Other(&'static str),
}

/// One column.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in the header.
    pub name: &'static str,
    /// Whether every sheet of the kind must have it.
    pub is_needed: bool,
    /// What it takes.
    pub takes: Takes,
}

/// A column that the sheet must have.
pub(crate) const fn must(name: &'static str, takes: Takes) -> Column {
    Column { name, is_needed: true, takes }
}

/// A column that it may have.
pub(crate) const fn may(name: &'static str, takes: Takes) -> Column {
    Column { name, is_needed: false, takes }
}

/// A kind of sheet.
#[derive(Debug)]
pub struct Format {
    /// The word it goes by in commands and forms.
    pub key: &'static str,
    /// What it holds, in words.
    pub words: &'static str,
    /// Its columns.
    pub columns: &'static [Column],
    /// An example.
    pub example: &'static str,
}

impl fmt::Display for Takes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Takes::Name => write!(f, "name, up to {} letters", crate::limits::NAME),
            Takes::Known(what) => write!(f, "name of a {what}"),
            Takes::Line(most) => write!(f, "text, up to {most} letters"),
            Takes::Text(most) => write!(f, "text, up to {most} letters; may have several lines"),
            Takes::Number([low, high], "") => write!(f, "{low} to {high}"),
            Takes::Number([low, high], unit) => write!(f, "{unit}, {low} to {high}"),
            Takes::Whole([low, high]) => write!(f, "whole number, {low} to {high}"),
            Takes::Day => f.write_str("day that has come, as 2026-03-08"),
            Takes::AnyDay => f.write_str("day, may lie ahead, as 2026-03-08"),
            Takes::Moment => f.write_str("moment by the site's clock, as 2026-07-14T06:40"),
            Takes::Year => write!(f, "year, up to {} years ahead", crate::limits::YEARS_AHEAD),
            Takes::YesNo => f.write_str("yes or no"),
            Takes::Word(words) => f.write_str(&words().join(", ")),
            Takes::Weight => f.write_str("weight in g, or with kg, lb or oz"),
            Takes::Money => f.write_str("money, as 120 CHF"),
            Takes::Other(words) => f.write_str(words),
        }
    }
}

impl Format {
    /// The header with every column.
    pub fn header(&self) -> String {
        self.columns.iter().map(|column| column.name).collect::<Vec<_>>().join(",")
    }

    /// The kind with each column on a line of its own, needed ones marked with a star.
    pub fn help(&self) -> String {
        let mut text = format!("{}: {}\n", self.key, self.words);
        for column in self.columns {
            let star = if column.is_needed { '*' } else { ' ' };
            let _ = writeln!(text, "  {star} {:<14} {}", column.name, column.takes);
        }
        text
    }
}
