//! What a tree's watering log says: when its pot was last full, how it drinks beside the rule, and what looks wrong.

use collection::drink::{Deed, Drink, Remark};
use measure::{
    quantity::{Gram, Litre, Share},
    range::OutOfRange,
};
use water::{
    leaf::LeafClass,
    learn::{Feel, Grid, Observed, Remark as Told},
};

use crate::{
    leaves::Leaves,
    watering::{
        after_cut::Cut,
        odd::{Known, Odd},
        pots::PotFacts,
        thirst::Thirst,
    },
};

/// Spread of a coefficient's logarithm before anything is learned: a factor of two either way.
pub const UNLEARNED: f64 = 0.7;

/// How much of a summer's coefficient is carried to another state of leaves, and with what spread (our estimate).
pub(crate) const BORROWED: (f64, f64) = (0.7, 0.45);

/// By how much a root cut may change a coefficient beyond what the rule tells, as spread of its logarithm (our estimate).
const CUT_MAY_CHANGE: f64 = 0.4;

/// Rain into a pot that spoils a weighing, litres.
const SPOILT: f64 = 0.02;

/// Share of the store over which a loss says more of the pot than of the tree.
pub(crate) const NEARLY_ALL: f64 = 0.75;

/// Share of the store that a remark stands for where a loss is wanted: wet, right, dry (middles between the cuts 0.35 and 0.70).
const BY_FEEL: [f64; 3] = [0.2, 0.5, 0.85];

/// A tree's water, ready to be read.
#[derive(Clone, Debug)]
pub struct TreeWater<'a> {
    /// Its pot.
    pub facts: PotFacts,
    /// Its leaves.
    pub leaves: Leaves,
    /// Where it stood from which hour of the thirst on; places are ranks.
    pub stays: Vec<(f64, usize)>,
    /// Its log with the hour of each line, by time, up to now.
    pub drinks: Vec<(f64, &'a Drink)>,
    /// Hours at which it was repotted or put in another pot.
    pub repotted: Vec<f64>,
    /// Its root cuts, by time.
    pub cuts: Vec<Cut>,
    /// Day number of the thirst's first day in the season of the leaves.
    pub first_day: i32,
}

/// From when on the pot's water is known, and how much of it was left then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Start {
    /// Hour of the thirst.
    pub hour: f64,
    /// Share left.
    pub left: Share,
}

/// What is believed of a coefficient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belief {
    /// Middle of its logarithm.
    pub mean: f64,
    /// Spread of its logarithm.
    pub spread: f64,
    /// Weighings and remarks behind it.
    pub seen: usize,
}

/// A weighing that cannot be right: left out of what the log teaches, and asked about, unless the grower said that it is right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Question {
    /// Hour of the weighing.
    pub hour: f64,
    /// What was weighed.
    pub weighed: Gram,
    /// Why it cannot be right.
    pub odd: Odd,
    /// The grower said that it is: it counts, and what was drawn from it on is believed as if judged by eye until the next.
    pub confirmed: bool,
}

/// One interval between being full and the next weighing or remark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// Hours it began and ended.
    pub from: f64,
    /// Hour it ended.
    pub to: f64,
    /// What was lost.
    pub loss: Litre,
    /// What the rule says for a coefficient of 1.
    pub predicted: Litre,
    /// Whether it was on a scale.
    pub weighed: bool,
    /// Whether rain fell into the pot.
    pub rained: bool,
    /// Whether it was moved in between.
    pub moved: bool,
}

/// What the log says.
#[derive(Clone, Debug, PartialEq)]
pub struct Story {
    /// From when the water is known.
    pub start: Option<Start>,
    /// What is believed in each class of leaves: bare, growing, full, winter.
    pub beliefs: [Belief; 4],
    /// Intervals, by time.
    pub drawn: Vec<Drawn>,
    /// What to ask about.
    pub questions: Vec<Question>,
    /// What the pot on the scale is known by.
    pub known: Known,
    /// Hour of the last line of any kind.
    pub last: Option<f64>,
}

pub(crate) fn rank(class: LeafClass) -> usize {
    match class {
        LeafClass::Bare => 0,
        LeafClass::Growing => 1,
        LeafClass::Full => 2,
        LeafClass::Winter => 3,
    }
}

impl Story {
    /// What is believed for a class of leaves.
    pub fn of(&self, class: LeafClass) -> Belief {
        self.beliefs[rank(class)]
    }
}

impl TreeWater<'_> {
    /// Where it stood at an hour.
    pub fn place(&self, hour: f64) -> Option<usize> {
        self.stays
            .iter()
            .rev()
            .find(|(from, _)| *from <= hour)
            .or(self.stays.first())
            .map(|(_, place)| *place)
    }

    /// Day number of an hour.
    pub fn day(&self, hour: f64) -> i32 {
        self.first_day + hour.div_euclid(24.0) as i32
    }

    /// What cut roots leave of its use at an hour, by the middle of what is expected.
    pub fn roots(&self, hour: f64) -> f64 {
        self.cuts.iter().map(|cut| cut.left(hour).middle.0).product()
    }

    /// What is believed of its coefficient at an hour: more widely while cut roots heal.
    pub fn believed(&self, story: &Story, hour: f64) -> Belief {
        let belief = story.of(self.leaves.on(self.day(hour)).class());
        let healing = self.cuts.iter().map(|cut| cut.left(hour).spread());
        Belief { spread: healing.fold(belief.spread, f64::hypot), ..belief }
    }

    /// What the rule says was drawn between two hours by a wet pot with a coefficient of 1.
    pub fn ruled(&self, thirst: &Thirst, from: f64, to: f64) -> Litre {
        let drawn = self.days(from, to).filter_map(|(start, end)| {
            let place = self.place(start)?;
            let leaves = self.leaves.on(self.day(start));
            let per = self.facts.per_millimetre(leaves, thirst.places[place].standing).0;
            Some(per * self.roots(f64::midpoint(start, end)) * thirst.demanded(place, start, end).0)
        });
        Litre(drawn.sum())
    }

    /// Rain that fell into the pot between two hours.
    pub fn rained(&self, thirst: &Thirst, from: f64, to: f64) -> Litre {
        let open = |start| self.place(start).is_some_and(|place| thirst.places[place].standing.rained_on);
        let depth: f64 = self
            .days(from, to)
            .filter(|&(start, _)| open(start))
            .map(|(start, end)| thirst.fallen(start, end).0)
            .sum();
        Litre(depth * self.facts.surface.0)
    }

    /// What the rule says of days to come, in the mean of all weathers.
    pub fn expected(&self, thirst: &Thirst, from: f64, to: f64) -> Litre {
        let Some(place) = self.place(from) else { return Litre(0.0) };
        let per = self.facts.per_millimetre(self.leaves.on(self.day(from)), thirst.places[place].standing).0;
        Litre(per * self.roots(f64::midpoint(from, to)) * thirst.expected(place, from, to).0)
    }

    /// Rain into the pot in the mean of all weathers.
    pub fn expected_rain(&self, thirst: &Thirst, from: f64, to: f64) -> Litre {
        let open = self.place(from).is_some_and(|place| thirst.places[place].standing.rained_on);
        Litre(if open { thirst.expected_rain(from, to).0 * self.facts.surface.0 } else { 0.0 })
    }

    /// The days between two hours, the first and last cut; a move in the course of a day counts from the next.
    fn days(&self, from: f64, to: f64) -> impl Iterator<Item = (f64, f64)> {
        let ends = |start: f64| (start.div_euclid(24.0) + 1.0) * 24.0;
        let starts = std::iter::successors(Some(from.max(0.0)), move |start| Some(ends(*start)));
        starts.take_while(move |start| *start < to).map(move |start| (start, ends(start).min(to)))
    }

    fn was_moved(&self, from: f64, to: f64) -> bool {
        self.place(from) != self.place(to)
    }

    /// Reads the log.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is beyond what any pot does.
    pub fn story(&self, thirst: &Thirst) -> Result<Story, OutOfRange> {
        let mut reading = Reading::new(&self.facts);
        for &(hour, drink) in &self.drinks {
            reading.line(self, thirst, hour, drink)?;
        }
        Ok(reading.close())
    }
}

/// The log half read.
struct Reading {
    grids: [Option<Grid>; 4],
    seen: [usize; 4],
    drawn: Vec<Drawn>,
    questions: Vec<Question>,
    start: Option<Start>,
    /// What the pot on the scale is known by.
    known: Known,
    /// Hour and weight when last on the scale, with no water given since.
    scale: Option<(f64, Gram)>,
    /// Whether that weight is only believed because the grower said so.
    on_word: bool,
    last: Option<f64>,
}

impl Reading {
    fn new(facts: &PotFacts) -> Reading {
        Reading {
            grids: [None; 4],
            seen: [0; 4],
            drawn: Vec::new(),
            questions: Vec::new(),
            start: None,
            known: Known::new(facts),
            scale: None,
            on_word: false,
            last: None,
        }
    }

    fn line(
        &mut self,
        tree: &TreeWater<'_>,
        thirst: &Thirst,
        hour: f64,
        drink: &Drink,
    ) -> Result<(), OutOfRange> {
        if tree.repotted.iter().any(|&at| self.last.is_some_and(|last| last < at) && at <= hour) {
            self.known.forget();
            self.scale = None;
            self.start = None;
        }
        if tree.cuts.iter().any(|cut| self.last.is_some_and(|last| last < cut.hour) && cut.hour <= hour) {
            self.grids = self.grids.map(|grid| grid.map(|grid| grid.loosened(CUT_MAY_CHANGE)));
        }
        self.last = Some(hour);
        match drink.deed {
            Deed::Weighed(weighed) => self.weighed(tree, thirst, hour, (weighed, drink.sure))?,
            Deed::WeighedFull(weighed) => {
                self.remarked(tree, thirst, hour, drink.remark)?;
                let asked = self.ask(hour, (weighed, drink.sure), true);
                self.scale = (asked != Some(false)).then_some((hour, weighed));
                self.on_word = asked == Some(true);
            }
            Deed::Watered | Deed::Left => self.remarked(tree, thirst, hour, drink.remark)?,
        }
        if drink.deed == Deed::Watered {
            self.scale = None;
        }
        if drink.deed.fills() {
            self.start = Some(Start { hour, left: Share(1.0) });
        }
        Ok(())
    }

    /// Whether a weight that looks as if it cannot be right is, by the grower's word; one without it is asked about and not used. None
    /// where nothing speaks against it.
    fn ask(&mut self, hour: f64, (weighed, confirmed): (Gram, bool), is_full: bool) -> Option<bool> {
        let odd = match confirmed {
            true => self.known.confirmed(hour, weighed, is_full),
            false => self.known.take(hour, weighed, is_full),
        };
        self.questions.extend(odd.map(|odd| Question { hour, weighed, odd, confirmed }));
        odd.map(|_| confirmed)
    }

    fn weighed(
        &mut self,
        tree: &TreeWater<'_>,
        thirst: &Thirst,
        hour: f64,
        (weighed, confirmed): (Gram, bool),
    ) -> Result<(), OutOfRange> {
        let asked = self.ask(hour, (weighed, confirmed), false);
        if asked == Some(false) {
            return Ok(());
        }
        // Where the pot is another one since, the way from the last weighing is not water.
        let last = self.scale.replace((hour, weighed)).filter(|(at, _)| *at >= self.known.same_since());
        let is_sure = !std::mem::replace(&mut self.on_word, asked == Some(true));
        if let Some((before, weight)) = last {
            self.take(tree, thirst, before, hour, Litre((weight.0 - weighed.0) / 1000.0), is_sure)?;
        }
        if let Some((_, full)) = self.known.full() {
            let holds = tree.facts.store.holds().0;
            let gone = ((full.0 - weighed.0) / 1000.0).clamp(0.0, holds);
            self.start = Some(Start { hour, left: Share(1.0 - gone / holds) });
        }
        Ok(())
    }

    fn remarked(
        &mut self,
        tree: &TreeWater<'_>,
        thirst: &Thirst,
        hour: f64,
        remark: Option<Remark>,
    ) -> Result<(), OutOfRange> {
        let Some((start, remark)) =
            self.start.zip(remark).filter(|(start, _)| start.hour + 6.0 < hour && start.left.0 > 0.99)
        else {
            return Ok(());
        };
        let predicted = tree.ruled(thirst, start.hour, hour);
        let rained = tree.rained(thirst, start.hour, hour).0 > SPOILT;
        let (feel, by_feel) = match remark {
            Remark::Wet => (Feel::Wet, BY_FEEL[0]),
            Remark::Right => (Feel::Right, BY_FEEL[1]),
            Remark::Dry => (Feel::Dry, BY_FEEL[2]),
        };
        if predicted.0 <= 1e-6 {
            return Ok(());
        }
        let loss = Litre(by_feel * tree.facts.store.holds().0);
        let moved = tree.was_moved(start.hour, hour);
        self.drawn.push(Drawn { from: start.hour, to: hour, loss, predicted, weighed: false, rained, moved });
        if !rained {
            let told = Told { predicted, holds: tree.facts.store.holds(), feel };
            let class = tree.leaves.on(tree.day(0.5 * (start.hour + hour))).class();
            self.learn(class, |grid| grid.told(&told))?;
        }
        Ok(())
    }

    fn take(
        &mut self,
        tree: &TreeWater<'_>,
        thirst: &Thirst,
        from: f64,
        to: f64,
        loss: Litre,
        weighed: bool,
    ) -> Result<(), OutOfRange> {
        let predicted = tree.ruled(thirst, from, to);
        let rained = tree.rained(thirst, from, to).0 > SPOILT;
        let moved = tree.was_moved(from, to);
        self.drawn.push(Drawn { from, to, loss, predicted, weighed, rained, moved });
        let holds = tree.facts.store.holds().0;
        let fit = loss.0 > 0.0 && loss.0 < NEARLY_ALL * holds && predicted.0 > 1e-6 && !rained;
        if fit {
            let class = tree.leaves.on(tree.day(0.5 * (from + to))).class();
            let ratio = (loss.0 / predicted.0).clamp(1e-3, 1e3);
            let observed = if weighed { Observed::Weighed } else { Observed::Judged };
            self.learn(class, |grid| grid.seen(ratio, observed))?;
        }
        Ok(())
    }

    fn learn(
        &mut self,
        class: LeafClass,
        with: impl FnOnce(Grid) -> Result<Grid, OutOfRange>,
    ) -> Result<(), OutOfRange> {
        let rank = rank(class);
        let grid = match self.grids[rank] {
            Some(grid) => grid,
            None => Grid::new(UNLEARNED)?,
        };
        self.grids[rank] = Some(with(grid)?);
        self.seen[rank] += 1;
        Ok(())
    }

    fn close(self) -> Story {
        let summer = self.grids[rank(LeafClass::Full)].map(|grid| grid.mean_log());
        let beliefs = std::array::from_fn(|rank| match (self.grids[rank], summer) {
            (Some(grid), _) => Belief { mean: grid.mean_log(), spread: grid.spread(), seen: self.seen[rank] },
            (None, Some(summer)) => Belief { mean: BORROWED.0 * summer, spread: BORROWED.1, seen: 0 },
            (None, None) => Belief { mean: 0.0, spread: UNLEARNED, seen: 0 },
        });
        Story {
            start: self.start,
            beliefs,
            drawn: self.drawn,
            questions: self.questions,
            known: self.known,
            last: self.last,
        }
    }
}
