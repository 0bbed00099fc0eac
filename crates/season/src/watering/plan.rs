//! The round: for each pot the chance that it is dry before the next possible visit, and what is cheapest to do about it.

use collection::drink::Worth;
use measure::{
    quantity::{Hours, Litre, Millimetre, Share},
    range::OutOfRange,
};
use water::{
    leaf::Exposure,
    round::{Departures, Misfit, Outcome, RoundPot, Start as Begin, Weather, chance_dry, round},
    triage::Stake,
};

use crate::{
    repot::aftercare::Care,
    watering::{
        after_cut::heed,
        log::{Belief, Start, Story, TreeWater},
        pots::DRY,
        thirst::{AHEAD, Thirst},
    },
};

/// Days without a line in the log after which a pot is lifted, whatever the figures say (common practice: 10 to 14 in store).
pub const LIFT_AFTER: f64 = 10.0;

/// Chance over which a pot is watered unseen, however little is known of it.
const SURE: f64 = 0.5;

/// Lines of the log that make a tree's own use known well enough to water by a small chance.
const ENOUGH: usize = 3;

/// What to do with a pot on this round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Water it.
    Water,
    /// Lift it or feel the soil first: the figures do not know enough.
    Check,
    /// Leave it.
    Leave,
}

/// What makes a watered pot last until the next visit, cheapest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Remedy {
    /// Stand pots close together.
    Group,
    /// Into shade and out of the wind.
    Shade,
    /// On a wet tray of sand.
    WetTray,
    /// Someone must come by.
    Helper,
}

impl Remedy {
    /// What is left of the use, and where that figure comes from.
    fn factor(self) -> f64 {
        match self {
            Remedy::Group => 0.85,
            Remedy::Shade => 0.67,
            Remedy::WetTray => 0.5,
            Remedy::Helper => 1.0,
        }
    }
}

/// What the round says of one pot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PotPlan {
    /// What to do.
    pub verdict: Verdict,
    /// Chance that it is dry before the next visit if it is left.
    pub if_left: Share,
    /// The same if it is watered now.
    pub if_watered: Share,
    /// Chance over which watering is worth its minutes: cost over loss.
    pub threshold: f64,
    /// Hours from now until it is dry, one chance in ten sooner; none within the fortnight.
    pub dry_early: Option<Hours>,
    /// Hours from now until it is dry, as likely before as after.
    pub dry_middle: Option<Hours>,
    /// Share of its water that is left now, by the middle of what is believed; none where it was never seen full.
    pub left: Option<Share>,
    /// What it will draw in the next day if wet.
    pub draws: Litre,
    /// What is believed of its coefficient.
    pub belief: Belief,
    /// What would make it last, where watering does not.
    pub remedy: Option<Remedy>,
    /// Hours since anything was written down of it.
    pub silent: Option<Hours>,
    /// What to heed since its roots were cut: light, feed and frost; none once they are as usual.
    pub care: Option<Care>,
}

/// Why a pot has no plan.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoPlan {
    /// A figure is beyond what any pot does.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The weathers do not fit together.
    #[error(transparent)]
    Misfit(#[from] Misfit),
    /// Nobody wrote down where it stands.
    #[error("it was never written down where the tree stands")]
    Nowhere,
}

/// Plans pot after pot with rooms that are used again.
#[derive(Debug)]
pub struct Planner<'a> {
    thirst: &'a Thirst,
    departures: Departures,
    /// Hour of the thirst that is now.
    now: f64,
    /// Hours from now to the next visit.
    next: f64,
    outcomes: Vec<Outcome>,
    folded: Vec<Vec<Millimetre>>,
    dry_rain: Vec<Millimetre>,
}

impl<'a> Planner<'a> {
    /// For a moment and the hours from it to the next visit.
    pub fn new(thirst: &'a Thirst, now: f64, next: f64) -> Planner<'a> {
        let weathers = thirst.weathers();
        let hours = thirst.rain.first().map_or(0, Vec::len);
        Planner {
            thirst,
            departures: Departures::new(weathers),
            now,
            next,
            outcomes: vec![Outcome::default(); weathers],
            folded: vec![Vec::with_capacity(hours); weathers],
            dry_rain: vec![Millimetre(0.0); hours],
        }
    }

    /// The plan of one pot.
    ///
    /// # Errors
    ///
    /// [`NoPlan`] when its figures are those of no pot or its place is unknown.
    pub fn plan(&mut self, tree: &TreeWater<'_>, story: &Story, worth: Worth) -> Result<PotPlan, NoPlan> {
        let today = tree.day(self.now);
        let belief = tree.believed(story, self.now);
        let place = tree.place(self.now).ok_or(NoPlan::Nowhere)?;
        let threshold = Stake { dry: Share(0.0), cost: 1.0, loss: worth.loss_over_cost() }.threshold();
        let draws = self.draws(tree, place, today, belief);
        let fresh = Start { hour: self.now, left: Share(1.0) };
        let (if_watered, ..) = self.ahead(tree, fresh, belief, 1.0, self.next)?;
        let (if_left, dry_early, dry_middle, left) = match story.start {
            Some(start) => {
                let (chance, early, middle) = self.ahead(tree, start, belief, 1.0, (AHEAD * 24) as f64)?;
                (chance, early, middle, Some(self.left(tree, start, belief)))
            }
            None => (Share(1.0), None, None, None),
        };
        let silent = story.last.map(|last| Hours(self.now - last));
        let sure = if_left.0 >= SURE || belief.seen >= ENOUGH;
        let verdict =
            verdict(if_left.0, threshold, story.start.is_some() && sure, story.start.is_some(), silent);
        let remedy =
            if if_watered.0 > threshold { Some(self.remedy(tree, place, belief, threshold)?) } else { None };
        Ok(PotPlan {
            verdict,
            if_left,
            if_watered,
            threshold,
            dry_early,
            dry_middle,
            left,
            draws,
            belief,
            remedy,
            silent,
            care: heed(&tree.cuts, self.now),
        })
    }

    /// Chance to be dry before the next visit, and the early and middle hours from now until it is, looked for as far as `reach`.
    fn ahead(
        &mut self,
        tree: &TreeWater<'_>,
        start: Start,
        belief: Belief,
        factor: f64,
        reach: f64,
    ) -> Result<(Share, Option<Hours>, Option<Hours>), NoPlan> {
        let end = (self.now + reach).ceil() as usize;
        let from = start.hour.max(0.0).floor() as usize;
        let steady = self.is_steady(tree, start.hour);
        let place = tree.place(self.now).ok_or(NoPlan::Nowhere)?;
        let rained_on = self.thirst.places[place].standing.rained_on;
        let per = match steady {
            true => {
                tree.facts
                    .per_millimetre(tree.leaves.on(tree.day(self.now)), self.thirst.places[place].standing)
                    .0
            }
            false => {
                self.fold(tree, from);
                1.0
            }
        };
        let begin = Begin {
            left: start.left,
            per_millimetre: Litre(per * belief.mean.exp() * factor),
            surface: tree.facts.surface,
            limit: DRY,
            spread: belief.spread,
            since: Hours((self.now - from as f64).max(0.0)),
        };
        let pot = [RoundPot::new(&tree.facts.store, &begin)?];
        let weathers: Vec<Weather<'_>> = (0..self.thirst.weathers())
            .map(|weather| {
                let demand = match steady {
                    true => cut(&self.thirst.places[place].demand[weather], from, end),
                    false => cut(&self.folded[weather], 0, end - from.min(end)),
                };
                let rain = if rained_on { &self.thirst.rain[weather] } else { &self.dry_rain };
                Weather { demand, rain: cut(rain, from, from + demand.len()) }
            })
            .collect();
        round(&pot, &weathers, Hours(1.0), &self.departures, &mut self.outcomes)?;
        let gone = self.now - from as f64;
        let chance = chance_dry(&self.outcomes, Hours(gone + self.next));
        let mut firsts: Vec<f64> = self
            .outcomes
            .iter()
            .map(|outcome| outcome.first.map_or(f64::INFINITY, |first| first.0 - gone))
            .collect();
        firsts.sort_by(f64::total_cmp);
        let at = |share: f64| {
            let hours = firsts[((firsts.len() - 1) as f64 * share).round() as usize];
            hours.is_finite().then(|| Hours(hours.max(0.0)))
        };
        Ok((chance, at(0.1), at(0.5)))
    }

    /// Whether neither leaves nor place nor healing roots change its use from an hour to the end of the plan.
    fn is_steady(&self, tree: &TreeWater<'_>, from: f64) -> bool {
        let days = ((self.now - from) / 24.0) as i32 + AHEAD as i32;
        let is_healing = tree.cuts.iter().any(|cut| cut.is_healing(from) || cut.is_healing(self.now));
        !is_healing && tree.leaves.hold(tree.day(from), days) && tree.place(from) == tree.place(self.now)
    }

    /// Demand in litres of a coefficient of 1, where leaves or place change on the way.
    fn fold(&mut self, tree: &TreeWater<'_>, from: usize) {
        for (weather, row) in self.folded.iter_mut().enumerate() {
            row.clear();
            let end = self.thirst.rain[weather].len();
            let (mut day, mut per, mut place) = (i32::MIN, 0.0, 0);
            for hour in from..end {
                let on = tree.day(hour as f64);
                if on != day {
                    day = on;
                    place = tree.place(hour as f64).unwrap_or(0);
                    per = tree.roots(hour as f64)
                        * tree
                            .facts
                            .per_millimetre(tree.leaves.on(day), self.thirst.places[place].standing)
                            .0;
                }
                row.push(Millimetre(per * self.thirst.places[place].demand[weather][hour].0));
            }
        }
    }

    /// What it draws in the next day in the middle of the weathers.
    fn draws(&self, tree: &TreeWater<'_>, place: usize, today: i32, belief: Belief) -> Litre {
        let per = tree.facts.per_millimetre(tree.leaves.on(today), self.thirst.places[place].standing).0;
        let from = self.now.max(0.0) as usize;
        let rows = &self.thirst.places[place].demand;
        let mean: f64 = rows
            .iter()
            .map(|row| row.iter().skip(from).take(24).map(|hour| hour.0).sum::<f64>())
            .sum::<f64>()
            / rows.len().max(1) as f64;
        Litre(per * tree.roots(self.now) * belief.mean.exp() * mean)
    }

    /// What is left now by the middle of what is believed, day by day.
    fn left(&self, tree: &TreeWater<'_>, start: Start, belief: Belief) -> Share {
        let (mut left, mut from) = (start.left.0, start.hour);
        let holds = tree.facts.store.holds().0;
        while from < self.now {
            let to = (from.div_euclid(24.0) * 24.0 + 24.0).min(self.now);
            let rain = tree.rained(self.thirst, from, to).0;
            let drawn = tree.ruled(self.thirst, from, to).0 * belief.mean.exp();
            let days = (to - from) / 24.0;
            let wet = (left + rain / holds).min(1.0);
            let demand = measure::quantity::LitresPerDay(drawn / days.max(1e-9));
            left = tree.facts.store.after(Share(wet), demand, measure::quantity::Days(days)).0.0;
            from = to;
        }
        Share(left)
    }

    /// The cheapest thing that makes a watered pot last.
    fn remedy(
        &mut self,
        tree: &TreeWater<'_>,
        place: usize,
        belief: Belief,
        threshold: f64,
    ) -> Result<Remedy, NoPlan> {
        let fresh = Start { hour: self.now, left: Share(1.0) };
        let shaded =
            matches!(self.thirst.places[place].standing.exposure, Exposure::Shade | Exposure::Indoors);
        for remedy in [Remedy::Group, Remedy::Shade, Remedy::WetTray] {
            if remedy == Remedy::Shade && shaded {
                continue;
            }
            if self.ahead(tree, fresh, belief, remedy.factor(), self.next)?.0.0 <= threshold {
                return Ok(remedy);
            }
        }
        Ok(Remedy::Helper)
    }
}

/// Hours from one to another, as far as there are any.
fn cut(hours: &[Millimetre], from: usize, to: usize) -> &[Millimetre] {
    &hours[from.min(hours.len())..to.clamp(from.min(hours.len()), hours.len())]
}

/// What to do: water where the chance is over cost by loss; look where nothing is known or nothing was written for long.
fn verdict(if_left: f64, threshold: f64, sure: bool, known: bool, silent: Option<Hours>) -> Verdict {
    let long = silent.is_none_or(|silent| silent.0 > LIFT_AFTER * 24.0);
    match if_left > threshold {
        _ if !known || long => Verdict::Check,
        true if sure => Verdict::Water,
        true => Verdict::Check,
        false => Verdict::Leave,
    }
}
