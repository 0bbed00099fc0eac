//! Green wood as a beam: its weight, strength and stiffness, and which measured wood stands for the tree at hand.

mod table;

use measure::{
    quantity::Megapascal,
    sourced::{Sourced, Standing},
    taxon::Taxon,
};

pub use table::{STANDS_FOR, WOODS};

/// A green wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wood {
    /// Name in the table.
    pub name: &'static str,
    /// The tree.
    pub latin: &'static str,
    /// Dry weight over green volume, against water.
    pub gravity: f64,
    /// Modulus of rupture: what it bears in bending.
    pub strength: Megapascal,
    /// Modulus of elasticity: how stiff it is.
    pub modulus: Megapascal,
    /// How far to trust the row.
    pub standing: Standing,
}

/// The wood that stands for a taxon, and how it was chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// The wood.
    pub wood: Wood,
    /// Whether it is the taxon's own; otherwise that of a relative.
    pub own: bool,
}

/// Young living branches are so much less stiff than timber; low and high.
pub const YOUNG: Sourced<[f64; 2]> = Sourced {
    value: [0.5, 0.7],
    standing: Standing::Estimate("young branches against tabled timber; to be learned"),
};

const MIDDLE: Standing =
    Standing::Estimate("middle of all woods in the table: no relative of this tree is in it");

/// The wood to reckon with for a taxon: its own, that of a relative, or the middle of the table.
///
/// ```
/// use form::wood;
/// use measure::taxon::Taxon;
///
/// let stand = wood::for_taxon(Taxon::of("carpinus-betulus").unwrap());
/// assert_eq!((stand.wood.name, stand.own), ("Hophornbeam, eastern", false));
/// ```
pub fn for_taxon(taxon: &Taxon) -> Stand {
    for_name(taxon.name)
}

/// The same by a botanical name.
pub fn for_name(name: &str) -> Stand {
    let rows = STANDS_FOR.iter().filter(|(start, _, _)| name.starts_with(start));
    let best = rows.max_by_key(|(start, _, _)| start.len());
    let found = best.and_then(|(_, row, own)| {
        let same = |wood: &&Wood| wood.name == *row;
        WOODS.iter().find(same).map(|wood| Stand { wood: *wood, own: *own || name.starts_with(wood.latin) })
    });
    let own = WOODS.iter().find(|wood| wood.latin == name).map(|wood| Stand { wood: *wood, own: true });
    own.or(found).unwrap_or_else(|| Stand { wood: middle(), own: false })
}

fn middle() -> Wood {
    let mean = |of: fn(&Wood) -> f64| WOODS.iter().map(of).sum::<f64>() / WOODS.len() as f64;
    Wood {
        name: "middle of the table",
        latin: "",
        gravity: mean(|wood| wood.gravity),
        strength: Megapascal(mean(|wood| wood.strength.0)),
        modulus: Megapascal(mean(|wood| wood.modulus.0)),
        standing: MIDDLE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_that_stands_for_a_tree_is_in_the_table() {
        for (start, row, _) in STANDS_FOR {
            assert!(WOODS.iter().any(|wood| wood.name == *row), "{start}: {row}");
        }
    }

    #[test]
    fn a_tree_without_a_relative_gets_the_middle_and_says_so() {
        let ficus = for_name("Ficus retusa");
        assert!(!ficus.own && ficus.wood.standing == MIDDLE);
        assert_eq!(for_name("Pinus parviflora").wood.name, "Pine, eastern white");
        assert_eq!(for_name("Pinus halepensis").wood.name, "Pine, red");
        assert!(for_name("Taxodium distichum").own);
    }
}
