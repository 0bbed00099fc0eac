//! How much a tree draws after its roots were cut, and whether what was weighed is as it should be.

use measure::{
    quantity::{Days, Share},
    range::{OutOfRange, within},
    sourced::{Sourced, Standing},
};

/// How much of the use goes with the roots: share of use lost for each share of roots cut; least, likely, most.
///
/// The likely figure is the planning rule's; that it may be a third off either way is ours.
pub const FALL: Sourced<[f64; 3]> = Sourced {
    value: [0.4, 0.6, 0.8],
    standing: Standing::Estimate("a rule made for planning, tuned on no tree; give or take a third"),
};

/// Days after which new shoots extend, soonest and latest (a full place is common practice by then where shoots grow).
pub const SHOOTS: Sourced<[f64; 2]> = Sourced { value: [21.0, 28.0], standing: Standing::Practice };

/// Share of the roots up to which a repot counts as light.
pub const LIGHT: f64 = 0.2;

/// Weeks until a tree draws as before, soonest and latest: after a light repot, after any other.
pub const RECOVERY: Sourced<[[f64; 2]; 2]> = Sourced {
    value: [[4.0, 6.0], [8.0, 12.0]],
    standing: Standing::Estimate("usual weeks of recovery, made for planning"),
};

/// Days before which no feed is given after root work, and until which it waits where nothing hardens.
pub const NO_FEED: Sourced<[f64; 2]> = Sourced { value: [28.0, 42.0], standing: Standing::Practice };

/// Most of a tree's roots that a repot is taken to leave without.
const MOST: f64 = 0.9;

/// How much of the roots went: what was noted, or the span it is believed to lie in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootCut {
    /// At least.
    pub least: Share,
    /// Most likely.
    pub likely: Share,
    /// At most.
    pub most: Share,
}

impl RootCut {
    /// A cut that somebody noted.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when it is less than nothing or more than nine tenths.
    pub fn noted(share: Share) -> Result<RootCut, OutOfRange> {
        let share = Share(within("share of the roots cut", share.0, 0.0, MOST)?);
        Ok(RootCut { least: share, likely: share, most: share })
    }

    /// A repot of which nobody noted the cut: a third, from a sixth to a half.
    ///
    /// ```
    /// use measure::sourced::Standing;
    /// use water::after_cut::RootCut;
    ///
    /// assert_eq!(RootCut::unnoted().standing, Standing::Practice);
    /// ```
    pub fn unnoted() -> Sourced<RootCut> {
        let value = RootCut { least: Share(0.15), likely: Share(0.33), most: Share(0.5) };
        Sourced { value, standing: Standing::Practice }
    }

    /// Whether it was noted.
    pub fn is_noted(&self) -> bool {
        self.least == self.most
    }
}

/// What is left of a use; four in five trees are taken to lie between low and high (our estimate).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UseLeft {
    /// The least to be expected.
    pub low: Share,
    /// In the middle.
    pub middle: Share,
    /// The most to be expected.
    pub high: Share,
}

impl UseLeft {
    /// All of it.
    pub const ALL: UseLeft = UseLeft { low: Share(1.0), middle: Share(1.0), high: Share(1.0) };

    /// Spread of its logarithm, were it normal with one in ten below low and one in ten above high.
    pub fn spread(&self) -> f64 {
        (self.high.0 / self.low.0).ln() / (2.0 * TENTH)
    }
}

/// One in ten lies this many spreads below the middle.
const TENTH: f64 = 1.281_551_565_545;

/// What a tree draws after its roots were cut, as a share of what it would draw had they not been.
///
/// ```text
/// u = 1 − k f                               until shoots extend, day s
/// u = 1 − k f (r − t)/(r − s)               from then until day r
/// u = 1                                     before the cut, and from day r on
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | u | returned | share of the use left | 1 |
/// | f | `cut` | share of the roots cut | 1 |
/// | k | [`FALL`] | share of use lost with each share of roots: 0.6, low 0.8, high 0.4 | 1 |
/// | t | `since` | time since the cut | d |
/// | s | [`SHOOTS`] | when new shoots extend: day 24.5, low 28, high 21 | d |
/// | r | [`RECOVERY`] | when it draws as before: after 10 weeks, low 12, high 8; 5, 6 and 4 after a light cut | d |
///
/// The straight way back is ours: the rule says where it begins and about when it is over.
///
/// **Holds** for the same leaves and the same weather, in a mix that is wet. **Error** not known: no tree was measured for it.
/// **Source** planning rule W8 and the usual weeks of recovery of the reference set, estimates both; the days of the shoots common
/// practice. **Checked** `tests/after_cut.rs`, against the printed rule.
///
/// # Errors
///
/// [`OutOfRange`] when a share is not that of roots, or the time is not a number.
///
/// # Example
///
/// ```
/// use measure::quantity::{Days, Share};
/// use water::after_cut::{RootCut, use_left};
///
/// let left = use_left(RootCut::noted(Share(0.5))?, Days(10.0))?;
/// assert_eq!(format!("{:.2} ({:.2} to {:.2})", left.middle.0, left.low.0, left.high.0), "0.70 (0.60 to 0.80)");
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn use_left(cut: RootCut, since: Days) -> Result<UseLeft, OutOfRange> {
    let t = within("days since the cut", since.0, -1e5, 1e5)?;
    let [soon, late] = SHOOTS.value;
    let [least, likely, most] = FALL.value;
    let course = |name, Share(share): Share, k: f64, s: f64, week: f64| {
        let f = within(name, share, 0.0, MOST)?;
        let [light, full] = RECOVERY.value.map(|[first, last]| 7.0 * (first + week * (last - first)));
        let r = if f <= LIGHT { light } else { full };
        let lost = if t < 0.0 { 0.0 } else { ((r - t) / (r - s).max(1e-9)).clamp(0.0, 1.0) };
        Ok::<Share, OutOfRange>(Share(1.0 - k * f * lost))
    };
    Ok(UseLeft {
        low: course("most roots cut", cut.most, most, late, 1.0)?,
        middle: course("roots cut", cut.likely, likely, f64::midpoint(soon, late), 0.5)?,
        high: course("least roots cut", cut.least, least, soon, 0.0)?,
    })
}

/// One use since the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Since {
    /// Logarithm of what was drawn over what the tree would have drawn before the cut, with the same leaves and weather.
    pub log_share: f64,
    /// Its variance.
    pub variance: f64,
    /// What was expected of it.
    pub expected: UseLeft,
}

/// What the uses since the cut come to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Recovering {
    /// Too little was seen to tell.
    Thin,
    /// Well below what the cut explains.
    Below,
    /// As it should be.
    AsExpected,
    /// Above it: the roots run again sooner than planned.
    Above,
}

/// The uses of late beside what was expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// What they come to.
    pub told: Recovering,
    /// Share of the use before the cut that is drawn; none where nothing was seen.
    pub share: Option<Share>,
    /// What was expected over the same days.
    pub expected: UseLeft,
    /// Spread of the logarithm of measured over expected.
    pub spread: f64,
}

/// Uses needed before anything is said: our estimate, one slip of the scale must not speak alone.
const ENOUGH: usize = 2;

/// Spread over which half as much cannot be told from all of it: our estimate.
const TOO_WIDE: f64 = 0.6;

/// One in twenty lies this many spreads to one side: from there on it is said aloud.
const ALOUD: f64 = 1.644_853_626_951;

/// Holds the uses of late against what was expected, the use before the cut being known so far.
///
/// ```text
/// w = 1/var,  d = Σ w (y − ln u)/Σ w,  σ² = 1/Σ w + before² + σ_u²;  below when d < −1.645 σ, above when d > 1.645 σ
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | y, var | [`Since`] | logarithm of use over that before the cut, its variance | 1 |
/// | u, σ_u | [`UseLeft`] | share expected, spread of its logarithm in the mean | 1 |
/// | before | `before` | spread of the logarithm of the use before the cut | 1 |
/// | d, σ | `share`/`expected`, `spread` | | 1 |
///
/// **Holds** for errors near normal that do not hang together. **Error** one healthy tree in twenty is called too low if the rule and its
/// spread hold, and they are estimates. **Source** normal distribution, textbook; the limits are ours. **Checked** its own tests.
///
/// ```
/// use measure::quantity::{Days, Share};
/// use water::after_cut::{Recovering, RootCut, Since, beside, use_left};
///
/// let expected = use_left(RootCut::noted(Share(0.55))?, Days(20.0))?;
/// let use_of = |share: f64| Since { log_share: share.ln(), variance: 0.06, expected };
/// assert_eq!(beside(&[use_of(0.25), use_of(0.3), use_of(0.28)], 0.2).told, Recovering::Below);
/// assert_eq!(beside(&[use_of(0.6), use_of(0.7), use_of(0.66)], 0.2).told, Recovering::AsExpected);
/// assert_eq!(beside(&[use_of(0.25)], 0.2).told, Recovering::Thin);
/// # Ok::<(), measure::range::OutOfRange>(())
/// ```
pub fn beside(uses: &[Since], before: f64) -> Beside {
    let weights: f64 = uses.iter().map(|it| 1.0 / it.variance).sum();
    if uses.is_empty() || !(weights > 0.0 && weights.is_finite()) {
        let spread = f64::INFINITY;
        return Beside { told: Recovering::Thin, share: None, expected: UseLeft::ALL, spread };
    }
    let mean = |of: &dyn Fn(&Since) -> f64| uses.iter().map(|it| of(it) / it.variance).sum::<f64>() / weights;
    let log = |of: fn(&UseLeft) -> Share| mean(&|it| of(&it.expected).0.ln());
    let (low, middle, high) = (log(|it| it.low), log(|it| it.middle), log(|it| it.high));
    let expected = UseLeft { low: Share(low.exp()), middle: Share(middle.exp()), high: Share(high.exp()) };
    let share = mean(&|it| it.log_share);
    let spread = (1.0 / weights + before * before + expected.spread().powi(2)).sqrt();
    let told = match share - middle {
        _ if uses.len() < ENOUGH || spread > TOO_WIDE => Recovering::Thin,
        apart if apart < -ALOUD * spread => Recovering::Below,
        apart if apart > ALOUD * spread => Recovering::Above,
        _ => Recovering::AsExpected,
    };
    Beside { told, share: Some(Share(share.exp())), expected, spread }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(share: f64) -> RootCut {
        RootCut::noted(Share(share)).unwrap()
    }

    fn left(share: f64, day: f64) -> UseLeft {
        use_left(cut(share), Days(day)).unwrap()
    }

    #[test]
    fn nothing_changes_before_the_cut_nor_without_one() {
        assert_eq!(left(0.5, -1.0), UseLeft::ALL);
        assert_eq!(left(0.0, 5.0), UseLeft::ALL);
    }

    #[test]
    fn use_never_falls_once_it_comes_back_and_low_lies_under_high() {
        for share in [0.1, 0.2, 0.21, 0.55, 0.8] {
            for day in 0..100 {
                let (now, next) = (left(share, f64::from(day)), left(share, f64::from(day + 1)));
                assert!(now.low.0 <= now.middle.0 && now.middle.0 <= now.high.0, "{share}, day {day}");
                assert!(now.middle.0 <= next.middle.0 && now.low.0 <= next.low.0, "{share}, day {day}");
            }
        }
    }

    #[test]
    fn a_cut_that_nobody_noted_is_told_more_widely() {
        let unnoted = use_left(RootCut::unnoted().value, Days(10.0)).unwrap();
        assert!(unnoted.spread() > left(0.33, 10.0).spread());
        assert!(!RootCut::unnoted().value.is_noted() && cut(0.3).is_noted());
    }

    #[test]
    fn roots_that_cannot_be_are_refused() {
        assert!(RootCut::noted(Share(0.95)).is_err() && RootCut::noted(Share(-0.1)).is_err());
        assert!(use_left(cut(0.5), Days(f64::NAN)).is_err());
    }

    #[test]
    fn a_use_before_the_cut_that_is_hardly_known_says_nothing() {
        let since = Since { log_share: -1.5, variance: 0.06, expected: left(0.5, 10.0) };
        assert_eq!(beside(&[since; 5], 0.7).told, Recovering::Thin);
        assert_eq!(beside(&[since; 5], 0.2).told, Recovering::Below);
        let more = Since { log_share: 0.4, ..since };
        assert_eq!(beside(&[more; 5], 0.2).told, Recovering::Above);
        assert_eq!(beside(&[], 0.2).share, None);
    }
}
