//! Reading a tree file into a skeleton.

use std::collections::BTreeMap;

use measure::quantity::{Degrees, Millimetre};

use super::{
    FEATURES, MOST,
    entity::{self, Join, Written},
};
use crate::{
    error::Error,
    skeleton::{Edge, Segment, Skeleton},
};

/// Something named in the file.
struct Entity {
    class: String,
    number: u32,
    scale: u32,
    /// What it is a part of.
    whole: Option<usize>,
    /// What it hangs on, at its own scale or a finer one.
    hangs: Option<(usize, Join)>,
    /// Whether a part was named already.
    has_part: bool,
    figures: [Option<f64>; 5],
    line: usize,
}

/// What stands above the rows: the scale of each class, the columns of entities, and where each feature stands.
struct Head {
    scales: BTreeMap<String, u32>,
    columns: usize,
    places: [Option<usize>; 5],
}

fn wrong<T>(line: usize, fault: &'static str, got: &str) -> Result<T, Error> {
    Err(Error::Line { line, fault, got: got.to_string() })
}

/// Reads a multiscale tree graph.
///
/// # Errors
///
/// [`Error::Line`] with the number and the text of what cannot be read; otherwise what [`Skeleton::new`] refuses.
///
/// # Example
///
/// ```
/// use form::mtg;
///
/// let told = mtg::read("CODE:\tFORM-Z").unwrap_err().to_string();
/// assert_eq!(told, "line 1: the file must start with CODE: FORM-A: \"CODE:\tFORM-Z\"");
/// ```
pub fn read(text: &str) -> Result<Skeleton, Error> {
    let mut lines = text
        .lines()
        .enumerate()
        .map(|(at, line)| (at + 1, line.split('#').next().unwrap_or_default().trim_end()))
        .filter(|(_, line)| !line.is_empty());
    let head = read_head(&mut lines)?;
    let mut entities: Vec<Entity> = Vec::new();
    let mut last: Vec<Option<usize>> = vec![None; head.columns];
    for (line, row) in lines {
        let cells: Vec<&str> = row.split('\t').map(str::trim).collect();
        let Some(column) = cells.iter().take(head.columns).position(|cell| !cell.is_empty()) else {
            return wrong(line, "a row must name an entity before its figures", row);
        };
        let cell = entity::parse(cells[column], line)?;
        let from = if cell.again { column } else { column.wrapping_sub(1) };
        let mut before = last.get(from).copied().flatten();
        if before.is_none() && (cell.again || column > 0) {
            return wrong(line, "nothing was named that this could hang on", cells[column]);
        }
        let mut shares = Vec::new();
        for written in &cell.named {
            if !written.run {
                shares.clear();
            } else if shares.is_empty() && written != &cell.named[0] {
                shares.extend(before);
            }
            let named = add(&mut entities, &head, written, before, line)?;
            before = named.last().copied();
            shares.extend(named);
        }
        let figures = read_figures(&head, &cells, line)?;
        for at in shares {
            entities[at].figures = figures;
        }
        last[column] = before;
        last[column + 1..].fill(None);
    }
    skeleton(&entities, &head)
}

fn read_head<'a>(lines: &mut impl Iterator<Item = (usize, &'a str)>) -> Result<Head, Error> {
    let first = lines.next().unwrap_or((1, ""));
    if first.1.split_whitespace().collect::<Vec<_>>() != ["CODE:", "FORM-A"] {
        return wrong(first.0, "the file must start with CODE: FORM-A", first.1);
    }
    let (mut section, mut scales, mut at) = ("", BTreeMap::new(), first);
    for (line, row) in lines.by_ref() {
        at = (line, row);
        let words: Vec<&str> = row.split_whitespace().collect();
        let (Some(&word), ahead) = (words.first(), words.get(1)) else { continue };
        match (section, word) {
            (_, "CLASSES:" | "DESCRIPTION:" | "FEATURES:" | "MTG:") => section = word,
            ("CLASSES:", "SYMBOL") | ("DESCRIPTION:", "LEFT") | ("FEATURES:", "NAME") => {}
            ("CLASSES:", symbol) => match ahead.and_then(|scale| scale.parse().ok()) {
                Some(scale) => {
                    scales.insert(symbol.to_string(), scale);
                }
                None => return wrong(line, "a class must have a scale", row),
            },
            ("DESCRIPTION:" | "FEATURES:", _) => {}
            ("MTG:", "ENTITY-CODE" | "TOPO") => return columns(row, scales),
            _ => return wrong(line, "CLASSES, DESCRIPTION, FEATURES and MTG are wanted here", row),
        }
    }
    wrong(at.0, "the file ends before its MTG section", at.1)
}

fn columns(row: &str, scales: BTreeMap<String, u32>) -> Result<Head, Error> {
    let names: Vec<&str> = row.split('\t').map(str::trim).collect();
    let columns = (1..names.len()).find(|&at| !names[at].is_empty()).unwrap_or(names.len());
    let places = FEATURES.map(|feature| names.iter().position(|name| *name == feature));
    Ok(Head { scales, columns, places })
}

/// Adds one written entity, or the run that it ends; gives their places.
fn add(
    entities: &mut Vec<Entity>,
    head: &Head,
    written: &Written,
    before: Option<usize>,
    line: usize,
) -> Result<Vec<usize>, Error> {
    let Some(&scale) = head.scales.get(written.class) else {
        return wrong(line, "no such class", written.text.trim_start_matches(['/', '<', '+']));
    };
    let mut numbers = written.number..=written.number;
    if written.run {
        let same = before.map(|at| &entities[at]).filter(|one| one.class == written.class);
        match same {
            Some(one) if one.number < written.number => numbers = one.number + 1..=written.number,
            _ => return wrong(line, "<< and ++ must count up from the entity before", written.text),
        }
    }
    if (*numbers.end() - *numbers.start()) as usize >= MOST.saturating_sub(entities.len()) {
        return wrong(line, "there are too many entities", written.text.trim_start_matches(['/', '<', '+']));
    }
    let (mut before, mut added) = (before, Vec::new());
    for number in numbers {
        let (whole, hangs) = joined(entities, scale, written, before, line)?;
        let class = written.class.to_string();
        entities.push(Entity {
            class,
            number,
            scale,
            whole,
            hangs,
            has_part: false,
            figures: [None; 5],
            line,
        });
        before = Some(entities.len() - 1);
        added.extend(before);
    }
    Ok(added)
}

type Joined = (Option<usize>, Option<(usize, Join)>);

/// What an entity is a part of, and what it hangs on.
fn joined(
    entities: &mut [Entity],
    scale: u32,
    written: &Written,
    before: Option<usize>,
    line: usize,
) -> Result<Joined, Error> {
    let coarser = |entities: &[Entity], at: usize, below: u32| {
        std::iter::successors(Some(at), |&at| entities[at].whole).find(|&at| entities[at].scale < below)
    };
    match (written.join, before) {
        (Join::PartOf, None) => Ok((None, None)),
        (_, None) => wrong(line, "nothing was named that this could hang on", written.text),
        (Join::PartOf, Some(before)) => {
            let Some(whole) = coarser(entities, before, scale) else { return Ok((None, None)) };
            let first = !std::mem::replace(&mut entities[whole].has_part, true);
            // The first part of a whole hangs where the whole hangs.
            Ok((Some(whole), if first { entities[whole].hangs } else { None }))
        }
        (_, Some(before)) if entities[before].scale < scale => {
            wrong(line, "it cannot hang on something coarser", written.text)
        }
        (join, Some(before)) => Ok((coarser(entities, before, scale), Some((before, join)))),
    }
}

fn read_figures(head: &Head, cells: &[&str], line: usize) -> Result<[Option<f64>; 5], Error> {
    let mut figures = [None; 5];
    for (figure, place) in figures.iter_mut().zip(head.places) {
        let Some(text) = place.and_then(|at| cells.get(at)).filter(|text| !text.is_empty()) else { continue };
        match text.parse::<f64>() {
            Ok(value) if value.is_finite() => *figure = Some(value),
            _ => return wrong(line, "this is no number", text),
        }
    }
    Ok(figures)
}

/// The skeleton of the entities of the finest scale.
fn skeleton(entities: &[Entity], head: &Head) -> Result<Skeleton, Error> {
    let finest = entities.iter().map(|entity| entity.scale).max().ok_or(Error::Empty)?;
    let scale_of_axes = head.scales.values().copied().filter(|&scale| scale > 0 && scale < finest).max();
    let numbers = axis_numbers(entities, scale_of_axes);
    let mut places: Vec<Option<usize>> = vec![None; entities.len()];
    let (mut segments, mut next): (Vec<Segment>, u32) = (Vec::new(), 1);
    for (at, entity) in entities.iter().enumerate().filter(|(_, entity)| entity.scale == finest) {
        let bearer = entity.hangs.and_then(|(bearer, _)| places[bearer]);
        let edge = match entity.hangs {
            None => Edge::Root,
            Some((_, Join::Follows)) => Edge::Follows,
            Some(_) => Edge::Branches,
        };
        let axis = match (edge, bearer) {
            (Edge::Follows, Some(bearer)) => segments[bearer].axis,
            _ => numbers.as_ref().and_then(|of| of.get(&entity.whole?).copied()).unwrap_or(next),
        };
        next = next.max(axis.saturating_add(1));
        let mut figures = [0.0; 5];
        for (figure, (read, name)) in figures.iter_mut().zip(entity.figures.iter().zip(FEATURES)) {
            *figure = match read {
                Some(value) => *value,
                None => return wrong(entity.line, "a segment lacks a figure", name),
            };
        }
        let [length, base, tip, azimuth, inclination] = figures;
        if let Some(bad) = [length, base, tip].into_iter().find(|&figure| figure <= 0.0) {
            return wrong(entity.line, "a length or thickness must be above 0", &bad.to_string());
        }
        places[at] = Some(segments.len());
        segments.push(Segment {
            bearer,
            edge,
            axis,
            length: Millimetre(length),
            base: Millimetre(base),
            tip: Millimetre(tip),
            azimuth: Degrees(azimuth),
            inclination: Degrees(inclination),
        });
    }
    Skeleton::new(segments)
}

/// The axes by their written numbers, where those tell them apart and each holds one line only.
fn axis_numbers(entities: &[Entity], scale: Option<u32>) -> Option<BTreeMap<usize, u32>> {
    let scale = scale?;
    let axes = || entities.iter().enumerate().filter(|(_, entity)| entity.scale == scale);
    let mut numbers: Vec<u32> = axes().map(|(_, entity)| entity.number).collect();
    let count = numbers.len();
    numbers.sort_unstable();
    numbers.dedup();
    let one_line = |&at: &usize| {
        let starts =
            |part: &&Entity| part.whole == Some(at) && !matches!(part.hangs, Some((_, Join::Follows)));
        entities.iter().filter(starts).count() <= 1
    };
    (numbers.len() == count && axes().all(|(at, _)| one_line(&at)))
        .then(|| axes().map(|(at, entity)| (at, entity.number)).collect())
}
