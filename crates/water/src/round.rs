//! A round of the bench ahead of time: many pots through many made-up weathers, and when each is first too dry.

use measure::{
    quantity::{Hours, Litre, Millimetre, Share, SquareMetre},
    range::{OutOfRange, within},
};
use statrs::function::erf::erfc_inv;

use crate::dry_down::Pot;

/// A pot on the bench as the round needs it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundPot {
    holds: f64,
    threshold: f64,
    start: f64,
    per_millimetre: f64,
    surface: f64,
    /// Asked litres that bring the pot from its threshold to too dry; and the share that is too dry.
    slow: f64,
    limit: f64,
    spread: f64,
    since: f64,
}

/// What a pot's round starts from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Start {
    /// Share of its water left now.
    pub left: Share,
    /// What it draws when wet for each millimetre of demand.
    pub per_millimetre: Litre,
    /// Open substrate that rain falls into; none under a roof.
    pub surface: SquareMetre,
    /// Share under which it is too dry.
    pub limit: Share,
    /// Spread of the logarithm of what it draws.
    pub spread: f64,
    /// From when on dryness counts: a pot that dried before it and was rained on since is not dry.
    pub since: Hours,
}

impl RoundPot {
    /// A pot with its start.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when a figure is not that of a pot.
    pub fn new(pot: &Pot, start: &Start) -> Result<RoundPot, OutOfRange> {
        let (holds, threshold) = (pot.holds().0, pot.threshold().0);
        let limit = within("share that is too dry", start.limit.0, 0.001, 1.0)?;
        Ok(RoundPot {
            holds,
            threshold,
            start: within("share of water left", start.left.0, 0.0, 1.0)?,
            per_millimetre: within("litres for each mm", start.per_millimetre.0, 0.0, 1e3)?,
            surface: within("open substrate, m²", start.surface.0, 0.0, 50.0)?,
            slow: threshold * holds * (threshold / limit).ln().max(0.0),
            limit,
            spread: within("spread of what it draws", start.spread, 0.0, 3.0)?,
            since: within("hours before dryness counts", start.since.0, 0.0, 1e6)?,
        })
    }
}

/// One weather: demand and rain step by step, of equal length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weather<'a> {
    /// Demand of open grass in each step.
    pub demand: &'a [Millimetre],
    /// Rain in each step, at its start.
    pub rain: &'a [Millimetre],
}

/// One pot in one weather.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Outcome {
    /// When it is first too dry.
    pub first: Option<Hours>,
    /// How long it is too dry until the end.
    pub dry: HoursDry,
}

/// Hours spent too dry.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct HoursDry(pub f64);

/// Equally likely departures of what a pot draws, one for each weather, laid out once before a round.
///
/// Pot `p` in weather `m` takes the departure `(p + m) mod n`, so over the weathers every pot meets each of them once.
#[derive(Clone, Debug, PartialEq)]
pub struct Departures(Vec<f64>);

impl Departures {
    /// For a number of weathers: the middles of that many equally likely slices of the normal distribution.
    ///
    /// ```text
    /// z[i] = Φ⁻¹((i + ½)/n)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | z | | departure of the logarithm, in spreads | 1 |
    /// | n | `weathers` | how many | |
    ///
    /// **Holds** for any number. **Error** the tails beyond the outermost slices are cut. **Source** stratified sampling,
    /// textbook. **Checked** `tests/round.rs`.
    pub fn new(weathers: usize) -> Departures {
        let z = |at: usize| -std::f64::consts::SQRT_2 * erfc_inv((2 * at + 1) as f64 / weathers as f64);
        Departures((0..weathers).map(z).collect())
    }

    fn of(&self, pot: usize, weather: usize) -> f64 {
        self.0[(pot + weather) % self.0.len()]
    }
}

/// What keeps a round from being made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the round has {what}: {got} where {wanted} are needed")]
pub struct Misfit {
    /// Which part does not fit.
    pub what: &'static str,
    /// How many were given.
    pub got: usize,
    /// How many are needed.
    pub wanted: usize,
}

/// Takes every pot through every weather and writes when it is first too dry.
///
/// `outcomes` holds pots × weathers, a pot's weathers side by side. Nothing is allocated. In each step rain fills the pot,
/// what it cannot hold runs off, then it dries by the rule of [`Pot::after`], which is exact for a steady step.
///
/// **Holds** without watering on the way. **Error** as [`Pot::after`] and of the weathers. **Source** our own.
/// **Checked** `tests/round.rs`, step by step against [`crate::balance::through`].
///
/// # Errors
///
/// [`Misfit`] when the parts are of different sizes.
///
/// # Example
///
/// ```
/// use measure::quantity::{Hours, Litre, Millimetre, Share, SquareMetre};
/// use water::{dry_down::Pot, round::{Departures, Outcome, RoundPot, Start, Weather, chance_dry, round}};
///
/// let start = Start {
///     left: Share(1.0),
///     per_millimetre: Litre(0.2),
///     surface: SquareMetre(0.05),
///     limit: Share(0.4),
///     spread: 0.0,
///     since: Hours(0.0),
/// };
/// let pots = [RoundPot::new(&Pot::new(Litre(1.0), Share(0.4))?, &start)?];
/// let (hot, wet) = ([Millimetre(0.25); 24], [Millimetre(10.0); 24]);
/// let weathers = [
///     Weather { demand: &hot, rain: &[Millimetre(0.0); 24] },
///     Weather { demand: &hot, rain: &wet },
/// ];
/// let mut outcomes = [Outcome::default(); 2];
/// round(&pots, &weathers, Hours(1.0), &Departures::new(2), &mut outcomes)?;
/// assert_eq!(outcomes[0].first.map(|first| first.0.round()), Some(12.0));
/// assert_eq!(chance_dry(&outcomes, Hours(24.0)).0, 0.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn round(
    pots: &[RoundPot],
    weathers: &[Weather<'_>],
    step: Hours,
    departures: &Departures,
    outcomes: &mut [Outcome],
) -> Result<(), Misfit> {
    let fits = |what, got, wanted| if got == wanted { Ok(()) } else { Err(Misfit { what, got, wanted }) };
    fits("outcomes", outcomes.len(), pots.len() * weathers.len())?;
    fits("departures", departures.0.len(), weathers.len())?;
    for weather in weathers {
        fits("steps of rain", weather.rain.len(), weather.demand.len())?;
    }
    if weathers.is_empty() {
        return Ok(());
    }
    for (at, (pot, row)) in pots.iter().zip(outcomes.chunks_exact_mut(weathers.len())).enumerate() {
        for (member, (weather, outcome)) in weathers.iter().zip(row).enumerate() {
            let pace = (pot.spread * departures.of(at, member)).exp();
            *outcome = pot.dries(weather, step.0, pot.per_millimetre * pace);
        }
    }
    Ok(())
}

/// Share of a pot's weathers in which it is too dry before a moment.
///
/// ```text
/// P = #{first < h}/n
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | P | returned | chance | 1 |
/// | first, n | `outcomes` | one pot's outcomes, their number | h |
/// | h | `before` | the moment | h |
///
/// **Holds** for equally likely weathers. **Error** √(P(1 − P)/n) from their number. **Source** counting.
/// **Checked** `tests/round.rs`.
pub fn chance_dry(outcomes: &[Outcome], before: Hours) -> Share {
    let dry = outcomes.iter().filter(|outcome| outcome.first.is_some_and(|first| first.0 < before.0)).count();
    Share(dry as f64 / outcomes.len().max(1) as f64)
}

impl RoundPot {
    /// One weather. Below the threshold only the litres asked are summed; the exponential is taken when rain breaks it.
    fn dries(&self, weather: &Weather<'_>, step: f64, per_millimetre: f64) -> Outcome {
        let full_stage = self.threshold * self.holds;
        // Litres at which the free stage ends, and at which the pot is too dry within it.
        let dry_at = (self.limit * self.holds).max(full_stage);
        let (mut held, mut asked_low) = self.place(self.start * self.holds);
        let (mut first, mut dry) = (None, 0.0);
        for (hour, (demand, rain)) in weather.demand.iter().zip(weather.rain).enumerate() {
            let rained = rain.0 * self.surface;
            if rained > 0.0 {
                let now = if held > full_stage { held } else { full_stage * (-asked_low / full_stage).exp() };
                (held, asked_low) = self.place((now + rained).min(self.holds));
            }
            let asked = (demand.0 * per_millimetre).max(0.0);
            // How far from too dry, in litres of demand.
            let to_dry =
                (held - dry_at).max(0.0) + if held > dry_at { self.slow } else { self.slow - asked_low };
            let free = (held - full_stage).min(asked);
            held -= free;
            asked_low += asked - free;
            if asked > to_dry || to_dry <= 0.0 {
                let into = if asked > 0.0 { (to_dry / asked).clamp(0.0, 1.0) } else { 0.0 };
                let (at, end) = (step * (hour as f64 + into), step * (hour as f64 + 1.0));
                if end > self.since {
                    let at = at.max(self.since);
                    dry += end - at;
                    first = first.or(Some(Hours(at)));
                }
            }
        }
        Outcome { first, dry: HoursDry(dry) }
    }

    /// Litres as the free stage's volume and the litres asked since it ended.
    fn place(&self, litres: f64) -> (f64, f64) {
        let full_stage = self.threshold * self.holds;
        if litres > full_stage {
            (litres, 0.0)
        } else {
            (full_stage, full_stage * (full_stage / litres.max(f64::MIN_POSITIVE)).ln())
        }
    }
}
