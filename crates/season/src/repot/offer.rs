//! The shelf out of the collection: which trees are asked, which pots are there, who may have which, and the grower's word on them.

pub mod calendar;
pub mod choose;
pub mod free;
pub mod in_time;
#[cfg(test)]
pub(crate) mod tests;

use collection::{
    potting::Pot,
    reserve::{Reservation, Said},
    ware::{Ware, Whereabouts},
};
use jiff::civil::Date;
use measure::{
    range::OutOfRange,
    sourced::{Sourced, Standing},
    winter::Hemisphere,
};
use pot::{
    error::Error,
    fit::{
        Ruling,
        limit::{Refusal, refusals},
    },
};

use super::{
    cut::{self, CutToday},
    due::{Told, due},
    frame::{Framed, frame, is_at_hand},
    held::{Held, hold},
    record::Record,
    sitter::{Missing, Sat, sitter},
    year::{Goes, Why, goes, season_of},
};
use crate::shelf::{
    assign::{self, Choice, Plan, Shelf, Tree},
    word::{self, Word},
};

/// Points of a training pot: for a tree meant for show less than any pot that suits it halfway; for one that is grown on more than
/// any pot.
pub const TRAINING_POINTS: Sourced<[i64; 2]> = Sourced {
    value: [250, 1001],
    standing: Standing::Estimate("a choice of ours: shown trees leave the training pot, others stay in it"),
};

/// Points that a ring of swaps costs: its first tree is lifted twice.
pub const RING_PRICE: Sourced<i64> =
    Sourced { value: 25, standing: Standing::Estimate("a choice of ours: a fortieth of a perfect fit") };

/// When and by what rules the shelf is asked.
#[derive(Clone, Copy, Debug)]
pub struct Ask {
    /// The day.
    pub today: Date,
    /// Which half of the Earth.
    pub hemisphere: Hemisphere,
    /// The grower's hand on the rules.
    pub ruling: Ruling,
}

/// Why a tree is not asked.
#[derive(Clone, Debug, PartialEq)]
pub enum NotAsked {
    /// It is not repotted this season.
    Stays(Goes),
    /// It would be, but its window is over and its roots would be cut in leaf.
    TooLate(Goes),
    /// What nobody wrote down.
    Missing(Vec<Missing>),
    /// Something in its records is not such.
    OutOfRange(OutOfRange),
}

/// Why a pot is not offered.
#[derive(Clone, Debug, PartialEq)]
pub enum NotOffered {
    /// A training pot; there are enough of them.
    Training,
    /// Not at hand.
    Away(Whereabouts),
    /// A tree stands in it that is not lifted this season, by its place among the records.
    Taken(usize),
    /// Several trees are written down in it.
    Shared(Vec<usize>),
    /// Its measures are not those of a pot.
    Measures(Error),
}

/// Why the grower's word cannot be kept.
#[derive(Clone, Debug, PartialEq)]
pub enum Unkept {
    /// The pot does not suit the tree by the hard limits; it is kept for nobody else all the same.
    Refused(Vec<Refusal>),
    /// The pot is not on the list.
    NotOffered,
    /// The tree is not asked this season; the pot waits for it.
    NotAsked,
    /// The pot comes free so many days after the tree's window has closed; it is kept for nobody else all the same.
    ComesTooLate(i32),
    /// There is no such tree or pot.
    NoSuch,
    /// Another word stands against it: the pot is held, another pot is promised to this tree, it was vetoed, or the veto comes after
    /// a promise.
    Twice,
}

/// Training pots.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Training {
    /// How many stand empty.
    pub free: usize,
    /// How many become free when their trees are lifted.
    pub leaving: usize,
}

/// What stands behind one asked tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Which, among the records.
    pub record: usize,
    /// Whether it is due.
    pub told: Told,
    /// Why it goes.
    pub goes: Goes,
    /// How much root may go.
    pub cut: CutToday,
    /// The tree as the pots see it.
    pub sat: Sat,
    /// Grown on, not shown.
    pub growing_on: bool,
    /// Its window, where that is known.
    pub window: Option<(Date, Date)>,
}

/// The shelf as it is asked. Trees and pots are numbered as in [`Offered::shelf`].
#[derive(Clone, Debug)]
pub struct Offered {
    /// The trees.
    pub trees: Vec<Asked>,
    /// Which pot each is, among the pots given.
    pub pots: Vec<usize>,
    /// The frame and the key of each pot.
    pub frames: Vec<(String, Framed)>,
    /// Who may have which, after the grower's word.
    pub shelf: Shelf,
    /// The same before it.
    pub before_word: Shelf,
    /// The trees that are not asked, by their place among the records, with the reason.
    pub not_asked: Vec<(usize, NotAsked)>,
    /// The pots that are not offered, by their place among the pots given, with the reason.
    pub not_offered: Vec<(usize, NotOffered)>,
    /// The grower's word as it holds.
    pub words: Vec<Word>,
    /// Words that cannot be kept, by their place among the reservations, with the reason.
    pub unkept: Vec<(usize, Unkept)>,
    /// Second choices as they were named: tree and pot.
    pub seconds: Vec<(usize, usize)>,
    /// Training pots; a ring of swaps takes one for a while.
    pub training: Training,
    /// No training pot is free: one box is taken for granted, for a bucket will do.
    pub box_assumed: bool,
    ruling: Ruling,
}

/// The shelf out of the collection.
///
/// A pot is on the list when it is whole, at hand, no training pot, and either empty or left by its tree this season. A tree may
/// keep the pot it stands in. Each tree is asked with the root cut that is planned for it. A pot that comes free after a tree's window
/// costs points, and is out of the question more than a week after it; see [`in_time`].
///
/// # Errors
///
/// [`assign::Error`] never for what is gathered here; the guards of the shelf are passed on.
pub fn offer(
    records: &[Record<'_>],
    pots: &[(&Pot, &Ware)],
    reservations: &[Reservation],
    ask: &Ask,
) -> Result<Offered, assign::Error> {
    let (mut trees, mut not_asked) = (Vec::new(), Vec::new());
    for (at, record) in records.iter().enumerate() {
        match asked(at, record, ask) {
            Ok(tree) => trees.push(tree),
            Err(why) => not_asked.push((at, why)),
        }
    }
    let inside = |key: &str| -> Vec<usize> {
        let stands = |record: &Record<'_>| record.stands_in.is_some_and(|it| it.pot.key == key);
        (0..records.len()).filter(|at| stands(&records[*at])).collect()
    };
    let (mut on_list, mut frames, mut not_offered) = (Vec::new(), Vec::new(), Vec::new());
    for (at, &(pot, ware)) in pots.iter().enumerate() {
        match offered(pot, ware, inside(&pot.key), &trees) {
            Ok(framed) => {
                on_list.push(at);
                frames.push((pot.key.clone(), framed));
            }
            Err(why) => not_offered.push((at, why)),
        }
    }
    let training = training(records, pots, &trees);
    let mut told = Offered {
        shelf: Shelf::default(),
        before_word: Shelf::default(),
        trees,
        pots: on_list,
        frames,
        not_asked,
        not_offered,
        words: Vec::new(),
        unkept: Vec::new(),
        seconds: Vec::new(),
        training,
        box_assumed: training.free == 0,
        ruling: ask.ruling,
    };
    told.shelf = told.shelf(records);
    told.shelf.checked()?;
    told.before_word = told.in_time(&told.shelf, &[]);
    told.hear(records, pots, reservations, season_of(ask.today, ask.hemisphere));
    let after = word::after(&told.shelf, &told.words)?;
    told.shelf = told.in_time(&after, &told.words);
    Ok(told)
}

/// A tree with what stands behind it.
fn asked(at: usize, record: &Record<'_>, ask: &Ask) -> Result<Asked, NotAsked> {
    let told = due(record, ask.today).map_err(NotAsked::OutOfRange)?;
    let cut = cut::today(record, ask.today, ask.hemisphere).map_err(NotAsked::OutOfRange)?;
    let goes = goes(record, &told, &cut, ask.today, ask.hemisphere);
    match &goes {
        Goes::No(why) if why.contains(&Why::Missed) => return Err(NotAsked::TooLate(goes)),
        Goes::No(_) => return Err(NotAsked::Stays(goes)),
        Goes::Yes { .. } => {}
    }
    let sat = sitter(record, cut.planned, ask.today).map_err(NotAsked::Missing)?;
    Ok(Asked { record: at, told, goes, cut, sat, growing_on: record.is_growing_on(), window: record.window })
}

/// Whether a word gives this tree this pot.
fn is_given(word: &Word, tree: usize, pot: usize) -> bool {
    let (Word::Promised { tree: to, pot: at } | Word::KeptFor { tree: to, pot: at }) = *word else {
        return false;
    };
    (to, at) == (tree, pot)
}

/// The frame of a pot that can be had.
fn offered(pot: &Pot, ware: &Ware, inside: Vec<usize>, trees: &[Asked]) -> Result<Framed, NotOffered> {
    if ware.training {
        return Err(NotOffered::Training);
    }
    if !is_at_hand(ware, !inside.is_empty()) {
        return Err(NotOffered::Away(ware.whereabouts));
    }
    let stays = |record: &&usize| trees.iter().all(|tree| tree.record != **record);
    if let Some(record) = inside.iter().find(stays) {
        return Err(NotOffered::Taken(*record));
    }
    if inside.len() > 1 {
        return Err(NotOffered::Shared(inside));
    }
    frame(pot, ware).map_err(NotOffered::Measures)
}

fn training(records: &[Record<'_>], pots: &[(&Pot, &Ware)], trees: &[Asked]) -> Training {
    let all = pots.iter().filter(|(_, ware)| ware.training && ware.whereabouts == Whereabouts::Shelf);
    let count: usize = all.map(|(_, ware)| usize::from(ware.count)).sum();
    let stands = |record: &Record<'_>| record.stands_in.is_some_and(|it| it.ware.training);
    let taken = records.iter().filter(|record| stands(record)).count();
    let leaving = trees.iter().filter(|tree| stands(&records[tree.record])).count();
    Training { free: count.saturating_sub(taken), leaving }
}

impl Offered {
    /// The shelf before the grower's word.
    fn shelf(&self, records: &[Record<'_>]) -> Shelf {
        let pot_of = |record: &Record<'_>| {
            let key = &record.stands_in?.pot.key;
            self.frames.iter().position(|(pot, _)| pot == key)
        };
        let [shown, growing_on] = TRAINING_POINTS.value;
        let tree = |it: &Asked| Tree {
            stands_in: pot_of(&records[it.record]),
            training: Some(if it.growing_on { growing_on } else { shown }),
        };
        let mut choices = Vec::new();
        for tree in 0..self.trees.len() {
            for pot in 0..self.frames.len() {
                choices.extend(self.points(tree, pot).map(|points| Choice { tree, pot, points }));
            }
        }
        Shelf {
            trees: self.trees.iter().map(tree).collect(),
            pots: self.frames.len(),
            choices,
            ring_price: RING_PRICE.value,
            boxes: self.training.free.max(1),
        }
    }

    /// Takes the grower's word of the season, and tells what cannot be kept.
    fn hear(
        &mut self,
        records: &[Record<'_>],
        pots: &[(&Pot, &Ware)],
        reservations: &[Reservation],
        season: i16,
    ) {
        for (at, said) in reservations.iter().enumerate().filter(|(_, said)| said.season == season) {
            let record = records.iter().position(|record| record.tree.key == said.tree);
            let given = pots.iter().position(|(pot, _)| pot.key == said.pot);
            let (Some(record), Some(given)) = (record, given) else {
                self.unkept.push((at, Unkept::NoSuch));
                continue;
            };
            let tree = self.trees.iter().position(|tree| tree.record == record);
            let pot = self.pots.iter().position(|pot| *pot == given);
            if let Err(why) = self.take(said.said, tree, pot) {
                // The word stands against all others, though it cannot be kept this season.
                let waits = matches!(why, Unkept::Refused(_) | Unkept::NotAsked | Unkept::ComesTooLate(_))
                    && said.said.holds();
                if let Some(pot) = pot.filter(|pot| waits && !self.is_held(*pot)) {
                    self.words.push(Word::Withheld { pot });
                }
                self.unkept.push((at, why));
            }
        }
    }

    /// Whether some word keeps others out of a pot.
    fn is_held(&self, pot: usize) -> bool {
        self.words.iter().any(|word| match *word {
            Word::Promised { pot: at, .. } | Word::KeptFor { pot: at, .. } | Word::Withheld { pot: at } => {
                at == pot
            }
            Word::Never { .. } => false,
        })
    }

    fn take(&mut self, said: Said, tree: Option<usize>, pot: Option<usize>) -> Result<(), Unkept> {
        if said == Said::Never && (tree.is_none() || pot.is_none()) {
            return Ok(());
        }
        let pot = pot.ok_or(Unkept::NotOffered)?;
        let tree = tree.ok_or(Unkept::NotAsked)?;
        match said {
            Said::Never if self.words.iter().any(|word| is_given(word, tree, pot)) => {
                return Err(Unkept::Twice);
            }
            Said::Never => self.words.push(Word::Never { tree, pot }),
            Said::Second => self.seconds.push((tree, pot)),
            Said::Promised | Said::KeptFor => {
                let clashes = |word: &Word| match *word {
                    Word::Promised { tree: other, .. } => other == tree && said == Said::Promised,
                    Word::Never { tree: other, pot: at } => (other, at) == (tree, pot),
                    Word::KeptFor { .. } | Word::Withheld { .. } => false,
                };
                if self.is_held(pot) || self.words.iter().any(clashes) {
                    return Err(Unkept::Twice);
                }
                let refused = self.held(tree, pot).fit.refusals;
                if !refused.is_empty() {
                    return Err(Unkept::Refused(refused));
                }
                let is_in_time = |it: &Choice| (it.tree, it.pot) == (tree, pot);
                if let Some(wait) = self.waits(tree, pot)
                    && !self.before_word.choices.iter().any(is_in_time)
                {
                    return Err(Unkept::ComesTooLate(wait));
                }
                self.words.push(match said {
                    Said::Promised => Word::Promised { tree, pot },
                    _ => Word::KeptFor { tree, pot },
                });
            }
        }
        Ok(())
    }

    /// A pot held against a tree, opened into its rules; also where it is refused.
    pub fn held(&self, tree: usize, pot: usize) -> Held {
        let (key, framed) = &self.frames[pot];
        hold(key, framed, &self.trees[tree].sat, &self.ruling)
    }

    /// The points of a pot for a tree; none where it is refused or no rule grades it.
    fn points(&self, tree: usize, pot: usize) -> Option<i64> {
        let (key, framed) = &self.frames[pot];
        let sat = &self.trees[tree].sat;
        // What the limits forbid is not graded: most pairs of a large shelf end here.
        let refused = refusals(&framed.frame, &sat.sitter, &self.ruling.limits);
        if !refused.is_empty() && !sat.comes_from(key) {
            return None;
        }
        hold(key, framed, sat, &self.ruling).fit.points()
    }

    /// The best plan for the season, and the order of its repots.
    ///
    /// # Errors
    ///
    /// [`assign::Error`] when some tree is left without a place.
    pub fn plan(&self) -> Result<Plan, assign::Error> {
        assign::plan(&self.shelf)
    }

    /// Training pots that a plan wants beyond those that are free or left by their trees.
    pub fn training_short(&self, plan: &Plan) -> usize {
        let wanted = plan.into.iter().filter(|place| **place == assign::Place::Training).count();
        wanted.saturating_sub(self.training.free + self.training.leaving)
    }
}
