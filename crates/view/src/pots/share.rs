//! The whole shelf at once: which pot for which tree this season, in which order, what waits for what, and what a bought pot would change.

use season::{
    repot::{
        offer::{NotAsked, Unkept, calendar::calendar, choose},
        year::Goes,
    },
    shelf::{
        assign::Place,
        steps::{Step, carry_out},
    },
};

use super::{
    opened,
    shared::{self, Told, shared},
    wanted::Wanted,
};
use crate::{repots::case, whole::Whole, words};

/// A tree with its pot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PairRow {
    /// The tree's key.
    pub tree: String,
    /// The tree's name.
    pub name: String,
    /// The pot's key; none for a training pot.
    pub pot: Option<String>,
    /// The pot's name; of a training pot too, or "a training pot" where none is left.
    pub into: String,
    /// The colour of the pot.
    pub colour: Option<String>,
    /// How well they suit, 0 to 100.
    pub score: String,
    /// What costs the most.
    pub cost: String,
    /// From which pot it comes, and when it can be potted.
    pub when: String,
    /// The second choice and why it is second.
    pub second: String,
    /// A word that stands: promised or kept for it.
    pub said: Option<&'static str>,
    /// It stays in its own pot.
    pub stays: bool,
    /// The pot comes free after the tree's window.
    pub is_late: bool,
    /// The version of the pot's record, for a reservation.
    pub revision: u32,
}

/// A run of repots that hang on each other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Whether it closes in a ring.
    pub is_ring: bool,
    /// The trees in the order in which they are done, with what each does: name and words.
    pub turns: Vec<(String, String)>,
}

/// What a bought pot would change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoughtRow {
    /// In a sentence.
    pub words: String,
    /// Trees that would go elsewhere: name, from, to.
    pub moved: Vec<(String, String, String)>,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct SharePage {
    /// The year of the season.
    pub season: i16,
    /// Trees with their pots, by the day they can be potted.
    pub rows: Vec<PairRow>,
    /// The order at the bench: the day, and what is done.
    pub steps: Vec<(String, String)>,
    /// Trees that were meant to go, but whose window is over: key, name, what to do instead.
    pub too_late: Vec<(String, String, String)>,
    /// What hangs on each other, longest first.
    pub runs: Vec<Run>,
    /// How good the plan is, and whether a better one can exist.
    pub proof: String,
    /// Whether no better plan exists.
    pub proven: bool,
    /// Boxes in use at once and training pots short.
    pub boxes: String,
    /// Trees that go but cannot be asked: key, name, what is missing.
    pub missing: Vec<(String, String, String)>,
    /// Words that cannot be kept, and why.
    pub unkept: Vec<String>,
    /// Why there is no plan.
    pub no_plan: Option<String>,
    /// What a bought pot would change, or why it cannot be told.
    pub bought: Option<Result<BoughtRow, String>>,
    /// What is not known.
    pub caveats: Vec<String>,
    /// Unit of lengths.
    pub unit: &'static str,
}

/// The page of the season; `bought` is a pot to think of buying.
pub fn share(whole: &Whole, bought: Option<&Wanted<'_>>) -> SharePage {
    let mut page = SharePage {
        season: shared::season(whole),
        rows: Vec::new(),
        steps: Vec::new(),
        too_late: Vec::new(),
        runs: Vec::new(),
        proof: String::new(),
        proven: false,
        boxes: String::new(),
        missing: Vec::new(),
        unkept: Vec::new(),
        no_plan: None,
        bought: None,
        caveats: Vec::new(),
        unit: super::unit(whole.units()),
    };
    let told = match &shared(whole).told {
        Ok(told) => told,
        Err(why) => {
            page.no_plan = Some(why.clone());
            return page;
        }
    };
    page.missing = missing(whole, told);
    page.too_late = too_late(whole, told);
    page.unkept = unkept(whole, told);
    page.caveats = caveats(whole, told);
    match &told.plan {
        Ok(_) => fill(whole, told, &mut page),
        Err(why) => page.no_plan = Some(why.clone()),
    }
    page.bought = bought.map(|wanted| buy(whole, told, wanted));
    page
}

fn name(whole: &Whole, told: &Told, tree: usize) -> String {
    whole.trees[told.offered.trees[tree].record].tree.name.clone()
}

fn place(whole: &Whole, told: &Told, it: Place) -> String {
    match it {
        Place::Training => "a training pot".into(),
        Place::Pot(pot) => {
            told.offered.pots.get(pot).map_or("the new pot".into(), |at| whole.pots[*at].name.clone())
        }
    }
}

/// Where a tree goes by the plan: a training pot by its name.
fn goes_into(whole: &Whole, told: &Told, tree: usize, it: Place) -> String {
    match (it, told.boxes.get(tree).copied().flatten()) {
        (Place::Training, Some(rank)) => whole.pots[rank].name.clone(),
        (it, _) => place(whole, told, it),
    }
}

fn fill(whole: &Whole, told: &Told, page: &mut SharePage) {
    let Ok((plan, turns)) = &told.plan else { return };
    if plan.into.is_empty() {
        return;
    }
    let mut order: Vec<usize> = (0..plan.into.len()).collect();
    order.sort_by_key(|&tree| {
        (turns.trees[tree].potted.unwrap_or(jiff::civil::Date::MAX), name(whole, told, tree))
    });
    page.rows = order.into_iter().map(|tree| row(whole, told, tree)).collect();
    let day = |day: Option<jiff::civil::Date>| {
        day.map_or("no day is known".into(), |day| words::day(day.max(whole.today), whole.today))
    };
    page.steps = calendar(&told.offered, plan, turns)
        .into_iter()
        .map(|(step, on)| (day(on), step_words(whole, told, step)))
        .collect();
    page.runs = runs(whole, told);
    page.proven = plan.proven();
    let points = |it: i64| format!("{:.1}", it as f64 / 10.0);
    page.proof = if plan.proven() {
        format!(
            "No other sharing out of these pots has more points: {} with what training pots count for trees that are grown on",
            points(plan.value)
        )
    } else {
        format!(
            "{} points with training pots; that this is the best is not proven: it may be up to {}",
            points(plan.value),
            points(plan.bound)
        )
    };
    let boxes = carry_out(&told.offered.shelf, &plan.steps).map_or(0, |done| done.boxes);
    let short = told.offered.training_short(plan);
    let mut parts = Vec::new();
    if boxes > 0 {
        parts.push(format!(
            "{} for a while: {}",
            words::count(boxes, "box is needed", "boxes are needed"),
            words::count(plan.rings, "ring of swaps", "rings of swaps")
        ));
    }
    if short > 0 {
        parts.push(format!("{} short", words::count(short, "training pot is", "training pots are")));
    }
    if told.offered.box_assumed && boxes > 0 {
        parts.push("no training pot is free; any bucket with holes will do for the while".into());
    }
    page.boxes = parts.join("; ");
}

fn row(whole: &Whole, told: &Told, tree: usize) -> PairRow {
    let asked = &told.offered.trees[tree];
    let own = &whole.trees[asked.record].tree;
    let base = PairRow {
        tree: own.key.clone(),
        name: own.name.clone(),
        pot: None,
        into: goes_into(whole, told, tree, Place::Training),
        colour: None,
        score: String::new(),
        cost: if asked.growing_on {
            "it is grown on".into()
        } else {
            "no pot of the shelf is worth it, or others need them more".into()
        },
        when: String::new(),
        second: String::new(),
        said: None,
        stays: false,
        is_late: false,
        revision: 0,
    };
    let Ok((plan, turns)) = &told.plan else { return base };
    let turn = turns.trees[tree];
    let from = told.offered.shelf.trees[tree].stands_in.map(|pot| place(whole, told, Place::Pot(pot)));
    let day = turn.potted.map_or("no day is known".into(), |day| {
        format!("{} at the earliest", words::day(day.max(whole.today), whole.today))
    });
    let when = match (from, plan.into[tree]) {
        (Some(_), Place::Pot(pot)) if told.offered.shelf.trees[tree].stands_in == Some(pot) => day,
        (Some(from), _) => format!("out of {from}, {day}"),
        (None, _) => day,
    };
    let Place::Pot(pot) = plan.into[tree] else { return PairRow { when, ..base } };
    let held = told.offered.held(tree, pot);
    let rank = told.offered.pots[pot];
    let ware = &whole.shelf.wares[rank];
    let named = named_second(whole, told, tree, pot);
    let second = choose::second(&told.offered, tree, pot).map_or(named.unwrap_or_default(), |second| {
        let name = place(whole, told, Place::Pot(second.pot));
        let why = second
            .reason
            .map_or(String::new(), |rule| format!(", behind it mostly by its {}", opened::rule_words(rule)));
        let who = if second.is_named { ", as you named it" } else { "" };
        format!("{name}{who}{why}")
    });
    PairRow {
        pot: Some(ware.pot.clone()),
        into: whole.pots[rank].name.clone(),
        colour: ware.glaze.map(|it| super::preview::hex(it.colour)),
        score: held.fit.score.map_or("not graded".into(), |it| format!("{:.0}", it.0 * 100.0)),
        cost: held.fit.losses().first().map_or("nothing speaks against it".into(), |(rule, lost)| {
            format!("it loses most by its {} ({:.0})", opened::rule_words(*rule), lost.0 * 100.0)
        }) + &waiting(told, tree, pot),
        when,
        second,
        said: super::said(whole, &ware.pot)
            .find(|it| it.tree == own.key && it.said.holds())
            .map(|it| it.said.words()),
        stays: told.offered.shelf.trees[tree].stands_in == Some(pot),
        is_late: turn.is_late,
        revision: ware.revision,
        ..base
    }
}

/// What it costs in the plan's points that a pot comes after the tree's window; empty where it costs nothing.
fn waiting(told: &Told, tree: usize, pot: usize) -> String {
    let choice = told.offered.shelf.choices.iter().find(|it| (it.tree, it.pot) == (tree, pot));
    let full = told.offered.held(tree, pot).fit.points();
    match choice.zip(full).map(|(choice, full)| full - choice.points).filter(|less| *less > 0) {
        Some(less) => format!("; {:.1} less in the plan, for it comes after the window", less as f64 / 10.0),
        None => String::new(),
    }
}

/// A second choice that the grower named, also where a promise leaves no other choice, with the reason that was given.
fn named_second(whole: &Whole, told: &Told, tree: usize, first: usize) -> Option<String> {
    let (_, pot) = *told.offered.seconds.iter().find(|(of, pot)| *of == tree && *pot != first)?;
    let rank = told.offered.pots[pot];
    let own = &whole.trees[told.offered.trees[tree].record].tree.key;
    let said = super::said(whole, &whole.pots[rank].key).find(|it| &it.tree == own);
    let why = said.filter(|it| !it.why.is_empty()).map_or(String::new(), |it| format!(": {}", it.why));
    Some(format!("{}, as you named it{why}", whole.pots[rank].name))
}

fn step_words(whole: &Whole, told: &Told, step: Step) -> String {
    match step {
        Step::Park { tree } => format!("Lift {} into a box for now", name(whole, told, tree)),
        Step::Pot { tree, into } => {
            let stays =
                matches!(into, Place::Pot(pot) if told.offered.shelf.trees[tree].stands_in == Some(pot));
            let again = if stays { " again" } else { "" };
            format!("{} into {}{again}", name(whole, told, tree), goes_into(whole, told, tree, into))
        }
    }
}

/// The runs of more than one tree: rings, and chains from the tree whose pot is free to the last that waits.
fn runs(whole: &Whole, told: &Told) -> Vec<Run> {
    let Ok((plan, _)) = &told.plan else { return Vec::new() };
    let rings = plan.rings_of(&told.offered.shelf);
    let in_ring = |tree: usize| rings.iter().any(|ring| ring.contains(&tree));
    let occupant = |pot: usize| told.offered.shelf.trees.iter().position(|it| it.stands_in == Some(pot));
    let turn = |tree: usize| {
        (name(whole, told, tree), format!("into {}", goes_into(whole, told, tree, plan.into[tree])))
    };
    let mut runs: Vec<Run> = rings
        .iter()
        .map(|ring| Run { is_ring: true, turns: ring.iter().rev().map(|&tree| turn(tree)).collect() })
        .collect();
    let waits_for = |tree: usize| match plan.into[tree] {
        Place::Pot(pot) => occupant(pot).filter(|&other| other != tree),
        Place::Training => None,
    };
    let trees = 0..plan.into.len();
    for last in trees.clone().filter(|&tree| !in_ring(tree)) {
        // A chain is told from its last tree: the one whose old pot nobody waits for.
        if trees.clone().any(|tree| waits_for(tree) == Some(last)) || waits_for(last).is_none() {
            continue;
        }
        let chain: Vec<usize> = std::iter::successors(Some(last), |&tree| waits_for(tree)).collect();
        runs.push(Run { is_ring: false, turns: chain.into_iter().rev().map(turn).collect() });
    }
    runs.sort_by_key(|run| std::cmp::Reverse((run.is_ring, run.turns.len())));
    runs
}

fn missing(whole: &Whole, told: &Told) -> Vec<(String, String, String)> {
    let lacks = told.offered.not_asked.iter().filter_map(|(rank, why)| {
        let tree = &whole.trees[*rank].tree;
        Some((tree.key.clone(), tree.name.clone(), shared::lacking(why)?))
    });
    lacks.collect()
}

/// Trees that a word or their signs ask for, but that are in leaf.
fn too_late(whole: &Whole, told: &Told) -> Vec<(String, String, String)> {
    let late = |(rank, why): &(usize, NotAsked)| {
        let NotAsked::TooLate(Goes::No(why)) = why else { return None };
        let tree = &whole.trees[*rank];
        let season = shared::season(whole);
        let meant = tree.standing.meant.iter().any(|it| it.season == season && it.repot);
        meant.then(|| (tree.tree.key.clone(), tree.tree.name.clone(), case::whys(why, whole.today)))
    };
    told.offered.not_asked.iter().filter_map(late).collect()
}

fn unkept(whole: &Whole, told: &Told) -> Vec<String> {
    let line = |(at, why): &(usize, Unkept)| {
        let said = &whole.shelf.reservations[*at];
        let tree = whole.tree(&said.tree).map_or(said.tree.as_str(), |tree| tree.tree.name.as_str());
        let pot =
            super::rank_of(whole, &said.pot).map_or(said.pot.as_str(), |at| whole.pots[at].name.as_str());
        let why = match why {
            Unkept::Refused(all) => {
                all.iter().map(|it| opened::refusal(it, whole.units())).collect::<Vec<_>>().join("; ")
            }
            Unkept::NotOffered => {
                "the pot is not on the list: a tree that stays is in it, or it is away".into()
            }
            Unkept::NotAsked => "the tree is not repotted this season; the pot waits for it".into(),
            Unkept::ComesTooLate(days) => {
                format!(
                    "the pot comes free {days} days after the window of the tree has closed; it is kept for nobody else"
                )
            }
            Unkept::NoSuch => "one of the two is no longer there".into(),
            Unkept::Twice => "another word stands against it".into(),
        };
        format!("{pot}, {} {tree}: {why}", said.said.words())
    };
    told.offered.unkept.iter().map(line).collect()
}

fn caveats(whole: &Whole, told: &Told) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut assumed: Vec<&'static str> =
        told.offered.trees.iter().flat_map(|it| it.sat.assumed.iter().map(|it| it.words())).collect();
    assumed.sort_unstable();
    let mut at = 0;
    while at < assumed.len() {
        let many = assumed[at..].iter().take_while(|it| **it == assumed[at]).count();
        lines.push(format!("of {}: {}", words::count(many, "tree", "trees"), assumed[at]));
        at += many;
    }
    let unknown = |rank: &&usize| !super::unknown(&whole.shelf.wares[**rank]).is_empty();
    let many = told.offered.pots.iter().filter(unknown).count();
    if many > 0 {
        lines.push(format!(
            "{} not wholly known; each record says what",
            words::count(many, "pot is", "pots are")
        ));
    }
    lines.push("the points are habits of the trade in numbers of our own choice: look at the parts, and say no where your eye does".into());
    lines
}

fn buy(whole: &Whole, told: &Told, wanted: &Wanted<'_>) -> Result<BoughtRow, String> {
    let framed = wanted.framed(whole.units())?;
    let bought = choose::bought(&told.offered, &framed).map_err(|why| why.to_string())?;
    let gain = bought.gain() as f64 / 10.0;
    let new = told.offered.pots.len();
    let taker = bought.after.into.iter().position(|it| *it == Place::Pot(new));
    let words = match taker {
        Some(tree) => {
            format!("{} would get it, and the season's sum would rise by {gain:.1}", name(whole, told, tree))
        }
        None => "nobody would get it: every tree that goes does better with what is on the shelf".into(),
    };
    let moved = bought.moved.iter().map(|&tree| {
        let [from, to] = [&bought.before, &bought.after].map(|plan| place(whole, told, plan.into[tree]));
        (name(whole, told, tree), from, to)
    });
    Ok(BoughtRow { words, moved: moved.collect() })
}

impl SharePage {
    /// The page as plain text.
    pub fn text(&self) -> String {
        let mut text = format!("Pots of {}\n", self.season);
        if let Some(why) = &self.no_plan {
            text += &format!("no plan: {why}\n");
        }
        for row in &self.rows {
            let score = if row.score.is_empty() { String::new() } else { format!("{}; ", row.score) };
            text += &format!("\n{} into {} ({score}{})\n  {}\n", row.name, row.into, row.cost, row.when);
            if !row.second.is_empty() {
                text += &format!("  second: {}\n", row.second);
            }
        }
        if !self.proof.is_empty() {
            text += &format!("\n{}\n", self.proof);
        }
        if !self.boxes.is_empty() {
            text += &format!("{}\n", self.boxes);
        }
        if !self.steps.is_empty() {
            text += "\nAt the bench, in this order\n";
        }
        for (at, (day, step)) in self.steps.iter().enumerate() {
            text += &format!("{:>3}. {day}: {step}\n", at + 1);
        }
        for (_, name, why) in &self.too_late {
            text += &format!("{name}: {why}\n");
        }
        for (_, name, why) in &self.missing {
            text += &format!("{name} cannot be asked: {why}\n");
        }
        for line in &self.unkept {
            text += &format!("cannot be kept: {line}\n");
        }
        text
    }
}
