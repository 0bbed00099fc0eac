//! What the stages of spring are called on each kind of tree: buds and leaves, candles, caps, tips or brushes.

use crate::{
    stage::Stage,
    taxon::{Kind, Taxon},
};

/// What a spring is seen by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ladder {
    /// Buds that open into leaves.
    Leaf,
    /// Candles of pines.
    Candle,
    /// Buds of spruces, firs, hemlocks and cedars under their caps.
    Cap,
    /// Tips of junipers, yews and cypresses, which have no buds to see.
    Tip,
    /// Brushes of larches and other conifers that drop their needles.
    Brush,
}

impl Ladder {
    /// By what a taxon's spring is seen.
    ///
    /// ```
    /// use measure::{ladder::Ladder, taxon::Taxon};
    ///
    /// let of = |key| Ladder::of(Taxon::of(key).unwrap());
    /// assert_eq!([of("pinus-mugo"), of("juniperus-rigida"), of("larix-decidua")], [Ladder::Candle, Ladder::Tip, Ladder::Brush]);
    /// assert_eq!([of("ginkgo-biloba"), of("buxus-sempervirens")], [Ladder::Leaf; 2]);
    /// ```
    pub fn of(taxon: &Taxon) -> Ladder {
        match taxon.kind {
            Kind::TwoFlushPine | Kind::OneFlushPine => Ladder::Candle,
            Kind::SpruceHemlock => Ladder::Cap,
            Kind::Juniper | Kind::YewCypress => Ladder::Tip,
            Kind::LarchGinkgo if taxon.genus() != "Ginkgo" => Ladder::Brush,
            _ => Ladder::Leaf,
        }
    }

    /// A stage in two or three words; of the stages of buds there are the same number on every ladder, and our own names.
    pub fn words(self, stage: Stage) -> &'static str {
        let own: [&'static str; 9] = match self {
            Ladder::Leaf => return stage.words(),
            Ladder::Candle => [
                "buds tight",
                "buds swelling",
                "buds long, scales closed",
                "candles starting",
                "candles running",
                "needles in their sheaths",
                "needles breaking sheaths",
                "needles half grown",
                "needles grown",
            ],
            Ladder::Cap => [
                "buds tight",
                "buds swelling",
                "first colour under the caps",
                "caps loosening",
                "caps falling",
                "soft tufts showing",
                "soft tips spreading",
                "shoots lengthening",
                "new needles firm",
            ],
            Ladder::Tip => [
                "tips at rest",
                "tips brightening",
                "tips bright, not yet running",
                "first tips running",
                "tips running",
                "soft growth all over",
                "new shoots showing",
                "new shoots lengthening",
                "new growth firm",
            ],
            Ladder::Brush => [
                "buds tight",
                "buds swelling",
                "buds fat, still shut",
                "first green showing",
                "green tips out",
                "brushes parting",
                "brushes open",
                "needles half grown",
                "needles grown",
            ],
        };
        own[stage.rank()]
    }

    /// What to look for.
    pub fn signs(self, stage: Stage) -> &'static str {
        let own: [&'static str; 9] = match self {
            Ladder::Leaf => return stage.signs(),
            Ladder::Candle => [
                "winter buds small, scales shut, resin dry",
                "buds fatter, paler between the scales",
                "buds clearly longer, no needle to be seen",
                "scales part at the side, the candle begins",
                "candles lengthen from day to day",
                "candles long, needles like short pegs",
                "needle points come out of their sheaths",
                "needles stand apart, still growing",
                "needles at their length and firm",
            ],
            Ladder::Cap => [
                "buds small and hard",
                "buds fatter, caps stretched thin",
                "green or pale colour shines through the caps",
                "caps lift at their base",
                "caps drop, soft points stand out",
                "tufts like small brushes",
                "soft tips open and bend",
                "shoots grow longer, still soft",
                "shoots have their length, needles prick",
            ],
            Ladder::Tip => [
                "foliage dull, bronze in some",
                "colour comes back from the tips",
                "tips fresh in colour, none longer yet",
                "single tips pass the outline",
                "tips pass the outline on strong parts",
                "soft growth on weak parts too",
                "side shoots on the new tips",
                "new shoots lengthen everywhere",
                "this spring's growth no longer soft",
            ],
            Ladder::Brush => [
                "buds small, round and hard",
                "buds fatter; paler between the scales",
                "buds as big as they get, nothing sticking out",
                "a green point just showing",
                "green tips clear of the scales",
                "needles of a bud stand apart",
                "most buds are small brushes",
                "needles longer, still soft",
                "needles at their length",
            ],
        };
        own[stage.rank()]
    }

    /// What is looked at.
    pub fn what(self) -> &'static str {
        match self {
            Ladder::Candle => "candles",
            Ladder::Tip => "tips",
            Ladder::Leaf | Ladder::Cap | Ladder::Brush => "buds",
        }
    }

    /// What its stage before growth is called, as the head of a date.
    pub fn ready(self) -> &'static str {
        match self {
            Ladder::Leaf | Ladder::Brush => "Buds full",
            Ladder::Candle => "Candles about to start",
            Ladder::Cap => "First colour under the caps",
            Ladder::Tip => "Tips about to run",
        }
    }

    /// Whether its stages are those of buds that root work waits for; the others are repotted by months.
    pub fn has_window(self) -> bool {
        matches!(self, Ladder::Leaf | Ladder::Brush)
    }

    /// Code and words of a stage, as "03 full, still shut"; our own names carry no code of leaf buds.
    pub fn told(self, stage: Stage) -> String {
        match self {
            Ladder::Leaf => stage.to_string(),
            _ => self.words(stage).to_string(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::taxon::TAXA;

    #[test]
    fn no_conifer_has_a_word_of_leaves() {
        for taxon in TAXA {
            let ladder = Ladder::of(taxon);
            if ladder == Ladder::Leaf {
                continue;
            }
            for stage in Stage::ALL {
                let words = [ladder.told(stage), ladder.signs(stage).to_string()];
                assert!(words.iter().all(|it| !it.contains("leaf") && !it.contains("leaves")), "{words:?}");
                assert!(!words[0].contains("full, still shut"));
            }
        }
    }
}
