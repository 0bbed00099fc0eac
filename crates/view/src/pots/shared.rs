//! The season's pots shared out over its trees, worked out once for a day and asked by every page that names a pot.

use collection::{
    potting::Pot,
    ware::{Ware, Whereabouts},
};
use jiff::civil::Date;
use pot::fit::Ruling;
use season::{
    repot::{
        goods::TRAINING_ROOM,
        late::late,
        offer::{
            Ask, NotAsked, Offered,
            free::{FreeWhy, Turns, comes_free as turns},
            offer,
        },
    },
    shelf::assign::{Place, Plan},
};

use crate::{
    repots::case::{self, hemisphere, record, window},
    whole::{TreeWhole, Whole},
    words,
};

pub use crate::repots::case::season;

/// The shelf as it was asked, and the plan.
#[derive(Clone, Debug)]
pub struct Told {
    /// Trees, pots, who may have which.
    pub offered: Offered,
    /// The plan; or why there is none.
    pub plan: Result<(Plan, Turns), String>,
    /// The training pot of each asked tree that the plan puts into one, by its rank; none where none is left.
    pub boxes: Vec<Option<usize>>,
}

/// The season's sharing out.
#[derive(Clone, Debug)]
pub struct Shared {
    /// What came of it, or why nothing could be asked.
    pub told: Result<Told, String>,
}

impl Shared {
    /// Whether a tree goes this season, by its rank; also where its measures are missing.
    pub fn goes(&self, tree: usize) -> bool {
        self.told.as_ref().is_ok_and(|told| {
            let asked = told.offered.trees.iter().any(|it| it.record == tree);
            let lacks =
                |(rank, why): &(usize, NotAsked)| *rank == tree && matches!(why, NotAsked::Missing(_));
            asked || told.offered.not_asked.iter().any(lacks)
        })
    }
}

/// Pots with their records, in the order of the pots.
pub(crate) fn pots(whole: &Whole) -> Vec<(&Pot, &Ware)> {
    whole.pots.iter().zip(&whole.shelf.wares).collect()
}

/// The grower's hand on the rules: those that are switched off, and what the likings taught about colour.
pub fn ruling(whole: &Whole) -> Ruling {
    let off = whole.shelf.rules_off.iter().filter_map(|key| pot::fit::rule::RuleId::of(key));
    let ruling = off.fold(Ruling::default(), Ruling::without);
    match super::taste::learned(whole) {
        Some(taste) => Ruling { colour: taste.weights, ..ruling },
        None => ruling,
    }
}

/// The day and the rules that the shelf is asked by.
pub(crate) fn ask(whole: &Whole) -> Ask {
    Ask { today: whole.today, hemisphere: hemisphere(whole), ruling: ruling(whole) }
}

/// The sharing out, worked out when first asked for.
pub fn shared(whole: &Whole) -> &Shared {
    whole.shelf.shared.get_or_init(|| work_out(whole))
}

fn work_out(whole: &Whole) -> Shared {
    let thirsty = case::is_left_alone(whole);
    let records: Vec<_> = whole.trees.iter().map(|tree| record(whole, tree, thirsty)).collect();
    let offered = match offer(&records, &pots(whole), &whole.shelf.reservations, &ask(whole)) {
        Ok(offered) => offered,
        Err(why) => return Shared { told: Err(why.to_string()) },
    };
    let plan = offered.plan().map_err(|why| why.to_string()).map(|plan| {
        let of = |tree: &season::repot::offer::Asked| window(whole, &whole.trees[tree.record]);
        let windows: Vec<Option<(Date, Date)>> = offered.trees.iter().map(of).collect();
        let mut turns = turns(&offered, &plan, &windows);
        for (turn, window) in turns.trees.iter_mut().zip(&windows) {
            turn.is_late |= late(*window, whole.today);
        }
        (plan, turns)
    });
    let boxes =
        plan.as_ref().map_or_else(|_| Vec::new(), |(plan, turns)| boxes(whole, &offered, plan, turns));
    Shared { told: Ok(Told { offered, plan, boxes }) }
}

/// The training pots shared out over the trees that the plan puts into one, in the order of their days, so that none is named for more
/// trees than there are pots. A pot that a tree of the plan leaves counts as left.
fn boxes(whole: &Whole, offered: &Offered, plan: &Plan, turns: &Turns) -> Vec<Option<usize>> {
    let mut order: Vec<usize> = (0..plan.into.len()).filter(|&at| plan.into[at] == Place::Training).collect();
    order.sort_by_key(|&at| {
        (turns.trees[at].potted.unwrap_or(Date::MAX), &whole.trees[offered.trees[at].record].tree.name)
    });
    let mut taken: Vec<usize> = (0..whole.pots.len())
        .map(|pot| {
            let goes = |tree: &TreeWhole| {
                offered.trees.iter().any(|it| whole.trees[it.record].tree.key == tree.tree.key)
            };
            super::inside(whole, pot).filter(|tree| !goes(tree)).count()
        })
        .collect();
    let mut told = vec![None; plan.into.len()];
    for at in order {
        let own = &whole.trees[offered.trees[at].record];
        told[at] = roomy(whole, own, |pot| taken[pot]);
        told[at].into_iter().for_each(|pot: usize| taken[pot] += 1);
    }
    told
}

/// Where a tree goes by the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Into {
    /// Into the pot of this key.
    Pot(String),
    /// Into a training pot.
    Training,
}

/// What the plan says of a tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OfTree {
    /// Where it goes.
    pub into: Into,
    /// Where, and from which day, in words.
    pub words: String,
    /// The day on which it is potted at the earliest.
    pub potted: Option<Date>,
    /// The pot comes free only after the tree's window.
    pub is_late: bool,
}

/// The place of a tree among the asked; none where it is not asked.
pub(crate) fn asked(told: &Told, whole: &Whole, tree: &str) -> Option<usize> {
    told.offered.trees.iter().position(|it| whole.trees[it.record].tree.key == tree)
}

/// What the plan says of a tree; none where it is not asked or there is no plan.
pub fn of_tree(whole: &Whole, tree: &str) -> Option<OfTree> {
    let told = shared(whole).told.as_ref().ok()?;
    let at = asked(told, whole, tree)?;
    let (plan, turns) = told.plan.as_ref().ok()?;
    let turn = turns.trees[at];
    let day = turn.potted.map(|day| words::day(day.max(whole.today), whole.today));
    let over =
        window(whole, &whole.trees[told.offered.trees[at].record]).is_some_and(|it| it.1 < whole.today);
    let late = match turn.is_late {
        true if over => "; the window of this tree is over",
        true => {
            "; it comes free only after the window of this tree: choose another pot, or leave the tree in its own this year"
        }
        false if turn.waits_in_box => "; until then it waits in a box, its roots cut in its own window",
        false => "",
    };
    let (into, words) = match plan.into[at] {
        Place::Training => {
            let named = told.boxes[at].map(|rank| whole.pots[rank].name.clone());
            (Into::Training, named.unwrap_or_else(|| "a training pot, of which none is left".into()))
        }
        Place::Pot(pot) => {
            let own = told.offered.shelf.trees[at].stands_in == Some(pot);
            let name = whole.pots[told.offered.pots[pot]].name.clone();
            let free = turns.pots[pot].why;
            let from = match free {
                _ if own => " once more".to_string(),
                FreeWhy::Lifted { tree } => {
                    let before = &whole.trees[told.offered.trees[tree].record].tree.name;
                    format!(", after {before} has left it")
                }
                _ => String::new(),
            };
            (Into::Pot(whole.pots[told.offered.pots[pot]].key.clone()), format!("{name}{from}"))
        }
    };
    let words = match day {
        Some(day) => format!("{words}, {day} at the earliest{late}"),
        None => format!("{words}; no day, for a window on the way is not known"),
    };
    Some(OfTree { into, words, potted: turn.potted, is_late: turn.is_late })
}

/// Why a tree that goes has no place in the plan: what nobody wrote down, or why there is no plan. None where it has one, or is not asked.
pub fn not_planned(whole: &Whole, tree: &str) -> Option<String> {
    let told = match &shared(whole).told {
        Ok(told) => told,
        Err(why) => return Some(format!("no pot can be looked for: {why}")),
    };
    let lacks = told.offered.not_asked.iter().find(|(rank, _)| whole.trees[*rank].tree.key == tree);
    let why = match (lacks, &told.plan) {
        (Some((_, why)), _) => lacking(why)?,
        (None, Err(why)) => why.clone(),
        (None, Ok(_)) => return None,
    };
    Some(format!("no pot can be looked for: {why}"))
}

/// What a tree that goes lacks to be asked, in words; none where it is not asked because it stays.
pub(crate) fn lacking(why: &NotAsked) -> Option<String> {
    match why {
        NotAsked::Missing(all) => Some(all.iter().map(|it| it.words()).collect::<Vec<_>>().join("; ")),
        NotAsked::OutOfRange(why) => Some(why.to_string()),
        NotAsked::Stays(_) | NotAsked::TooLate(_) => None,
    }
}

/// The training pot for a tree: that of the plan, else as it would be if the tree came next.
pub fn training_for(whole: &Whole, tree: &TreeWhole) -> Option<usize> {
    let told = shared(whole).told.as_ref().ok();
    let at = told.and_then(|told| Some((told, asked(told, whole, &tree.tree.key)?)));
    match at.filter(|(told, at)| told.plan.as_ref().is_ok_and(|(plan, _)| plan.into[*at] == Place::Training))
    {
        Some((told, at)) => told.boxes[at],
        None => roomy(whole, tree, |pot| super::inside(whole, pot).count()),
    }
}

/// The smallest training pot of which one is left that has the room to grow on, else the largest.
fn roomy(whole: &Whole, tree: &TreeWhole, taken: impl Fn(usize) -> usize) -> Option<usize> {
    let soil = |pot: usize| whole.pots[pot].vessel.soil().map_or(0.0, |soil| soil.volume().0);
    let wanted = crate::water::stands_in(tree).map_or(0.0, |(own, _)| soil(own)) * TRAINING_ROOM.value;
    let left = |pot: &usize| {
        let ware = &whole.shelf.wares[*pot];
        ware.training && ware.whereabouts == Whereabouts::Shelf && taken(*pot) < usize::from(ware.count)
    };
    let mut all: Vec<usize> = (0..whole.pots.len()).filter(left).collect();
    all.sort_by(|a, b| soil(*a).total_cmp(&soil(*b)));
    all.iter().find(|&&pot| soil(pot) >= wanted).or(all.last()).copied()
}

/// When a pot comes free.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Free {
    /// From when on; none where nobody knows.
    pub day: Option<Date>,
    /// In words.
    pub words: String,
}

/// When a pot that is in use comes free by the plan; none where it does not.
pub fn comes_free(whole: &Whole, pot: usize) -> Option<Free> {
    let told = shared(whole).told.as_ref().ok()?;
    let at = told.offered.pots.iter().position(|it| *it == pot)?;
    let (plan, turns) = told.plan.as_ref().ok()?;
    let name = |tree: usize| whole.trees[told.offered.trees[tree].record].tree.name.as_str();
    let next = (0..plan.into.len()).find(|&tree| plan.into[tree] == Place::Pot(at));
    let then = |before: Option<usize>| match next {
        Some(tree) if Some(tree) != before => format!(", then {} by the plan", name(tree)),
        _ => String::new(),
    };
    match turns.pots[at].why {
        FreeWhy::Empty => next.map(|tree| Free {
            day: None,
            words: format!("By the plan for {}; not promised yet", name(tree)),
        }),
        FreeWhy::Kept { .. } => None,
        FreeWhy::Lifted { tree } => {
            let day = turns.pots[at].when.map(|day| day.max(whole.today));
            let words = day.map_or(String::new(), |day| words::day(day, whole.today));
            Some(Free {
                day,
                words: format!("Free when {} is lifted, about {words}{}", name(tree), then(Some(tree))),
            })
        }
        FreeWhy::NoWindow { tree } => Some(Free {
            day: None,
            words: format!("Free when {} is lifted; no day is known{}", name(tree), then(Some(tree))),
        }),
    }
}

/// Whether a pot is free on a day: nobody in it and held for nobody, or its tree lifted by then and no other potted into it.
pub fn is_free_on(whole: &Whole, pot: usize, day: Date) -> bool {
    match super::state(whole, pot) {
        super::State::Free => true,
        super::State::Held | super::State::Away => false,
        super::State::InUse => {
            let taken = taken_by(whole, pot).is_some();
            !taken && comes_free(whole, pot).and_then(|free| free.day).is_some_and(|free| free <= day)
        }
    }
}

/// Whether a tree that stays this season stands in a pot.
pub fn is_taken(whole: &Whole, pot: usize) -> bool {
    let goes = |tree: &TreeWhole| {
        let told = shared(whole).told.as_ref().ok();
        told.is_some_and(|told| asked(told, whole, &tree.tree.key).is_some())
    };
    super::inside(whole, pot).any(|tree| !goes(tree))
}

/// The tree that gets a pot by the plan.
fn taken_by(whole: &Whole, pot: usize) -> Option<&TreeWhole> {
    let told = shared(whole).told.as_ref().ok()?;
    let at = told.offered.pots.iter().position(|it| *it == pot)?;
    let (plan, _) = told.plan.as_ref().ok()?;
    let tree = (0..plan.into.len()).find(|&tree| plan.into[tree] == Place::Pot(at))?;
    Some(&whole.trees[told.offered.trees[tree].record])
}
