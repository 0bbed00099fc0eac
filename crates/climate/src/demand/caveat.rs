//! What weakens a figure of demand, carried with it without a heap.

/// One thing that was not measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caveat {
    /// No wind given: 2 m/s, the mean of the world's stations, was taken.
    WindAssumed,
    /// The wind was calmer than the floor and was raised to it.
    WindRaised,
    /// No humidity given: the dew point was taken from the day's low.
    HumidityFromLow,
    /// Only the day's highest humidity was given.
    HumidityFromHighest,
    /// Only the day's mean humidity was given.
    HumidityFromMean,
    /// The sun's energy was reckoned from hours of sunshine.
    RadiationFromSunshine,
    /// The sun's energy was guessed from the span between low and high.
    RadiationFromSpan,
    /// How clear the sky was is not known; four fifths was taken.
    SkyAssumed,
    /// How clear the sky was is taken from an earlier hour with the sun well up.
    SkyCarried,
}

/// Every caveat, in the order of its bit.
const ALL: [Caveat; 9] = [
    Caveat::WindAssumed,
    Caveat::WindRaised,
    Caveat::HumidityFromLow,
    Caveat::HumidityFromHighest,
    Caveat::HumidityFromMean,
    Caveat::RadiationFromSunshine,
    Caveat::RadiationFromSpan,
    Caveat::SkyAssumed,
    Caveat::SkyCarried,
];

/// A set of caveats.
///
/// ```
/// use climate::demand::{Caveat, Caveats};
///
/// let doubts = Caveats::default().with(Caveat::WindAssumed).with(Caveat::HumidityFromLow);
/// assert!(doubts.has(Caveat::WindAssumed) && !doubts.has(Caveat::SkyAssumed));
/// assert_eq!(doubts.iter().count(), 2);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Caveats(u16);

impl Caveats {
    /// The set with one more.
    #[must_use]
    pub fn with(self, caveat: Caveat) -> Caveats {
        Caveats(self.0 | 1 << caveat as u16)
    }

    /// The set with all of another.
    #[must_use]
    pub fn and(self, other: Caveats) -> Caveats {
        Caveats(self.0 | other.0)
    }

    /// Whether this one holds.
    pub fn has(self, caveat: Caveat) -> bool {
        self.0 & 1 << caveat as u16 != 0
    }

    /// Whether everything was measured.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// One after another.
    pub fn iter(self) -> impl Iterator<Item = Caveat> {
        ALL.into_iter().filter(move |&caveat| self.has(caveat))
    }
}
