//! The question the room exists to answer: on which days will this tree pass each bud stage?

pub(crate) mod anew;
pub(crate) mod grid;
mod order;

use measure::stage::Stage;

use crate::ladder::share;
use anew::Anew;
use grid::{chances, gain_of_look, moments, passing, posterior, surprises};
use order::{bounded, in_line, in_order, not_before};

/// Heat received against heat needed, day by day, for one possible course of the season.
///
/// It is 1 on the day a middling tree of the taxon breaks bud; it never falls. All courses of one forecast
/// agree up to today, and part afterwards. Compute it once per place and taxon, not once per tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Day number of the first value.
    pub first_day: i32,
    /// Progress at the end of each day.
    pub progress: Vec<f64>,
}

impl Course {
    pub(crate) fn on(&self, day: i32) -> f64 {
        let at = (day - self.first_day).max(0) as usize;
        self.progress.get(at).or(self.progress.last()).copied().unwrap_or(0.0)
    }

    /// First day on which progress is at least `level`.
    pub fn day_reaching(&self, level: f64) -> Option<i32> {
        let at = self.progress.partition_point(|&progress| progress < level);
        (at < self.progress.len()).then_some(self.first_day + at as i32)
    }
}

/// What is known of a tree's own pace: the logarithm of its need over the taxon's, with its standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Above 0 for a tree that wakes late.
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
}

/// A bud look as evidence: on this day the buds showed this stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Evidence {
    /// Day number.
    pub day: i32,
    /// What was seen.
    pub stage: Stage,
    /// Observer's noise, as standard deviation of the logarithm of progress.
    pub noise: f64,
}

/// Three dates that hold a stage's passing day: one in ten is earlier, one in ten is later.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// One chance in ten that it is earlier.
    pub early: i32,
    /// As likely before as after.
    pub middle: i32,
    /// One chance in ten that it is later.
    pub late: i32,
}

/// What weakens a forecast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Caveat {
    /// Fewer courses than a spread of years needs.
    FewYears(usize),
    /// No bud look this season.
    NoLook,
    /// In this share of the courses the stage is not reached before the season ends.
    MayNotHappen(f64),
    /// The looks contradict the forecast: even the best pace explains them badly.
    LooksSurprise,
    /// A look says that buds went back; the looks that came later were believed.
    LooksContradict,
    /// The last look saw this stage, further on than the one told for today.
    BehindLook(Stage),
}

/// When a tree passes each stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// One entry per stage after dormant; none where the stage is reached in too few courses to say.
    pub stages: Vec<(Stage, Option<Spread>)>,
    /// Chance of each stage today, in the order of [`Stage::ALL`].
    pub today: [f64; 9],
    /// The tree's pace after this season's looks.
    pub pace: Pace,
    /// Share of the pace's spread that one sure look today is expected to take away.
    pub look_gain: f64,
    /// What weakens it.
    pub caveats: Vec<Caveat>,
}

/// The days for root work: buds full but still shut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// Buds reach full size.
    pub opens: Spread,
    /// Last day before green tips are out.
    pub closes: Spread,
}

impl Forecast {
    /// When a stage is passed.
    pub fn of(&self, stage: Stage) -> Option<Spread> {
        self.stages.iter().find(|(other, _)| *other == stage).and_then(|(_, spread)| *spread)
    }

    /// The most likely stage today.
    pub fn stage_today(&self) -> Stage {
        let best = (0..9).fold(0, |best, rank| if self.today[rank] > self.today[best] { rank } else { best });
        Stage::ALL[best]
    }

    /// The repotting window: from full buds to the day before green tips (common practice, no source).
    pub fn window(&self) -> Option<Window> {
        let closes = self.of(Stage::GreenTip)?;
        let opens = self.of(Stage::Full)?;
        let day_before = Spread {
            early: (closes.early - 1).max(opens.early),
            middle: (closes.middle - 1).max(opens.middle),
            late: (closes.late - 1).max(opens.late),
        };
        Some(Window { opens, closes: day_before })
    }
}

/// Fewest courses that carry a spread without a caveat.
const ENOUGH_YEARS: usize = 10;

/// When a tree passes each stage, given the season so far, the years that may follow, its pace and this
/// season's looks.
///
/// ```text
/// passing day of stage s = first d with progress(d) ≥ share(s) · exp(v),   v ~ t₄(pace)
/// P(stage k seen on d | v) = Φ((x − ln share(k))/σ) − Φ((x − ln share(k+1))/σ),   x = ln progress(d) − v
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | v | grid of 201 points over ±6 sd | the tree's pace this season | log of need |
/// | σ | `Evidence::noise` | observer's noise | log of progress |
/// | Φ | `statrs` | cumulative normal | – |
///
/// A look whose stage or further, or whose stage or less far, had a chance under 1 in 100 surprises: the season is told from that look on
/// with a wide spread, and the figures before it count no more. A stage behind the last sure or fair look has no chance.
///
/// **Holds** for courses that never fall; days outside a course are read at its ends.
/// **Error** not known for trees in pots. For trees in the ground the window of one in ten to nine in ten held 82
/// of 100 dates told in March from a fit to the same trees' other years, and 83 to 88 from a fit to trees elsewhere.
/// **Source** method: own, from interval-censored regression and Gelman et al., Bayesian Data Analysis.
/// **Checked** windows in `tests/kma_window.rs`, on courses of thermal time; the rest by own rules, in this file.
///
/// # Example
///
/// ```
/// use dormancy::forecast::{Course, Pace, forecast};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let told = forecast(&vec![steady; 12], 40, Pace { mean: 0.0, sd: 0.1 }, &[]);
/// let breaking = told.of(Stage::Breaking).unwrap();
/// assert!(breaking.early < 100 && breaking.late > 100);
/// assert_eq!(breaking.middle, 100);
/// ```
pub fn forecast(courses: &[Course], today: i32, prior: Pace, looks: &[Evidence]) -> Forecast {
    let (looks, slipped) = in_line(looks);
    let looks = &looks[..];
    let (paces, weights, _) = posterior(courses, prior, looks);
    let last = looks.iter().max_by_key(|look| look.day);
    let anew = last.filter(|look| surprises(courses, prior, look)).map(|look| {
        let begins = share(look.stage).max(0.3);
        let ends = look.stage.next().map_or(begins * 1.5, share);
        (look, Anew::from(courses, look.day, [begins, ends]))
    });
    let surprised = anew.is_some();
    let now = courses.first().map_or(0.0, |course| course.on(today));
    let mut caveats = Vec::new();
    if courses.len() < ENOUGH_YEARS {
        caveats.push(Caveat::FewYears(courses.len()));
    }
    if looks.is_empty() {
        caveats.push(Caveat::NoLook);
    }
    if slipped {
        caveats.push(Caveat::LooksContradict);
    }
    if surprised {
        caveats.push(Caveat::LooksSurprise);
    }
    let cumulative = running(&weights);
    let mut stages = Vec::with_capacity(8);
    for stage in Stage::ALL.into_iter().skip(1) {
        let (spread, missed) = match &anew {
            Some((look, anew)) if stage > look.stage => anew.passing(share(stage)),
            Some((look, _)) => {
                let told = passing(courses, share(stage), &paces, &cumulative).0;
                let by = |day: i32| day.min(look.day);
                let seen = Spread { early: look.day, middle: look.day, late: look.day };
                (
                    Some(told.map_or(seen, |it| Spread {
                        early: by(it.early),
                        middle: by(it.middle),
                        late: by(it.late),
                    })),
                    0.0,
                )
            }
            None => passing(courses, share(stage), &paces, &cumulative),
        };
        if stage == Stage::GreenTip && missed > 0.1 {
            caveats.push(Caveat::MayNotHappen(missed));
        }
        stages.push((stage, spread.map(|spread| bounded(spread, stage, looks))));
    }
    in_order(&mut stages);
    let mut told = Forecast {
        stages,
        today: not_before(
            match &anew {
                Some((look, anew)) => told_anew(anew, look.stage, today),
                None => chances(now, &paces, &weights),
            },
            looks,
        ),
        pace: moments(&paces, &weights),
        look_gain: gain_of_look(now, &paces, &weights),
        caveats,
    };
    if let Some(last) = last
        && last.stage > told.stage_today()
    {
        told.caveats.push(Caveat::BehindLook(last.stage));
    }
    told
}

/// Chance of each stage today of a tree told from its look on.
fn told_anew(anew: &Anew, seen: Stage, today: i32) -> [f64; 9] {
    let mut chances = [0.0; 9];
    let mut reached = 1.0;
    for stage in Stage::ALL.into_iter().skip(seen.rank()) {
        let further = stage.next().map_or(0.0, |next| anew.passed(share(next), today)).min(reached);
        chances[stage.rank()] = reached - further;
        reached = further;
    }
    chances
}

/// When one stage is passed, for a pace told beforehand: the leanest of questions.
///
/// None where it is passed in too few courses to say.
pub fn passed(courses: &[Course], pace: Pace, stage: Stage) -> Option<Spread> {
    let (paces, weights, _) = posterior(courses, pace, &[]);
    passing(courses, share(stage), &paces, &running(&weights)).0
}

/// Running sums of the weights.
pub(crate) fn running(weights: &[f64]) -> Vec<f64> {
    let mut sum = 0.0;
    let add = |weight: &f64| {
        sum += weight;
        sum
    };
    weights.iter().map(add).collect()
}

/// The pace that looks speak for, on one known course: what a past season taught.
///
/// ```
/// use dormancy::forecast::{Course, Evidence, Pace, pace_seen};
/// use measure::stage::Stage;
///
/// let steady = Course { first_day: 1, progress: (1..=200).map(|day| day as f64 / 100.0).collect() };
/// let late = Evidence { day: 120, stage: Stage::Full, noise: 0.05 };
/// assert!(pace_seen(&steady, Pace { mean: 0.0, sd: 0.3 }, &[late]).mean > 0.2);
/// ```
pub fn pace_seen(course: &Course, prior: Pace, looks: &[Evidence]) -> Pace {
    let (paces, weights, _) = posterior(std::slice::from_ref(course), prior, looks);
    moments(&paces, &weights)
}

/// Noise of a sure look on the logarithm of progress; our estimate.
pub const SURE: f64 = 0.05;

#[cfg(test)]
mod tests {
    use super::*;

    /// Twelve years that agree up to day 60 and then run at different speeds.
    fn years() -> Vec<Course> {
        (0..12)
            .map(|year| {
                let speed = 0.008 + 0.0005 * f64::from(year);
                let progress =
                    (1..=200)
                        .map(|day| {
                            if day <= 60 { 0.01 * f64::from(day) } else { 0.6 + speed * f64::from(day - 60) }
                        })
                        .collect();
                Course { first_day: 1, progress }
            })
            .collect()
    }

    const PRIOR: Pace = Pace { mean: 0.0, sd: 0.12 };

    fn width(spread: Spread) -> i32 {
        spread.late - spread.early
    }

    #[test]
    fn stages_come_in_their_order() {
        let told = forecast(&years(), 60, PRIOR, &[]);
        let middles: Vec<i32> =
            told.stages.iter().filter_map(|(_, spread)| spread.map(|s| s.middle)).collect();
        assert!(middles.windows(2).all(|pair| pair[0] <= pair[1]), "{middles:?}");
        assert!(middles.len() >= 6);
    }

    #[test]
    fn a_look_at_full_buds_brings_the_day_forward_and_narrows_it() {
        let before = forecast(&years(), 60, PRIOR, &[]);
        let look = Evidence { day: 60, stage: Stage::Full, noise: 0.05 };
        let after = forecast(&years(), 60, PRIOR, &[look]);
        let (was, is) = (before.of(Stage::GreenTip).unwrap(), after.of(Stage::GreenTip).unwrap());
        assert!(is.middle < was.middle, "{was:?} {is:?}");
        assert!(width(is) < width(was), "{was:?} {is:?}");
        assert!(after.pace.mean < 0.0);
    }

    #[test]
    fn a_look_at_hard_buds_puts_the_day_back() {
        let look = Evidence { day: 60, stage: Stage::Dormant, noise: 0.05 };
        let (before, after) = (forecast(&years(), 60, PRIOR, &[]), forecast(&years(), 60, PRIOR, &[look]));
        assert!(after.of(Stage::Full).unwrap().middle > before.of(Stage::Full).unwrap().middle);
    }

    #[test]
    fn today_adds_up_to_one() {
        let told = forecast(&years(), 60, PRIOR, &[]);
        assert!((told.today.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_look_that_cannot_be_says_so_and_gives_an_answer() {
        let look = Evidence { day: 5, stage: Stage::Grown, noise: 0.05 };
        let told = forecast(&years(), 60, PRIOR, &[look]);
        assert!(told.caveats.contains(&Caveat::LooksSurprise));
        assert!(told.window().is_some());
        assert_eq!(told.stage_today(), Stage::Grown);
    }

    #[test]
    fn a_stage_told_behind_the_last_look_says_so() {
        let look = |day, stage, noise| Evidence { day, stage, noise };
        let sure = look(58, Stage::Swelling, 0.02);
        let told = forecast(&years(), 60, PRIOR, &[sure, look(59, Stage::Breaking, 0.6)]);
        assert_eq!(told.stage_today(), Stage::Swelling);
        assert!(told.caveats.contains(&Caveat::BehindLook(Stage::Breaking)));
    }

    #[test]
    fn a_season_too_cold_to_wake_says_so_instead_of_a_date() {
        let cold = Course { first_day: 1, progress: vec![0.3; 200] };
        let told = forecast(&vec![cold; 12], 60, PRIOR, &[]);
        assert_eq!(told.window(), None);
        assert!(
            told.caveats.iter().any(|caveat| matches!(caveat, Caveat::MayNotHappen(share) if *share > 0.9))
        );
    }

    #[test]
    fn few_years_are_owned_up_to() {
        let told = forecast(&years()[..3], 60, PRIOR, &[]);
        assert!(told.caveats.contains(&Caveat::FewYears(3)));
    }
}
