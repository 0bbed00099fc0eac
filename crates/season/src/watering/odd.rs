//! Weighings that the pot on the scale cannot give: asked about when typed, and left out of what the log teaches.

use measure::quantity::{Gram, Litre};

use crate::watering::pots::{PotFacts, Wanting};

/// How much heavier than full a pot may be before it is asked about.
const HEAVIER: f64 = 1.05;

/// How much lighter than full less its store a pot may be before it is asked about.
const LIGHTER: f64 = 0.95;

/// Share of a weighing that may be water where nobody recorded the pot (our guard: a third of a wet potted tree).
const WATER: f64 = 0.35;

/// Error of a scale and of what is put on it, share (our guard: moss, a label, a wet saucer).
const SLACK: f64 = 0.03;

/// Hours in which a pot may lose all its water on the hottest day (our guard).
const DRIES_IN: f64 = 12.0;

/// Free water that a pot just watered holds before it has drained, share of its soil (our guard).
const UNDRAINED: f64 = 0.15;

/// Hours after which two weighings are not held together: wood grows, moss is laid on and taken off.
const TOGETHER: f64 = 30.0 * 24.0;

/// The least and the most that a litre of soil weighs with pot and tree, g (our guard, wide on purpose: peat in plastic, a rock in thick clay).
const PER_LITRE: [f64; 2] = [250.0, 8000.0];

/// What the most may have besides, g: a tree in a pot as small as a thumb.
const BESIDES: f64 = 2000.0;

/// What is known of a pot on the scale, and what it weighed last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// Water for roots.
    holds: Litre,
    /// Its soil.
    soil: Litre,
    /// A pot is recorded.
    recorded: bool,
    /// Hour and weight when last full.
    full: Option<(f64, Gram)>,
    /// Hour and weight when last on the scale.
    last: Option<(f64, Gram)>,
    /// A weighing that did not fit; the next that fits it shows that the pot has changed.
    stray: Option<(f64, Gram)>,
    /// The first weighing of the pot as it is now.
    since: f64,
}

/// Why a weighing cannot be right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Odd {
    /// Heavier than when it was full.
    Heavier {
        /// What it weighed when full.
        full: Gram,
    },
    /// Lighter than it could be if all its water were gone.
    Lighter {
        /// What it weighed when full.
        full: Gram,
    },
    /// Further from the last weighing than its water explains in the time between.
    Jump {
        /// What it weighed then.
        before: Gram,
        /// Hours since.
        hours: f64,
    },
    /// Beyond what so much soil weighs with its pot and tree.
    NoPot {
        /// Its soil.
        soil: Litre,
    },
}

impl Known {
    /// A pot that was not weighed yet.
    pub fn new(facts: &PotFacts) -> Known {
        let recorded = !facts.wanting.contains(&Wanting::Pot);
        Known {
            holds: facts.store.holds(),
            soil: facts.soil,
            recorded,
            full: None,
            last: None,
            stray: None,
            since: f64::NEG_INFINITY,
        }
    }

    /// What it weighed when last full, and when.
    pub fn full(&self) -> Option<(f64, Gram)> {
        self.full
    }

    /// The hour of the first weighing of the pot as it is now: what it weighed before was another pot, or another scale.
    pub fn same_since(&self) -> f64 {
        self.since
    }

    /// The tree was put into another pot or mix: what it weighed before says nothing.
    pub fn forget(&mut self) {
        (self.full, self.last, self.stray) = (None, None, None);
    }

    /// Water that may come or go, g, where a pot weighs so much.
    fn water(&self, weighed: Gram) -> f64 {
        if self.recorded { 1000.0 * self.holds.0 } else { WATER * weighed.0 }
    }

    /// Why a weighing at an hour cannot be right; none where it can, or where it fits the stray one before it.
    pub fn odd(&self, hour: f64, weighed: Gram) -> Option<Odd> {
        let told = self.against_span(weighed).or_else(|| self.jump(self.last?, hour, weighed))?;
        let fits = |stray| self.jump(stray, hour, weighed).is_none();
        (!self.stray.is_some_and(fits)).then_some(told)
    }

    fn against_span(&self, weighed: Gram) -> Option<Odd> {
        let Some((_, full)) = self.full else {
            let [least, most] = PER_LITRE.map(|grams| grams * self.soil.0);
            let can_be = (least..=most + BESIDES).contains(&weighed.0);
            return (self.recorded && !can_be).then_some(Odd::NoPot { soil: self.soil });
        };
        match weighed.0 {
            told if told > full.0 * HEAVIER => Some(Odd::Heavier { full }),
            told if told < (full.0 - self.water(full)) * LIGHTER => Some(Odd::Lighter { full }),
            _ => None,
        }
    }

    /// Whether water explains the way from one weighing to another.
    fn jump(&self, (at, before): (f64, Gram), hour: f64, weighed: Gram) -> Option<Odd> {
        let hours = (hour - at).abs();
        let (heavy, gain) = (before.0.max(weighed.0), weighed.0 - before.0);
        let water = self.water(Gram(heavy));
        let most = if gain > 0.0 {
            water + 1000.0 * UNDRAINED * self.soil.0
        } else {
            water * (hours / DRIES_IN + 0.1).min(1.05)
        };
        let can_be = hours > TOGETHER || gain.abs() <= most + SLACK * heavy;
        (!can_be).then_some(Odd::Jump { before, hours })
    }

    /// Takes in a weighing of which the grower said that it is right; why it looks as if it were not. It is believed at once, and where it
    /// does not go with what was known of the pot, that is forgotten: the pot, what lies on it or the scale has changed.
    pub fn confirmed(&mut self, hour: f64, weighed: Gram, is_full: bool) -> Option<Odd> {
        let odd = self.odd(hour, weighed);
        if odd.is_none() {
            return self.take(hour, weighed, is_full);
        }
        self.forget();
        (self.last, self.since) = (Some((hour, weighed)), hour);
        self.full = self.last.filter(|_| is_full);
        odd
    }

    /// Takes a weighing in; why it cannot be right, and then nothing else is held against it but the next that fits it.
    pub fn take(&mut self, hour: f64, weighed: Gram, is_full: bool) -> Option<Odd> {
        if let Some(odd) = self.odd(hour, weighed) {
            self.stray = Some((hour, weighed));
            return Some(odd);
        }
        let fits_last = self.last.is_none_or(|last| self.jump(last, hour, weighed).is_none());
        if self.against_span(weighed).is_some() || !fits_last {
            (self.full, self.since) = (None, hour); // two that fit each other: the pot is another one, though nobody recorded it
        }
        (self.last, self.stray) = (Some((hour, weighed)), None);
        if is_full {
            self.full = self.last;
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNRECORDED: Known = Known {
        holds: Litre(0.6),
        soil: Litre(2.5),
        recorded: false,
        full: None,
        last: None,
        stray: None,
        since: 0.0,
    };

    const RECORDED: Known = Known { holds: Litre(3.5), soil: Litre(12.0), recorded: true, ..UNRECORDED };

    /// Weighings within a minute: which are odd.
    fn odd(mut known: Known, grams: &[f64]) -> Vec<bool> {
        let minute = |at: usize| at as f64 / 240.0;
        grams.iter().enumerate().map(|(at, it)| known.take(minute(at), Gram(*it), false).is_some()).collect()
    }

    #[test]
    fn four_weights_within_a_minute_are_not_all_taken() {
        for known in [UNRECORDED, RECORDED] {
            let told = odd(known, &[17_000.0, 500.0, 30_000.0, 16_900.0]);
            assert_eq!(told, [false, true, true, false], "{known:?}");
        }
    }

    #[test]
    fn a_first_weighing_that_no_such_pot_gives_is_odd() {
        assert_eq!(odd(RECORDED, &[500.0]), [true]);
        assert_eq!(odd(RECORDED, &[200_000.0]), [true]);
        assert_eq!(odd(UNRECORDED, &[500.0]), [false], "of a pot nobody recorded nothing is known");
        let told = RECORDED.odd(0.0, Gram(500.0));
        assert_eq!(told, Some(Odd::NoPot { soil: Litre(12.0) }));
    }

    #[test]
    fn watering_and_a_hot_day_are_not_odd() {
        let mut known = RECORDED;
        let lines =
            [(0.0, 17_000.0, true), (12.0, 13_600.0, false), (12.2, 17_100.0, true), (60.0, 14_000.0, false)];
        assert!(lines.iter().all(|(hour, grams, full)| known.take(*hour, Gram(*grams), *full).is_none()));
        let gone = known.odd(60.1, Gram(11_500.0));
        assert_eq!(gone, Some(Odd::Lighter { full: Gram(17_100.0) }));
    }

    #[test]
    fn one_that_the_grower_said_is_right_is_held_against_what_comes_after_and_not_before() {
        let mut known = RECORDED;
        known.take(0.0, Gram(17_000.0), true);
        let odd = known.confirmed(24.0, Gram(9_000.0), false);
        assert_eq!(odd, Some(Odd::Lighter { full: Gram(17_000.0) }));
        assert_eq!((known.full(), known.odd(25.0, Gram(8_950.0))), (None, None));
        assert!(matches!(known.odd(25.0, Gram(16_900.0)), Some(Odd::Jump { .. })));
        assert_eq!(known.confirmed(25.0, Gram(8_950.0), true), None, "nothing speaks against it");
        assert_eq!(known.full(), Some((25.0, Gram(8_950.0))));
    }

    #[test]
    fn two_that_fit_each_other_show_another_pot_and_one_alone_does_not() {
        let mut known = RECORDED;
        known.take(0.0, Gram(17_000.0), true);
        assert_eq!(known.take(24.0, Gram(9_000.0), false), Some(Odd::Lighter { full: Gram(17_000.0) }));
        assert_eq!(known.take(25.0, Gram(8_950.0), false), None);
        assert_eq!((known.full(), known.take(26.0, Gram(8_900.0), false)), (None, None));
        known.forget();
        assert_eq!(known.take(27.0, Gram(17_000.0), false), None);
    }
}
