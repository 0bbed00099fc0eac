//! Sizes of trees: which grains their pots take, and what they weigh wet.

use measure::{
    quantity::{Centimetre, Kilogram, Litre, Millimetre},
    sourced::Standing,
};

use super::Between;

/// Size of a tree in the words of the trade, smallest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum SizeClass {
    Mame,
    Shohin,
    Kifu,
    Chuhin,
    Large,
    VeryLarge,
}

/// Which grains the pots of a size class take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grains {
    /// The size class.
    pub class: SizeClass,
    /// The body of the mix.
    pub main: Between<Millimetre>,
    /// The bottom layer.
    pub bottom: Between<Millimetre>,
    /// The top dressing.
    pub top: Between<Millimetre>,
    /// How far to trust the row.
    pub standing: Standing,
}

/// What a tree of a size class weighs wet, and who lifts it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handling {
    /// The size class.
    pub class: SizeClass,
    /// Soil of a usual pot.
    pub pot: Litre,
    /// Wet weight of tree and pot.
    pub wet: Kilogram,
    /// People to lift it.
    pub people: u8,
    /// A word of the trade.
    pub note: &'static str,
    /// How far to trust the row.
    pub standing: Standing,
}

const fn mm([low, high]: [f64; 2]) -> Between<Millimetre> {
    Between { low: Millimetre(low), high: Millimetre(high) }
}

const fn g(class: SizeClass, main: [f64; 2], bottom: [f64; 2], top: [f64; 2]) -> Grains {
    Grains { class, main: mm(main), bottom: mm(bottom), top: mm(top), standing: Standing::Practice }
}

const fn h(class: SizeClass, pot: f64, wet: f64, people: u8, note: &'static str) -> Handling {
    let standing = Standing::Estimate("usual pot of the size class");
    Handling { class, pot: Litre(pot), wet: Kilogram(wet), people, note, standing }
}

/// One row per [`SizeClass`], in its order.
#[rustfmt::skip]
pub const GRAINS: [Grains; 6] = [
    g(SizeClass::Mame, [1.0, 2.5], [2.0, 4.0], [1.0, 2.0]),
    g(SizeClass::Shohin, [1.5, 3.5], [3.0, 6.0], [1.0, 2.0]),
    g(SizeClass::Kifu, [2.0, 5.0], [4.0, 7.0], [1.5, 3.0]),
    g(SizeClass::Chuhin, [3.0, 6.0], [6.0, 9.0], [2.0, 3.0]),
    g(SizeClass::Large, [3.0, 7.0], [6.0, 12.0], [2.0, 4.0]),
    g(SizeClass::VeryLarge, [5.0, 9.0], [9.0, 15.0], [2.0, 4.0]),
];

/// One row per [`SizeClass`], in its order.
#[rustfmt::skip]
pub const HANDLING: [Handling; 6] = [
    h(SizeClass::Mame, 0.15, 0.3, 1, "tray of 12 about 4 kg"),
    h(SizeClass::Shohin, 0.6, 1.0, 1, ""),
    h(SizeClass::Kifu, 2.5, 4.0, 1, ""),
    h(SizeClass::Chuhin, 8.0, 13.0, 1, "trolley"),
    h(SizeClass::Large, 22.0, 38.0, 2, "never alone"),
    h(SizeClass::VeryLarge, 60.0, 100.0, 4, "lift, trolley or hoist"),
];

/// The tallest tree of each size but the last, in their order; societies draw these lines differently.
pub const TALLEST: [Centimetre; 5] =
    [Centimetre(12.0), Centimetre(21.0), Centimetre(36.0), Centimetre(60.0), Centimetre(90.0)];

impl SizeClass {
    /// All, smallest first.
    pub const ALL: [SizeClass; 6] = [
        SizeClass::Mame,
        SizeClass::Shohin,
        SizeClass::Kifu,
        SizeClass::Chuhin,
        SizeClass::Large,
        SizeClass::VeryLarge,
    ];

    /// The size of a tree of this height.
    ///
    /// ```
    /// use measure::quantity::Centimetre;
    /// use pot::table::SizeClass;
    ///
    /// assert_eq!(SizeClass::of_height(Centimetre(21.0)), SizeClass::Shohin);
    /// ```
    pub fn of_height(height: Centimetre) -> SizeClass {
        SizeClass::ALL[TALLEST.iter().filter(|tallest| **tallest < height).count()]
    }

    /// The grains that pots of this size take.
    ///
    /// ```
    /// use pot::table::SizeClass;
    ///
    /// assert_eq!(SizeClass::Chuhin.grains().main.low.0, 3.0);
    /// ```
    pub fn grains(self) -> &'static Grains {
        &GRAINS[self as usize]
    }

    /// What trees of this size weigh.
    pub fn handling(self) -> &'static Handling {
        &HANDLING[self as usize]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_classes() {
        for (at, (grains, handling)) in GRAINS.iter().zip(&HANDLING).enumerate() {
            assert!(grains.class as usize == at && handling.class as usize == at);
        }
    }
}
