//! Which pots to water when the time is short: chance of drying weighed against the work and the tree.

use measure::{
    quantity::{Hours, Litre, Share},
    range::{OutOfRange, within},
};

use crate::dry_down::normal;

/// A pot before the grower leaves, without rain in sight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Water that may still be used before it is too dry.
    pub water: Litre,
    /// Use of an hour, the middle of what is believed.
    pub hourly: Litre,
    /// Spread of the logarithm of that use.
    pub spread: f64,
}

/// Chance that a pot is too dry before the grower is back.
///
/// ```text
/// P = Φ((ln(m h) − ln w)/s)
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | P | returned | chance | 1 |
/// | w, m, s | `pot` | water left, median use of an hour, spread | L, L h⁻¹, 1 |
/// | h | `away` | hours away | h |
///
/// **Holds** without rain, with a use steady over the shift; with rain use [`crate::round::round`]. **Error** that of s.
/// **Source** log-normal, textbook. **Checked** `tests/triage.rs`.
///
/// # Errors
///
/// [`OutOfRange`] when a figure is not that of a pot.
///
/// # Example
///
/// ```
/// use measure::quantity::{Hours, Litre};
/// use water::triage::{Left, chance_dry};
///
/// let pot = Left { water: Litre(0.3), hourly: Litre(0.018), spread: 0.25 };
/// assert_eq!(format!("{:.3}", chance_dry(&pot, Hours(16.0))?.0), "0.435");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn chance_dry(pot: &Left, away: Hours) -> Result<Share, OutOfRange> {
    let water = within("water left, L", pot.water.0, 0.0, 1e4)?;
    let used = within("use of an hour, L", pot.hourly.0, 0.0, 1e3)? * within("hours away", away.0, 0.0, 1e5)?;
    let spread = within("spread of the use", pot.spread, 1e-6, 5.0)?;
    Ok(Share(match (water, used) {
        (water, _) if water <= 0.0 => 1.0,
        (_, used) if used <= 0.0 => 0.0,
        (water, used) => normal((used / water).ln() / spread),
    }))
}

/// What is at stake for a pot, both in one measure of the grower's choosing, such as minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stake {
    /// Chance that it dries unwatered.
    pub dry: Share,
    /// Cost of watering it: minutes, and the harm of water it did not need.
    pub cost: f64,
    /// Loss if it dries.
    pub loss: f64,
}

impl Stake {
    /// Chance above which watering pays.
    ///
    /// ```text
    /// α = C/L
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | α | returned | the chance at which both are equal | 1 |
    /// | C, L | `cost`, `loss` | of watering, of drying | any, the same |
    ///
    /// **Holds** where watering prevents the loss for sure. **Error** C and L are the grower's. **Source** Murphy 1977 (year
    /// remembered). **Checked** `tests/triage.rs`.
    pub fn threshold(&self) -> f64 {
        self.cost / self.loss
    }

    /// Whether to water: the chance is above the threshold.
    pub fn water(&self) -> bool {
        self.dry.0 > self.threshold()
    }

    /// What watering saves on average.
    ///
    /// ```text
    /// p L − C
    /// ```
    ///
    /// p is `dry`; the rest as in [`Stake::threshold`].
    ///
    /// **Holds**, **Error**, **Source** as [`Stake::threshold`]. **Checked** `tests/triage.rs`.
    pub fn saving(&self) -> f64 {
        self.dry.0 * self.loss - self.cost
    }
}

/// Puts the pots that most need water first and says how many of the first `time_for` are worth it.
///
/// `order` becomes positions in `stakes`, by what watering saves, equal ones as they stand.
///
/// ```
/// use measure::quantity::Share;
/// use water::triage::{Stake, rank};
///
/// let stake = |dry, loss| Stake { dry: Share(dry), cost: 1.0, loss };
/// let stakes = [stake(0.3, 40.0), stake(0.1, 5.0), stake(0.3, 200.0)];
/// let mut order = Vec::new();
/// assert_eq!(rank(&stakes, 2, &mut order), 2);
/// assert_eq!(order, [2, 0, 1]);
/// ```
pub fn rank(stakes: &[Stake], time_for: usize, order: &mut Vec<usize>) -> usize {
    order.clear();
    order.extend(0..stakes.len());
    order.sort_by(|&a, &b| stakes[b].saving().total_cmp(&stakes[a].saving()).then(a.cmp(&b)));
    order.iter().take(time_for).filter(|&&at| stakes[at].saving() > 0.0).count()
}
