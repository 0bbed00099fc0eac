//! A tree whose roots were cut: what it should draw until they are back, and what it was seen to draw.

use measure::{
    quantity::{Days, Litre, Share},
    range::OutOfRange,
};
use water::{
    after_cut::{Beside, RootCut, Since, UseLeft, beside, use_left},
    leaf::LeafClass,
    learn::Observed,
};

use crate::{
    repot::aftercare::{Care, care},
    watering::{
        log::{BORROWED, Drawn, NEARLY_ALL, Story, TreeWater, UNLEARNED, rank},
        thirst::Thirst,
    },
};

/// Days after a cut in which it is still spoken of: the latest recovery and a month.
pub const SPOKEN_OF: f64 = 112.0;

/// Days before a cut whose uses tell what was drawn before it.
const LOOK_BACK: f64 = 120.0;

/// Days of late whose uses are held against what was expected.
const OF_LATE: f64 = 14.0;

/// What a forecast of growing leaves may be off by, as spread of the logarithm of the use, and for how many days (our estimates).
const LEAVES_GROW: (f64, i32) = (0.3, 30);

/// Error of a kitchen scale, litres.
const SCALE: f64 = 0.005;

/// A loss that the scale tells to about a fifth, litres: four times its error and a little.
const TOLD_BY_SCALE: f64 = 0.025;

/// Roots that were cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Hour of the thirst at which its day began.
    pub hour: f64,
    /// How much of them.
    pub roots: RootCut,
}

impl Cut {
    /// Of a recorded share, at an hour.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the share is less than nothing or more than nine tenths.
    pub fn recorded(hour: f64, share: Share) -> Result<Cut, OutOfRange> {
        Ok(Cut { hour, roots: RootCut::noted(share)? })
    }

    /// Days from the cut to an hour.
    pub fn days(&self, hour: f64) -> f64 {
        (hour - self.hour) / 24.0
    }

    /// What is left of the use at an hour.
    pub fn left(&self, hour: f64) -> UseLeft {
        use_left(self.roots, Days(self.days(hour))).unwrap_or(UseLeft::ALL)
    }

    /// Whether anything of the use is still taken to be wanting at an hour.
    pub fn is_healing(&self, hour: f64) -> bool {
        self.hour <= hour && self.left(hour).low.0 < 1.0
    }
}

/// What the last of these cuts asks to heed at an hour: light, feed and frost; none once they are as usual.
pub fn heed(cuts: &[Cut], hour: f64) -> Option<Care> {
    let last = cuts.iter().filter(|cut| cut.hour <= hour).max_by(|a, b| a.hour.total_cmp(&b.hour))?;
    care(Days(last.days(hour)))
}

/// What was drawn between two lines of the log, beside what the tree would have drawn had its roots not been cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Used {
    /// Hour it began.
    pub from: f64,
    /// Hour it ended.
    pub to: f64,
    /// What was drawn.
    pub loss: Litre,
    /// What it would have drawn by its use before the cut, with the same leaves and weather.
    pub whole: Litre,
    /// Whether it was on the scale, and not judged at the can.
    pub weighed: bool,
}

impl Used {
    /// The share of its use before the cut.
    pub fn share(&self) -> Share {
        Share(self.loss.0 / self.whole.0)
    }

    fn variance(&self) -> f64 {
        let told = if self.weighed { Observed::Weighed } else { Observed::Judged };
        let scale = if self.weighed { SCALE / self.loss.0 } else { 0.0 };
        told.variance().value + scale * scale
    }
}

/// What was drawn before the cut is known from this.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Before {
    /// Middle of the logarithm of use over the rule's.
    pub mean: f64,
    /// Its spread.
    pub spread: f64,
    /// Lines behind it.
    pub seen: usize,
    /// Whether it was seen in another state of leaf and is carried over.
    pub carried: bool,
}

/// A tree after its last root cut.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterCut {
    /// The cut.
    pub cut: Cut,
    /// Days since.
    pub days: f64,
    /// How its use before the cut is known, for the leaves it bears now.
    pub before: Before,
    /// What is expected of it today.
    pub expected: UseLeft,
    /// What was seen before and after, by time.
    pub uses: Vec<Used>,
    /// What was seen of late beside what was expected.
    pub late: Beside,
    /// How many uses of late were seen.
    pub seen: usize,
    /// Whether its leaves grew of late, by its forecast alone.
    pub leaves_grow: bool,
}

/// The uses before a cut in each class of leaves.
struct Levels([Option<Before>; 4]);

impl Levels {
    fn of(tree: &TreeWater<'_>, uses: &[(Drawn, f64)], cut: f64) -> Levels {
        let mut sums = [(0.0, 1.0 / (UNLEARNED * UNLEARNED), 0); 4];
        let known = uses.iter().filter(|(drawn, _)| drawn.to <= cut && drawn.from > cut - LOOK_BACK * 24.0);
        for (drawn, whole) in known {
            let (sum, weight, seen) = &mut sums[class(tree, drawn)];
            let use_of = used(drawn, *whole);
            *sum += use_of.share().0.ln() / use_of.variance();
            *weight += 1.0 / use_of.variance();
            *seen += 1;
        }
        Levels(sums.map(|(sum, weight, seen)| {
            let (mean, spread): (f64, f64) = (sum / weight, (1.0 / weight).sqrt());
            (seen > 0).then_some(Before { mean, spread, seen, carried: false })
        }))
    }

    /// For a class of leaves: its own, or the best known other carried over, or the rule with nothing learned.
    fn level(&self, class: usize) -> Before {
        let other = || self.0.iter().flatten().max_by_key(|it| it.seen);
        match (self.0[class], other()) {
            (Some(own), _) => own,
            (None, Some(other)) => Before {
                mean: BORROWED.0 * other.mean,
                spread: BORROWED.1.hypot(BORROWED.0 * other.spread),
                carried: true,
                ..*other
            },
            (None, None) => Before { mean: 0.0, spread: UNLEARNED, seen: 0, carried: false },
        }
    }
}

/// The uses about a cut without rain, on one side of it each; weighings that follow each other are put together until what was lost is
/// [`TOLD_BY_SCALE`] at least.
fn together(story: &Story, cut: f64, now: f64) -> Vec<Drawn> {
    let mut all: Vec<Drawn> = Vec::new();
    for drawn in story.drawn.iter().filter(|it| it.from > cut - LOOK_BACK * 24.0 && it.to <= now) {
        if drawn.rained || (drawn.from < cut && drawn.to > cut) {
            continue;
        }
        let joins = |last: &Drawn| {
            let both_weighed = last.weighed && drawn.weighed;
            both_weighed && (last.to - drawn.from).abs() < 1e-6 && last.loss.0 < TOLD_BY_SCALE
        };
        match all.last_mut().filter(|last| joins(last)) {
            Some(last) => {
                last.to = drawn.to;
                last.loss.0 += drawn.loss.0;
                last.predicted.0 += drawn.predicted.0;
                last.moved |= drawn.moved;
            }
            None => all.push(*drawn),
        }
    }
    all
}

/// Whether the leaves changed in the weeks before an hour, which a forecast tells and no one saw.
fn grew(tree: &TreeWater<'_>, hour: f64) -> bool {
    !tree.leaves.hold(tree.day(hour) - LEAVES_GROW.1, LEAVES_GROW.1)
}

fn class(tree: &TreeWater<'_>, drawn: &Drawn) -> usize {
    let class: LeafClass = tree.leaves.on(tree.day(f64::midpoint(drawn.from, drawn.to))).class();
    rank(class)
}

fn used(drawn: &Drawn, whole: f64) -> Used {
    Used { from: drawn.from, to: drawn.to, loss: drawn.loss, whole: Litre(whole), weighed: drawn.weighed }
}

/// Reads the log for what a tree draws since its roots were last cut; none where none were within [`SPOKEN_OF`].
///
/// # Errors
///
/// [`OutOfRange`] when a figure of the log is beyond what any pot does.
pub fn after_cut(
    tree: &TreeWater<'_>,
    thirst: &Thirst,
    story: &Story,
    now: f64,
) -> Result<Option<AfterCut>, OutOfRange> {
    let last = tree.cuts.iter().rev().find(|cut| cut.hour <= now && cut.days(now) <= SPOKEN_OF);
    let Some(&cut) = last else { return Ok(None) };
    let uncut = TreeWater { cuts: Vec::new(), ..tree.clone() };
    let holds = tree.facts.store.holds().0;
    let told: Vec<(Drawn, f64)> = together(story, cut.hour, now)
        .into_iter()
        .filter(|drawn| drawn.loss.0 > 0.0 && drawn.loss.0 < NEARLY_ALL * holds)
        .map(|drawn| (drawn, uncut.ruled(thirst, drawn.from, drawn.to).0))
        .filter(|(_, whole)| *whole > 1e-6)
        .collect();
    let levels = Levels::of(tree, &told, cut.hour);
    let (mut uses, mut late, mut spread) = (Vec::new(), Vec::new(), 0.0_f64);
    for (drawn, whole) in &told {
        let level = levels.level(class(tree, drawn));
        let it = used(drawn, whole * level.mean.exp());
        uses.push(it);
        if drawn.from >= cut.hour && drawn.to > now - OF_LATE * 24.0 {
            let expected = cut.left(f64::midpoint(drawn.from, drawn.to));
            late.push(Since { log_share: it.share().0.ln(), variance: it.variance(), expected });
            spread = spread.max(level.spread.hypot(if grew(tree, drawn.to) { LEAVES_GROW.0 } else { 0.0 }));
        }
    }
    Ok(Some(AfterCut {
        cut,
        days: cut.days(now),
        before: levels.level(rank(tree.leaves.on(tree.day(now)).class())),
        expected: cut.left(now),
        late: beside(&late, spread),
        seen: late.len(),
        leaves_grow: grew(tree, now),
        uses,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(hour: f64) -> Cut {
        Cut { hour, roots: RootCut::unnoted().value }
    }

    #[test]
    fn a_cut_that_nobody_recorded_heals_too() {
        let cut = cut(0.0);
        assert!(!cut.roots.is_noted() && cut.is_healing(24.0) && !cut.is_healing(24.0 * 100.0));
        assert!(!cut.is_healing(-1.0) && cut.left(-24.0) == UseLeft::ALL);
    }

    #[test]
    fn the_last_cut_says_what_to_heed() {
        let cuts = [cut(0.0), cut(24.0 * 400.0)];
        let since = |hour: f64| heed(&cuts, hour).map(|care| care.since.0);
        assert_eq!(since(24.0 * 410.0), Some(10.0));
        assert_eq!(since(24.0 * 9.0), Some(9.0), "the other lies ahead");
        assert_eq!((since(-1.0), since(24.0 * 100.0)), (None, None));
    }
}
