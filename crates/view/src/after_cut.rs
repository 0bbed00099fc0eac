//! A tree's use since its roots were cut, beside what should be expected of it: in words, drawn, and as a table.

mod draw;
mod say;

use measure::{
    quantity::{Litre, Share, Units},
    sourced::Standing,
};
use season::watering::{
    after_cut::{AfterCut, Used, after_cut},
    log::{Story, TreeWater},
};
use water::after_cut::{FALL, RECOVERY, Recovering};

pub use draw::CutCurve;

use crate::{water::Water, whole::Whole, words};

/// Share of its water from which a mix counts as wet, and from which as dry: our estimate.
const WET: [f64; 2] = [0.5, 0.35];

/// One use as the table has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UseLine {
    /// Between which days.
    pub when: String,
    /// Drawn in a day.
    pub used: String,
    /// The same as a share of its use before, with the same leaves and weather.
    pub share: String,
    /// What was expected.
    pub expected: String,
    /// How it was seen.
    pub how: &'static str,
}

/// The part of a tree's page.
#[derive(Clone, Debug, PartialEq)]
pub struct AfterCutPart {
    /// What it comes to.
    pub told: Recovering,
    /// The answer in one sentence.
    pub answer: String,
    /// What to do, and until when.
    pub todo: Vec<String>,
    /// The picture.
    pub curve: CutCurve,
    /// The picture as a table, newest first.
    pub uses: Vec<UseLine>,
    /// How far to trust it.
    pub standing: Vec<String>,
}

impl AfterCutPart {
    /// Whether it wants looking after.
    pub fn is_alarm(&self) -> bool {
        self.told == Recovering::Below
    }
}

/// What the parts of the answer share.
struct Told<'a> {
    whole: &'a Whole,
    water: &'a Water,
    units: Units,
    it: &'a AfterCut,
    /// Share of its water left now.
    left: Option<Share>,
}

impl Told<'_> {
    /// The day of an hour, in words.
    fn day(&self, hour: f64) -> String {
        let at = jiff::Timestamp::from_second(self.water.thirst.moment(hour)).unwrap_or_default();
        words::day(self.water.zone.to_datetime(at).date(), self.whole.today)
    }

    /// The day so many days after the cut; an hour past noon, so that a changing clock does not change it.
    fn day_after(&self, days: f64) -> String {
        self.day(self.it.cut.hour + 24.0 * days + 12.0)
    }
}

/// The part of a tree's page; none where no root was cut of late.
pub(crate) fn part(
    whole: &Whole,
    water: &Water,
    tree: &TreeWater<'_>,
    story: &Story,
    now: f64,
) -> Option<AfterCutPart> {
    let it = after_cut(tree, &water.thirst, story, now).ok().flatten()?;
    let units = crate::mixes::units(whole);
    let left = story.start.map(|start| start.left);
    let told = Told { whole, water, units, it: &it, left };
    Some(AfterCutPart {
        told: it.late.told,
        answer: say::answer(&told),
        todo: say::todo(&told),
        curve: draw::curve(&told, now),
        uses: it.uses.iter().rev().map(|used| line(&told, used)).collect(),
        standing: standing(&it),
    })
}

/// What the round says of a tree whose roots heal; none when they are taken to be back.
pub(crate) fn row_words(whole: &Whole, water: &Water, it: &AfterCut, left: Option<Share>) -> Option<String> {
    let units = crate::mixes::units(whole);
    let told = Told { whole, water, units, it, left };
    let is_over = it.expected.low.0 >= 1.0 && it.late.told != Recovering::Below;
    (!is_over).then(|| say::row(&told))
}

fn line(told: &Told<'_>, used: &Used) -> UseLine {
    let days = ((used.to - used.from) / 24.0).max(1e-6);
    let expected = told.it.cut.left(f64::midpoint(used.from, used.to));
    UseLine {
        when: format!("{} to {}", told.day(used.from), told.day(used.to)),
        used: told.units.water(Litre(used.loss.0 / days)),
        share: per_cent(used.share()),
        expected: if used.to <= told.it.cut.hour { "100 %".into() } else { per_cent(expected.middle) },
        how: if used.weighed { "weighed" } else { "judged at the can" },
    }
}

/// A share of a use, which may be more than all of it.
fn per_cent(share: Share) -> String {
    format!("{:.0} %", share.0 * 100.0)
}

fn standing(it: &AfterCut) -> Vec<String> {
    let words = |standing: Standing| standing.words();
    let [soon, late] = RECOVERY.value[usize::from(it.cut.roots.likely.0 > water::after_cut::LIGHT)];
    let mut lines = vec![
        format!(
            "use falls by {} of the share of roots cut, until new shoots extend: {}",
            FALL.value[1],
            words(FALL.standing)
        ),
        format!("back to before in {soon:.0} to {late:.0} weeks: {}", words(RECOVERY.standing)),
        "shares are of what the rule says for the same leaves and weather, so that a warm week or new leaves do not count as roots"
            .into(),
    ];
    if it.leaves_grow {
        lines.push("how far its leaves are is told by its forecast: while they grow, off by a third either way (our estimate)".into());
    }
    if !it.cut.roots.is_noted() {
        lines.push("the share cut was not noted: a third is taken, from a sixth to a half (common practice, no source). Record it with the repot: roots cut, in per cent".into());
    }
    lines.push(match it.before {
        before if before.seen == 0 => "its use before the cut was never weighed or remarked on: held against the rule for its size, off by a factor of two either way".into(),
        before if before.carried => format!(
            "its use before the cut comes from {} in another state of leaf, carried over: off by a third to a half",
            words::count(before.seen, "line", "lines")
        ),
        before => format!(
            "its use before the cut comes from {}, give or take {:.0} %",
            words::count(before.seen, "line of its log", "lines of its log"),
            100.0 * (before.spread.exp() - 1.0)
        ),
    });
    lines
}
