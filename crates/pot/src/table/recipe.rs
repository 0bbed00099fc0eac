//! Named mixes by parts.

use measure::{
    quantity::Millimetre,
    range::OutOfRange,
    sourced::Standing,
    taxon::{Kind, Taxon},
};

use super::{Between, Component};
use crate::{
    caveat::Estimate,
    granule::{Granules, Part, mixed},
};

/// Which grains a mix wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// The main grains of the pot's size class, as [`crate::table::GRAINS`] says.
    AsThePot,
    /// Those of the next larger class.
    Coarser,
    /// 3 to 6 mm whatever the pot.
    Middling,
    /// The pot's own below, the next smaller class on top.
    FinerTop,
}

/// A named mix.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Recipe {
    /// Its code.
    pub code: &'static str,
    /// What it is for.
    pub purpose: &'static str,
    /// Parts by volume, in the order of [`Recipe::ORDER`].
    pub parts: [u8; 6],
    /// Which grains it wants.
    pub grade: Grade,
    /// A word of the trade.
    pub note: &'static str,
    /// How far to trust it.
    pub standing: Standing,
}

impl Recipe {
    /// What goes into the named mixes, in the order of their parts.
    pub const ORDER: [Component; 6] = [
        Component::Akadama,
        Component::Pumice,
        Component::Lava,
        Component::Kanuma,
        Component::Bark,
        Component::Grit,
    ];

    /// The recipe that goes by this code.
    ///
    /// ```
    /// use pot::table::{Component, Recipe};
    ///
    /// let pines = Recipe::of("MX-PINE").unwrap();
    /// assert_eq!(pines.shares().last(), Some((Component::Lava, 0.5)));
    /// ```
    pub fn of(code: &str) -> Option<&'static Recipe> {
        RECIPES.iter().find(|recipe| recipe.code == code)
    }

    /// The usual mix of a taxon: by its kind of tree, with the few that want another.
    ///
    /// Common practice, no source. One that is grown on, or left alone for long shifts, may want another.
    ///
    /// ```
    /// use measure::taxon::Taxon;
    /// use pot::table::Recipe;
    ///
    /// let code = |key| Recipe::usual(Taxon::of(key).unwrap()).code;
    /// assert_eq!([code("pinus-thunbergii"), code("ginkgo-biloba")], ["MX-PINE", "MX-DEC"]);
    /// ```
    pub fn usual(taxon: &Taxon) -> &'static Recipe {
        let code = match (taxon.key, taxon.kind) {
            (
                "camellia-japonica" | "camellia-sasanqua" | "gardenia-jasminoides" | "enkianthus-perulatus",
                _,
            ) => "MX-AZA",
            ("ilex-serrata" | "cotoneaster-horizontalis" | "lagerstroemia-indica" | "punica-granatum", _) => {
                "MX-FLW"
            }
            ("ginkgo-biloba", _) => "MX-DEC",
            ("operculicarya-decaryi", _) => "MX-SUC",
            (_, Kind::TwoFlushPine | Kind::OneFlushPine) => "MX-PINE",
            (_, Kind::Juniper | Kind::SpruceHemlock | Kind::YewCypress | Kind::LarchGinkgo) => "MX-CON",
            (_, Kind::BroadleafEvergreen) => "MX-EVG",
            (_, Kind::Azalea) => "MX-AZA",
            (_, Kind::AppleFamily | Kind::StoneFruit | Kind::FloweringDeciduous) => "MX-FLW",
            (_, Kind::Tropical) => "MX-TRO",
            (_, Kind::Succulent) => "MX-SUC",
            _ => "MX-DEC",
        };
        Recipe::of(code).expect("a mix of the table")
    }

    /// What goes in, each with its share of the volume.
    pub fn shares(&self) -> impl DoubleEndedIterator<Item = (Component, f64)> {
        let whole: f64 = self.parts.iter().map(|&parts| f64::from(parts)).sum();
        let each = Recipe::ORDER.into_iter().zip(self.parts);
        each.filter(|&(_, parts)| parts > 0)
            .map(move |(component, parts)| (component, f64::from(parts) / whole))
    }

    /// The mix, every component sieved between these two.
    ///
    /// Put together by [`mixed`].
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when the sieves are not those of grains.
    ///
    /// ```
    /// use measure::quantity::{Centimetre, SquareCentimetre};
    /// use pot::{column::Column, table::{Recipe, SizeClass}};
    ///
    /// let sieved = SizeClass::Chuhin.grains().main;
    /// let told = |code| -> Result<String, measure::range::OutOfRange> {
    ///     let mix = Recipe::of(code).expect("a mix of the table").granules(sieved)?.value;
    ///     let tray = Column::straight(Centimetre(5.0), SquareCentimetre(600.0))?;
    ///     let held = mix.retention()?.value.capacity(&tray);
    ///     Ok(format!("{:.2} kg/L, {:.2} water, {:.2} air", mix.density.0, held.capacity.0, held.air.0))
    /// };
    /// assert_eq!(told("MX-DEC")?, "0.69 kg/L, 0.38 water, 0.25 air");
    /// assert_eq!(told("MX-PINE")?, "0.73 kg/L, 0.34 water, 0.25 air");
    /// # Ok::<(), measure::range::OutOfRange>(())
    /// ```
    pub fn granules(&self, sieved: Between<Millimetre>) -> Result<Estimate<Granules>, OutOfRange> {
        let mut parts = [Part { granules: Component::Akadama.granules(sieved).value, parts: 0.0 }; 6];
        let mut used = 0;
        for (component, share) in self.shares() {
            parts[used] = Part { granules: component.granules(sieved).value, parts: share };
            used += 1;
        }
        mixed(&parts[..used])
    }
}

const PRACTICE: Standing = Standing::Practice;
const CLUB: Standing =
    Standing::Published("soil notes of a club of the trade, excerpt read in the reference set");
const OURS: Standing = Standing::Estimate("air traded for hours of water");

const fn r(
    code: &'static str,
    purpose: &'static str,
    parts: [u8; 6],
    grade: Grade,
    note: &'static str,
    standing: Standing,
) -> Recipe {
    Recipe { code, purpose, parts, grade, note, standing }
}

/// Twelve mixes.
#[rustfmt::skip]
pub const RECIPES: &[Recipe] = &[
    r("MX-DEC", "deciduous refinement", [2, 1, 1, 0, 0, 0], Grade::AsThePot, "common 2:1:1; wetter sites 1:1:1", PRACTICE),
    r("MX-DEV", "development any deciduous", [1, 2, 2, 0, 1, 0], Grade::Coarser, "more air, faster roots", CLUB),
    r("MX-CON", "juniper, spruce, larch, cypress", [1, 1, 1, 0, 0, 0], Grade::AsThePot, "common 1:1:1", PRACTICE),
    r("MX-PINE", "pines", [1, 1, 2, 0, 0, 0], Grade::AsThePot, "drier; some use 1:1:1 with scoria", PRACTICE),
    r("MX-FLW", "flowering and fruiting", [3, 1, 1, 0, 0, 0], Grade::AsThePot, "holds more water", PRACTICE),
    r("MX-AZA", "azalea, camellia, other acid lovers", [0, 1, 0, 3, 0, 0], Grade::AsThePot, "kanuma alone or 70-80 %; old moss on top", PRACTICE),
    r("MX-EVG", "broadleaf evergreens", [1, 1, 1, 0, 0, 0], Grade::AsThePot, "olive drier: add lava", PRACTICE),
    r("MX-TRO", "tropicals", [1, 1, 1, 0, 1, 0], Grade::AsThePot, "dry homes: more bark", PRACTICE),
    r("MX-SUC", "succulents", [0, 2, 2, 0, 0, 1], Grade::AsThePot, "very free draining", PRACTICE),
    r("MX-COLL", "new collected trees and layers", [0, 1, 0, 0, 0, 0], Grade::Middling, "pumice alone; moss on top", PRACTICE),
    r("MX-LOCAL", "no imported clay", [0, 2, 1, 0, 1, 1], Grade::AsThePot, "expanded or calcined clay may replace akadama part for part", PRACTICE),
    r("MX-HEAT", "long shifts or hot site", [3, 1, 1, 0, 1, 0], Grade::FinerTop, "trade air for hours of water", OURS),
];
