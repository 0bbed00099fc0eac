//! The metals of wires: weight, stiffness, and the stress at which a coiled wire gives way.

use measure::{
    quantity::{KilogramPerLitre, Megapascal},
    sourced::{Sourced, Standing},
};

/// What a wire is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Soft aluminium.
    Aluminium,
    /// Annealed copper.
    Copper,
}

/// How a coiled wire gives way: it was hardened by coiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// Low end, reckoned with for safety.
    pub low: Megapascal,
    /// High end.
    pub high: Megapascal,
}

impl Metal {
    /// Both.
    pub const ALL: [Metal; 2] = [Metal::Aluminium, Metal::Copper];

    /// The word used in files and on pages.
    pub fn key(self) -> &'static str {
        match self {
            Metal::Aluminium => "aluminium",
            Metal::Copper => "copper",
        }
    }

    /// The metal that goes by this word.
    pub fn from_key(key: &str) -> Option<Metal> {
        Metal::ALL.into_iter().find(|metal| metal.key() == key)
    }

    /// Weight of the metal.
    pub fn density(self) -> Sourced<KilogramPerLitre> {
        match self {
            Metal::Aluminium => Sourced { value: KilogramPerLitre(2.705), standing: MATERIALS },
            Metal::Copper => Sourced { value: KilogramPerLitre(8.94), standing: COPPER },
        }
    }

    /// Stiffness of the metal.
    pub fn modulus(self) -> Sourced<Megapascal> {
        match self {
            Metal::Aluminium => Sourced { value: Megapascal(68_000.0), standing: MATERIALS },
            Metal::Copper => Sourced { value: Megapascal(117_000.0), standing: COPPER },
        }
    }

    /// The stress at which a wire gives way once it is coiled.
    pub fn flow(self) -> Sourced<Flow> {
        let [low, high] = match self {
            Metal::Aluminium => [60.0, 100.0],
            Metal::Copper => [120.0, 250.0],
        };
        Sourced { value: Flow { low: Megapascal(low), high: Megapascal(high) }, standing: HARDENED }
    }
}

const MATERIALS: Standing =
    Standing::Published("EN AW-1050A, soft, entry of a materials database read in the reference set");
const COPPER: Standing = Standing::Unverified("annealed copper C11000, no work named");
const HARDENED: Standing =
    Standing::Estimate("wire hardened by coiling 12 to 17 %; learn it from what held and what sprang back");
