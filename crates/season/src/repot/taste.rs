//! What the grower likes, out of the pairings that were liked better than others.

use collection::{potting::Pot, reserve::Liking, ware::Ware};
use pot::{
    colour::{
        score::{Manner, Weights, glaze},
        taste::{Choice, Taste, taste as learn},
    },
    fit::sitter::{Kind, Style},
};

use super::{
    record::Record,
    sitter::{colours, kind},
};

/// Why a liking teaches nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unused {
    /// The tree or one of the pots is no longer there.
    NoSuch,
    /// One of the pots has no colour written down.
    NoColour,
}

impl Unused {
    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Unused::NoSuch => "the tree or one of the pots is no longer there",
            Unused::NoColour => "one of the pots has no colour written down",
        }
    }
}

/// What was learned, and what could not be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// How much each part of the colour counts; its weights go into [`Ruling::colour`](pot::fit::Ruling::colour).
    pub taste: Taste,
    /// Likings that teach nothing, by their place, with the reason.
    pub unused: Vec<(usize, Unused)>,
}

/// How much each part of the colour counts for this grower.
pub fn taste(records: &[Record<'_>], pots: &[(&Pot, &Ware)], likings: &[Liking]) -> Told {
    let (mut choices, mut unused) = (Vec::new(), Vec::new());
    for (at, liking) in likings.iter().enumerate() {
        match choice(records, pots, liking) {
            Ok(choice) => choices.push(choice),
            Err(why) => unused.push((at, why)),
        }
    }
    Told { taste: learn(&choices), unused }
}

fn choice(records: &[Record<'_>], pots: &[(&Pot, &Ware)], liking: &Liking) -> Result<Choice, Unused> {
    let record = records.iter().find(|record| record.tree.key == liking.tree).ok_or(Unused::NoSuch)?;
    let ware = |key: &str| pots.iter().find(|(pot, _)| pot.key == key).map(|(_, ware)| *ware);
    let (liked, over) = ware(&liking.liked).zip(ware(&liking.over)).ok_or(Unused::NoSuch)?;
    let grown = record.grown;
    let kind = grown.and_then(|it| it.kind).unwrap_or_else(|| kind(record.tree.taxon.kind));
    let is_literati = grown.and_then(|it| it.style) == Some(Style::Literati);
    let manner = Manner { light_pot_may_rise: kind == Kind::Flowering || is_literati };
    let (targets, _) = colours(record, kind);
    let score =
        |ware: &Ware| ware.glaze.and_then(|it| glaze(it.colour, &targets, manner, Weights::default()));
    let (liked, over) = score(liked).zip(score(over)).ok_or(Unused::NoColour)?;
    Ok(Choice::between(&liked, &over))
}

#[cfg(test)]
mod tests {
    use collection::ware::{Glaze, Told as Colour};
    use jiff::civil::date;
    use pot::colour::swatch::Swatch;

    use super::*;
    use crate::repot::offer::tests::Grower;

    #[test]
    fn liking_quiet_pots_makes_the_loud_part_count_more() {
        let mut grower = Grower::new(&[32.0], &[27.0, 28.0, 29.0]);
        for (at, key) in [(0, "pot_celadon"), (1, "pot_iron_red")] {
            let colour = Swatch::of(key).unwrap().lab;
            grower.pots[at].1.glaze = Some(Glaze { colour, told: Colour::Picked });
        }
        let liking = |liked: &str, over: &str| Liking {
            tree: "maple-0".into(),
            liked: liked.into(),
            over: over.into(),
            day: date(2027, 1, 5),
        };
        let mut likings = vec![liking("oval-0", "oval-1"); 12];
        likings.extend([liking("oval-0", "oval-2"), liking("oval-9", "oval-1")]);
        let told = taste(&grower.records(), &grower.shelf(), &likings);
        assert_eq!(told.unused, [(12, Unused::NoColour), (13, Unused::NoSuch)]);
        assert!(told.taste.choices == 12 && !told.taste.barely_moves());
        let records = grower.records();
        let (targets, _) = colours(&records[0], Kind::Deciduous);
        let manner = Manner { light_pot_may_rise: false };
        let gap = |weights: Weights| {
            let score = |at: usize| {
                let colour = grower.pots[at].1.glaze.unwrap().colour;
                glaze(colour, &targets, manner, weights).unwrap().whole
            };
            score(0) - score(1)
        };
        assert!(gap(told.taste.weights) > gap(Weights::default()), "{told:?}");
    }
}
