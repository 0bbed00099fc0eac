//! What was written down of a tree's limbs lately, each line to be taken back where it was a mistake.

use collection::wire::Wire;
use jiff::civil::Date;

use super::{long, thick, wish};
use crate::{
    whole::{TreeWhole, Whole},
    words,
};

/// A line that was written down.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenLine {
    /// What it is, as addresses name it: "diameter", "cut", "wish", "wire", "layer" or "wound".
    pub what: &'static str,
    /// Its number.
    pub id: i64,
    /// When and what.
    pub words: String,
    day: Date,
}

/// Lines further back are not shown.
const SHOWN: usize = 20;

/// The latest lines of a tree, the last day first.
pub fn written(whole: &Whole, tree: &TreeWhole) -> Vec<WrittenLine> {
    let (shape, units, today) = (&tree.shape, whole.units(), whole.today);
    let name = |limb: u32| shape.name_of(limb);
    let line = |what, id: i64, day: Date, told: String| WrittenLine {
        what,
        id,
        words: format!("{}: {told}", words::day(day, today)),
        day,
    };
    let wired = |it: &Wire| {
        let strands = if it.strands > 1 { format!("{} strands of ", it.strands) } else { String::new() };
        format!("{}, {strands}{} wire put on", name(it.limb), it.metal.key())
    };
    let mut lines: Vec<WrittenLine> = Vec::new();
    lines.extend(shape.calipers.iter().map(|(id, it)| {
        let told =
            format!("{}, {} thick at {}", name(it.limb), thick(units, it.thick), long(units, it.along));
        line("diameter", *id, it.day, told)
    }));
    lines.extend(
        shape
            .cuts
            .iter()
            .map(|(id, it)| line("cut", *id, it.day, format!("{} {}", name(it.limb), it.kind.words()))),
    );
    lines.extend(shape.intentions.iter().map(|(id, it)| {
        line("wish", *id, it.made, format!("{}, meant: {}", name(it.limb), wish(it, units)))
    }));
    lines.extend(shape.wires.iter().map(|(id, it)| line("wire", *id, it.on, wired(it))));
    lines.extend(
        shape.layers.iter().filter(|(_, it)| it.apart.is_none()).map(|(id, it)| {
            line("layer", *id, it.day, format!("{}, {} begun", name(it.limb), it.way.words()))
        }),
    );
    lines.extend(shape.wounds.iter().map(|(id, it)| {
        line("wound", *id, it.day, format!("{}, wound {} wide", name(it.limb), thick(units, it.wide)))
    }));
    lines.sort_by_key(|line| std::cmp::Reverse(line.day));
    lines.truncate(SHOWN);
    lines
}
