//! Which intervals may speak about waking, and how loudly.

use measure::quantity::{Days, Litre};

use super::Use;

/// An interval between two weighings with what happened in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// When the last interval that was kept ended; none for the first.
    pub last: Option<Days>,
    /// When this one ended.
    pub end: Days,
    /// How long it was.
    pub span: Days,
    /// Loss observed.
    pub loss: Litre,
    /// Loss predicted from the air's demand with the coefficient learned so far.
    pub predicted: Litre,
    /// Error of the scale; none when judged by eye.
    pub scale: Option<Litre>,
    /// It rained into the pot.
    pub rain: bool,
    /// It was repotted.
    pub repotted: bool,
    /// A change of leaves was noted.
    pub leaves_changed: bool,
    /// It was moved to another place.
    pub moved: bool,
}

/// Why an interval says nothing about waking.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Rain fell into the pot.
    Rain,
    /// It was repotted.
    Repotted,
    /// Its leaves changed, and someone saw it.
    LeavesChanged,
    /// It was moved.
    Moved,
    /// Nothing was lost, or nothing was expected: no ratio can be formed.
    NoLoss,
}

/// What to do with an interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Judged {
    /// Take it.
    Take {
        /// The use, its logarithm kept within three spreads.
        used: Use,
        /// Whether it was cut to three spreads.
        capped: bool,
        /// Whether the season starts anew before it: more than 30 days without news.
        restart: bool,
    },
    /// Leave it.
    Leave(Fault),
}

/// Days without news after which a season starts anew.
const LONGEST_GAP: f64 = 30.0;
/// Spread of ln(use over prediction), weighed over more than a day, and by eye or over less.
const WEIGHED: f64 = 0.35;
const BY_EYE: f64 = 0.6;
/// How many spreads a single use may lie off.
const CAP: f64 = 3.0;

/// Judges an interval: whether it may speak, with what spread, and whether the season starts anew.
///
/// ```text
/// y = ln(loss/predicted), kept within ±3 s;  s² = 0.35² (weighed over more than a day) or 0.6² + (scale error/loss)²
/// ```
///
/// | symbol | here | meaning | unit |
/// |--------|------|---------|------|
/// | y, s | returned | logarithm of the use, its spread | 1 |
/// | loss, predicted, scale error | `interval` | as named | L |
///
/// **Holds** for intervals of hours to weeks. **Error** the spreads are our own estimates. **Source** the reference set.
/// **Checked** its own tests.
///
/// ```
/// use measure::quantity::{Days, Litre};
/// use water::drink::{Interval, Judged, judge};
///
/// let interval = Interval {
///     last: Some(Days(40.0)),
///     end: Days(44.0),
///     span: Days(4.0),
///     loss: Litre(0.8),
///     predicted: Litre(0.1),
///     scale: Some(Litre(0.005)),
///     rain: false,
///     repotted: false,
///     leaves_changed: false,
///     moved: false,
/// };
/// let Judged::Take { used, capped, .. } = judge(&interval) else { panic!("a good weighing") };
/// assert!(capped && (used.log_ratio - 1.05).abs() < 0.001);
/// ```
pub fn judge(interval: &Interval) -> Judged {
    let faults = [
        (interval.rain, Fault::Rain),
        (interval.repotted, Fault::Repotted),
        (interval.leaves_changed, Fault::LeavesChanged),
        (interval.moved, Fault::Moved),
        (!(interval.loss.0 > 0.0 && interval.predicted.0 > 0.0), Fault::NoLoss),
    ];
    if let Some((_, fault)) = faults.into_iter().find(|(holds, _)| *holds) {
        return Judged::Leave(fault);
    }
    let (base, scale) = match interval.scale {
        Some(Litre(scale)) => (if interval.span.0 > 1.0 { WEIGHED } else { BY_EYE }, scale),
        None => (BY_EYE, 0.0),
    };
    let spread = base.hypot(scale / interval.loss.0);
    let log_ratio = (interval.loss.0 / interval.predicted.0).ln();
    let kept = log_ratio.clamp(-CAP * spread, CAP * spread);
    let restart = interval.last.is_some_and(|last| interval.end.0 - last.0 > LONGEST_GAP);
    let used = Use { day: interval.end, log_ratio: kept, spread };
    Judged::Take { used, capped: kept != log_ratio, restart }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plain() -> Interval {
        Interval {
            last: Some(Days(10.0)),
            end: Days(14.0),
            span: Days(4.0),
            loss: Litre(0.12),
            predicted: Litre(0.1),
            scale: Some(Litre(0.0)),
            rain: false,
            repotted: false,
            leaves_changed: false,
            moved: false,
        }
    }

    #[test]
    fn every_fault_silences_an_interval() {
        let cases = [
            (Interval { rain: true, ..plain() }, Fault::Rain),
            (Interval { repotted: true, ..plain() }, Fault::Repotted),
            (Interval { leaves_changed: true, ..plain() }, Fault::LeavesChanged),
            (Interval { moved: true, ..plain() }, Fault::Moved),
            (Interval { loss: Litre(-0.01), ..plain() }, Fault::NoLoss),
            (Interval { predicted: Litre(f64::NAN), ..plain() }, Fault::NoLoss),
        ];
        for (interval, fault) in cases {
            assert_eq!(judge(&interval), Judged::Leave(fault));
        }
    }

    #[test]
    fn a_season_starts_anew_after_more_than_thirty_days() {
        let after = |days: f64| match judge(&Interval { end: Days(10.0 + days), ..plain() }) {
            Judged::Take { restart, .. } => restart,
            Judged::Leave(fault) => panic!("{fault:?}"),
        };
        assert!(!after(30.0) && after(30.1));
    }

    #[test]
    fn short_eyed_and_coarsely_weighed_intervals_speak_more_softly() {
        let spread = |interval: Interval| match judge(&interval) {
            Judged::Take { used, .. } => used.spread,
            Judged::Leave(fault) => panic!("{fault:?}"),
        };
        assert_eq!(spread(plain()), 0.35);
        assert_eq!(spread(Interval { span: Days(0.5), ..plain() }), 0.6);
        assert_eq!(spread(Interval { scale: None, ..plain() }), 0.6);
        assert!(
            (spread(Interval { scale: Some(Litre(0.06)), ..plain() }) - 0.35_f64.hypot(0.5)).abs() < 1e-12
        );
    }
}
