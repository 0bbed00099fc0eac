//! The bench card: what is meant for each branch, on one screen and one printed page, to see before the shears close.

use collection::intention::{CutKind, Intention};
use jiff::civil::Date;
use season::limbs::order::{self, Turn};
use state::work::Work;

use super::{StepLine, front, limbs, wish};
use crate::{
    shape::Shape,
    verdicts,
    whole::{TreeWhole, Whole},
    words,
};

/// The card.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchCard {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// Its taxon's common name.
    pub common: String,
    /// The day.
    pub day: String,
    /// What the grower is after.
    pub aim: String,
    /// The front, its lean and why; empty where none was kept.
    pub front: String,
    /// What to be careful of with its kind.
    pub cautions: Option<crate::cautions::Cautions>,
    /// Limbs that must not be cut, first of all.
    pub spare: Vec<StepLine>,
    /// The rest from the base up, with the stops.
    pub steps: Vec<StepLine>,
    /// The last cuts.
    pub cuts: Vec<String>,
    /// Limbs to choose from when a cut is written down.
    pub limbs: Vec<(u32, String)>,
    /// May it be cut today: the verdicts.
    pub may: Vec<verdicts::Line>,
    /// Today, for the form.
    pub today: String,
}

/// The limbs that must not be cut: their names and what is meant for them.
pub fn spared(whole: &Whole, tree: &TreeWhole) -> Vec<(String, String)> {
    let shape = &tree.shape;
    let open = shape.intentions.iter().map(|(_, it)| it).filter(|it| it.holds(whole.today));
    open.filter(|it| matches!(order::turn(it.wish), Turn::Spare | Turn::Stop))
        .map(|it| (shape.name_of(it.limb), wish(it, whole.units())))
        .collect()
}

/// What speaks against a cut, in words.
pub fn against(whole: &Whole, tree: &TreeWhole, it: &Intention, cut: CutKind) -> String {
    let (shape, units) = (&tree.shape, whole.units());
    let why = if it.why.is_empty() { String::new() } else { format!(": {}", it.why) };
    format!(
        "{} is meant to be left: {}{why}, since {}. Nothing was written down; {} would go against it.",
        shape.name_of(it.limb),
        wish(it, units),
        words::day(it.made, whole.today),
        cut.words()
    )
}

impl BenchCard {
    /// The card as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("{}, {}, {}\n", self.name, self.common, self.day);
        if !self.front.is_empty() {
            text += &format!("{}\n", self.front);
        }
        if let Some(cautions) = &self.cautions {
            text += &format!("Careful: {}\n", cautions.short);
        }
        for it in &self.may {
            let why = it.why.first().map_or_else(String::new, |why| format!(" ({why})"));
            text += &format!("{}: {}{why}\n", it.work, it.answer);
        }
        let line = |step: &StepLine| {
            let late = if step.late { ", late" } else { "" };
            let why = if step.why.is_empty() { String::new() } else { format!(": {}", step.why) };
            let stop = if step.turn == "stop" { ". Stop: nothing on it, nothing above it" } else { "" };
            format!("  {} {}, {}{late}{why}{stop}\n", step.number, step.name, step.words)
        };
        if !self.spare.is_empty() {
            text += "\nDo not cut\n";
            text.extend(self.spare.iter().map(line));
        }
        if !self.steps.is_empty() {
            text += "\nFrom the base up\n";
            text.extend(self.steps.iter().map(line));
        }
        if self.spare.is_empty() && self.steps.is_empty() {
            text += "\nNothing is meant for any branch.\n";
        }
        text
    }
}

/// Cuts further back are not shown.
const SHOWN: usize = 5;

/// The card of a tree.
pub fn card(whole: &Whole, tree: &TreeWhole) -> BenchCard {
    let page = limbs(whole, tree);
    // What is left alone stands on top with the rest that is not cut, and again at its height, to stop there.
    let of =
        |turns: [&str; 2]| page.steps.iter().filter(|step| turns.contains(&step.turn)).cloned().collect();
    let (spare, steps) = (of(["spare", "stop"]), of(["work", "stop"]));
    BenchCard {
        key: page.key,
        name: page.name,
        common: page.common,
        day: words::day(whole.today, whole.today),
        aim: page.aim,
        front: front::agreed(&tree.shape).unwrap_or_default(),
        cautions: crate::cautions::of(whole, tree),
        spare,
        steps,
        cuts: last_cuts(&tree.shape, whole.today),
        limbs: page.rows.into_iter().map(|row| (row.number, row.name)).collect(),
        may: verdicts::may(whole, tree, &[Work::HardPrune, Work::Trim, Work::Pinch]),
        today: page.today,
    }
}

fn last_cuts(shape: &Shape, today: Date) -> Vec<String> {
    let cuts = shape.cuts.iter().rev().take(SHOWN);
    let line = cuts.map(|(_, cut)| {
        let despite = match cut.despite.as_str() {
            "" => String::new(),
            why => format!(", though asked: {why}"),
        };
        let (day, name) = (words::day(cut.day, today), shape.name_of(cut.limb));
        format!("{day}: {name} {}{despite}", cut.kind.words())
    });
    line.collect()
}
