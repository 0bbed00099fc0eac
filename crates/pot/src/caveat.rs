//! What weakens an answer about a mix, told beside it.

use measure::sourced::Standing;

/// A reason to trust an answer less.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caveat {
    /// Told from the grain size alone.
    GrainsAlone,
    /// Put together from its materials by volume.
    MixedByVolume,
    /// Weighed at one depth, told at others.
    OneDepth,
    /// Weighed in a bucket, but the grains were not soaked and weighed.
    GrainsNotSoaked,
    /// Told from the sieves alone: nobody wrote down what grains they are.
    GrainsUnknown,
}

impl Caveat {
    /// The reason in one sentence for the reader.
    ///
    /// ```
    /// use pot::caveat::Caveat;
    ///
    /// assert!(Caveat::GrainsAlone.words().contains("up to twice"));
    /// ```
    pub fn words(self) -> &'static str {
        match self {
            Caveat::GrainsAlone => {
                "told from the grain size: the water between the grains can be overstated up to twice; \
                 a bucket test tells better"
            }
            Caveat::MixedByVolume => {
                "only the weight of a mix is the sum of its parts; water and air are not, and small grains fill the gaps \
                 between large ones"
            }
            Caveat::OneDepth => {
                "weighed at one depth: at other depths it rests on how sharply such grains empty, which was taken over"
            }
            Caveat::GrainsNotSoaked => {
                "the grains were not soaked and weighed: how much of the water is inside them, where it never drains, is our \
                 guess, and other depths rest on it"
            }
            Caveat::GrainsUnknown => {
                "nothing is written down but the sieves: the grains are taken for akadama, pumice and lava in equal parts"
            }
        }
    }
}

/// A value that is not measured through and through, with its standing and what weakens it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub standing: Standing,
    /// What weakens it.
    pub caveats: &'static [Caveat],
}
