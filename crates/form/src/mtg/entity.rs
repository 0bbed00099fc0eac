//! The entities of one cell of a tree file, as `/P1/A1/S1+A2` or `^<<S5`.

use crate::error::Error;

/// How an entity is joined to the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Join {
    PartOf,
    Follows,
    Branches,
}

/// One entity as it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Written<'a> {
    pub(super) join: Join,
    /// Written `<<` or `++`: all numbers from the one before up to this one.
    pub(super) run: bool,
    pub(super) class: &'a str,
    pub(super) number: u32,
    /// Sign, class and number, for telling what is wrong.
    pub(super) text: &'a str,
}

/// A cell: whether it starts at the entity last named in its column, and what it names.
pub(super) struct Cell<'a> {
    pub(super) again: bool,
    pub(super) named: Vec<Written<'a>>,
}

/// Takes a cell apart.
pub(super) fn parse(cell: &str, line: usize) -> Result<Cell<'_>, Error> {
    let wrong = |fault, got: &str| Err(Error::Line { line, fault, got: got.to_string() });
    let (again, mut rest) = match cell.strip_prefix('^') {
        Some(rest) => (true, rest),
        None => (false, cell),
    };
    let mut named = Vec::new();
    while !rest.is_empty() {
        let join = match rest.as_bytes()[0] {
            b'/' => Join::PartOf,
            b'<' => Join::Follows,
            b'+' => Join::Branches,
            _ => return wrong("an entity must start with /, < or +", rest),
        };
        let mut after = &rest[1..];
        let run = join != Join::PartOf && after.as_bytes().first() == rest.as_bytes().first();
        if run {
            after = &after[1..];
        }
        let end = after.find(['/', '<', '+', '^']).unwrap_or(after.len());
        let (word, text) = (&after[..end], &rest[..rest.len() - after.len() + end]);
        let digits = word.find(|letter: char| letter.is_ascii_digit()).unwrap_or(word.len());
        let (class, number) = word.split_at(digits);
        let Ok(number) = number.parse() else {
            return wrong("an entity must end in its number", text);
        };
        if class.is_empty() {
            return wrong("an entity must start with its class", text);
        }
        named.push(Written { join, run, class, number, text });
        rest = &after[end..];
    }
    Ok(Cell { again, named })
}
