//! How a pot dries under a steady demand: freely at first, then ever more slowly; and when it is too dry.

use measure::{
    quantity::{Days, Hours, Litre, LitresPerDay, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};
use statrs::function::erf::{erfc, erfc_inv};

/// Share of water left under which roots no longer get all they ask, in absence of anything better.
pub const USUAL_THRESHOLD: Sourced<f64> =
    Sourced { value: 0.4, standing: Standing::Unverified("fraction of transpirable water, 0.25 to 0.5") };
/// Spread of the demand about its forecast, as standard deviation over mean.
pub const USUAL_SPREAD: Sourced<f64> = Sourced { value: 0.3, standing: Standing::Practice };

/// A pot's water as roots can use it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pot {
    holds: f64,
    threshold: f64,
}

impl Pot {
    /// A pot whose full substrate gives roots `holds`, and gives it freely down to the share `threshold`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the pot holds nothing, or the threshold is not a share.
    pub fn new(holds: Litre, threshold: Share) -> Result<Pot, OutOfRange> {
        Ok(Pot {
            holds: within("water for roots, L", holds.0, 1e-4, 5000.0)?,
            threshold: within("share left at which use falls", threshold.0, 0.01, 0.99)?,
        })
    }

    /// From the substrate's volume, what it holds drained and what roots cannot take.
    ///
    /// ```text
    /// TTW = V (CC − θu)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | TTW | | water for roots | L |
    /// | V | `soil` | substrate | L |
    /// | CC, θu | `drained`, `unavailable` | water of the drained pot, water roots cannot take | share of volume |
    ///
    /// **Holds** for a rooted pot. **Error** θu is 0.10 to 0.20 in porous grains (common practice). **Source** a definition.
    /// **Checked** `tests/balance.rs`.
    ///
    /// # Errors
    ///
    /// As [`Pot::new`].
    pub fn of_substrate(
        soil: Litre,
        drained: Share,
        unavailable: Share,
        threshold: Share,
    ) -> Result<Pot, OutOfRange> {
        Pot::new(Litre(soil.0 * (drained.0 - unavailable.0)), threshold)
    }

    /// Water that roots can take from the full pot.
    pub fn holds(&self) -> Litre {
        Litre(self.holds)
    }

    /// Share left under which use falls.
    pub fn threshold(&self) -> Share {
        Share(self.threshold)
    }

    /// What is left after some days of steady demand, and what was used.
    ///
    /// ```text
    /// f > p:  f = f0 − D t/TTW    f ≤ p:  f = f1 exp(−D t/(p TTW))
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | f0, f | `left`, returned | share left before and after | 1 |
    /// | f1 | | share at the start of the slow stage | 1 |
    /// | D | `demand` | demand of a wet pot | L d⁻¹ |
    /// | t | `span` | time | d |
    /// | TTW, p | [`Pot`] | water for roots, threshold | L, 1 |
    ///
    /// Exact for a steady demand. The volume used is summed along the way, not taken from the difference.
    ///
    /// **Holds** for a leafed tree; bare substrate dries by other rules. **Error** of the rule in a pot not known.
    /// **Source** FAO-56's Ks as a rate (Allen et al. 1998). **Checked** `tests/dry_down.rs`.
    pub fn after(&self, left: Share, demand: LitresPerDay, span: Days) -> (Share, Litre) {
        let (start, asked) = (left.0.clamp(0.0, 1.0), (demand.0 * span.0).max(0.0));
        let free = ((start - self.threshold) * self.holds).max(0.0).min(asked);
        let rest = asked - free;
        let low = if rest > 0.0 { start.min(self.threshold) } else { start - free / self.holds };
        let shrink = rest / (self.threshold * self.holds);
        (Share(low * (-shrink).exp()), Litre(free - low * self.holds * (-shrink).exp_m1()))
    }

    /// How long until only a share is left; none when nothing is asked, or the share is nothing.
    ///
    /// ```text
    /// t(x) = (f0 − x) TTW/D  for x ≥ p    t(x) = t(p) + p TTW/D · ln(f1/x)  below
    /// ```
    ///
    /// Symbols as in [`Pot::after`]; x is `until`. A pot already there gives 0.
    ///
    /// **Holds**, **Error**, **Source** as [`Pot::after`]. **Checked** `tests/dry_down.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Litre, LitresPerDay, Share};
    /// use water::dry_down::Pot;
    ///
    /// let pot = Pot::new(Litre(0.9), Share(0.4))?;
    /// let dry = pot.time_to(Share(1.0), LitresPerDay(0.25), Share(0.3)).unwrap();
    /// assert_eq!(format!("{:.3} d", dry.0), "2.574 d");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn time_to(&self, left: Share, demand: LitresPerDay, until: Share) -> Option<Days> {
        if left.0 <= until.0 {
            return Some(Days(0.0));
        }
        if demand.0 <= 0.0 || until.0 <= 0.0 {
            return None;
        }
        let free = (left.0 - self.threshold.max(until.0)).max(0.0) * self.holds;
        let low = left.0.min(self.threshold);
        let slow = self.threshold * self.holds * (low / until.0).ln().max(0.0);
        Some(Days((free + slow) / demand.0))
    }
}

/// When a pot is too dry, with the spread of its demand: a log-normal time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryTime {
    median: f64,
    spread: f64,
}

impl DryTime {
    /// A median time and the demand's standard deviation over its mean.
    ///
    /// ```text
    /// s = √ln(1 + cv²)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | s | | spread of the logarithm of demand, and so of time | 1 |
    /// | cv | `demand_cv` | sd over mean, 0.25 to 0.4 | 1 |
    ///
    /// **Holds** where the demand's error lasts through the whole time. **Error** cv itself is common practice.
    /// **Source** log-normal, textbook. **Checked** `tests/dry_down.rs`.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the time is negative or the spread not one.
    pub fn new(median: Days, demand_cv: f64) -> Result<DryTime, OutOfRange> {
        let cv = within("spread of demand over its mean", demand_cv, 0.0, 5.0)?;
        Ok(DryTime { median: within("days to dry", median.0, 0.0, 1e6)?, spread: (cv * cv).ln_1p().sqrt() })
    }

    /// The time that comes before only a share `chance` of the cases; plan a shift on 0.1.
    ///
    /// ```text
    /// t(q) = t · exp(s z(q))
    /// ```
    ///
    /// Symbols as in [`DryTime::new`]; t is the median, z(q) the normal quantile of `chance`.
    ///
    /// **Holds**, **Error**, **Source** as [`DryTime::new`]. **Checked** `tests/dry_down.rs`.
    pub fn quantile(&self, chance: Share) -> Days {
        let z = -std::f64::consts::SQRT_2 * erfc_inv(2.0 * chance.0);
        Days(self.median * (self.spread * z).exp())
    }

    /// Chance that the pot is too dry within some hours.
    ///
    /// ```text
    /// P = Φ(ln(h/t)/s)
    /// ```
    ///
    /// | symbol | here | meaning | unit |
    /// |--------|------|---------|------|
    /// | P | returned | chance | 1 |
    /// | h | `within` | hours | h |
    /// | t, s | [`DryTime`] | median time, spread | h, 1 |
    ///
    /// **Holds** without rain on the way. **Error**, **Source** as [`DryTime::new`]. **Checked** `tests/dry_down.rs`.
    ///
    /// # Example
    ///
    /// ```
    /// use measure::quantity::{Days, Hours};
    /// use water::dry_down::DryTime;
    ///
    /// let dry = DryTime::new(Days(2.574262), 0.25)?;
    /// assert_eq!(format!("{:.3}", dry.chance_within(Hours(48.0)).0), "0.153");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn chance_within(&self, within: Hours) -> Share {
        let days = within.0 / 24.0;
        Share(match (self.median, self.spread) {
            (median, _) if median <= 0.0 => 1.0,
            (median, 0.0) => f64::from(u8::from(days >= median)),
            _ if days <= 0.0 => 0.0,
            (median, spread) => normal((days / median).ln() / spread),
        })
    }
}

/// Normal distribution function.
pub(crate) fn normal(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}
