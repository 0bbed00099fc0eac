//! Flower buds of fruit trees killed in half an hour's frost, stage by stage, and which of our taxa they stand for.

use measure::{quantity::Fahrenheit, stage::Stage, stage::Stage::*};

use self::Crop::*;

/// A crop whose flower buds were frozen stage by stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Crop {
    Apple,
    Pear,
    Apricot,
    Peach,
    Plum,
    SweetCherry,
}

impl Crop {
    /// The crop as the table names it.
    pub fn words(self) -> &'static str {
        match self {
            Apple => "apple",
            Pear => "pear",
            Apricot => "apricot",
            Peach => "peach",
            Plum => "european plum",
            SweetCherry => "sweet cherry",
        }
    }

    /// The crop that stands for a taxon by kinship; the taxon itself was not frozen, but for the peach.
    pub fn standing_for(taxon: &str) -> Option<Crop> {
        let (genus, rest) = taxon.split_once('-')?;
        match (genus, rest) {
            ("malus" | "crataegus" | "chaenomeles", _) => Some(Apple),
            ("pyrus" | "pseudocydonia", _) => Some(Pear),
            ("prunus", "incisa" | "serrulata") => Some(SweetCherry),
            ("prunus", "persica") => Some(Peach),
            ("prunus", "mume") => Some(Apricot),
            ("prunus", "spinosa" | "cerasifera") => Some(Plum),
            _ => None,
        }
    }
}

/// One row: a flower bud's stage and the frosts that kill it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlowerBud {
    /// The crop.
    pub crop: Crop,
    /// The stage as the growers of the crop call it.
    pub words: &'static str,
    /// The leaf bud's stage that it is set beside; our reading.
    pub stage: Stage,
    /// Half an hour of this kills one in ten.
    pub tenth: Fahrenheit,
    /// Half an hour of this kills nine in ten, where that is known.
    pub most: Option<Fahrenheit>,
}

const fn b(crop: Crop, words: &'static str, stage: Stage, tenth: f64, most: Option<f64>) -> FlowerBud {
    let most = match most {
        Some(most) => Some(Fahrenheit(most)),
        None => None,
    };
    FlowerBud { crop, words, stage, tenth: Fahrenheit(tenth), most }
}

/// Every row of the table, crop by crop, from closed to set.
#[rustfmt::skip]
pub const FLOWER_BUDS: &[FlowerBud] = &[
    b(Apple, "silver tip", Swelling, 15.0, Some(2.0)),
    b(Apple, "green tip", Full, 18.0, Some(10.0)),
    b(Apple, "half-inch green", Breaking, 23.0, Some(15.0)),
    b(Apple, "tight cluster", GreenTip, 27.0, Some(21.0)),
    b(Apple, "first pink", GreenTip, 28.0, Some(24.0)),
    b(Apple, "full pink", GreenTip, 28.0, Some(25.0)),
    b(Apple, "first bloom", Unfolded, 28.0, Some(25.0)),
    b(Apple, "full bloom", Unfolded, 28.0, Some(25.0)),
    b(Apple, "post bloom", Grown, 28.0, Some(25.0)),
    b(Pear, "scales separating", Swelling, 15.0, Some(0.0)),
    b(Pear, "blossom buds exposed", Full, 20.0, Some(6.0)),
    b(Pear, "tight cluster", Breaking, 24.0, Some(15.0)),
    b(Pear, "first white", GreenTip, 25.0, Some(19.0)),
    b(Pear, "full white", GreenTip, 26.0, Some(22.0)),
    b(Pear, "first bloom", Unfolded, 27.0, Some(23.0)),
    b(Pear, "full bloom", Unfolded, 28.0, Some(24.0)),
    b(Pear, "post bloom", Grown, 28.0, Some(24.0)),
    b(Apricot, "swollen bud", Swelling, 15.0, None),
    b(Apricot, "tips separate", Full, 20.0, Some(0.0)),
    b(Apricot, "calyx red", Breaking, 22.0, Some(9.0)),
    b(Apricot, "first white", GreenTip, 24.0, Some(14.0)),
    b(Apricot, "first bloom", Unfolded, 25.0, Some(19.0)),
    b(Apricot, "full bloom", Unfolded, 27.0, Some(22.0)),
    b(Apricot, "in the shuck", Grown, 27.0, Some(24.0)),
    b(Apricot, "green fruit", Grown, 28.0, Some(25.0)),
    b(Peach, "swollen bud", Swelling, 18.0, Some(1.0)),
    b(Peach, "calyx green", Full, 21.0, Some(5.0)),
    b(Peach, "calyx red", Breaking, 23.0, Some(9.0)),
    b(Peach, "first pink", GreenTip, 25.0, Some(15.0)),
    b(Peach, "first bloom", Unfolded, 26.0, Some(21.0)),
    b(Peach, "full bloom", Unfolded, 27.0, Some(24.0)),
    b(Peach, "post bloom", Grown, 28.0, Some(25.0)),
    b(Plum, "first swelling", Swelling, 14.0, Some(0.0)),
    b(Plum, "side white", Full, 17.0, Some(3.0)),
    b(Plum, "tip green", Breaking, 20.0, Some(7.0)),
    b(Plum, "tight cluster", Breaking, 24.0, Some(16.0)),
    b(Plum, "first white", GreenTip, 26.0, Some(22.0)),
    b(Plum, "first bloom", Unfolded, 27.0, Some(23.0)),
    b(Plum, "full bloom", Unfolded, 28.0, Some(23.0)),
    b(Plum, "post bloom", Grown, 28.0, Some(23.0)),
    b(SweetCherry, "swollen bud", Swelling, 17.0, Some(5.0)),
    b(SweetCherry, "side green", Full, 22.0, Some(9.0)),
    b(SweetCherry, "green tip", Breaking, 25.0, Some(14.0)),
    b(SweetCherry, "tight cluster", Breaking, 26.0, Some(17.0)),
    b(SweetCherry, "open cluster", GreenTip, 27.0, Some(21.0)),
    b(SweetCherry, "first white", GreenTip, 27.0, Some(24.0)),
    b(SweetCherry, "first bloom", Unfolded, 28.0, Some(25.0)),
    b(SweetCherry, "full bloom", Unfolded, 28.0, Some(25.0)),
    b(SweetCherry, "post bloom", Grown, 28.0, Some(25.0)),
];
