//! One tree and the pots: the three best, why the others not, the second choice with its reason, and what a pot bought would change.

use collection::{
    potting::Pot,
    reserve::{Reservation, Said},
    ware::Ware,
};
use measure::quantity::Share;
use pot::fit::{limit::Refusal, rule::RuleId};

use super::{Ask, Offered, Record};
use crate::{
    repot::{
        frame::{Framed, frame, is_at_hand},
        held::{Held, hold},
        sitter::{Missing, Sat, sitter},
        year::season_of,
    },
    shelf::{
        assign,
        what_if::{self, Bought},
    },
};

/// A pot that a tree may have.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// Which, among the pots given.
    pub pot: usize,
    /// Its points, 0 to 1000.
    pub points: i64,
    /// Opened into its rules.
    pub held: Held,
}

/// Something to know that is no rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Note {
    /// The first show pot is taken one size larger than the last.
    FirstShowPot,
    /// A tree that is grown on wants room.
    GrowOn,
}

impl Note {
    /// In plain words; both common practice, no source.
    pub fn words(self) -> &'static str {
        match self {
            Note::FirstShowPot => {
                "its first show pot: one size larger than its last one gives it time to recover (common practice, no source)"
            }
            Note::GrowOn => {
                "it is grown on: a training pot or box of one and a half to two times the soil of a show pot makes it grow (common practice, no source)"
            }
        }
    }
}

/// The pots for one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidates {
    /// The tree as the pots see it.
    pub sat: Sat,
    /// The three best, the best first; trees may stand in them.
    pub best: Vec<Candidate>,
    /// How many more would do.
    pub more: usize,
    /// Pots that may not be used, with the reasons.
    pub refused: Vec<(usize, Vec<Refusal>)>,
    /// Pots that are held for another tree or vetoed, with the place of that word among the reservations.
    pub spoken_for: Vec<(usize, usize)>,
    /// For a tree for sale whose best pot is too dear beside its price: the best that is not.
    pub plainer: Option<Candidate>,
    /// What else to know.
    pub notes: Vec<Note>,
}

/// How many are told.
const BEST: usize = 3;

/// The pots for one tree, whether or not it is repotted this season. Training pots and pots that are away are left out.
///
/// # Errors
///
/// What is missing in its records.
pub fn candidates(
    record: &Record<'_>,
    cut: Share,
    pots: &[(&Pot, &Ware)],
    reservations: &[Reservation],
    ask: &Ask,
) -> Result<Candidates, Vec<Missing>> {
    let sat = sitter(record, cut, ask.today)?;
    let season = season_of(ask.today, ask.hemisphere);
    let (mut all, mut refused, mut spoken_for) = (Vec::new(), Vec::new(), Vec::new());
    for (at, &(pot, ware)) in pots.iter().enumerate() {
        let is_own = record.stands_in.is_some_and(|it| it.pot.key == pot.key);
        if ware.training || !is_at_hand(ware, is_own) {
            continue;
        }
        let Ok(framed) = frame(pot, ware) else { continue };
        let barred = reservations.iter().position(|it| {
            let is_other = it.tree != record.tree.key;
            let bars = if is_other { it.said.holds() } else { it.said == Said::Never };
            it.season == season && it.pot == pot.key && bars
        });
        if let Some(word) = barred {
            spoken_for.push((at, word));
            continue;
        }
        let held = hold(&pot.key, &framed, &sat, &ask.ruling);
        match held.fit.points() {
            Some(points) => all.push(Candidate { pot: at, points, held }),
            None => refused.push((at, held.fit.refusals)),
        }
    }
    all.sort_by_key(|it| (std::cmp::Reverse(it.points), it.pot));
    let is_dear = all.first().is_some_and(|best| price(&best.held).is_some_and(|mark| mark < 1.0));
    let plainer = all.iter().find(|it| is_dear && price(&it.held) == Some(1.0)).cloned();
    let more = all.len().saturating_sub(BEST);
    all.truncate(BEST);
    Ok(Candidates { sat, best: all, more, refused, spoken_for, plainer, notes: notes(record) })
}

/// How well the rule of price is kept; none where it does not apply.
fn price(held: &Held) -> Option<f64> {
    held.fit.grades.iter().find(|grade| grade.rule.id == RuleId::Price).map(|grade| grade.mark)
}

fn notes(record: &Record<'_>) -> Vec<Note> {
    let leaves_training = record.stands_in.is_some_and(|it| it.ware.training);
    if record.is_growing_on() {
        vec![Note::GrowOn]
    } else if leaves_training {
        vec![Note::FirstShowPot]
    } else {
        Vec::new()
    }
}

/// The second choice of a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Second {
    /// Which pot, as in the shelf.
    pub pot: usize,
    /// The rule that costs it the most against the first; none where none does.
    pub reason: Option<RuleId>,
    /// The grower named it.
    pub is_named: bool,
}

/// The second choice of a tree after its first, both as in the shelf: as the grower named it, else the best of the others that it may
/// have.
pub fn second(offered: &Offered, tree: usize, first: usize) -> Option<Second> {
    let may = |pot: usize| offered.shelf.choices.iter().find(|it| it.tree == tree && it.pot == pot);
    let named = offered.seconds.iter().find(|(of, pot)| *of == tree && *pot != first);
    let named = named.map(|(_, pot)| *pot).filter(|pot| may(*pot).is_some());
    let others = offered.shelf.choices.iter().filter(|it| it.tree == tree && it.pot != first);
    let best = || others.max_by_key(|it| (it.points, std::cmp::Reverse(it.pot))).map(|it| it.pot);
    let pot = named.or_else(best)?;
    let reason = offered.held(tree, pot).fit.second_to(&offered.held(tree, first).fit);
    Some(Second { pot, reason, is_named: named.is_some() })
}

/// What a pot bought would change; the pot has the last number.
///
/// # Errors
///
/// As [`Offered::plan`].
pub fn bought(offered: &Offered, pot: &Framed) -> Result<Bought, assign::Error> {
    let points = offered.trees.iter().enumerate().filter_map(|(at, tree)| {
        // A tree to which a pot is promised takes no other.
        let is_free = offered.shelf.trees[at].training.is_some();
        let held = hold("", pot, &tree.sat, &offered.ruling);
        held.fit.points().filter(|_| is_free).map(|points| (at, points))
    });
    what_if::bought(&offered.shelf, &points.collect::<Vec<_>>())
}
