//! Materials as they come in the bag: weight, water, how long they last, what the sieve takes.

use measure::{
    quantity::{KilogramPerLitre, Share},
    sourced::Standing,
};

/// A material as it comes in the bag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bag {
    /// What it is called.
    pub name: &'static str,
    /// Weight of a litre, dry.
    pub dry: KilogramPerLitre,
    /// Weight of a litre, watered and drained.
    pub wet: KilogramPerLitre,
    /// Water held after draining, share.
    pub water: Share,
    /// Least and most years until it breaks down; no most for what outlasts the tree's pot.
    pub lasts: (u16, Option<u16>),
    /// How acid it is, in the words of the bag.
    pub acidity: &'static str,
    /// What goes through the sieve as dust, share.
    pub sieved_off: Share,
    /// How far to trust the row.
    pub standing: Standing,
}

impl Bag {
    /// The bag that goes by this name.
    ///
    /// ```
    /// use pot::table::Bag;
    ///
    /// assert_eq!(Bag::of("pumice").unwrap().dry.0, 0.55);
    /// ```
    pub fn of(name: &str) -> Option<&'static Bag> {
        BAGS.iter().find(|bag| bag.name == name)
    }
}

const fn b(
    name: &'static str,
    dry: f64,
    wet: f64,
    water: f64,
    lasts: (u16, Option<u16>),
    acidity: &'static str,
    sieved_off: f64,
) -> Bag {
    let (dry, wet) = (KilogramPerLitre(dry), KilogramPerLitre(wet));
    let standing = Standing::Unverified("bag weights, no work named; measure your own bag");
    Bag { name, dry, wet, water: Share(water), lasts, acidity, sieved_off: Share(sieved_off), standing }
}

/// Nine materials.
#[rustfmt::skip]
pub const BAGS: &[Bag] = &[
    b("akadama hard", 0.68, 1.1, 0.42, (2, Some(4)), "6.5", 0.2),
    b("akadama soft", 0.62, 1.08, 0.46, (1, Some(2)), "6.5", 0.3),
    b("pumice", 0.55, 0.9, 0.35, (10, None), "7", 0.15),
    b("lava or scoria", 0.85, 1.1, 0.25, (20, None), "7", 0.15),
    b("kanuma", 0.34, 0.9, 0.55, (2, Some(3)), "5.0-5.8", 0.15),
    b("fir or pine bark", 0.25, 0.6, 0.35, (2, Some(3)), "4.5-5.5", 0.2),
    b("granite grit", 1.5, 1.65, 0.15, (50, None), "7", 0.1),
    b("calcined clay", 0.6, 1.0, 0.4, (5, Some(10)), "6-7", 0.1),
    b("charcoal", 0.3, 0.6, 0.3, (20, None), "8+", 0.15),
];
