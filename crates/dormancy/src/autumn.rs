//! Autumn: when a tree's leaves colour, fall and are down, by cool and shortening days, with the spread of it.

use measure::{
    leaf::Leaf,
    sourced::{Sourced, Standing},
    taxon::Taxon,
};

use crate::{
    forecast::{
        Course, Pace, Spread,
        anew::Anew,
        grid::{bell, passing, weighed},
        running,
    },
    wake::BudDay,
};

/// How a taxon's leaves age: a sum of cold below a base, from the day on which days grow short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Senescence {
    /// Daily means below this count, °C.
    pub base: f64,
    /// Days shorter than this count, hours.
    pub short: f64,
    /// Sum at which leaves colour, begin to fall and are down, degree-days.
    pub need: [f64; 3],
    /// Spread of a tree's own need about it, logarithm.
    pub sd: f64,
}

/// Daily means below this count, °C: the best of 16 to 30 in steps of two on the Korean record.
const BASE: f64 = 28.0;

/// Days shorter than this count, hours: the best of 11.5 to 14 on the Korean record.
const SHORT: f64 = 13.0;

/// Least share that a day's length weighs with: a dark store does not stop what has begun. Our estimate.
const DARK: f64 = 0.5;

/// A day whose mean is below this counts as cool, °C.
const COOL: f64 = 18.0;

/// Cool days before which no leaf is told to turn: 95 of 100 Korean trees had seven before the first colour, 99 of 100 one or two;
/// five is our choice. A tree that has none stands warm.
const COOL_DAYS: u32 = 5;

/// What a tree that stands warm is held to, as a share of the sum at which leaves colour: no pace that is likely turns them.
const HELD: f64 = 0.3;

const FITTED: Standing = Standing::Estimate(
    "photoperiod-gated cold sum (form: Delpierre et al. 2009), fitted by us to trees in the ground at 25 Korean stations 1989-2024",
);
const NOT_MEASURED: Standing = Standing::Estimate(
    "no autumn of this taxon was measured: middle of Japanese maple and ginkgo in Korea, with a wider spread",
);

impl Senescence {
    /// The figures of a taxon that drops its leaves.
    ///
    /// ```
    /// use dormancy::autumn::Senescence;
    /// use measure::taxon::Taxon;
    ///
    /// let of = |key| Senescence::of(Taxon::of(key).unwrap()).value;
    /// assert!(of("acer-palmatum").sd < of("acer-campestre").sd);
    /// ```
    pub fn of(taxon: &Taxon) -> Sourced<Senescence> {
        let (need, sd, standing) = match taxon.key {
            "acer-palmatum" => ([429.0, 658.0, 880.0], 0.20, FITTED),
            "ginkgo-biloba" => ([437.0, 627.0, 786.0], 0.20, FITTED),
            _ => ([433.0, 642.0, 833.0], 0.30, NOT_MEASURED),
        };
        Sourced { value: Senescence { base: BASE, short: SHORT, need, sd }, standing }
    }

    /// What a day adds.
    fn rate(&self, day: &BudDay) -> f64 {
        if day.light >= self.short || day.mean.is_nan() {
            return 0.0;
        }
        (self.base - day.mean).max(0.0) * (day.light / self.short).max(DARK)
    }

    /// The sum at which a state begins, as a share of that at which leaves are down; 0 for full leaves.
    fn share(&self, leaf: Leaf) -> f64 {
        match leaf {
            Leaf::Full => 0.0,
            later => self.need[later.rank() - 1] / self.need[2],
        }
    }
}

/// The course of one autumn, 1 on the day a middling tree of the taxon is bare; `heated` marks days in a heated room.
///
/// ```text
/// S(d) = Σ max(Tb − T, 0) · max(P/Ps, 0.5)   over days with P < Ps that are not heated
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | T, P | `BudDay::{mean, light}` | daily mean, length of the day | °C, h |
/// | Tb, Ps | `Senescence::{base, short}` | base, day length below which cold counts | °C, h |
/// | S | compared with `Senescence::need` | cold sum | °C d |
///
/// A tree that has not seen [`COOL_DAYS`] days below [`COOL`] is held far below its first colour: it stands warm.
///
/// **Holds** for trees that drop their leaves, standing in open air or rooms that follow it.
/// **Error** 5.6 to 6.2 days RMSE for first colour at two stations left out of the fit (trees in the ground), against 7.1 to 9.1 for the
/// mean date of the stations fitted; leaf fall rests on 34 to 63 dates of those alone; not known for pots.
/// **Source** form: Delpierre et al. 2009, Agricultural and Forest Meteorology 149, 938 (formula read in public code, x = y = 1);
/// constants ours. **Checked** `tests/autumn.rs`.
///
/// # Example
///
/// ```
/// use dormancy::{autumn::{Senescence, fading}, wake::BudDay};
/// use measure::taxon::Taxon;
///
/// let maple = Senescence::of(Taxon::of("acer-palmatum").unwrap()).value;
/// let cool = BudDay { mean: 10.0, light: 10.0, ..BudDay::default() };
/// let bare = |heated| fading(&maple, -100, &[cool; 90], |_| heated).day_reaching(1.0);
/// assert_eq!((bare(false), bare(true)), (Some(-37), None));
/// ```
pub fn fading(
    senescence: &Senescence,
    first_day: i32,
    days: &[BudDay],
    heated: impl Fn(i32) -> bool,
) -> Course {
    let held = HELD * senescence.need[0] / senescence.need[2];
    let (mut sum, mut cool) = (0.0, 0);
    let progress = days
        .iter()
        .zip(first_day..)
        .map(|(day, number)| {
            if !heated(number) {
                sum += senescence.rate(day) / senescence.need[2];
                cool += u32::from(day.mean < COOL);
            }
            if cool < COOL_DAYS { f64::min(sum, held) } else { sum }
        })
        .collect();
    Course { first_day, progress }
}

/// A look at leaves as evidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeafEvidence {
    /// Day number.
    pub day: i32,
    /// What was seen.
    pub leaf: Leaf,
    /// Observer's noise, as standard deviation of the logarithm of the sum.
    pub noise: f64,
}

/// When a tree's leaves turn, and what they do today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Autumn {
    /// Chance of each state today, in the order of [`Leaf::ALL`].
    pub today: [f64; 4],
    /// When they colour, begin to fall and are down; none where that does not come this season, or nothing tells when.
    pub turns: [Option<Spread>; 3],
    /// The last look that was believed.
    pub seen: Option<LeafEvidence>,
    /// True where the looks are further back than the weather explains: it came from warmth, or is another kind of tree.
    pub out_of_step: bool,
}

/// Chance of a state as seen or further on, or as seen or further back, under which the look surprises.
const SURPRISED: f64 = 0.05;

/// The autumn of one tree, given the season so far, the years that may follow and the looks at its leaves.
///
/// What was seen stands: a state behind the last look has no chance, and what it saw has happened by that day. A tree seen in leaf that
/// the weather calls bare keeps its leaves until someone says they fell, without a date.
///
/// **Source** the method is that of [`crate::forecast::forecast`]. **Error** as [`fading`]. **Checked** `tests/autumn.rs`.
pub fn autumn(courses: &[Course], today: i32, senescence: &Senescence, looks: &[LeafEvidence]) -> Autumn {
    let looks = in_line(looks);
    let seen = looks.last().copied();
    let now = courses.first().map_or(0.0, |course| course.on(today));
    let chance = |look: &LeafEvidence, pace: f64| {
        let progress = courses.first().map_or(0.0, |course| course.on(look.day)).max(LEAST);
        let passed = |leaf: Leaf| match senescence.share(leaf) {
            0.0 => 1.0,
            share => bell((progress.ln() - pace - share.ln()) / look.noise.max(1e-3)),
        };
        let next = Leaf::ALL.get(look.leaf.rank() + 1).map_or(0.0, |&next| passed(next));
        (passed(look.leaf) - next).max(0.0)
    };
    let prior = Pace { mean: 0.0, sd: senescence.sd };
    let (paces, weights, _) = weighed(prior, &looks, chance);
    let [is_behind, is_ahead] = seen.map_or([false; 2], |look| {
        let (paces, weights, _) = weighed(prior, &[], chance);
        let then = courses.first().map_or(0.0, |course| course.on(look.day));
        let before = states(then, senescence, &paces, &weights);
        let rank = look.leaf.rank();
        [&before[..=rank], &before[rank..]].map(|side| side.iter().sum::<f64>() < SURPRISED)
    });
    let out_of_step = is_behind;
    // Colour long before its time: told from the look on.
    let anew = seen.filter(|_| is_ahead).map(|look| {
        let begins = senescence.share(look.leaf);
        let ends = Leaf::ALL.get(look.leaf.rank() + 1).map_or(begins, |&next| senescence.share(next));
        (look, Anew::from(courses, look.day, [begins, ends]))
    });
    let sums = running(&weights);
    let turns = [Leaf::Colouring, Leaf::Falling, Leaf::Bare].map(|leaf| {
        let (spread, missed) = match &anew {
            Some((look, anew)) if leaf > look.leaf => anew.passing(senescence.share(leaf)),
            _ => passing(courses, senescence.share(leaf), &paces, &sums),
        };
        let is_seen = seen.is_some_and(|look| look.leaf >= leaf);
        let told = spread.filter(|_| missed <= MOSTLY && (is_seen || !out_of_step));
        let told = told.or(seen.filter(|_| is_seen).map(|look| Spread {
            early: look.day,
            middle: look.day,
            late: look.day,
        }));
        told.map(|spread| held(spread, leaf, &looks))
    });
    let chances = match &anew {
        Some((look, anew)) => states_anew(anew, senescence, look.leaf, today),
        None => states(now, senescence, &paces, &weights),
    };
    Autumn {
        today: seen.map_or(chances, |look| not_before(chances, look, out_of_step)),
        turns,
        seen,
        out_of_step,
    }
}

/// Chance of each state when a middling tree has come this far.
fn states(progress: f64, senescence: &Senescence, paces: &[f64], weights: &[f64]) -> [f64; 4] {
    let mut chances = [0.0; 4];
    for (pace, weight) in paces.iter().zip(weights) {
        let own = progress / pace.exp();
        let rank = Leaf::ALL.iter().rposition(|&leaf| own >= senescence.share(leaf)).unwrap_or(0);
        chances[rank] += weight;
    }
    chances
}

/// Chance of each state of a tree told from its look on.
fn states_anew(anew: &Anew, senescence: &Senescence, seen: Leaf, today: i32) -> [f64; 4] {
    let mut chances = [0.0; 4];
    let mut reached = 1.0;
    for (rank, chance) in chances.iter_mut().enumerate().skip(seen.rank()) {
        let next = Leaf::ALL.get(rank + 1).map_or(0.0, |&next| anew.passed(senescence.share(next), today));
        *chance = reached - next.min(reached);
        reached = next.min(reached);
    }
    chances
}

/// Progress below which a leaf is taken to have come nowhere.
const LEAST: f64 = 1e-3;

/// Share of the courses that may miss a state before no date is told.
const MOSTLY: f64 = 0.5;

/// Chances without those behind the last look; of a tree out of step nothing but the look is known.
fn not_before(mut chances: [f64; 4], look: LeafEvidence, out_of_step: bool) -> [f64; 4] {
    let rank = look.leaf.rank();
    if out_of_step {
        return std::array::from_fn(|at| f64::from(u8::from(at == rank)));
    }
    chances[..rank].fill(0.0);
    let total: f64 = chances.iter().sum();
    if total <= 0.0 {
        chances[rank] = 1.0;
        return chances;
    }
    chances.map(|chance| chance / total)
}

/// Dates held to the looks: what was seen has happened, what was not has not.
fn held(spread: Spread, leaf: Leaf, looks: &[LeafEvidence]) -> Spread {
    let done = looks.iter().filter(|look| look.leaf >= leaf).map(|look| look.day).min();
    let not_yet = looks.iter().filter(|look| look.leaf < leaf).map(|look| look.day).max();
    let hold = |day: i32| {
        let day = not_yet.map_or(day, |seen| day.max(seen + 1));
        done.map_or(day, |seen| day.min(seen))
    };
    Spread { early: hold(spread.early), middle: hold(spread.middle), late: hold(spread.late) }
}

/// The looks by day without those that a later one contradicts: leaves that fell do not come back.
fn in_line(looks: &[LeafEvidence]) -> Vec<LeafEvidence> {
    let mut kept = looks.to_vec();
    kept.sort_by_key(|look| look.day);
    let mut lowest = Leaf::Bare;
    for at in (0..kept.len()).rev() {
        if kept[at].leaf > lowest {
            kept.remove(at);
        } else {
            lowest = kept[at].leaf;
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    const MAPLE: Senescence = Senescence { base: 28.0, short: 13.0, need: [430.0, 650.0, 880.0], sd: 0.2 };

    /// A hundred and fifty days that cool from 24 °C by a tenth of a degree a day under ever shorter light.
    fn years() -> Vec<Course> {
        let days: Vec<BudDay> = (0..150)
            .map(|day| BudDay {
                mean: 24.0 - 0.15 * f64::from(day),
                light: 13.0 - 0.03 * f64::from(day),
                ..BudDay::default()
            })
            .collect();
        vec![fading(&MAPLE, -121, &days, |_| false); 3]
    }

    fn seen(day: i32, leaf: Leaf) -> LeafEvidence {
        LeafEvidence { day, leaf, noise: 0.05 }
    }

    #[test]
    fn leaves_are_full_in_september_and_turn_in_their_order() {
        let told = autumn(&years(), -121, &MAPLE, &[]);
        assert!(told.today[0] > 0.999, "{told:?}");
        let middles = told.turns.map(|it| it.unwrap().middle);
        assert!(middles.is_sorted() && middles[0] > -90 && middles[2] < 0, "{middles:?}");
        assert!(told.turns.iter().flatten().all(|it| it.early < it.middle && it.middle < it.late));
    }

    #[test]
    fn a_heated_room_or_a_warm_autumn_turns_no_leaf() {
        let days = [BudDay { mean: 20.0, light: 10.0, ..BudDay::default() }; 150];
        for heated in [true, false] {
            let course = fading(&MAPLE, -121, &days, |_| heated);
            let told = autumn(&[course], 0, &MAPLE, &[]);
            assert_eq!(told.turns[2], None);
            assert!(told.today[0] > 0.99, "{told:?}");
        }
    }

    #[test]
    fn what_was_seen_stands_and_is_not_gone_back_on() {
        let years = years();
        let free = autumn(&years, -60, &MAPLE, &[]);
        let full = autumn(&years, -60, &MAPLE, &[seen(-62, Leaf::Full)]);
        assert!(full.turns[2].unwrap().middle > free.turns[2].unwrap().middle);
        let falling = autumn(&years, -59, &MAPLE, &[seen(-60, Leaf::Falling)]);
        assert_eq!([falling.today[0], falling.today[1]], [0.0, 0.0]);
        assert!(falling.turns[2].unwrap().middle < free.turns[2].unwrap().middle);
        let bare = autumn(&years, -50, &MAPLE, &[seen(-60, Leaf::Bare)]);
        assert!(bare.today[3] == 1.0 && bare.turns[2].unwrap().late <= -60, "{bare:?}");
    }

    #[test]
    fn a_tree_in_leaf_when_others_are_bare_keeps_its_leaves_without_a_date() {
        let years = years();
        let told = autumn(&years, 10, &MAPLE, &[seen(9, Leaf::Full)]);
        assert!(told.out_of_step);
        assert_eq!((told.today, told.turns), ([1.0, 0.0, 0.0, 0.0], [None; 3]));
        assert!(!autumn(&years, -80, &MAPLE, &[seen(-80, Leaf::Full)]).out_of_step);
    }

    #[test]
    fn colour_long_before_its_time_widens_what_is_told() {
        let years = years();
        let early = autumn(&years, -115, &MAPLE, &[seen(-116, Leaf::Colouring)]);
        let bare = early.turns[2].unwrap();
        assert!(!early.out_of_step && bare.late - bare.early > 10, "{early:?}");
    }
}
