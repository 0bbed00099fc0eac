//! Usual colours to pick from until a photo says better.

use measure::sourced::Standing;

use super::space::Lab;

/// What carries the colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Kind {
    Bark,
    Leaf,
    Autumn,
    Flower,
    Pot,
}

/// A usual colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swatch {
    /// Its name in files.
    pub key: &'static str,
    /// What carries it.
    pub kind: Kind,
    /// Its place in the Munsell book.
    pub munsell: &'static str,
    /// The colour.
    pub lab: Lab,
    /// How far to trust it.
    pub standing: Standing,
}

impl Swatch {
    /// The swatch of this name.
    ///
    /// ```
    /// use pot::colour::swatch::Swatch;
    ///
    /// assert_eq!(Swatch::of("pot_celadon").unwrap().munsell, "5G 7/3");
    /// ```
    pub fn of(key: &str) -> Option<&'static Swatch> {
        SWATCHES.iter().find(|swatch| swatch.key == key)
    }

    /// The swatches of one kind.
    pub fn kind(kind: Kind) -> impl Iterator<Item = &'static Swatch> {
        SWATCHES.iter().filter(move |swatch| swatch.kind == kind)
    }
}

const fn s(key: &'static str, kind: Kind, munsell: &'static str, [l, a, b]: [f64; 3]) -> Swatch {
    Swatch { key, kind, munsell, lab: Lab { l, a, b }, standing: Standing::Practice }
}

/// The places in the book are ordinary choices for such a material; the colours were computed from them by the reference set.
#[rustfmt::skip]
pub const SWATCHES: [Swatch; 27] = [
    s("bark_grey_brown", Kind::Bark, "10YR 5/2", [51.02, 3.15, 12.56]),
    s("bark_pale_grey", Kind::Bark, "2.5Y 6/1", [61.06, 0.33, 7.11]),
    s("bark_dark_brown", Kind::Bark, "5YR 3/2", [30.38, 7.29, 9.97]),
    s("bark_red_brown", Kind::Bark, "2.5YR 4/6", [40.71, 22.11, 25.97]),
    s("deadwood_white", Kind::Bark, "5Y 8.5/1", [85.36, -1.11, 8.12]),
    s("leaf_spring", Kind::Leaf, "5GY 6/8", [61.18, -25.08, 50.91]),
    s("leaf_summer", Kind::Leaf, "7.5GY 4/6", [40.84, -25.29, 29.53]),
    s("leaf_dark_conifer", Kind::Leaf, "10GY 3/4", [30.45, -18.11, 13.34]),
    s("leaf_blue_conifer", Kind::Leaf, "2.5G 5/2", [51.04, -10.49, 5.47]),
    s("autumn_yellow", Kind::Autumn, "5Y 8/10", [80.63, -3.11, 70.82]),
    s("autumn_orange", Kind::Autumn, "5YR 6/12", [61.03, 30.94, 63.56]),
    s("autumn_red", Kind::Autumn, "7.5R 4/12", [40.62, 50.47, 34.09]),
    s("flower_white", Kind::Flower, "5Y 9/1", [90.2, -1.19, 8.31]),
    s("flower_pink", Kind::Flower, "5RP 7/8", [70.76, 33.2, -2.1]),
    s("flower_red", Kind::Flower, "5R 4/14", [40.57, 61.29, 29.69]),
    s("flower_violet", Kind::Flower, "7.5P 6/8", [60.92, 27.3, -18.93]),
    s("pot_unglazed_brown", Kind::Pot, "5YR 3/3", [30.37, 10.47, 14.47]),
    s("pot_unglazed_grey", Kind::Pot, "10YR 4/1", [40.74, 1.92, 6.52]),
    s("pot_cream", Kind::Pot, "5Y 8/3", [80.57, -2.63, 22.53]),
    s("pot_celadon", Kind::Pot, "5G 7/3", [70.92, -17.3, 6.37]),
    s("pot_copper_green", Kind::Pot, "2.5G 3/6", [30.47, -30.03, 13.06]),
    s("pot_cobalt", Kind::Pot, "5PB 3/8", [30.26, 4.12, -34.96]),
    s("pot_turquoise", Kind::Pot, "5BG 6/6", [61.11, -30.68, -4.09]),
    s("pot_iron_red", Kind::Pot, "7.5R 3/6", [30.32, 27.87, 16.55]),
    s("pot_tenmoku", Kind::Pot, "5YR 2/2", [20.23, 7.3, 8.51]),
    s("pot_yellow_ochre", Kind::Pot, "2.5Y 6/6", [61.1, 3.77, 41.11]),
    s("pot_lavender_flambe", Kind::Pot, "2.5P 5/6", [50.91, 15.51, -20.92]),
];
