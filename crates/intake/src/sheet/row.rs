//! One row of a sheet: its cells read by the sheet's own table, each refusal with line and value.

use collection::{key, money::Money};
use jiff::civil::Date;
use measure::quantity::{Degrees, Gram, Millimetre};

use super::format::{Column, Takes};
use crate::{
    limits::{FIRST_YEAR, LAST_YEAR, NAME, YEARS_AHEAD},
    refusal::Refusal,
    text::{Lines, fault},
};

/// Letters shown of a cell that cannot be taken.
const SHOWN: usize = 80;

/// The columns that together tell a colour.
const COLOUR: [&str; 5] = ["swatch", "l", "a", "b", "spread"];

/// How the numbers of a sheet are written, and the day it is read on.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Way {
    /// Numbers may have a decimal comma.
    pub has_comma: bool,
    /// The day the sheet is read on; without one, no day is too late.
    pub today: Option<Date>,
}

/// A row as the sheet gives it: a cell for each column of the table, empty where the sheet has none.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub line: usize,
    pub columns: &'static [Column],
    pub cells: Vec<String>,
    pub way: Way,
}

impl Row {
    pub(crate) fn column(&self, name: &str) -> Option<(&'static Column, &str)> {
        #[cfg(test)]
        super::asked::note(self.columns, name);
        let at = self.columns.iter().position(|column| column.name == name)?;
        Some((&self.columns[at], self.cells[at].as_str()))
    }

    pub(crate) fn cell(&self, name: &str) -> &str {
        self.column(name).map_or("", |(_, cell)| cell)
    }

    /// Sets the cells that are empty here to those of what stands.
    pub(crate) fn over(&self, stands: &[(&'static str, String)]) -> Row {
        let mut row = self.clone();
        let own: Vec<&str> = self
            .columns
            .iter()
            .zip(&self.cells)
            .filter(|(_, cell)| !cell.is_empty())
            .map(|(it, _)| it.name)
            .collect();
        let is_colour = |name: &str| COLOUR.contains(&name);
        for (column, cell) in self.columns.iter().zip(&mut row.cells) {
            // A colour is told as a whole, by one of two ways.
            let is_told = is_colour(column.name) && own.iter().any(|name| is_colour(name));
            if cell.is_empty()
                && !is_told
                && let Some((_, stood)) = stands.iter().find(|(name, _)| *name == column.name)
            {
                cell.clone_from(stood);
            }
        }
        row.way.has_comma = false;
        for (column, cell) in self.columns.iter().zip(&mut row.cells) {
            if self.way.has_comma && matches!(column.takes, Takes::Number(..) | Takes::Money) {
                *cell = cell.replace(',', ".");
            }
        }
        row
    }

    pub(crate) fn refuse(&self, value: &str, why: impl Into<String>) -> Refusal {
        Refusal { line: self.line, value: value.chars().take(SHOWN).collect(), why: why.into() }
    }

    pub(crate) fn needed(&self, name: &str) -> Result<&str, Refusal> {
        match self.cell(name) {
            "" => Err(self.empty(name)),
            cell => Ok(cell),
        }
    }

    fn empty(&self, name: &str) -> Refusal {
        self.refuse("", format!("{name} is empty"))
    }

    /// A text no longer than its column takes, without signs that cannot be seen.
    pub(crate) fn text(&self, name: &str) -> Result<String, Refusal> {
        let Some((column, cell)) = self.column(name) else { return Ok(String::new()) };
        let (most, lines) = match column.takes {
            Takes::Line(most) => (most, Lines::One),
            Takes::Text(most) => (most, Lines::Many),
            _ => (NAME, Lines::One),
        };
        let count = cell.chars().count();
        if count > most {
            return Err(self.refuse(cell, format!("{name} is {count} letters long; {most} are the most")));
        }
        match fault(cell, lines) {
            Some(why) => Err(self.refuse(cell, format!("{name} {why}"))),
            None => Ok(cell.to_string()),
        }
    }

    /// The key and the name of what the row tells of.
    pub(crate) fn name(&self) -> Result<(String, String), Refusal> {
        let key = self.named("name")?;
        Ok((key, self.cell("name").to_string()))
    }

    /// The key of what the cell names.
    pub(crate) fn named(&self, name: &str) -> Result<String, Refusal> {
        self.needed(name)?;
        self.text(name).map(|name| key::from_name(&name))
    }

    pub(crate) fn named_if(&self, name: &str) -> Result<Option<String>, Refusal> {
        if self.cell(name).is_empty() { Ok(None) } else { self.named(name).map(Some) }
    }

    pub(crate) fn tree(&self) -> Result<String, Refusal> {
        self.named("tree")
    }

    /// A word from a short list; an empty cell gives `otherwise`.
    pub(crate) fn word<T>(
        &self,
        name: &str,
        from: impl Fn(&str) -> Option<T>,
        otherwise: T,
    ) -> Result<T, Refusal> {
        Ok(self.word_if(name, from)?.unwrap_or(otherwise))
    }

    pub(crate) fn word_if<T>(
        &self,
        name: &str,
        from: impl Fn(&str) -> Option<T>,
    ) -> Result<Option<T>, Refusal> {
        match self.column(name) {
            None | Some((_, "")) => Ok(None),
            Some((column, cell)) => from(&cell.to_lowercase()).map(Some).ok_or_else(|| {
                let why = match column.takes {
                    Takes::Word(words) => format!("is no {name} we know; it takes {}", words().join(", ")),
                    other => format!("is no {name} we know; it takes {other}"),
                };
                self.refuse(cell, why)
            }),
        }
    }

    pub(crate) fn known<T>(&self, name: &str, from: impl Fn(&str) -> Option<T>) -> Result<T, Refusal> {
        self.word_if(name, from)?.ok_or_else(|| self.empty(name))
    }

    pub(crate) fn yes(&self, name: &str) -> Result<bool, Refusal> {
        let word = |cell: &str| match cell {
            "yes" | "true" | "1" => Some(true),
            "no" | "false" | "0" => Some(false),
            _ => None,
        };
        self.word(name, word, false)
    }

    /// A day; one that lies ahead only where the column takes it.
    pub(crate) fn day(&self, name: &str) -> Result<Date, Refusal> {
        let cell = self.needed(name)?;
        let day: Date = cell
            .parse()
            .map_err(|_| self.refuse(cell, format!("{name} is not a date written as 2026-03-08")))?;
        self.come(name, cell, day)?;
        Ok(day)
    }

    /// Refuses a day that has not come where it must have, and one that lies too far off to be right.
    pub(super) fn come(&self, name: &str, cell: &str, day: Date) -> Result<(), Refusal> {
        if !(FIRST_YEAR..=LAST_YEAR).contains(&day.year()) {
            return Err(self.refuse(cell, format!("{name} lies too far from today to be right")));
        }
        let may_be_ahead = matches!(self.column(name), Some((Column { takes: Takes::AnyDay, .. }, _)));
        match self.way.today.filter(|today| day > *today && !may_be_ahead) {
            Some(today) => Err(self.refuse(cell, format!("{name} has not come yet; today is {today}"))),
            None => Ok(()),
        }
    }

    pub(crate) fn day_if(&self, name: &str) -> Result<Option<Date>, Refusal> {
        if self.cell(name).is_empty() { Ok(None) } else { self.day(name).map(Some) }
    }

    /// The figure of a cell, with a decimal comma where the sheet writes so.
    fn figure(&self, name: &str, cell: &str, [low, high]: [f64; 2], unit: &str) -> Result<f64, Refusal> {
        let is_comma = cell.matches(',').count() == 1 && !cell.contains('.');
        if is_comma && !self.way.has_comma {
            let why = format!("{name} has a comma; write a point, as {}", cell.replace(',', "."));
            return Err(self.refuse(cell, why));
        }
        let fits = |figure: &f64| (low..=high).contains(figure);
        let grouped = self.way.has_comma && is_grouped(cell);
        if let Some(thousands) =
            cell.replace('.', "").parse::<f64>().ok().filter(|figure| grouped && fits(figure))
        {
            let comma = cell.replace('.', ",");
            let why = format!("{name} may be {thousands} or {comma}; write one of them");
            return Err(self.refuse(cell, why));
        }
        let figure = if is_comma { cell.replace(',', ".") } else { cell.to_string() };
        // Nought below nought is nought.
        let told = figure.parse::<f64>().ok().map(|figure| figure + 0.0);
        told.filter(fits).ok_or_else(|| {
            let why = format!("{name} is not a number from {low} to {high} {unit}");
            self.refuse(cell, why.trim_end())
        })
    }

    pub(crate) fn number(&self, name: &str) -> Result<Option<f64>, Refusal> {
        match self.column(name) {
            Some((_, "")) | None => Ok(None),
            Some((Column { takes: Takes::Number(bounds, unit), .. }, cell)) => {
                self.figure(name, cell, *bounds, unit).map(Some)
            }
            Some((_, cell)) => Err(self.refuse(cell, format!("{name} is no column of numbers"))),
        }
    }

    pub(crate) fn must(&self, name: &str) -> Result<f64, Refusal> {
        self.number(name)?.ok_or_else(|| self.empty(name))
    }

    pub(crate) fn mm(&self, name: &str) -> Result<Option<Millimetre>, Refusal> {
        Ok(self.number(name)?.map(Millimetre))
    }

    pub(crate) fn degrees(&self, name: &str) -> Result<Option<Degrees>, Refusal> {
        Ok(self.number(name)?.map(Degrees))
    }

    /// A whole number; one with a fraction is refused, never cut.
    pub(crate) fn whole(&self, name: &str) -> Result<Option<u32>, Refusal> {
        match self.column(name) {
            Some((_, "")) | None => Ok(None),
            Some((Column { takes: Takes::Whole([low, high]), .. }, cell)) => match cell.parse::<f64>() {
                Ok(number)
                    if number.fract() == 0.0 && (f64::from(*low)..=f64::from(*high)).contains(&number) =>
                {
                    Ok(Some(number as u32))
                }
                _ => Err(self.refuse(cell, format!("{name} is not a whole number from {low} to {high}"))),
            },
            Some((_, cell)) => Err(self.refuse(cell, format!("{name} is no column of whole numbers"))),
        }
    }

    /// A whole number no greater than a byte holds.
    pub(crate) fn small(&self, name: &str) -> Result<Option<u8>, Refusal> {
        let number = self.whole(name)?;
        number
            .map(|number| u8::try_from(number).map_err(|_| self.refuse(self.cell(name), "is too great")))
            .transpose()
    }

    /// The year of a season.
    pub(crate) fn year(&self, name: &str) -> Result<i16, Refusal> {
        let cell = self.needed(name)?;
        let last = self.way.today.map_or(LAST_YEAR, |today| today.year() + YEARS_AHEAD);
        cell.parse()
            .ok()
            .filter(|year| (FIRST_YEAR..=last).contains(year))
            .ok_or_else(|| self.refuse(cell, format!("{name} is not a year from {FIRST_YEAR} to {last}")))
    }

    pub(crate) fn money(&self, name: &str) -> Result<Option<Money>, Refusal> {
        match self.cell(name) {
            "" => Ok(None),
            cell => {
                let plain = if self.way.has_comma { cell.replace(',', ".") } else { cell.to_string() };
                Money::from_words(&plain)
                    .map(Some)
                    .ok_or_else(|| self.refuse(cell, format!("{name} is not money written as 120 CHF")))
            }
        }
    }

    /// A weight in grams; the cell may say kg, g, lb or oz.
    pub(crate) fn weight(&self, name: &str) -> Result<Option<Gram>, Refusal> {
        match self.cell(name) {
            "" => Ok(None),
            cell => {
                crate::weight::read(cell).map(Some).map_err(|why| self.refuse(cell, format!("{name}: {why}")))
            }
        }
    }
}

/// Whether a figure reads as thousands with a point between its groups, as 1.240.
fn is_grouped(cell: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let Some((head, tail)) = cell.trim_start_matches('-').split_once('.') else { return false };
    digits(head) && head.len() <= 3 && !head.starts_with('0') && digits(tail) && tail.len() == 3
}
